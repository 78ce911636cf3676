"""The rig from its side: all of it to one scale, the cable at its length, words apart."""

import re
import xml.etree.ElementTree as ET
from itertools import combinations, pairwise

import pytest

from engine.model.guide import Guide
from engine.pages.drawings.rig_shapes import SHAPES
from engine.pages.drawings.rig_side import rig_side_of
from engine.pages.drawings.svg import LETTER, WIDTH_OF_LETTER
from tests.pages.conftest import Case, case_of

SVG = "{http://www.w3.org/2000/svg}"
FIVE_FEET_M = 1.524
COACH = "rig=coach-50/scope=whole/heavy=1/biggest=cooking/v240=no/"
VAN = "rig=van/scope=whole/heavy=1/biggest=cooking/"
ROUNDED = 0.25
"""Coordinates are rounded to a tenth, and a length is a sum of several."""

CUT = re.compile(r"M([\d.]+) [\d.]+L[\d.]+ [\d.]+")

Box = tuple[float, float, float, float]


def drawn(guide: Guide, case: Case) -> ET.Element:
    return ET.fromstring(rig_side_of(guide, case.needs, case.design).svg)


def boxes_of(root: ET.Element) -> list[Box]:
    """Left, top, width and height: units, inlet, batteries, panel."""
    sides = ("x", "y", "width", "height")
    found = []
    for box in root.iter(f"{SVG}rect"):
        x, y, width, height = (float(box.get(side) or 0) for side in sides)
        found.append((x, y, width, height))
    return found


def scale_of(root: ET.Element) -> float:
    """Pixels a meter, of the line of five feet."""
    rule = [path.get("d") or "" for path in root.iter(f"{SVG}path")][-1]
    found = re.match(r"M([\d.]+) [\d.]+H([\d.]+)", rule)
    assert found is not None
    return (float(found[2]) - float(found[1])) / FIVE_FEET_M


def run_of(root: ET.Element) -> float:
    """Length of the thick line."""
    (path,) = (each for each in root.iter(f"{SVG}path") if each.get("stroke-width") == "2.5")
    x = y = 0.0
    points = []
    for kind, first, second in re.findall(r"([MVHL])([\d.]+)(?: ([\d.]+))?", path.get("d") or ""):
        x = x if kind == "V" else float(first)
        y = float(first) if kind == "V" else y if kind == "H" else float(second)
        points.append((x, y))
    return sum(abs(x - a) + abs(y - b) for (a, b), (x, y) in pairwise(points))


def test_every_part_has_its_size_on_the_scale_that_is_drawn(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        root = drawn(guide, case)
        scale, boxes = scale_of(root), boxes_of(root)
        unit, units = case.design.candidate.inverter, case.design.candidate.units
        battery = case.design.bank.battery
        batteries = boxes[units + 1 : -1]
        assert 1 <= len(batteries) <= case.design.bank.count, case.link
        for part, found in ((unit, boxes[:units]), (battery, batteries)):
            for _, _, width, height in found:
                assert width == pytest.approx(part.width * scale, abs=0.1), case.link
                assert height == pytest.approx(part.height * scale, abs=0.1), case.link


def test_the_cable_is_as_long_as_it_is_said_to_be(guide: Guide, cases: tuple[Case, ...]) -> None:
    for case in cases:
        root = drawn(guide, case)
        assert run_of(root) == pytest.approx(
            case.design.dc.cable_m * scale_of(root), abs=ROUNDED
        ), case.link


@pytest.mark.parametrize(
    ("path", "cable", "whole"), [(COACH, "12ft", True), (VAN, "9ft", True), (VAN, "25ft", False)]
)
def test_a_cable_too_long_for_the_room_goes_up_and_down_and_at_last_is_marked_as_cut(
    guide: Guide, path: str, cable: str, whole: bool
) -> None:
    case = case_of(guide, path, f"cable={cable}")
    assert case is not None
    root = drawn(guide, case)
    length = case.design.dc.cable_m * scale_of(root)
    assert (run_of(root) == pytest.approx(length, abs=ROUNDED)) == whole
    assert run_of(root) <= length + ROUNDED
    cuts = [
        path
        for path in root.iter(f"{SVG}path")
        if CUT.fullmatch(path.get("d") or "") and path.get("stroke-opacity") is None
    ]
    assert len(cuts) == (0 if whole else 2)


def test_batteries_stand_on_the_floor_and_the_inlet_is_behind_all_else(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        boxes = boxes_of(drawn(guide, case))
        units = case.design.candidate.units
        bottoms = {round(top + height, 1) for _, top, _, height in boxes[units + 1 : -1]}
        assert max(bottoms) - min(bottoms) <= 0.1
        assert all(top + height <= min(bottoms) for _, top, _, height in boxes[: units + 1])
        inlet = boxes[units]
        assert all(x <= inlet[0] + inlet[2] for x, *_ in boxes)


def test_words_lie_on_the_sheet_and_not_over_another(guide: Guide, cases: tuple[Case, ...]) -> None:
    for case in cases:
        root = drawn(guide, case)
        _, _, wide, high = (float(side) for side in (root.get("viewBox") or "").split())
        assert (wide, high <= 150.0) == (320.0, True)
        found: list[Box] = []
        for text in root.iter(f"{SVG}text"):
            width = len(text.text or "") * LETTER * WIDTH_OF_LETTER
            shift = {"middle": width / 2, "end": width}.get(text.get("text-anchor") or "", 0.0)
            x, y = float(text.get("x") or 0) - shift, float(text.get("y") or 0)
            found.append((x, y - LETTER, x + width, y))
            assert x >= 0 and x + width <= wide and y <= high, (case.link, text.text)
        for (a, b, c, d), (e, f, g, h) in combinations(found, 2):
            assert c <= e or g <= a or d <= f or h <= b, case.link


def test_no_words_lie_over_the_front_of_a_van(guide: Guide, cases: tuple[Case, ...]) -> None:
    vans = [case for case in cases if case.needs.rig.outline.shape == "van"]
    assert len(vans) > 3
    for case in vans:
        root = drawn(guide, case)
        window = next(
            path.get("d") or ""
            for path in root.iter(f"{SVG}path")
            if (path.get("d") or "")[-1] == "z" and "Q" not in (path.get("d") or "")
        )
        behind = max(float(x) for x in re.findall(r"[ML]([\d.]+) ", window))
        for text in root.iter(f"{SVG}text"):
            width = len(text.text or "") * LETTER * WIDTH_OF_LETTER
            shift = {"middle": width / 2, "end": width}.get(text.get("text-anchor") or "", 0.0)
            if float(text.get("y") or 0) < 100.0:  # the scale stands below the ground
                assert float(text.get("x") or 0) - shift > behind, (case.link, text.text)


def test_who_does_not_see_it_is_told_what_is_where(guide: Guide, cases: tuple[Case, ...]) -> None:
    for case in cases:
        told = drawn(guide, case).findtext(f"{SVG}desc") or ""
        for word in ("inlet", "breaker panel", "rear", "floor", "ft"):
            assert word in told
        assert f"{case.design.candidate.units} unit" in told
        assert f"{case.design.bank.count} batter" in told


def test_each_kind_of_rig_is_drawn(guide: Guide, cases: tuple[Case, ...]) -> None:
    assert {case.needs.rig.outline.shape for case in cases} == set(SHAPES)
    outlines = {next(drawn(guide, case).iter(f"{SVG}path")).get("d") for case in cases}
    assert len(outlines) == len(SHAPES)
