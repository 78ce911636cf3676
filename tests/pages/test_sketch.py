"""The mounting sketch is to scale, keeps the free space, and agrees with the check of the place."""

import xml.etree.ElementTree as ET

import pytest

from engine.advice.plan.supply import place
from engine.model.guide import Guide
from engine.pages.drawings.sketch import WIDTH, sketch_of
from engine.pages.drawings.sketch_mounting import Solid, mounting_of
from engine.pages.drawings.svg import LETTER, WIDTH_OF_LETTER
from tests.pages.conftest import Case, case_of

SVG = "{http://www.w3.org/2000/svg}"
PLACES = (
    "bay=30in x 40in x 14in",
    "bay=60in x 20in x 14in",
    "bay=30in x 40in x 14in&mount=sideways",
    "bay=14in x 40in x 40in&mount=flat",
    "space=short-wall",
    "space=shallow",
    "space=closed",
    "mount=sideways",
)
PATHS = (
    "rig=van/scope=whole/heavy=1/biggest=cooking/",
    "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=no/v240=no/",
)


@pytest.fixture(scope="module")
def placed(guide: Guide) -> tuple[Case, ...]:
    """Recommendations for one and two units in many places."""
    found = [case_of(guide, path, bay) for path in PATHS for bay in PLACES]
    cases = tuple(case for case in found if case)
    assert {case.design.candidate.units for case in cases} == {1, 2}
    assert {case.needs.mount for case in cases} == {"upright", "sideways", "flat"}
    return cases


def length(span: tuple[float, float]) -> float:
    return span[1] - span[0]


def test_each_unit_has_its_own_size_and_stays_in_the_space_that_it_asks_for(
    placed: tuple[Case, ...],
) -> None:
    for case in placed:
        unit = case.design.candidate.inverter
        found = mounting_of(case.needs, unit, case.design.candidate.units)
        for solid in found.units:
            assert length(solid.h) == pytest.approx(unit.height)
            assert length(solid.w) == pytest.approx(unit.width)
            assert length(solid.d) == pytest.approx(unit.depth)
            for inner, outer in (
                (solid.h, found.space.h),
                (solid.w, found.space.w),
                (solid.d, found.space.d),
            ):
                assert outer[0] <= inner[0] and inner[1] <= outer[1] + 1e-9


def test_two_units_do_not_overlap(placed: tuple[Case, ...]) -> None:
    seen = 0
    for case in placed:
        units = mounting_of(
            case.needs, case.design.candidate.inverter, case.design.candidate.units
        ).units
        if len(units) < 2:
            continue
        seen += 1
        first, second = units
        assert first.h[1] <= second.h[0] or first.w[1] <= second.w[0]
    assert seen


def test_the_room_left_is_that_of_the_check(placed: tuple[Case, ...]) -> None:
    for case in placed:
        if case.needs.bay is None:
            continue
        candidate = case.design.candidate
        found = mounting_of(case.needs, candidate.inverter, candidate.units)
        spans = found.space.spans(found.orientation)
        bay = case.needs.bay
        sides = (bay.width_m, bay.height_m, bay.depth_m)
        left = min(side - length(span) for side, span in zip(sides, spans, strict=True))
        checked = place(case.needs, candidate.inverter, candidate.units)
        assert checked is not None
        assert left == pytest.approx(checked.margin_m, abs=1e-9), case.link


def test_the_drawing_keeps_one_scale(guide: Guide, placed: tuple[Case, ...]) -> None:
    for case in placed:
        root = ET.fromstring(sketch_of(guide, case.needs, case.design).svg)
        boxes = [
            (float(box.get("width") or 0), float(box.get("height") or 0))
            for box in root.iter(f"{SVG}rect")
            if box.get("fill-opacity")
        ]
        unit = case.design.candidate.inverter
        found = mounting_of(case.needs, unit, case.design.candidate.units)
        right, down, out = found.units[0].spans(found.orientation)
        front, side = boxes[0], boxes[-1]
        scale = max(front[:2]) / max(length(right), length(down))  # the longer is the more exact
        assert front[0] == pytest.approx(length(right) * scale, abs=0.2), case.link
        assert front[1] == pytest.approx(length(down) * scale, abs=0.2), case.link
        assert side[0] == pytest.approx(length(out) * scale, abs=0.2)
        assert side[1] == pytest.approx(front[1], abs=0.2)


