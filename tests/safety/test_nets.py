"""What the drawing joins, at either pole, is what the words say; on the narrow and the wide sheet.

Every recommendation of the tree, and answers with details at random.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

import pytest

from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.pages.drawings.diagram import diagram_of
from engine.respond import respond
from tests.pages.conftest import DETAILED, Case, case_of
from tests.random_answers import random_answers
from tests.safety.nets import FUSES, SOURCES, SWITCHES, Nets, nets_of

RANDOM = 200
LINKS = (
    *DETAILED,
    ("rig=van/scope=some/heavy=0/", "bank=12V"),
    ("rig=van/scope=whole/heavy=1/biggest=cooking/", "bank=12V&solar=800W&alt=200A&drive=2h"),
    ("rig=rig-30/scope=whole/heavy=1/biggest=cooking/", "bank=24V&chemistry=flooded&solar=200W"),
    ("rig=rig-30/scope=whole/heavy=1/biggest=cooking/", "bank=48V"),
    ("rig=coach-50/scope=whole/heavy=2/biggest=aircon-13k5/softstart=no/v240=no/", "solar=800W"),
    ("rig=coach-50/scope=whole/heavy=2/biggest=aircon-13k5/softstart=no/v240=yes/", "bank=48V"),
    ("rig=coach-50/scope=some/heavy=1/biggest=cooking/v240=no/", "bank=48V&alt=200A&drive=2h"),
)


@dataclass(frozen=True)
class Drawn:
    """One sheet of a design, read back."""

    link: str
    design: Design
    nets: Nets


def _designs(guide: Guide, tree: tuple[Case, ...]) -> Iterator[tuple[str, Needs, Design]]:
    detailed = [case_of(guide, *link) for link in LINKS]
    assert all(detailed)
    for case in (*tree, *(each for each in detailed if each)):
        yield case.link, case.needs, case.design
    for seed in range(RANDOM):
        advice = respond(guide, random_answers(guide, Random(seed)), changes=False).answer.advice
        if advice and advice.best.design:
            yield f"seed {seed}", advice.outcome.needs, advice.best.design


def groups(design: Design) -> set[str]:
    """What the parts list holds, by group."""
    return {line.group for line in design.parts}


@pytest.fixture(scope="module")
def read(guide: Guide, tree: tuple[Case, ...]) -> list[Drawn]:
    """Every drawing with its nets; those that differ in their letters alone once."""
    found, seen = [], set()
    for link, needs, design in _designs(guide, tree):
        picture = diagram_of(guide, needs, design)
        shapes = re.sub(r"<text.*?</text>", "", picture.svg)
        if shapes not in seen:
            seen.add(shapes)
            found.append(Drawn(link, design, nets_of(picture.svg)))
    assert len(found) > 75
    return found


def test_no_drawing_joins_the_two_poles(read: list[Drawn]) -> None:
    for each in read:
        assert each.nets.tops and each.nets.bottoms, each.link
        assert not each.nets.positive() & each.nets.negative(), each.link


def test_each_pole_is_drawn_as_what_it_is(read: list[Drawn]) -> None:
    for each in read:
        nets = each.nets
        assert nets.positive() <= nets.drawn_plus - nets.drawn_other, each.link
        assert not nets.negative() & nets.drawn_plus, each.link


def test_every_unit_and_all_that_hangs_on_the_bank_has_both_poles(read: list[Drawn]) -> None:
    for each in read:
        nets, design = each.nets, each.design
        plus, minus = nets.positive(), nets.negative()
        assert len(nets.unit_converters) == design.candidate.units, each.link
        converters = {"solar-panel", "alternator-charger", "step-down"} & groups(design)
        house = any(branch.id == "house" for branch in design.dc.branches)
        on_48 = any(branch.id == "dc48" for branch in design.dc.branches)
        straight = [box for box in nets.circuits if box & (plus | minus)]
        assert len(nets.converters) == len(converters), each.link
        assert len(nets.circuits) == house + on_48, each.link
        assert len(straight) == (house and "step-down" not in converters) + on_48, each.link
        for box in (*nets.unit_converters, *nets.converters, *straight):
            assert len(box & plus) == 1, each.link
            assert len(box & minus) == 1, each.link


def test_what_comes_behind_a_converter_has_both_of_its_poles(read: list[Drawn]) -> None:
    """Panels, starter battery and 12 V circuits hang on two lines of the same converter."""
    seen = set()
    for each in read:
        nets = each.nets
        bank = nets.positive() | nets.negative()
        for behind in nets.named("solar-across", "generator-across"):
            seen.add(behind.name)
            plus = nets.reached({behind.first}, *nets_sources(nets))
            assert behind.second not in plus, each.link
            (box,) = [box for box in nets.converters if behind.second in box]
            assert len(box & plus) == 1, each.link
            assert not (plus | {behind.second}) & bank, each.link
        if any(branch.id == "step-down" for branch in each.design.dc.branches):
            seen.add("circuits")
            (circuits,) = [box for box in nets.circuits if not box & bank]
            assert len(circuits & nets.drawn_plus) == len(circuits - nets.drawn_plus) == 1
    assert seen == {"solar-across", "generator-across", "circuits"}


def nets_sources(nets: Nets) -> set[str]:
    """Names of all that gives current by itself."""
    return set(SOURCES) & {each.name for each in nets.symbols}


def test_fuses_and_switches_are_in_the_positive_and_none_in_the_negative(
    read: list[Drawn],
) -> None:
    for each in read:
        nets = each.nets
        for found in nets.named(*FUSES, *SWITCHES, "resistor"):
            assert found.ends <= nets.drawn_plus - nets.drawn_other, (each.link, found)
        assert nets.negative(*FUSES, *SWITCHES) == nets.negative(), each.link


def test_the_switch_cuts_the_units_and_nothing_else(read: list[Drawn]) -> None:
    """“Cuts off the unit only. All that is drawn below it stays live.”"""
    for each in read:
        nets = each.nets
        opened = nets.positive("switch", "momentary")
        assert not nets.unit_feeds & opened, each.link
        live = nets.hung & nets.positive()
        assert live <= opened, each.link
        assert bool(live) == bool(nets.converters or nets.circuits), each.link
        assert len(nets.named("switch")) == 1, each.link


def test_the_pre_charge_feeds_the_unit_only_while_its_button_is_held(read: list[Drawn]) -> None:
    for each in read:
        nets, feeds = each.nets, each.nets.unit_feeds & each.nets.positive()
        assert len(feeds) == each.design.candidate.units
        assert len(nets.named("momentary")) == each.design.dc.precharge, each.link
        if each.design.dc.precharge:
            assert feeds <= nets.positive("switch"), each.link
        assert not feeds & nets.positive("switch", "momentary"), each.link
        assert not feeds & nets.positive("switch", "resistor"), each.link


def test_every_way_out_of_the_bank_has_a_fuse_before_anything_else(read: list[Drawn]) -> None:
    for each in read:
        nets = each.nets
        unguarded = nets.positive(*FUSES)
        assert not unguarded & (nets.unit_feeds | nets.hung), each.link
        behind_switch = {net for found in nets.named("switch") for net in found.ends}
        if not each.design.dc.battery_fuse:
            assert not unguarded & behind_switch, each.link


def test_each_battery_in_parallel_has_its_fuse_at_its_own_end(read: list[Drawn]) -> None:
    seen = set()
    for each in read:
        nets, bank = each.nets, each.design.bank
        seen.add(each.design.dc.battery_fuses)
        assert len(nets.tops) == (bank.parallel if each.design.dc.battery_fuses else 1), each.link
        if not each.design.dc.battery_fuses:
            continue
        alone = [nets.reached({top}, "battery", *FUSES) for top in nets.tops]
        assert all(reached == {top} for reached, top in zip(alone, nets.tops, strict=True))
        fused = {net for found in nets.named("fuse") for net in found.ends}
        assert nets.tops <= fused, each.link
        strings = [found for found in nets.named("battery") if found.first in nets.tops]
        assert len(strings) == bank.parallel, each.link
    assert 0 in seen and len(seen) > 2


def test_the_starter_battery_has_a_fuse_between_it_and_the_charger(read: list[Drawn]) -> None:
    count = 0
    for each in read:
        for source in each.nets.named("generator-across"):
            count += 1
            near = each.nets.reached({source.first}, *FUSES, "generator-across")
            assert not near & {net for box in each.nets.converters for net in box}, each.link
    assert count


def test_a_12_v_battery_that_stays_has_its_fuse_at_its_own_end(read: list[Drawn]) -> None:
    count = 0
    for each in read:
        nets = each.nets
        kept = any(branch.kept for branch in each.design.dc.branches)
        assert len(nets.named("kept-battery")) == kept, each.link
        for battery in nets.named("kept-battery"):
            count += 1
            bank = nets.positive() | nets.negative()
            (circuits,) = [box for box in nets.circuits if not box & bank]
            alone = nets.reached({battery.first}, *FUSES, *nets_sources(nets))
            assert not alone & (nets.hung | nets.positive()), each.link
            for relay in nets.named("relay-across"):
                assert not alone & set(relay.ends), f"{each.link}: its charge line has a fuse, too"
                assert set(relay.ends) & nets.reached({battery.first}, "fuse", "relay-across")
            fed = nets.reached({battery.first}, *nets_sources(nets)) & circuits
            assert fed == circuits & nets.drawn_plus, each.link
            assert battery.second in circuits - nets.drawn_plus, each.link
    assert count


def test_the_thin_wires_of_monitor_and_pre_charge_start_with_a_fuse(read: list[Drawn]) -> None:
    """One at the monitor, one at the button: where either wire leaves what the batteries feed."""
    for each in read:
        nets = each.nets
        fused = {net for found in nets.named(*FUSES) for net in found.ends}
        for button in nets.named("momentary"):
            assert button.second in fused, each.link
            assert button.second not in nets.positive(*FUSES, "resistor"), each.link
        ends = [net for box in nets.meters for net in box if net in nets.positive()]
        assert len(ends) == 1, each.link
        assert ends[0] not in nets.positive(*FUSES), each.link


def test_the_shunt_counts_all_that_flows_in_and_out_of_the_bank(read: list[Drawn]) -> None:
    """“Only the batteries' negatives are on its battery side”: nothing else, nor the frame."""
    for each in read:
        nets = each.nets
        (shunt,) = nets.named("shunt")
        assert shunt.ends <= nets.negative(), each.link
        beside = nets.negative("shunt")
        assert not beside & (nets.unit_feeds | nets.hung), each.link
        (load_side,) = shunt.ends - beside
        frame = [found for found in nets.named("chassis") if found.first in nets.negative()]
        assert [found.first for found in frame] == [load_side], each.link
        assert not {found.first for found in nets.named("chassis")} & nets.positive(), each.link


