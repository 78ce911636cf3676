"""Every recommended design passes a re-check that knows nothing of the engine's sizing."""

import ast
import copy
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pytest

from engine.answer import answer_of
from engine.answer_text import as_data
from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.answers import Answers
from engine.model.needs import Needs
from engine.needs import needs_of
from guide.load import load_guide
from tests.random_answers import concrete_states, random_answers
from tests.recheck.recheck import faults

RANDOM_ANSWERS = 600


@pytest.fixture(scope="module")
def conversation() -> Conversation:
    return Conversation(load_guide())


def answered(conversation: Conversation, answers: Answers) -> tuple[Needs, dict[str, Any]]:
    """What the answers ask for, and the answer as an outsider gets it."""
    answer = answer_of(conversation, answers, changes=False)
    return needs_of(conversation.guide, answers), as_data(conversation.guide, answer)


def test_every_concrete_state_of_the_tree_passes(conversation: Conversation) -> None:
    states = concrete_states(conversation)
    assert len(states) > 100
    recommended = 0
    wrong = {}
    for answers in states:
        needs, data = answered(conversation, answers)
        if data["status"] == "recommended":
            recommended += 1
            found = faults(conversation.guide, needs, data)
            if found:
                wrong[str(answers.key())] = found
    assert wrong == {}
    assert recommended > 0.9 * len(states)


def test_answers_with_random_details_pass(conversation: Conversation) -> None:
    recommended = 0
    wrong = {}
    for seed in range(RANDOM_ANSWERS):
        answers = random_answers(conversation.guide, Random(seed))
        needs, data = answered(conversation, answers)
        if data["status"] == "recommended":
            recommended += 1
            found = faults(conversation.guide, needs, data)
            if found:
                wrong[seed, str(answers.key())] = found
    assert wrong == {}
    assert recommended > 200


def spoil(data: dict[str, Any], *path: Any, value: Any) -> dict[str, Any]:
    """The same answer with one figure changed."""
    spoilt = copy.deepcopy(data)
    at = spoilt
    for key in path[:-1]:
        at = at[key]
    at[path[-1]] = value
    return spoilt


def without(group: str) -> Callable[[dict[str, Any]], dict[str, Any]]:
    """Take a group off the parts list."""
    return lambda data: {
        **data,
        "parts": [line for line in data["parts"] if line["group"] != group],
    }


def fewer(group: str) -> Callable[[dict[str, Any]], dict[str, Any]]:
    """One piece fewer of a group."""

    def change(data: dict[str, Any]) -> dict[str, Any]:
        at = next(i for i, line in enumerate(data["parts"]) if line["group"] == group)
        return spoil(data, "parts", at, "quantity", value=data["parts"][at]["quantity"] - 1)

    return change


SPOILT: dict[str, Callable[[dict[str, Any]], dict[str, Any]]] = {
    "thinner cable": lambda d: spoil(d, "recommendation", "dc_cable", "awg", value="8"),
    "fuse above the cable": lambda d: spoil(
        d, "recommendation", "dc_fuse", "rating_a", value=400.0
    ),
    "fuse below the current": lambda d: spoil(
        d, "recommendation", "dc_fuse", "rating_a", value=80.0
    ),
    "fuse that cannot stop it": lambda d: spoil(
        d, "recommendation", "dc_fuse", "interrupt_a", value=1000.0
    ),
    "one battery only": lambda d: spoil(d, "recommendation", "battery", "parallel", value=1),
    "smaller unit": lambda d: spoil(d, "recommendation", "inverter", "id", value="twin-2000-12"),
    "a unit for one leg": lambda d: spoil(
        d, "recommendation", "inverter", "id", value="flat-3000-24"
    ),
    "thinner AC wire": lambda d: spoil(d, "recommendation", "ac_out", "awg", value="10"),
    "thinner ground": lambda d: spoil(d, "recommendation", "ac_in", "ground_awg", value="14"),
    "one pole": lambda d: spoil(d, "recommendation", "ac_in", "poles", value=1),
    "no soft starter": lambda d: spoil(d, "recommendation", "soft_starters", value=0),
    "another length": lambda d: spoil(d, "recommendation", "dc_cable", "length_m", value=9.0),
    "a ferrule short": fewer("ferrules"),
    "a lug short": fewer("lugs"),
    "a battery short": fewer("battery"),
    "no crimper": without("ferrule-crimper"),
    "no busbars": without("busbar"),
    "no bond": without("bond-cable"),
    "no joint to the frame": without("frame-cable"),
    "no fuse holder": without("fuse-holder"),
    "no switch": without("disconnect"),
    "no fuse to the converter": without("step-down-fuse"),
    "no cable to the 12 V circuits": without("house-cable"),
    "a holder short": fewer("branch-fuse-holder"),
    "a branch's fuse below its current": lambda d: spoil(
        d, "recommendation", "dc_branches", 0, "fuse_a", value=20.0
    ),
    "a branch's cable too thin": lambda d: spoil(
        d, "recommendation", "dc_branches", 0, "awg", value="14"
    ),
    "a branch left out": lambda d: spoil(d, "recommendation", "dc_branches", value=[]),
    "no converter": without("step-down"),
    "no breaker": without("breaker-out"),
}


@pytest.mark.parametrize("name", SPOILT)
def test_the_re_check_finds_what_is_wrong(conversation: Conversation, name: str) -> None:
    asked = "rig=coach-50 scope=whole heavy=1 biggest=aircon-15k softstart=no v240=no"
    needs, data = answered(conversation, read_pairs(conversation.guide, asked.split()))
    assert faults(conversation.guide, needs, data) == []
    assert faults(conversation.guide, needs, SPOILT[name](data))


def test_the_re_check_uses_neither_sizing_nor_advice() -> None:
    for file in Path(__file__).parent.glob("*.py"):
        if file == Path(__file__):
            continue
        source = file.read_text(encoding="utf-8")
        modules = {
            node.module or ""
            for node in ast.walk(ast.parse(source))
            if isinstance(node, ast.ImportFrom)
        }
        assert not {each for each in modules if each.startswith(("engine.s", "engine.advice"))}
