"""Rows of the benchmark: answers, a week and random texts in this Python."""

import contextlib
import gc
import time
from collections.abc import Callable, Iterator

from engine.alternatives import alternatives_of, give_up_of
from engine.answer import answer_of
from engine.conversation import Conversation
from engine.links import read_link
from engine.model.answers import Answers
from engine.model.guide import Guide, Question
from engine.respond import conversation_of, respond
from engine.sizing.energy import WeekInputs, simulate_week
from engine.tree import states
from engine.typed.answers import ReadingError, read_answer
from engine.units import UnitError
from guide.garbage import collect_seldom
from guide.load import load_guide
from tests.bench_parts import Bench
from tests.bench_rows import Bar, Row
from tests.random_texts import random_texts

SAMPLE = 25
TEXTS = 100_000


def rows(bench: Bench) -> Iterator[Row]:
    """Measure and yield each row."""
    del bench
    guide = load_guide()
    paths = answer_paths(guide)
    gc.freeze()  # as in the browser: what stays for good is not searched for rubbish
    collect_seldom()  # as the command line and the build do
    yield from answer_rows(guide, paths)
    yield Row("a week of the battery, hour by hour", milliseconds_a_week(), digits=1)
    what = f"the slowest of {TEXTS:,} random texts to be read"
    yield Row(what, [1000 * seconds_to_read(guide)], digits=1)


def answer_paths(guide: Guide) -> list[str]:
    """Return the paths of some pages that recommend a set-up, spread over the tree."""
    conversation = conversation_of(guide)
    paths = states(conversation)
    found = [path for path in paths if _is_recommended(conversation, read_link(guide, path))]
    return found[:: max(1, len(found) // SAMPLE)][:SAMPLE]


def _is_recommended(conversation: Conversation, answers: Answers) -> bool:
    answer = answer_of(conversation, answers, changes=False)
    return answer.status == "recommended" and not answer.brief


def milliseconds_of(
    guide: Guide, paths: list[str], work: Callable[[Answers], object], feet: float
) -> list[float]:
    """Return what processor each answer with one changed detail takes in this Python.

    feet: cable of the first one; what was worked out once is kept, so no answer comes twice
    """
    took = []
    for index, path in enumerate(paths):
        answers = read_link(guide, path, f"cable={feet + index}ft")
        began = time.process_time()
        work(answers)
        took.append(1000 * (time.process_time() - began))
    return took


def chosen(conversation: Conversation, answers: Answers) -> None:
    """Work out a recommendation, the setups to choose instead, and the one thing to give up."""
    outcome = answer_of(conversation, answers, changes=False).outcome
    if outcome is None:
        raise ValueError(f"{answers.key()} has no outcome")
    alternatives_of(conversation, answers, outcome)
    give_up_of(conversation, answers, outcome)


def answer_rows(guide: Guide, paths: list[str]) -> Iterator[Row]:
    """Measure one full answer as computed, as drawn, and with what would change it."""
    conversation = conversation_of(guide)
    kinds: tuple[tuple[str, Callable[[Answers], object], float | None], ...] = (
        ("computed", lambda answers: answer_of(conversation, answers, changes=False), 2),
        ("with other setups and what to give up", lambda each: chosen(conversation, each), None),
        ("computed and drawn", lambda answers: respond(guide, answers, changes=False), None),
        ("drawn, with all that and what would change it", lambda each: respond(guide, each), 40),
    )
    for place, (what, work, most) in enumerate(kinds):
        milliseconds_of(guide, paths, work, 5.1 + place / 10)  # reads units, compiles templates
        took = milliseconds_of(guide, paths, work, 5.15 + place / 10)
        bar = None if most is None else Bar("median", most)
        yield Row(f"one answer natively, {what}", took, digits=1, bar=bar, tail=True)


def milliseconds_a_week() -> list[float]:
    """Return how long the simulation of a week with every source takes."""
    took = []
    for tilt in range(SAMPLE):
        inputs = WeekInputs(
            capacity_wh=5000.0,
            usable_floor=0.1,
            start_state=1.0,
            load_w=tuple(100.0 + 10.0 * hour for hour in range(24)),
            solar_w=tuple(20.0 * max(0, 6 - abs(12 - hour)) + tilt for hour in range(24)),
            alternator_w=400.0,
            drive_hours=2.0,
            drive_start_hour=10.0,
            shore_w=1200.0,
            shore_nights=(2, 5),
            generator_w=1500.0,
            generator_hours=2.0,
            charge_limit_w=2500.0,
            charge_efficiency=0.95,
            discharge_efficiency=1.0,
            chemistry="lifepo4",
        )
        began = time.perf_counter()
        simulate_week(inputs)
        took.append(1000 * (time.perf_counter() - began))
    return took


def seconds_to_read(guide: Guide) -> float:
    """Return the longest time that one of many random texts took to be read.

    A text that takes long is read twice more and the least is taken: the machine does other things.
    """
    longest = 0.0
    for at, text in enumerate(random_texts(1, TEXTS)):
        question = guide.questions[at % len(guide.questions)]
        took = seconds_of_reading(guide, question, text)
        if took > longest:
            longest = max(
                longest, min(took, *(seconds_of_reading(guide, question, text) for _ in range(2)))
            )
    return longest


def seconds_of_reading(guide: Guide, question: Question, text: str) -> float:
    """Return how long one text takes to be read or refused."""
    began = time.process_time()
    with contextlib.suppress(ReadingError, UnitError):
        read_answer(guide, question, text)
    return time.process_time() - began
