"""What is shown is what was computed: every equation gives its value from its numbers."""

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest

from engine.advice.explain import STEPS, formulas, notes_of
from engine.advice.judge.recommend import outcome_of
from engine.advice.plan.charging import plan_charging
from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.guide import Formula, Guide
from engine.model.needs import Needs
from engine.model.result import Considered, Working
from engine.needs import needs_of
from engine.pages.answer.workings import working_of
from engine.trace import Note
from tests.advice.conftest import (
    AIRCON,
    COACH,
    COOKING,
    SOME,
    TWO_AIRCONS,
    VAN,
    Case,
    MakeCase,
)
from tests.advice.test_buses import rooftop
from tests.equations import EquationError, evaluate, follow, right_of
from tests.formula_lint import faults_of
from tests.random_answers import concrete_states, random_answers

RANDOM_ANSWERS = 400
FULL = (
    f"{COACH} bank=24V gen=3000W altitude=3000ft alt=200A drive=2h solar=3000W lat=30 "
    "payload=900lb mount=flat tools=crimper coldest=77F"
)
MOTOR = f"{COOKING} loads=fridge-12v,microwave,rooftop-12v"
# Calls of one formula that a mutated equation is held against: enough that chance agrees with none.
HELD_AGAINST = 60


def worked(found: Case) -> dict[str, Working]:
    """The steps of a recommendation by id; of one that was taken several times the last."""
    notes = notes_of(found.guide, found.needs, found.best)
    return {note.id: working_of(found.guide, note) for note in notes}


def assert_followed(working: Working) -> None:
    """Equation, numbers and value agree, and a reader is told what, and by whom."""
    values = {sign: value for sign, (value, _) in working.inputs.items()}
    result = evaluate(working.formula, values)
    if result != pytest.approx(working.value, rel=1e-9, abs=1e-9):
        raise EquationError(f"{working.formula} gives {result}, shown is {working.value}")
    follow(working.formula, working.inputs, working.numbers)
    assert not re.search(r"[{}]", working.name + working.numbers)
    assert working.name
    assert working.source


@pytest.mark.parametrize(
    "text",
    [
        f"{VAN} solar=400W alt=180A drive=2h nights=2",
        f"{VAN} chemistry=agm gen=2000W altitude=7000ft ambient=105F",
        f"{COOKING} bank=48V chemistry=flooded solar=800W",
        f"{AIRCON} bank=24V gen=4000W ambient=110F",
        f"{COACH} bank=48V coldest=-9C alt=200A",
        f"{SOME} loads=furnace,fridge-12v,lights shore=15A",
        f"{TWO_AIRCONS} cable=12ft",
    ],
)
def test_every_equation_of_an_answer_gives_its_value(case: MakeCase, text: str) -> None:
    found = case(text)
    notes = notes_of(found.guide, found.needs, found.best)
    assert len(notes) > 20
    for note in notes:
        assert_followed(working_of(found.guide, note))


