"""Each caution's rule: one answer that meets it and one that does not."""

import re
from dataclasses import replace

import pytest

from engine.advice.judge.cautions import RULES, cautions_of
from engine.model.guide import Guide
from guide.sentences import facts_of_rules
from tests.advice.conftest import (
    AIRCON,
    COACH,
    COOKING,
    SOME,
    TWO_AIRCONS,
    VAN,
    MakeCase,
)

HEATING = "rig=rig-30 scope=whole heavy=1 biggest=heating"
BIG_BANK = f"{COOKING} bank=12V nights=4"

# rule: an answer that meets it, and one that does not ("" where every answer meets it; every
# battery's short circuit is far above its peak, so every one asks for a pre-charge)
RULE_CASES = {
    "always": (VAN, ""),
    "one-source-two-legs": (COACH, TWO_AIRCONS),
    "no-240-off-battery": (COACH, COACH.replace("v240=no", "v240=yes")),
    "soft-starter-needed": (AIRCON, COOKING),
    "lithium-cold": (VAN, f"{VAN} ambient=-5C"),
    "cold-charge": (f"{VAN} ambient=-5C", f"{VAN} ambient=0C"),
    "vented-battery": (f"{VAN} chemistry=flooded", f"{VAN} chemistry=agm"),
    "lead-acid": (f"{VAN} chemistry=agm", VAN),
    "converter-loop": (VAN, SOME),
    "water-heater-on-inverter": (HEATING, COOKING),
    "absorption-fridge": (f"{VAN} loads=fridge-absorption,lights", VAN),
    "generator": (f"{VAN} gen=2000W", VAN),
    "generator-start": (
        "rig=van scope=whole heavy=0 loads=fridge-residential,lights gen=500W altitude=7000ft",
        f"{VAN} gen=2000W",
    ),
    "alternator": (f"{VAN} alt=180A", VAN),
    "sources-sum": (f"{VAN} chemistry=flooded alt=180A drive=2h solar=800W", f"{VAN} solar=100W"),
    "motors-on-12-v": (f"{COOKING} bank=24V", f"{COOKING} bank=12V"),
    "brake-on-lithium": (f"{COOKING} bank=12V", f"{COOKING} bank=12V chemistry=agm"),
    "kept-battery": (f"{COOKING} bank=24V", f"{VAN} bank=24V"),
    "must-wait": ("rig=rig-30 scope=whole heavy=3 biggest=cooking", COOKING),
    "kept-alone": (f"{VAN} have=2x200Ah-12V-lifepo4-1y", VAN),
    "kept-joined": ("rig=van scope=whole heavy=1 biggest=cooking have=2x100Ah-12V-lifepo4-1y", VAN),
    "kept-for-house": (
        "rig=rig-30 scope=whole heavy=1 biggest=heating bank=24V have=2x100Ah-12V-agm-1y",
        f"{VAN} have=2x100Ah-12V-agm-1y",
    ),
    "shut-down": (VAN, ""),
    "busbars-fed": (f"{VAN} chemistry=agm", VAN),
    "valve-regulated": (f"{VAN} chemistry=agm", f"{VAN} chemistry=flooded"),
    "bank-12": (VAN, f"{COOKING} bank=48V"),
    "bank-above-12": (f"{COOKING} bank=24V", f"{COOKING} bank=12V"),
    "bare": (VAN, COOKING),
    "charge-cut-off": (f"{VAN} solar=400W", f"{VAN} chemistry=agm solar=400W"),
    "fifty-amp": (COACH, COOKING),
    "solar": (f"{VAN} solar=400W", VAN),
    "thirty-amp": (COOKING, COACH),
    "high-short-circuit": (BIG_BANK, f"{VAN} chemistry=agm"),
    "precharge": (VAN, ""),
    "parallel-batteries": (BIG_BANK, VAN),
    "series-batteries": (f"{VAN} chemistry=agm bank=24V", VAN),
    "closed-space": (f"{COOKING} mount=sideways", COOKING),
    "push-in": (COACH, COOKING),
    "sub-panel-neutrals": (SOME, COACH),
    "adapter": (COACH, COOKING),
    "heavy-cable": (VAN, ""),
    "shore-limit": (VAN, COACH),
    "shore-overload": (
        f"{VAN} loads=coffee-maker,laptop,lights shore=10A",
        f"{VAN} loads=coffee-maker,laptop,lights",
    ),
    "multi-unit": (TWO_AIRCONS, COACH),
    "bank-limit": (COOKING, f"{COOKING} nights=6"),
}


