"""The wiring diagram, on both its sheets, says what parts list and numbers say.

For every recommendation of the tree, some with details, and answers at random.
"""

import re
import xml.etree.ElementTree as ET
from collections import Counter
from random import Random

import pytest
from markupsafe import Markup

from engine.advice.plan.layouts import SPLIT_NATIVE, SPLIT_PAIR, TWO_LEG
from engine.model.guide import Guide
from engine.model.parts import PartLine
from engine.model.products import Battery, Breaker, Busbar, Cable, Disconnect, Fuse, Monitor
from engine.pages.answer.numbers import sections_of
from engine.pages.drawings.diagram import diagram_of
from engine.pages.drawings.diagram_symbols import ELEMENTS, symbol
from engine.respond import respond
from engine.standards import awg
from engine.units import show
from engine.wording.tongue import plain
from tests.pages.conftest import Case
from tests.random_answers import random_answers

SVG = "{http://www.w3.org/2000/svg}"
RANDOM = 60


class Read:
    """A diagram read back from its SVG: texts by part, and how often each symbol stands in it."""

    def __init__(self, svg: Markup | None) -> None:
        root = ET.fromstring(svg or "")
        self.texts = {
            group.get("data-part", ""): " ".join(
                (text.text or "").replace("\xa0", " ") for text in group.iter(f"{SVG}text")
            )
            for group in root.iter(f"{SVG}g")
            if group.get("data-part")
        }
        self.symbols = Counter(
            use.get("href", "").removeprefix("#rig-svg-diagram-") for use in root.iter(f"{SVG}use")
        )
        self.root = root


@pytest.fixture(scope="module")
def read(
    guide: Guide, cases: tuple[Case, ...], at_random: tuple[Case, ...]
) -> list[tuple[Case, Read]]:
    """Every recommendation with its diagram read back."""
    found = []
    in_stock = (each for each in at_random if all(line.product for line in each.design.parts))
    for case in (*cases, *in_stock):
        picture = diagram_of(guide, case.needs, case.design)
        found.append((case, Read(picture.svg)))
    return found


@pytest.fixture(scope="module")
def at_random(guide: Guide) -> tuple[Case, ...]:
    """Recommendations for answers at random; of some the shop does not have all parts."""
    asked = [(seed, random_answers(guide, Random(seed))) for seed in range(RANDOM)]
    found = ((seed, answers, respond(guide, answers, changes=False)) for seed, answers in asked)
    return tuple(
        Case(f"seed {seed}", answers, page.answer.advice, page)
        for seed, answers, page in found
        if page.answer.advice
    )


def part(case: Case, group: str) -> PartLine | None:
    """The line of the parts list of this group, if there is one."""
    return next((line for line in case.design.parts if line.group == group), None)


def needed(case: Case, group: str) -> PartLine:
    """The line of the parts list of this group."""
    line = part(case, group)
    assert line is not None, (case.link, group)
    return line


def test_fuses_are_those_of_the_parts_list(guide: Guide, read: list[tuple[Case, Read]]) -> None:
    for case, drawn in read:
        line = needed(case, "fuse")
        fuse = guide.article(line.product)
        assert isinstance(fuse, Fuse)
        assert f"Fuse {plain(fuse.rating)} A" in drawn.texts["fuse"], case.link
        assert fuse.family in drawn.texts["fuse"]
        assert f"{plain(fuse.interrupt / 1000, 1)} kA" in drawn.texts["fuse"]
        own = part(case, "battery-fuse")
        others = ("starter-fuse", "kept-fuse")
        upright = line.quantity + sum(part(case, group) is not None for group in others)
        upright += own.quantity if own else 0
        small = needed(case, "small-fuses")
        assert small.quantity == 1 + case.design.dc.precharge, case.link
        assert f"small fuse: {small.name}" in drawn.texts["soc-monitor"], case.link
        if case.design.dc.precharge:
            upright += 1
            assert f"wire starts: {small.name}" in drawn.texts["precharge"], case.link
        assert needed(case, "cord-guard").name in drawn.texts["cord-guard"], case.link
        buffer = part(case, "buffer")
        assert drawn.symbols["buffer"] == (buffer is not None), case.link
        assert buffer is None or buffer.name in drawn.texts["step-down"], case.link
        kept = part(case, "kept-fuse")
        assert drawn.symbols["kept-battery"] == (kept is not None), case.link
        if kept:
            fuse = guide.article(kept.product)
            assert isinstance(fuse, Fuse)
            assert f"stays: fuse {plain(fuse.rating)} A at it" in drawn.texts["step-down"]
        assert drawn.symbols["fuse"] == upright, case.link
        assert ("battery-fuse" in drawn.texts) == (own is not None)
        if own:
            battery_fuse = guide.article(own.product)
            assert isinstance(battery_fuse, Fuse)
            text = drawn.texts["battery-fuse"]
            count = f"{plain(own.quantity)} × " if own.quantity > 1 else ""
            assert text.startswith(f"{count}Fuse {plain(battery_fuse.rating)} A at each battery")