class Sweep:
    """Every call that leads to a recommendation, once each, and how many recommendations it saw."""

    def __init__(self, guide: Guide) -> None:
        conversation = Conversation(guide)
        self.guide = guide
        self.notes: dict[tuple[str, str], Note] = {}
        self.recommended = 0
        for answers in concrete_states(conversation):
            outcome = conversation.outcome(answers)
            self._take(guide, outcome.best, outcome.needs)
        self.of_tree = self.recommended
        for seed in range(RANDOM_ANSWERS):
            answers = random_answers(guide, Random(seed))
            outcome = conversation.outcome(answers)
            self._take(guide, outcome.best, outcome.needs)
            conversation.forget_outcomes()
        # So hot that the second rule of a generator's heat counts, or below the sea, where thicker
        # air gives it no more: few random answers are.
        for place in ("ambient=56C", "ambient=59C", "altitude=-450ft"):
            answers = read_pairs(guide, f"{VAN} gen=2000W {place}".split())
            outcome = conversation.outcome(answers)
            self._take(guide, outcome.best, needs_of(guide, answers))
        # Nights below freezing with a furnace, days hotter than the list holds for.
        for weather in ("coldest=-9C ambient=110F", "coldest=-15C ambient=45C", "coldest=-18C"):
            for kind in ("agm", "flooded"):
                loads = "loads=furnace,fridge-12v,aircon-13k5"
                answers = read_pairs(guide, f"{COACH} chemistry={kind} {weather} {loads}".split())
                self._take(guide, conversation.outcome(answers).best, needs_of(guide, answers))
        motors = rooftop(
            guide, locked_rotor=150.0, start_time=0.5
        )  # stronger than those that are listed
        for bank in ("12V", "24V"):
            answers = read_pairs(motors, f"{COOKING} bank={bank} loads=rooftop-12v".split())
            needs = needs_of(motors, answers)
            self._take(motors, outcome_of(motors, answers, needs).best, needs)

    def _take(self, guide: Guide, best: Considered | None, needs: Needs) -> None:
        if best is None:
            return
        self.recommended += 1
        for note in notes_of(guide, needs, best):
            self.notes.setdefault((note.id, repr(note.arguments)), note)

    def of(self, formula: str) -> list[Note]:
        """The calls of one formula, spread over all of them, and as many with other numbers."""
        found = [note for note in self.notes.values() if note.formula == formula]
        spread = found[:: max(1, len(found) // HELD_AGAINST)]
        return spread + [other for seed, note in enumerate(spread) for other in varied(note, seed)]


def varied(note: Note, seed: int) -> Iterator[Note]:
    """The same formula called with other numbers, where it takes them."""
    random = Random(seed)

    def other(value: object) -> object:
        if isinstance(value, tuple):
            return tuple(map(other, value))
        if isinstance(value, bool | int):
            return value + random.randint(0, 2)
        much = random.choice((random.uniform(0.7, 1.5), random.uniform(3.0, 9.0)))
        return value * much if isinstance(value, float) else value

    arguments = {name: other(value) for name, value in note.arguments.items()}
    try:
        result = formulas()[note.formula](**arguments)
    except ValueError:  # it refuses such numbers
        return
    if result is not None:
        yield note._replace(arguments=arguments, result=result)


@pytest.fixture(scope="module")
def sweep(guide: Guide) -> Sweep:
    return Sweep(guide)


def test_every_equation_gives_its_value_over_the_tree_and_random_answers(sweep: Sweep) -> None:
    assert sweep.of_tree > 100
    assert sweep.recommended > sweep.of_tree + 100
    for note in sweep.notes.values():
        assert_followed(working_of(sweep.guide, note))


def test_every_equation_gives_its_value_with_other_numbers_too(sweep: Sweep) -> None:
    for name in sweep.guide.formulas:
        notes = sweep.of(name)
        assert len({repr(note.arguments) for note in notes}) > 1
        for note in notes:
            assert_followed(working_of(sweep.guide, note))


def test_every_step_that_is_declared_is_taken_by_somebody(sweep: Sweep) -> None:
    assert {note.id for note in sweep.notes.values()} == set(STEPS)


def told_apart(sweep: Sweep, name: str, formula: Formula) -> bool:
    """Whether this formula in place of the real one is found out."""
    if faults_of(formulas()[name], formula):
        return True
    guide = replace(sweep.guide, formulas={**sweep.guide.formulas, name: formula})
    try:
        for note in sweep.of(name):
            assert_followed(working_of(guide, note))
    except (EquationError, KeyError, IndexError, TypeError, ZeroDivisionError, ValueError):
        return True
    return False


OTHER_MARK = {"·": "/", "/": "·", "+": "−", "−": "+", "⌈": "⌊", "⌉": "⌋", "²": ""}


def other_texts(formula: Formula) -> Iterator[str]:
    """The equation with one word of its right side changed: marks, numbers, symbols, functions."""
    left, relation, _ = re.split(r" ([=≥]) ", formula.equation)
    tokens = right_of(formula.equation)
    signs = [each.sign for each in formula.symbols]
    for at, (kind, text) in enumerate(tokens):
        others = []
        if text in OTHER_MARK:
            others = [OTHER_MARK[text]]
        elif kind == "number" and text != "0":
            others = [f"{float(text) * 1.1:.6f}"]
        elif text in ("min", "max"):
            others = ["max" if text == "min" else "min"]
        elif text in signs:
            others = [sign for sign in signs if sign != text]
        for other in others:
            changed = [each.text for each in tokens]
            changed[at] = other
            if text == "⌈":
                changed[changed.index("⌉", at)] = "⌋"
            elif text == "⌉":
                continue
            yield f"{left} {relation} {' '.join(each for each in changed if each)}"


def test_an_equation_with_another_word_in_it_is_found_out(sweep: Sweep) -> None:
    survivors = [
        other
        for name, formula in sweep.guide.formulas.items()
        for other in other_texts(formula)
        if not told_apart(sweep, name, formula._replace(equation=other))
    ]
    assert survivors == [], "\n".join(map(str, survivors))


def test_symbols_that_change_places_are_found_out(sweep: Sweep) -> None:
    survivors = []
    for name, formula in sweep.guide.formulas.items():
        symbols = formula.symbols
        for at, one in enumerate(symbols):
            for other in symbols[at + 1 :]:
                swapped = tuple(
                    each._replace(sign=other.sign)
                    if each is one
                    else each._replace(sign=one.sign)
                    if each is other
                    else each
                    for each in symbols
                )
                if not told_apart(sweep, name, formula._replace(symbols=swapped)):
                    survivors.append((name, one.sign, other.sign))
    assert survivors == [], "\n".join(map(str, survivors))


def test_numbers_in_another_place_are_found_out(case: MakeCase) -> None:
    changed = 0
    for working in worked(case(FULL)).values():
        found = list(re.finditer(r"\d[\d,]*(?:\.\d+)?", working.numbers))
        for one, other in pairwise(found):
            if one[0] == other[0]:
                continue
            numbers = (
                working.numbers[: one.start()]
                + other[0]
                + working.numbers[one.end() : other.start()]
                + one[0]
                + working.numbers[other.end() :]
            )
            with pytest.raises(EquationError):
                follow(working.formula, working.inputs, numbers)
            changed += 1
    assert changed > 100


def test_a_value_that_is_not_the_equation_s_is_found_out(case: MakeCase) -> None:
    for working in worked(case(FULL)).values():
        with pytest.raises(EquationError):
            assert_followed(replace(working, value=working.value * 1.001 + 1e-6))


def test_what_is_shown_is_what_the_design_holds(case: MakeCase) -> None:
    found = case(FULL)
    design, steps = found.design, worked(found)
    charging = plan_charging(found.guide, found.needs, design)
    cable, bank, generator = design.dc.cable, design.bank, charging.generator
    assert generator is not None
    expected = {
        "power.unit.leg_output_w": design.supply.continuous_w,
        "power.unit.leg_surge_va": design.supply.surge_va,
        "power.planned.continuous_needed_w": design.supply.planned_w,
        "battery.need.energy_at_battery_wh": bank.need_wh,
        "battery.string.usable_wh": bank.usable_each_wh,
        "battery.running.dc_current_a": bank.continuous_a,
        "battery.start.dc_current_a": bank.surge_a,
        "battery.bank.strings_in_parallel": bank.parallel,
        "cable.unit.dc_current_a": design.dc.current_a,
        "cable.main.run_ampacity_a": cable.ampacity_a,
        "cable.main.conductor_temperature_c": cable.temperature_c,
        "cable.main.voltage_drop_v": cable.drop_v,
        "cable.loop.loop_resistance_ohm": design.dc.loop_ohm,
        "cable.loop.voltage_left_v": design.dc.terminal_v,
        "fuse.short.bank_short_circuit_a": bank.short_circuit_a,
        "fuse.switch.bank_current_a": design.dc.bank_a,
        "cooling.unit.heat_w": design.supply.heat_w,
        "cooling.air.fans_for": design.cooling.fans,
        "charging.shore.largest_charge_a": charging.shore.charge_a,
        "charging.generator.at_altitude_w": generator.derated_w,
        "charging.generator.largest_charge_a": generator.charge_free_a,
        "charging.alternator.converter_current_a": charging.alternator_a,
        **{
            f"cable.{branch.id}.voltage_drop_v": branch.cable.drop_v
            for branch in design.dc.branches
            if branch.cable
        },
        **{
            f"fuse.{branch.id}.fuse_minimum_a": branch.least_a
            for branch in design.dc.branches
            if branch.fused
        },
    }
    assert len([each for each in expected if each.startswith("cable.")]) > 9
    assert {name: steps[name].value for name in expected} == expected


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (VAN, {"battery.bank.parallel_for_energy", "charging.shore.input_limit_a"}),
        (COACH, {"service.in-phase.running_current_a"}),
        (TWO_AIRCONS, {"service.split.neutral_current_split_a"}),
        (f"{COOKING} bank=12V nights=4", {"fuse.battery.fuse_minimum_a"}),
        (f"{VAN} chemistry=flooded", {"battery.string.peukert_capacity_ah"}),
        (f"{VAN} payload=500lb", {"battery.payload.payload_percent"}),
        ("rig=coach-50 scope=some heavy=0 v240=no", {"service.feeder.feeder_current_a"}),
        (f"{VAN} gen=2000W", {"charging.generator.at_altitude_w"}),
        (f"{VAN} alt=180A", {"charging.alternator.converter_current_a"}),
        (f"{VAN} solar=2000W", {"charging.sun.days_to_fill"}),
    ],
)
def test_a_step_is_laid_open_where_it_was_taken(
    case: MakeCase, text: str, wanted: set[str]
) -> None:
    always = {"battery.bank.parallel_for_energy", "charging.shore.input_limit_a"}
    assert wanted <= set(worked(case(text)))
    plain = set(worked(case("rig=rig-30 scope=whole heavy=0")))
    assert wanted & plain in (set(), always)


