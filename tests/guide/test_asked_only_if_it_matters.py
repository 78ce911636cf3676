"""A question is asked if, and only if, two of its choices can lead to different outcomes.

The engine's way is held against the definition, written out in tests/guide/brute.py.
"""

import zlib
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.conversation import Conversation
from engine.links import read_link
from engine.model.answers import UNSURE, Answers, Value
from engine.model.guide import Choice, Guide, Question
from engine.needs import implied
from engine.tree import states
from engine.ways import Signature
from tests.guide import brute
from tests.guide.shops import demo


def hold_against_the_definition(conversation: Conversation, outcome: brute.Outcome) -> int:
    """Compare on every page of the tree; how many pages ask."""
    asking = 0
    for path in states(conversation):
        answers = read_link(conversation.guide, path)
        values = {name: str(value) for name, value in implied(conversation.guide, answers).items()}
        expected = brute.asked(conversation.guide, values, outcome)
        assert conversation.next_question(answers) == expected, path
        asking += expected is not None
    return asking


def signatures(conversation: Conversation) -> brute.Outcome:
    """The engine's outcomes, each worked out once; how they are compared is not used."""
    known: dict[tuple[tuple[str, str], ...], Signature] = {}

    def outcome(values: brute.Values) -> Signature:
        key = tuple(sorted(values.items()))
        if key not in known:
            known[key] = conversation.signature(conversation.outcome(Answers(dict(values))))
        return known[key]

    return outcome


def test_on_every_page_of_the_demo() -> None:
    conversation = Conversation(demo())
    asking = hold_against_the_definition(conversation, signatures(conversation))
    assert asking > 100


@pytest.mark.parametrize("first", [0, 1, 2])
def test_on_every_page_of_shops_that_sell_a_few_units_only(first: int) -> None:
    guide = demo()
    few = guide.catalogue.inverters[first::7]
    conversation = Conversation(replace(guide, catalogue=replace(guide.catalogue, inverters=few)))
    assert hold_against_the_definition(conversation, signatures(conversation)) > 0


class Invented(Conversation):
    """A guide whose outcomes are made up: a number from the answers that count."""

    def __init__(self, guide: Guide, counting: frozenset[str], kinds: int) -> None:
        super().__init__(guide)
        self.counting = counting
        self.kinds = kinds

    def result(self, values: brute.Values) -> int:
        """The same number for the same answers, in every process."""
        text = repr(sorted((name, values[name]) for name in values if name in self.counting))
        return zlib.crc32(text.encode()) % self.kinds

    def _signature_of(self, values: dict[str, Value]) -> Signature:
        return ((str(self.result({name: str(value) for name, value in values.items()})),),)


@st.composite
def small_guides(draw: st.DrawFn) -> Invented:
    """Two to four questions, some of which have a meaning only with answers to earlier ones."""
    questions: list[Question] = []
    for number in range(draw(st.integers(2, 4))):
        choices = [f"c{at}" for at in range(draw(st.integers(2, 3)))]
        only_with = {}
        depends: bool = draw(st.booleans())
        if questions and depends:
            earlier: Question = draw(st.sampled_from(questions))
            accepted = [*(choice.id for choice in earlier.choices), UNSURE]
            only_with = {
                earlier.id: tuple(
                    draw(st.lists(st.sampled_from(accepted), min_size=1, unique=True))
                )
            }
        questions.append(
            Question(
                id=f"q{number}",
                where="path",
                ask="?",
                why=".",
                kind="choice",
                choices=tuple(Choice(id=choice, label=choice) for choice in choices),
                only_with=only_with,
            )
        )
    counting = draw(st.frozensets(st.sampled_from([each.id for each in questions])))
    guide = replace(demo(), questions=tuple(questions))
    return Invented(guide, counting, draw(st.integers(1, 3)))


@given(small_guides())
@settings(max_examples=150)
def test_on_every_page_of_small_guides_that_are_made_up(conversation: Invented) -> None:
    hold_against_the_definition(conversation, conversation.result)


def test_the_definition_itself_tells_what_matters_from_what_does_not() -> None:
    guide = replace(demo(), questions=demo().questions[:3])
    rig, scope = guide.question("rig"), guide.question("scope")
    assert brute.matters(guide, {}, rig, lambda values: values["rig"])
    assert not brute.matters(guide, {}, scope, lambda values: values["rig"])
    assert brute.matters(guide, {"rig": "van"}, scope, lambda values: values["scope"])