def test_breakers_are_those_of_the_parts_list(guide: Guide, read: list[tuple[Case, Read]]) -> None:
    for case, drawn in read:
        poles = 0.0
        for side in ("breaker-in", "breaker-out"):
            line = needed(case, side)
            breaker = guide.article(line.product)
            assert isinstance(breaker, Breaker)
            assert f"{plain(breaker.rating)} A" in drawn.texts[side], case.link
            assert ("two poles, common trip" in drawn.texts[side]) == (breaker.poles == 2)
            pair = case.design.candidate.layout == SPLIT_PAIR
            assert ("One pole for each unit" in drawn.texts[side]) == pair, case.link
            assert drawn.texts[side].startswith(f"{plain(line.quantity)} × ") == (line.quantity > 1)
            poles += line.quantity * breaker.poles
        ac = case.design.ac
        for group, rating_a in (("breaker-main", ac.main_a), ("breaker-joint", ac.joint_a)):
            shared = part(case, group)
            assert (shared is not None) == (group in drawn.texts), case.link
            if shared:
                assert f"{plain(rating_a)} A, one pole" in drawn.texts[group], case.link
                poles += shared.quantity
        assert drawn.symbols["breaker"] == poles, case.link


def test_conductors_are_those_of_the_parts_list(
    guide: Guide, read: list[tuple[Case, Read]]
) -> None:
    for case, drawn in read:
        ac = guide.article(needed(case, "ac-cable").product)
        assert isinstance(ac, Cable)
        for side in ("breaker-in", "breaker-out"):
            assert f"{ac.conductors} × {ac.awg} AWG" in drawn.texts[side], case.link
        line = needed(case, "dc-cable")
        dc = guide.article(line.product)
        assert isinstance(dc, Cable)
        assert f"{dc.awg} AWG" in drawn.texts["dc-cable"], case.link
        assert f"{show(case.needs.cable_m, 'm')} one way" in drawn.texts["dc-cable"]
        runs = case.design.dc.cable.runs
        metres = 2 * runs * case.design.candidate.units * case.needs.cable_m
        assert line.quantity == pytest.approx(metres), case.link
        bond = guide.article(needed(case, "bond-cable").product)
        assert isinstance(bond, Cable)
        asked = re.search(r"chassis: (\S+) AWG", drawn.texts["bond-cable"])
        assert asked is not None
        assert awg.rank(bond.awg) >= awg.rank(asked[1]), case.link
        frame = needed(case, "frame-cable")
        joint = guide.article(frame.product)
        assert isinstance(joint, Cable)
        leads = round(frame.quantity / guide.planning.bond_run_m)
        size = f"{leads} × {joint.awg}" if leads > 1 else joint.awg
        assert f"Negative to chassis: {size} AWG" in drawn.texts["frame-cable"], case.link