def shown(case: MakeCase, text: str) -> dict[str, str]:
    """Texts of the cautions of an answer, by rule."""
    found = case(text)
    notes = cautions_of(found.guide, found.needs, found.design)
    return {note.caution.rule: note.text for note in notes}


def test_every_rule_has_its_case() -> None:
    assert set(RULE_CASES) == set(RULES)


@pytest.mark.parametrize("rule", RULE_CASES)
def test_an_answer_meets_the_rule_and_another_does_not(case: MakeCase, rule: str) -> None:
    meets, misses = RULE_CASES[rule]
    assert rule in shown(case, meets)
    assert not misses or rule not in shown(case, misses)


@pytest.mark.parametrize("layout", ["sub-panel", "parallel-pair", "split-phase-pair"])
def test_some_circuits_have_neutrals_of_their_own_whatever_feeds_them(
    case: MakeCase, layout: str
) -> None:
    text = {
        "sub-panel": SOME,
        "parallel-pair": "rig=van scope=some heavy=3 biggest=aircon-15k softstart=no",
        "split-phase-pair": "rig=coach-50 scope=some heavy=0 v240=yes",
    }[layout]
    assert case(text).candidate.layout == layout
    assert "sub-panel-neutrals" in shown(case, text)


@pytest.mark.parametrize(
    ("text", "warned"),
    [
        (f"{COACH} bank=48V", True),
        (f"{SOME} bank=48V", True),
        (f"{COACH} bank=12V", False),
        (f"{VAN} bank=24V", False),
    ],
)
def test_brake_jacks_and_slides_keep_a_12_v_battery_beside_another_bank(
    case: MakeCase, text: str, warned: bool
) -> None:
    """49 CFR 393.43, from memory."""
    assert ("motors-on-12-v" in shown(case, text)) == warned


@pytest.mark.parametrize(("plate_a", "counted"), [(0.0, True), (45.0, False)])
def test_a_soft_starter_that_is_there_is_counted_on_where_its_lack_would_be_too_much(
    case: MakeCase, guide: Guide, plate_a: float, counted: bool
) -> None:
    """By hand: 45 A at 120 V are 5,400 VA, of 6,080 VA; the list's 72.8 A are 8,736 VA."""
    asked = "rig=rig-30 scope=whole heavy=1 biggest=aircon-15k softstart=yes loads=aircon-15k"
    like = guide.appliance("aircon-15k")
    own = replace(like, locked_rotor=plate_a or like.locked_rotor)
    others = (each for each in guide.appliances if each.id != own.id)
    found = case(asked, replace(guide, appliances=(*others, own)))
    assert found.design.supply.surge_va == 6080.0
    notes = cautions_of(found.guide, found.needs, found.design)
    assert ("soft-starter" in {note.caution.id for note in notes}) == counted


@pytest.mark.parametrize("text", [VAN, COOKING, COACH, SOME])
def test_every_answer_asks_for_ground_fault_protection(case: MakeCase, text: str) -> None:
    """NEC 551.40(C) and 551.41(C), from memory: every unit makes 120 V."""
    found = case(text)
    notes = cautions_of(found.guide, found.needs, found.design)
    assert "ground-fault" in {note.caution.id for note in notes}


@pytest.mark.parametrize(
    ("text", "which"),
    [
        (f"{VAN} chemistry=flooded alt=180A drive=2h solar=800W", "a sunny d"),
        (f"{COOKING} chemistry=agm solar=400W", "Plugged in on a sunny day"),
        (f"{COOKING} chemistry=agm", ""),
        (f"{COOKING} solar=100W", ""),
    ],
)
def test_sun_comes_on_top_of_the_road_and_of_the_cord(
    case: MakeCase, text: str, which: str
) -> None:
    """Kirchhoff's current law: what the chargers deliver meets at the bank."""
    found = shown(case, text).get("sources-sum", "")
    assert bool(found) == bool(which)
    assert which in found