def test_panels_and_12_v_circuits_have_a_contact_of_their_own(read: list[Drawn]) -> None:
    for each in read:
        nets = each.nets
        circuits = {"house", "dc48"} & {branch.id for branch in each.design.dc.branches}
        cut = {"solar-panel"} & groups(each.design) | circuits
        assert len(nets.named("isolator", "isolator-across")) == len(cut), each.link
        boxes = {net for box in nets.converters for net in box}
        for panels in nets.named("solar-across"):
            opened = nets.reached({panels.first}, "isolator", "solar-across")
            assert not opened & boxes, each.link
        for box in nets.circuits if circuits else ():
            (plus,) = box & nets.drawn_plus
            opened = nets.reached({plus}, *("isolator", "isolator-across"), *nets_sources(nets))
            assert not opened & (boxes | nets.positive(*SWITCHES)), each.link


def test_a_buffer_lies_across_the_12_v_circuits(guide: Guide) -> None:
    """With and without a 12 V battery that stays; nothing of this shop starts so hard."""
    seen = set()
    for path in ("rig=van/scope=whole/heavy=1/biggest=cooking/", LINKS[-1][0]):
        case = case_of(guide, path, "bank=48V")
        assert case is not None
        (line,) = (each for each in case.design.parts if each.group == "step-down")
        buffer = line._replace(group="buffer", name="a buffer")
        design = replace(case.design, parts=(*case.design.parts, buffer))
        picture = diagram_of(guide, case.needs, design)
        seen.add(any(branch.kept for branch in design.dc.branches))
        nets = nets_of(picture.svg)
        (circuits,) = nets.circuits
        (placed,) = nets.named("buffer")
        assert placed.second in circuits - nets.drawn_plus
        fed = nets.reached({placed.first}, *nets_sources(nets))
        assert fed & circuits == circuits & nets.drawn_plus
        assert not fed & nets.positive()
    assert seen == {True, False}