def test_what_joins_the_bank_is_that_of_the_parts_list(
    guide: Guide, read: list[tuple[Case, Read]]
) -> None:
    for case, drawn in read:
        switch = guide.article(needed(case, "disconnect").product)
        assert isinstance(switch, Disconnect)
        assert f"Battery switch {plain(switch.rating)} A" in drawn.texts["disconnect"]
        assert drawn.symbols["switch"] == 1
        monitor = guide.article(needed(case, "soc-monitor").product)
        assert isinstance(monitor, Monitor)
        assert monitor.name in drawn.texts["soc-monitor"]
        assert drawn.symbols["shunt"] == 1
        assert drawn.symbols["resistor"] == (part(case, "precharge") is not None)
        busbar = part(case, "busbar")
        assert ("busbar" in drawn.texts) == (busbar is not None), case.link
        if busbar:
            bars = guide.article(busbar.product)
            assert isinstance(bars, Busbar)
            assert bars.name in drawn.texts["busbar"]


def test_the_bank_is_drawn_battery_by_battery(guide: Guide, read: list[tuple[Case, Read]]) -> None:
    for case, drawn in read:
        line = needed(case, "battery")
        battery = guide.article(line.product)
        assert isinstance(battery, Battery)
        assert drawn.symbols["battery"] == line.quantity, case.link
        text = drawn.texts["battery"]
        assert text.startswith(f"{plain(line.quantity)} × {battery.name}")
        bank = case.design.bank
        assert bank.series * bank.parallel == line.quantity
        if line.quantity > 1:
            assert f"{bank.series} in series × {bank.parallel} in parallel" in text


def test_every_source_on_the_parts_list_is_drawn_and_no_other(
    read: list[tuple[Case, Read]],
) -> None:
    seen = set()
    for case, drawn in read:
        for group, picture in (
            ("solar-panel", "solar-across"),
            ("alternator-charger", "generator-across"),
        ):
            line = part(case, group)
            assert (group in drawn.texts) == (line is not None), case.link
            assert drawn.symbols[picture] == (line is not None)
            if line:
                seen.add(group)
        step_down, starters = part(case, "step-down"), part(case, "soft-starter")
        assert ("step-down" in drawn.texts) == (step_down is not None), case.link
        assert ("soft-starter" in drawn.texts) == (starters is not None), case.link
        if starters and starters.quantity > 1:
            assert drawn.texts["soft-starter"].startswith(f"{plain(starters.quantity)} × ")
    assert seen == {"solar-panel", "alternator-charger"}


def test_what_hangs_on_the_bank_has_the_fuse_and_cable_of_the_parts_list(
    guide: Guide, read: list[tuple[Case, Read]]
) -> None:
    """Rating, family, size and length of every branch; a drawn fuse for each on the list."""
    drawn_as = {
        "solar": "solar-panel",
        "alternator": "alternator-charger",
        "starter": "alternator-charger",
        "step-down": "step-down",
        "house": "step-down",
        "dc48": "dc48",
    }
    seen = set()
    for case, drawn in read:
        sections = {each.id: each for each in sections_of(guide, case.advice)}
        numbers = {number.label: number.text for number in sections["cable"].numbers}
        across = 1  # of the monitor's wire
        for branch in case.design.dc.branches:
            seen.add(branch.id)
            on_12 = branch.id == "house" and "house-12v" in drawn.texts
            text = drawn.texts["house-12v" if on_12 else drawn_as[branch.id]]
            row = numbers[guide.wording.numbers[f"branch-{branch.id}"]]
            line = needed(case, f"{branch.id}-cable")
            cable = guide.article(line.product)
            assert isinstance(cable, Cable), case.link
            assert branch.cable is not None
            assert branch.cable.runs == 1
            link_m = guide.planning.link_m if branch.fused else 0.0
            assert line.quantity == pytest.approx(2 * branch.length_m + link_m), case.link
            for said in (f"{cable.awg} AWG", f"{show(branch.length_m, 'm')} one way"):
                assert said in text, case.link
                assert said in row, case.link
            fused = part(case, f"{branch.id}-fuse")
            assert (fused is not None) == branch.fused, case.link
            if fused:
                fuse = guide.article(fused.product)
                assert isinstance(fuse, Fuse)
                for words in (text, row):
                    assert f"use {plain(fuse.rating)} A {fuse.family}" in words, case.link
                across += branch.id != "starter"
        charged = part(case, "charge-isolator") is not None  # its line has a relay and a fuse
        assert drawn.symbols["relay-across"] == charged, case.link
        assert drawn.symbols["fuse-across"] == across + charged, case.link
        holders = [line for line in case.design.parts if line.group == "branch-fuse-holder"]
        count = sum(branch.fused for branch in case.design.dc.branches)
        assert sum(line.quantity for line in holders) == count, case.link
    assert seen == set(drawn_as)