@pytest.mark.parametrize(
    ("have", "told"),
    [
        ("2x120Ah-12V-lifepo4-1y", {"parallel-batteries"}),
        ("4x200Ah-6V-agm-1y", {"parallel-batteries", "series-batteries"}),
        ("1x300Ah-12V-lifepo4-1y", set()),
    ],
)
def test_batteries_that_stay_are_told_of_as_those_of_the_plan(
    case: MakeCase, have: str, told: set[str]
) -> None:
    """As they stand in the design: one of a kind is neither."""
    found = shown(case, f"rig=rig-30 scope=some heavy=0 bank=12V have={have}")
    assert told == {"parallel-batteries", "series-batteries"} & set(found)


def test_with_thin_cable_only_there_is_no_word_of_a_hydraulic_crimp(case: MakeCase) -> None:
    """Ratchet tools do below 4 AWG: trade pages (secondary)."""
    found = case(VAN)
    thin = tuple(each._replace(size="6") for each in found.design.dc.conductors)
    notes = cautions_of(
        found.guide,
        found.needs,
        replace(found.design, dc=replace(found.design.dc, conductors=thin)),
    )
    assert "heavy-cable" not in {note.caution.rule for note in notes}


def test_without_inrush_above_the_peak_there_is_no_word_of_a_pre_charge(case: MakeCase) -> None:
    found = case(VAN)
    calm = replace(found.design, dc=replace(found.design.dc, precharge=False))
    notes = cautions_of(found.guide, found.needs, calm)
    assert "precharge" not in {note.caution.rule for note in notes}


FACTS = {rule: facts for rule, facts in facts_of_rules().items() if facts}
"""What a rule gives to its texts; other rules give nothing."""


@pytest.mark.parametrize("rule", FACTS)
def test_the_rule_gives_exactly_the_facts_that_its_texts_may_use(case: MakeCase, rule: str) -> None:
    found = case(RULE_CASES[rule][0])
    facts = RULES[rule](found.guide, found.needs, found.design)
    assert facts is not None
    assert set(facts) == set(FACTS[rule])
    assert all(facts.values())


@pytest.mark.parametrize("rule", sorted(set(RULE_CASES) - set(FACTS)))
def test_other_rules_give_none(case: MakeCase, rule: str) -> None:
    found = case(RULE_CASES[rule][0])
    assert RULES[rule](found.guide, found.needs, found.design) == {}


def test_no_placeholder_is_left_in_any_text(case: MakeCase) -> None:
    for meets, _ in RULE_CASES.values():
        for text in shown(case, meets).values():
            assert not re.search(r"[{}]", text)


def test_the_two_most_important_stand_first_then_the_guides_order(
    guide: Guide, case: MakeCase
) -> None:
    """Who may do it, and carbon monoxide: both kill people who never touch the wiring."""
    order = [caution.id for caution in guide.cautions]
    for text, alarms in (
        (VAN, "alarms"),
        (f"{COACH} bank=24V", "alarms-above-12"),
        (f"{TWO_AIRCONS} bank=48V", "alarms-above-12"),
        (BIG_BANK, "alarms"),
    ):
        found = case(text)
        ids = [note.caution.id for note in cautions_of(guide, found.needs, found.design)]
        assert ids[:2] == ["qualified-person", alarms]
        assert ids[2:] == sorted(ids[2:], key=order.index)


def test_the_shared_neutral_shows_its_sum(case: MakeCase) -> None:
    """NEC 210.4 and its commentary (secondary): 15 A and 15 A make 30 A on one neutral."""
    assert "15 A + 15 A = 30 A in one wire" in re.sub(
        r"\s+", " ", shown(case, COACH)["one-source-two-legs"]
    )


def test_each_caution_says_why_what_to_do_who_and_on_whose_word(guide: Guide) -> None:
    for caution in guide.cautions:
        assert caution.title
        assert caution.text
        assert caution.do
        assert caution.who
        assert caution.source, caution.id
