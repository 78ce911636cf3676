"""IEC 60228 class 5 and DIN 46228 as published."""

import pytest

from engine.standards import awg, ferrules, metric_cable
from tests.reader import published

IEC = published("metric_iec_60228")
DIN = published("ferrules_din_46228")


@pytest.mark.parametrize(
    ("kind", "table"),
    [
        ("plain", metric_cable.PLAIN_OHM_PER_KM_20C),
        ("tinned", metric_cable.TINNED_OHM_PER_KM_20C),
    ],
)
def test_every_cell_of_class_5_is_as_published(kind: str, table: dict[float, float]) -> None:
    areas = IEC["from_memory"]["area_mm2"] + IEC["area_mm2"]
    values = IEC["from_memory"][kind] + IEC[kind]
    assert table == dict(zip(areas, values, strict=True))
    assert list(metric_cable.AREAS_MM2) == areas


def test_tin_and_thin_copper_both_conduct_worse() -> None:
    plain = list(metric_cable.PLAIN_OHM_PER_KM_20C.values())
    tinned = list(metric_cable.TINNED_OHM_PER_KM_20C.values())
    assert plain == sorted(plain, reverse=True)
    assert all(tin > bare for tin, bare in zip(tinned, plain, strict=True))


def test_collar_colours_are_those_of_part_4() -> None:
    assert DIN["colour"] == ferrules.COLLAR_COLOR
    assert list(ferrules.AREAS_MM2) == list(DIN["colour"])


def test_bare_barrels_are_those_of_part_1() -> None:
    millimetres = {
        area: [round(length * 1000) for length in lengths]
        for area, lengths in ferrules.BARE_BARRELS_M.items()
    }
    assert millimetres == DIN["bare_barrel_mm"]


def test_insulated_barrels_are_those_seen_and_remembered_of_part_4() -> None:
    for area, barrels in DIN["insulated_barrel_mm"].items():
        expected = {*barrels["memory"], *({barrels["seen"]} - {None})}
        assert {round(1000 * m) for m in ferrules.INSULATED_BARRELS_M[area]} == expected
        assert list(ferrules.INSULATED_BARRELS_M[area]) == sorted(
            ferrules.INSULATED_BARRELS_M[area]
        )


def test_gauges_are_paired_with_ferrules_as_in_public_tables() -> None:
    for size, area in DIN["area_for_awg"].items():
        assert ferrules.AREA_FOR_AWG_MM2[size] == area


def test_only_1_0_awg_is_pressed_into_a_smaller_nominal_area() -> None:
    for size, area in ferrules.AREA_FOR_AWG_MM2.items():
        assert (area >= awg.area_m2(size) * 1e6) == (size != "1/0")