def test_what_is_not_in_stock_is_named_and_drawn_all_the_same(
    guide: Guide, at_random: tuple[Case, ...]
) -> None:
    """A branch without its fuse in the shop is not drawn as a branch that needs none."""
    seen = set()
    for case in at_random:
        drawn = Read(diagram_of(guide, case.needs, case.design).svg)
        words = " ".join(drawn.texts.values())
        for branch in case.design.dc.branches:
            for what, chosen in (
                ("fuse", branch.fuse or not branch.fused),
                ("cable", branch.cable),
            ):
                if not chosen:
                    seen.add(what)
                    line = needed(case, f"{branch.id}-{what}")
                    assert f"Not in stock: {line.name}" in words, case.link
        planned = {branch.id for branch in case.design.dc.branches}
        for group, name in (("solar-panel", "solar"), ("alternator-charger", "alternator")):
            if part(case, group) and name not in planned:
                seen.add("branch")
                assert "are not planned here" in drawn.texts[group], case.link
    assert "branch" in seen


def test_each_unit_has_its_legs_and_the_neutral_meets_ground_once(
    read: list[tuple[Case, Read]],
) -> None:
    for case, drawn in read:
        candidate = case.design.candidate
        boxes = [box for box in drawn.root.iter(f"{SVG}rect") if box.get("rx")]
        assert len(boxes) == candidate.units, case.link
        legs = candidate.units * case.design.ac.poles
        assert drawn.symbols["contact"] == legs + candidate.inverter.bond_relay, case.link
        assert drawn.symbols["tie"] == (candidate.layout == TWO_LEG)
        # One at the post, one in the unit that is the source on battery.
        assert drawn.symbols["ground"] == 1 + candidate.inverter.bond_relay
        # Each case, and the battery's negative at the shunt.
        assert drawn.symbols["chassis"] == candidate.units + 1
        names = [text.text for text in drawn.root.iter(f"{SVG}text")]
        two_legs = candidate.layout in (TWO_LEG, SPLIT_PAIR, SPLIT_NATIVE)
        assert ("L2" in names) == (two_legs and case.needs.service.legs == 2), case.link


def test_the_numbers_beside_it_say_the_same(guide: Guide, read: list[tuple[Case, Read]]) -> None:
    for case, drawn in read:
        sections = {each.id: each for each in sections_of(guide, case.advice)}
        cable = " ".join(number.text for number in sections["cable"].numbers)
        dc = case.design.dc
        for text in (
            f"{plain(dc.fuse.rating)} A",
            f"{plain(dc.disconnect.rating)} A",
            f"{dc.cable.size} AWG",
            show(dc.cable_m, "m"),
        ):
            assert text in cable, case.link
            assert text in " ".join(drawn.texts.values()), case.link


def test_a_van_is_not_told_of_a_panel_that_it_may_not_have(
    read: list[tuple[Case, Read]],
) -> None:
    seen = set()
    for case, drawn in read:
        seen.add((case.needs.rig.id, case.needs.whole))
        van = case.needs.rig.id == "van"
        if case.needs.whole:
            assert ("Breaker panel of the rig" in drawn.texts["panel"]) != van, case.link
        else:
            assert ("if the rig has one" in drawn.texts["main-panel"]) == van, case.link
            assert ("Stays as it is" in drawn.texts["main-panel"]) != van, case.link
    assert {("van", True), ("van", False), ("rig-30", True), ("rig-30", False)} <= seen