def test_everything_lies_on_the_sheet(guide: Guide, placed: tuple[Case, ...]) -> None:
    for case in placed:
        root = ET.fromstring(sketch_of(guide, case.needs, case.design).svg)
        _, _, width, height = (float(side) for side in (root.get("viewBox") or "").split())
        for box in root.iter(f"{SVG}rect"):
            x, y = float(box.get("x") or 0), float(box.get("y") or 0)
            assert x >= 0 and x + float(box.get("width") or 0) <= width + 0.2, case.link
            assert y >= 0 and y + float(box.get("height") or 0) <= height + 0.2, case.link


def test_a_fan_is_drawn_only_where_the_design_has_one(
    guide: Guide, placed: tuple[Case, ...]
) -> None:
    seen = set()
    for case in placed:
        picture = sketch_of(guide, case.needs, case.design)
        fan = case.design.cooling.fan
        seen.add(fan is not None)
        assert not fan or fan.name in picture.svg, case.link
        assert fan or "Fan" not in picture.svg, case.link
        assert (guide.wording.page["sketch-warm"] in picture.svg) == (not case.design.cooling.fans)
    assert seen == {True, False}


def test_a_compartment_has_a_door_and_a_wall_has_none(
    guide: Guide, placed: tuple[Case, ...]
) -> None:
    for case in placed:
        texts = texts_of(guide, case)
        assert (guide.wording.page["sketch-door"] in texts) == bool(case.needs.bay), case.link


def texts_of(guide: Guide, case: Case) -> list[str | None]:
    root = ET.fromstring(sketch_of(guide, case.needs, case.design).svg)
    return [each.text for each in root.iter(f"{SVG}text")]


def test_the_cables_of_each_unit_leave_the_place_and_are_said_to_be_fused(
    guide: Guide, placed: tuple[Case, ...]
) -> None:
    for case in placed:
        root = ET.fromstring(sketch_of(guide, case.needs, case.design).svg)
        cables = [path for path in root.iter(f"{SVG}path") if path.get("stroke-width") == "2.5"]
        each = 1 if case.needs.mount == "flat" else 2  # lying, its two studs are not seen
        assert len(cables) == each * case.design.candidate.units + 1, case.link  # and in the key
        ends = {(path.get("d") or "").rpartition("H")[2] for path in cables[:-1]}
        assert len(ends) == 1
        said = guide.wording.page["sketch-cable"]
        assert "fused" in said and said in texts_of(guide, case)


def test_a_face_has_its_terminals_of_the_right_kind(guide: Guide, placed: tuple[Case, ...]) -> None:
    kinds = set()
    for case in placed:
        if case.needs.mount == "flat":
            continue
        root = ET.fromstring(sketch_of(guide, case.needs, case.design).svg)
        faces = [path for path in root.iter(f"{SVG}path") if path.get("stroke-width") == "0.8"]
        assert len(faces) == case.design.candidate.units
        unit = case.design.candidate.inverter
        kinds.add(unit.terminals.kind)
        wires = 2 + (2 if unit.legs_passed == 2 or unit.output == "split-phase" else 1)
        square = sum((face.get("d") or "").count("z") for face in faces) / len(faces)
        assert square == (0 if unit.terminals.kind == "screw" else 2 * wires), case.link
    assert kinds == {"screw", "push-in"}


def test_all_words_lie_on_the_sheet_in_letters_of_a_phones_size(
    guide: Guide, placed: tuple[Case, ...]
) -> None:
    for case in placed:
        root = ET.fromstring(sketch_of(guide, case.needs, case.design).svg)
        for text in root.iter(f"{SVG}text"):
            wide = len(text.text or "") * LETTER * WIDTH_OF_LETTER
            shift = {"middle": wide / 2, "end": wide}.get(text.get("text-anchor") or "", 0.0)
            x = float(text.get("x") or 0) - shift
            assert x >= -1.0 and x + wide <= WIDTH, (case.link, text.text)
            assert text.get("font-size") is None


def test_its_table_gives_the_measures(guide: Guide, placed: tuple[Case, ...]) -> None:
    for case in placed:
        table = sketch_of(guide, case.needs, case.design).table
        assert table is not None
        assert all(len(row) == len(table.head) for row in table.rows)
        assert (table.rows[0][0] == guide.wording.page["sketch-place"]) == bool(case.needs.bay)


def test_turning_a_unit_moves_its_axes() -> None:
    solid = Solid((0.0, 3.0), (0.0, 2.0), (0.0, 1.0))
    assert solid.spans("upright") == ((0.0, 2.0), (0.0, 3.0), (0.0, 1.0))
    assert solid.spans("sideways") == ((0.0, 3.0), (0.0, 2.0), (0.0, 1.0))
    assert solid.spans("flat") == ((0.0, 2.0), (-1.0, 0.0), (0.0, 3.0))
    assert solid.spans("flat-turned") == ((0.0, 3.0), (-1.0, 0.0), (0.0, 2.0))
