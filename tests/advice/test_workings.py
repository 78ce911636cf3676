"""Each working can be followed: its expression gives its value, and it says where it comes from."""

import re
from random import Random

import pytest

from engine.advice.plan.charging import plan_charging
from engine.advice.workings import workings_of
from engine.conversation import Conversation
from engine.model.guide import Guide
from engine.model.result import Working
from tests.advice.conftest import COACH, COOKING, TWO_AIRCONS, VAN, Case, MakeCase
from tests.random_answers import concrete_states, random_answers

NAMES = {"abs": abs, "max": max, "min": min, "__builtins__": {}}
RANDOM_ANSWERS = 500
FULL = (
    f"{COACH} gen=3000W altitude=3000ft alt=200A drive=2h solar=3000W lat=30 payload=900lb "
    "mount=flat tools=crimper"
)


def worked(found: Case) -> tuple[Working, ...]:
    charging = plan_charging(found.guide, found.needs, found.design)
    return workings_of(found.guide, found.needs, found.design, charging)


def assert_followed(working: Working) -> None:
    result = eval(working.expression, dict(NAMES))  # arithmetic that the engine wrote itself
    assert result == pytest.approx(working.value, rel=1e-9, abs=1e-9), working
    assert "//" not in working.numbers, "a reader rounds with ⌈ ⌉ and ⌊ ⌋"
    assert not re.search(r"[{}]", working.numbers + working.expression + working.name)
    assert working.formula
    assert working.source


def test_every_state_of_the_tree_can_be_followed(guide: Guide) -> None:
    conversation = Conversation(guide)
    followed = 0
    for answers in concrete_states(conversation):
        outcome = conversation.outcome(answers)
        if outcome.best is not None:
            found = Case(guide, answers, outcome.needs, outcome)
            for working in worked(found):
                assert_followed(working)
                followed += 1
    assert followed > 2000


def test_random_answers_can_be_followed(guide: Guide) -> None:
    conversation = Conversation(guide)
    names = set()
    for seed in range(RANDOM_ANSWERS):
        answers = random_answers(guide, Random(seed))
        outcome = conversation.outcome(answers)
        if outcome.best is not None:
            for working in worked(Case(guide, answers, outcome.needs, outcome)):
                assert_followed(working)
                names.add(working.name)
    assert len(names) > 40


def test_a_working_that_lies_is_found_out() -> None:
    with pytest.raises(AssertionError):
        assert_followed(Working("x", "n", "f", "1 + 1 = 3", "1 + 1", 3.0, "A", "arithmetic"))


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (VAN, {"Strings for the energy", "Input limit to set, whole amperes on each leg"}),
        (COACH, {"Neutral current off the battery, both sides of the panel in phase"}),
        (TWO_AIRCONS, {"Neutral current off the battery, the two sides half a turn apart"}),
        (f"{COOKING} bank=12V nights=4", {"Smallest fuse of each battery"}),
        (
            f"{VAN} chemistry=flooded",
            {"Capacity at each string's share of it (rated for 20 hours)"},
        ),
        (f"{VAN} payload=500lb", {"Share of what the rig may still take on"}),
        (
            "rig=coach-50 scope=some heavy=0 v240=no",
            {"Current that the breaker of these circuits must be good for"},
        ),
        (f"{VAN} gen=2000W", {"Generator at this height and heat"}),
        (f"{VAN} alt=180A", {"Charge current to set on the DC-DC charger"}),
        (f"{VAN} solar=2000W", {"Days of sun from empty to full while the loads run"}),
    ],
)
def test_a_step_is_laid_open_where_it_was_taken(
    case: MakeCase, text: str, wanted: set[str]
) -> None:
    names = {working.name for working in worked(case(text))}
    assert wanted <= names
    plain = {working.name for working in worked(case("rig=rig-30 scope=whole heavy=0"))}
    assert not (wanted & plain) or wanted == {
        "Strings for the energy",
        "Input limit to set, whole amperes on each leg",
    }


def test_the_numbers_shown_stand_in_the_formulas_order(case: MakeCase) -> None:
    for working in worked(case(FULL)):
        digits = re.findall(r"\(([-\d.e+]+)\)", working.expression)
        assert digits or working.subject == "battery", working


def test_every_subject_is_one_that_a_section_shows(case: MakeCase) -> None:
    subjects = {working.subject for working in worked(case(FULL))}
    assert subjects == {"power", "service", "cable", "fuse", "battery", "cooling", "charging"}