@pytest.fixture(scope="module")
def drawing(guide: Guide) -> str:
    """One drawing, to be spoilt."""
    case = case_of(guide, "rig=rig-30/scope=whole/heavy=1/biggest=cooking/", "bank=48V")
    assert case is not None
    return str(diagram_of(guide, case.needs, case.design).svg)


def place_of(svg: str, name: str) -> tuple[float, float]:
    """Where a symbol hangs, the last one of its name."""
    found = re.findall(rf'<use href="#rig-svg-diagram-{name}" x="([\d.]+)" y="([\d.]+)"/>', svg)[-1]
    return float(found[0]), float(found[1])


def with_line(svg: str, *points: tuple[float, float]) -> Nets:
    """The drawing with one more line."""
    data = "L".join(f"{x:g} {y:g}" for x, y in points)
    return nets_of(svg.replace("</svg>", f'<path d="M{data}"/></svg>'))


def test_a_bridge_over_the_switch_is_found(drawing: str) -> None:
    """The reader is no rubber stamp: each spoilt drawing reads otherwise."""
    x, y = place_of(drawing, "switch")
    bridged = with_line(drawing, (x, y), (x, y + 24.0))
    assert bridged.unit_feeds & bridged.positive("switch", "momentary")


def test_a_bridge_over_the_shunt_is_found(drawing: str) -> None:
    x, y = place_of(drawing, "shunt")
    bridged = with_line(drawing, (x, y), (x, y + 24.0))
    assert bridged.unit_feeds & bridged.negative("shunt")


