"""Many replies to one page cost no more than the first and leave nothing behind.

`python -m tests.bench replies` measures a thousand in a browser; here some are counted.
"""

import gc
import json
from functools import partial

import pytest

from engine.browser import reply
from engine.model.guide import Guide
from engine.respond import conversation_of
from tests.bench_replies import ANSWER, BAR, fragments
from tests.counted import calls_of

ROUND = 7
"""After so many the details of `fragments` begin again, but for the run of cable."""


def test_the_last_replies_of_many_cost_what_the_first_did_and_nothing_piles_up(
    guide: Guide, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(conversation_of(guide), "keep", ROUND)  # so few that they are soon full
    asked = [
        json.dumps({"path": ANSWER.removeprefix("guide/"), "fragment": each, "whole": False})
        for each in fragments(4 * ROUND)
    ]

    def answer(which: int) -> None:
        for each in asked[which * ROUND : (which + 1) * ROUND]:
            assert "refused" not in json.loads(reply(each, guide))

    answer(0)
    first = calls_of(partial(answer, 1)), held()
    answer(2)
    last = calls_of(partial(answer, 3)), held()
    assert last[0] <= BAR * first[0]
    assert last[1] <= BAR * first[1]


def held() -> int:
    """How many objects there are once rubbish is gone."""
    gc.collect()
    return len(gc.get_objects())
