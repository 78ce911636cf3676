"""What the drawing joins is what the words say: switch, fuses, shunt, pre-charge."""

import pytest

from engine.model.guide import Guide
from engine.pages.drawings.diagram import diagram_of
from tests.pages.conftest import DETAILED, Case, case_of
from tests.safety.nets import Nets, nets_of

FUSES = ("fuse", "fuse-across")
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


@pytest.fixture(scope="module")
def read(guide: Guide) -> list[tuple[Case, Nets]]:
    """Drawings of every voltage and layout with their nets."""
    cases = [case_of(guide, *link) for link in LINKS]
    assert all(cases)
    return [
        (case, nets_of(diagram_of(guide, case.needs, case.design).svg)) for case in cases if case
    ]


def test_the_switch_cuts_the_units_and_nothing_else(read: list[tuple[Case, Nets]]) -> None:
    """“Cuts the unit only; all that is drawn below it stays live.”"""
    for case, nets in read:
        assert len(nets.unit_feeds) == case.design.candidate.units, case.link
        closed = nets.reached(nets.bank)
        assert nets.unit_feeds <= closed, case.link
        opened = nets.reached(nets.bank, "switch", "momentary")
        assert not nets.unit_feeds & opened, case.link
        live = nets.hung & closed
        assert live <= opened, case.link
        assert bool(live) == bool(case.design.dc.branches), case.link
        assert len(nets.named("switch")) == 1, case.link


def test_the_pre_charge_feeds_the_unit_only_while_its_button_is_held(
    read: list[tuple[Case, Nets]],
) -> None:
    for case, nets in read:
        assert len(nets.named("momentary")) == case.design.dc.precharge, case.link
        assert nets.unit_feeds <= nets.reached(nets.bank, "switch"), case.link
        assert not nets.unit_feeds & nets.reached(nets.bank, "switch", "momentary"), case.link


def test_every_way_out_of_the_bank_has_a_fuse_before_anything_else(
    read: list[tuple[Case, Nets]],
) -> None:
    for case, nets in read:
        unguarded = nets.reached(nets.bank, *FUSES)
        assert not unguarded & (nets.unit_feeds | nets.hung), case.link
        behind_switch = {net for each in nets.named("switch") for net in (each.first, each.second)}
        assert not unguarded & behind_switch, case.link


def test_each_battery_in_parallel_has_its_fuse_at_its_own_end(
    read: list[tuple[Case, Nets]],
) -> None:
    seen = set()
    for case, nets in read:
        parallel = case.design.bank.parallel
        seen.add(parallel)
        if parallel == 1:
            continue
        ends = {net for each in nets.named("fuse") for net in (each.first, each.second)}
        strings = [each for each in nets.named("battery") if each.first in ends]
        assert len(strings) == parallel, case.link
        lone = nets.reached({strings[0].first}, "battery", *FUSES)
        assert not lone & {each.first for each in strings[1:]}, case.link
    assert 1 in seen and len(seen) > 1


def test_the_starter_battery_has_a_fuse_between_it_and_the_charger(
    read: list[tuple[Case, Nets]],
) -> None:
    count = 0
    for case, nets in read:
        for source in nets.named("generator-across"):
            count += 1
            assert source.first not in nets.reached(nets.bank, *FUSES), case.link
            near = nets.reached({source.first}, *FUSES)
            assert not near & {net for each in nets.converters for net in each}, case.link
    assert count


def test_the_shunt_counts_all_that_flows_in_and_out_of_the_bank(
    read: list[tuple[Case, Nets]],
) -> None:
    """“Only the batteries' negatives are on its battery side”: nothing else, nor the frame."""
    for case, nets in read:
        assert len(nets.named("shunt")) == 1, case.link
        beside = nets.reached(nets.bank, "shunt")
        assert not beside & (nets.unit_feeds | nets.hung), case.link
        shunt = nets.named("shunt")[0]
        joints = {each.first for each in nets.named("chassis")}
        load_side = {shunt.first, shunt.second} - beside
        assert load_side & joints, case.link
        assert not beside & joints, case.link


def test_panels_and_12_v_circuits_have_a_contact_of_their_own(
    read: list[tuple[Case, Nets]],
) -> None:
    for case, nets in read:
        cut = [each for each in case.design.dc.branches if each.switch]
        assert len(nets.named("isolator", "isolator-across")) == len(cut), case.link
        for panels in nets.named("solar-across"):
            opened = nets.reached({panels.first}, "isolator")
            assert not opened & {net for each in nets.converters for net in each}, case.link


def test_a_drawing_that_is_wrong_is_found(guide: Guide) -> None:
    """The reader is no rubber stamp: a bridge over the switch joins what it should part."""
    case = case_of(guide, "rig=rig-30/scope=whole/heavy=1/biggest=cooking/", "bank=48V")
    assert case is not None
    svg = str(diagram_of(guide, case.needs, case.design).svg)
    nets = nets_of(svg)
    (switch,) = nets.named("switch")
    assert switch.first != switch.second
    places = [part for part in svg.split("<use ") if "diagram-switch" in part[:60]]
    x, y = (float(places[-1].split(f'{name}="')[1].split('"')[0]) for name in ("x", "y"))
    bridge = f'<path d="M{x:g} {y:g}L{x:g} {y + 24:g}"/></svg>'
    bridged = nets_of(svg.replace("</svg>", bridge))
    assert bridged.unit_feeds & bridged.reached(bridged.bank, "switch", "momentary")