@pytest.mark.parametrize(("reserve", "opened"), [(1.0, False), (1.5, True), (2.0, True)])
def test_a_reserve_is_laid_open_where_one_is_held(
    case: MakeCase, reserve: float, opened: bool
) -> None:
    found = case(COOKING)
    needs = replace(found.needs, reserve=reserve)
    held = replace(found, needs=needs, outcome=outcome_of(found.guide, found.answers, needs))
    assert ("battery.reserve.with_reserve_wh" in worked(held)) is opened


def test_every_subject_is_one_that_a_section_shows(case: MakeCase) -> None:
    subjects = {working.subject for working in worked(case(FULL)).values()}
    assert subjects == {"power", "service", "cable", "fuse", "battery", "cooling", "charging"}


def test_what_the_weather_changes_is_opened_and_what_it_leaves_is_not(case: MakeCase) -> None:
    """The air conditioner draws more on a hot day; on a usual one the list holds as it is."""
    hot, usual = worked(case(f"{AIRCON} ambient=110F")), worked(case(AIRCON))
    assert "power.weather.air_conditioner_w" in hot
    assert not [name for name in usual if name.startswith("power.weather.")]


@pytest.mark.parametrize(
    ("text", "role", "other"),
    [
        (VAN, "power.only.", "power.legs."),
        (TWO_AIRCONS, "power.legs.", "power.only."),
    ],
)
def test_what_is_asked_of_one_leg_is_opened_as_that_and_of_two_as_theirs(
    case: MakeCase, text: str, role: str, other: str
) -> None:
    opened = list(worked(case(text)))
    assert [name for name in opened if name.startswith(role)]
    assert not [name for name in opened if name.startswith(other)]


def test_legs_are_told_apart_by_their_numbers(case: MakeCase) -> None:
    found = case(TWO_AIRCONS)
    notes = notes_of(found.guide, found.needs, found.best)
    legs = [note.facts["name"] for note in notes if note.id == "power.legs.together_w"]
    assert legs == ["1", "2"]
