"""Every recommended design passes a re-check that knows nothing of the engine's sizing.

Continuous integration puts the tree and some answers at random to it; ``python -m tests.recheck``
puts every end of the tree, those of "not sure" too, and 4,500 at random. Runner-ups go with them.
"""

import ast
from pathlib import Path
from typing import Any

import pytest

from engine.answer import answer_of
from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.needs import Needs
from guide.load import load_guide
from tests.random_answers import concrete_states
from tests.recheck import __main__ as command
from tests.recheck.recheck import faults
from tests.recheck.spoilt import DAMAGED
from tests.recheck.sweep import Tally, at_random, data_of, ends, tally_of

RANDOM_ANSWERS = 300


@pytest.fixture(scope="module")
def conversation() -> Conversation:
    return Conversation(load_guide())


def test_every_concrete_state_of_the_tree_passes(conversation: Conversation) -> None:
    states = concrete_states(conversation)
    assert len(states) > 100
    tally = tally_of(conversation, iter(states))
    assert tally.wrong == {}
    assert tally.answers == len(states)
    assert tally.recommended > 0.9 * len(states)


def test_answers_with_random_details_pass(conversation: Conversation) -> None:
    tally = tally_of(conversation, at_random(conversation, RANDOM_ANSWERS))
    assert tally.wrong == {}
    assert tally.recommended > RANDOM_ANSWERS / 3
    assert tally.alternatives > tally.recommended / 2


def test_the_ends_of_the_tree_are_each_there_once_with_what_is_not_sure(
    conversation: Conversation,
) -> None:
    states = concrete_states(conversation)
    found = [set(answers.key()) for answers in ends(conversation)]
    assert len(found) == len({frozenset(end) for end in found}) > 4 * len(states)
    # The tree ends earlier where nothing that is left to ask makes a difference.
    assert all(any(end <= set(state.key()) for end in found) for state in states)


def test_random_answers_give_every_detail_there_is(conversation: Conversation) -> None:
    given = {name for each in at_random(conversation, RANDOM_ANSWERS) for name in each.values}
    wanted = {each.id for each in conversation.guide.questions if each.where != "path"}
    assert wanted <= given


@pytest.mark.parametrize(("violations", "code"), [(0, 0), (2, 1)])
def test_the_command_prints_how_many_and_fails_where_a_rule_is_broken(
    violations: int,
    code: int,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    wrong = {"rig=van/": ["one thing", "another"]} if violations else {}
    monkeypatch.setattr(command, "tally_of", lambda *_: Tally(7, 5, 3, wrong))
    assert command.main(0) == code
    assert f"7 answers, {violations} violations\n" in capsys.readouterr().out


Seen = dict[str, tuple[Needs, dict[str, Any]]]


@pytest.fixture(scope="module")
def seen(conversation: Conversation) -> Seen:
    """What each damaged design is like before it is damaged."""
    found = {}
    for asked in {damage.asked for damage in DAMAGED.values()}:
        answers = read_pairs(conversation.guide, asked.split())
        assert not answers.faults, answers.faults
        answer = answer_of(conversation, answers, changes=False)
        assert answer.outcome is not None
        found[asked] = (answer.outcome.needs, data_of(conversation, answer))
    return found


@pytest.mark.parametrize("name", DAMAGED)
def test_the_re_check_finds_what_is_wrong(
    conversation: Conversation, seen: Seen, name: str
) -> None:
    damage = DAMAGED[name]
    needs, data = seen[damage.asked]
    assert faults(conversation.guide, needs, data) == []
    told = faults(conversation.guide, needs, damage.change(data))
    assert [each for each in told if damage.told in each], told


def test_the_re_check_uses_neither_sizing_nor_advice() -> None:
    for file in Path(__file__).parent.glob("*.py"):
        source = file.read_text(encoding="utf-8")
        modules = {
            node.module or ""
            for node in ast.walk(ast.parse(source))
            if isinstance(node, ast.ImportFrom)
        }
        assert not {each for each in modules if each.startswith(("engine.s", "engine.advice"))}
