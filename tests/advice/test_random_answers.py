"""Fifteen hundred answers at random: none raises, each is recommended or refused with its reasons.

All of them are sized, checked, ranked and explained; every fortieth is drawn as a page too, and
every fiftieth has one question left to "not sure". The seeds are fixed, so that a failing one can
be worked out again.
"""

import json
import math
from random import Random

import pytest

from engine.answer import Advice, advise, answer_of
from engine.answer_text import as_json
from engine.conversation import Conversation
from engine.model.result import Outcome
from engine.respond import respond
from engine.sizing.energy import balance_error_wh
from tests.guide.shops import demo
from tests.random_answers import random_answers, unsure_somewhere

CHUNKS, IN_A_CHUNK = 3, 500
DRAWN_EVERY, UNSURE_EVERY = 40, 50


@pytest.fixture(scope="module")
def conversation() -> Conversation:
    return Conversation(demo())


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_none_of_many_random_answers_raises(conversation: Conversation, chunk: int) -> None:
    guide = conversation.guide
    recommended = refused = 0
    for seed in range(chunk * IN_A_CHUNK, (chunk + 1) * IN_A_CHUNK):
        random = Random(seed)
        answers = random_answers(guide, random)
        outcome = conversation.outcome(answers)
        if outcome.best is None:
            refused += 1
            assert all(each.failed for each in outcome.considered), seed
        else:
            recommended += 1
            assert_sound(advise(conversation, outcome), outcome, seed)
        if seed % DRAWN_EVERY == 0:
            assert respond(guide, answers, changes=False).html
        if seed % UNSURE_EVERY == 0:
            unsure = unsure_somewhere(guide, answers, random)
            answer = answer_of(conversation, unsure, changes=False)
            assert json.loads(as_json(guide, answer))["status"] == answer.status
    assert recommended + refused == IN_A_CHUNK
    assert recommended > IN_A_CHUNK // 4
    assert refused > IN_A_CHUNK // 10


def assert_sound(advice: Advice, outcome: Outcome, seed: int) -> None:
    """What every recommendation keeps, whatever was answered."""
    best = outcome.best
    assert best is not None, seed
    assert best.design is not None, seed
    assert all(check.passed for check in best.checks), seed
    assert all(each.failed for each in outcome.considered if each.design is None), seed
    assert best.score == min(each.score for each in outcome.considered if each.design), seed
    assert all(line.quantity > 0 and math.isfinite(line.price) for line in best.design.orders), seed
    for week in (advice.charging.away, advice.charging.hooked_up):
        assert balance_error_wh(week) <= 1e-6 * max(week.throughput_wh, 1.0), seed
        assert all(0.0 <= state <= 1.0 for state in week.state), seed