def test_a_line_from_pole_to_pole_is_found(drawing: str) -> None:
    switch, shunt = place_of(drawing, "switch"), place_of(drawing, "shunt")
    shorted = with_line(drawing, (switch[0], shunt[1]), shunt)
    assert shorted.positive() & shorted.negative()


def test_a_battery_upside_down_is_found(drawing: str) -> None:
    sound = nets_of(drawing)
    swapped = {each: (each.second, each.first) for each in sound.named("battery")}
    turned = Nets(
        tuple(
            type(each)(each.name, *swapped.get(each, (each.first, each.second)))
            for each in sound.symbols
        ),
        *(sound.converters, sound.unit_converters, sound.circuits, sound.meters),
        *(sound.drawn_plus, sound.drawn_other),
    )
    assert sound.positive() <= sound.drawn_plus
    assert not turned.positive() <= turned.drawn_plus


def test_a_line_that_hops_over_another_does_not_touch_it() -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg"><path d="M50 0L50 20"/><path d="{}"/></svg>'
    hopping, touching = "M0 10L46 10a4 4 0 0 1 8 0L90 10", "M0 10L50 10L90 10"
    assert len(nets_of(svg.format(hopping)).drawn_other) == 2
    assert len(nets_of(svg.format(touching)).drawn_other) == 1