BEHIND_US = (
    *("off the battery", "half a turn", "swing", "joined", "joins", "joint", "one handle"),
    *("ahead of the unit", "behind the unit", "Stops", "to the frame, nowhere else"),
)
"""What a layman does not understand, or the trade does not say."""


def test_it_speaks_as_people_do(read: list[tuple[Case, Read]]) -> None:
    for case, drawn in read:
        words = " ".join(drawn.texts.values())
        assert [each for each in BEHIND_US if each in words] == [], case.link
        assert "In the positive cable" in drawn.texts["fuse"]
        assert "In the positive cable" in drawn.texts["disconnect"]
        assert "in the negative" in drawn.texts["soc-monitor"]


def test_the_words_are_those_of_the_drawing(guide: Guide, cases: tuple[Case, ...]) -> None:
    for case in cases:
        picture = diagram_of(guide, case.needs, case.design)
        texts = " ".join(Read(picture.svg).texts.values())
        for step in picture.steps:
            for said in step.removesuffix(".").split(". "):
                assert said in texts, (case.link, said)


def test_it_is_read_by_screen_readers_and_takes_the_colour_of_the_page(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        picture = diagram_of(guide, case.needs, case.design)
        _is_accessible(picture.svg, picture.title)


def _is_accessible(svg: str, name: str) -> None:
    root = ET.fromstring(svg)
    assert root.get("role") == "group", "what it holds is read, links among it"
    title = root.find(f"{SVG}title")
    assert title is not None
    assert root.get("aria-labelledby") == title.get("id")
    assert title.text == name
    colours = {
        element.get(name)
        for element in root.iter()
        for name in ("fill", "stroke")
        if element.get(name)
    }
    assert colours <= {"none", "currentColor"}
    assert "style=" not in svg


def test_coordinates_are_rounded_and_stay_on_the_sheet(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        picture = diagram_of(guide, case.needs, case.design)
        _is_rounded(picture.svg, case.link)


def _is_rounded(svg: str, link: str) -> None:
    root = ET.fromstring(svg)
    _, _, width, height = (float(side) for side in (root.get("viewBox") or "").split())
    for element in root.iter():
        for name in ("x", "y", "cx", "cy", "width", "height", "d", "points"):
            assert not re.search(r"\.\d\d|e-", element.get(name) or ""), element.attrib
        if element.tag in (f"{SVG}text", f"{SVG}use", f"{SVG}rect"):
            assert 0 <= float(element.get("x") or 0) <= width, link
            assert 0 <= float(element.get("y") or 0) <= height, link


def test_every_symbol_is_drawn_from_its_first_terminal(guide: Guide) -> None:
    del guide
    for name in ELEMENTS:
        found = symbol(name)
        assert "<path" in found.drawing or "<circle" in found.drawing
        assert "style" not in found.drawing
        assert found.length >= 0
    assert symbol("fuse").length == symbol("breaker").length == symbol("switch").length == 24.0
    with pytest.raises(KeyError):
        symbol("nothing of this name")


def test_words_and_drawing_have_fuse_and_switch_in_one_order(
    guide: Guide, tree: tuple[Case, ...]
) -> None:
    """From the units down one unit has the switch nearer; several have a fuse each before it."""
    orders = set()
    for case in tree:
        picture = diagram_of(guide, case.needs, case.design)
        drawn = [heading_of(picture.svg, part) for part in ("fuse", "disconnect")]
        said = [
            next(at for at, step in enumerate(picture.steps) if step.startswith(title))
            for _, title in drawn
        ]
        assert (drawn[0][0] < drawn[1][0]) == (said[0] < said[1]), case.link
        orders.add((case.design.candidate.units > 1, said[0] < said[1]))
    assert orders == {(True, True), (False, False)}


def heading_of(svg: Markup | None, part: str) -> tuple[float, str]:
    """How far down the tall sheet the label of a part begins, and its first line."""
    root = ET.fromstring(svg or "")
    group = next(each for each in root.iter(f"{SVG}g") if each.get("data-part") == part)
    text = next(group.iter(f"{SVG}text"))
    return float(text.get("y", "nan")), (text.text or "").replace("\xa0", " ")
