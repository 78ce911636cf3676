"""``python -m tests.bench``: how long an answer and a build take; it judges nothing.

``python -m tests.bench --against REF`` compares with another commit, see bench_against.py;
``python -m tests.bench browser`` measures the browser side, see tests/bench_browser.py;
``python -m tests.bench lighthouse`` has Lighthouse judge some pages, see bench_lighthouse.py;
``python -m tests.bench replies`` asks a page a thousand times, see bench_replies.py.
"""

import contextlib
import gc
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from playwright.sync_api import sync_playwright

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
from guide.garbage import collect_seldom
from guide.load import load_guide
from guide.server import make_server
from tests import bench_against, bench_browser, bench_guide, bench_lighthouse, bench_replies
from tests.browser.chromium import launch_whole
from tests.random_texts import random_texts

SAMPLE = 25
FRAGMENTS = tuple(f"cable={feet}ft" for feet in range(5, 5 + SAMPLE))
TIME_ONE_ANSWER = """async (fragment) => {
    const began = performance.now();
    await window.__rig.ask(fragment, null);
    return (performance.now() - began) / 1000;
}"""


def answer_paths(guide: Guide) -> list[str]:
    """Return the paths of some pages that recommend a set-up, spread over the tree."""
    conversation = conversation_of(guide)
    paths = states(conversation)
    found = [path for path in paths if _is_recommended(conversation, read_link(guide, path))]
    return found[:: max(1, len(found) // SAMPLE)][:SAMPLE]


def _is_recommended(conversation: Conversation, answers: Answers) -> bool:
    answer = answer_of(conversation, answers, changes=False)
    return answer.status == "recommended" and not answer.brief


def seconds_natively(
    guide: Guide, paths: list[str], work: Callable[[Answers], object], feet: float
) -> list[float]:
    """Return how long each answer with one changed detail takes in this Python.

    feet: cable of the first one; what was worked out once is kept, so no answer comes twice
    """
    took = []
    for index, path in enumerate(paths):
        answers = read_link(guide, path, f"cable={feet + index}ft")
        began = time.perf_counter()
        work(answers)
        took.append(time.perf_counter() - began)
    return took


def _chosen(conversation: Conversation, answers: Answers) -> None:
    """Work out a recommendation, the setups to choose instead, and the one thing to give up."""
    outcome = answer_of(conversation, answers, changes=False).outcome
    if outcome is None:
        raise ValueError(f"{answers.key()} has no outcome")
    alternatives_of(conversation, answers, outcome)
    give_up_of(conversation, answers, outcome)


def rows_natively(guide: Guide, paths: list[str]) -> Iterator[tuple[str, float]]:
    """Measure one full answer as computed, as drawn, and with what would change it."""
    conversation = conversation_of(guide)
    kinds: tuple[tuple[str, Callable[[Answers], object]], ...] = (
        ("computed", lambda answers: answer_of(conversation, answers, changes=False)),
        ("with other setups and what to give up", lambda answers: _chosen(conversation, answers)),
        ("computed and drawn", lambda answers: respond(guide, answers, changes=False)),
        ("the same, and what would change it", lambda answers: respond(guide, answers)),
    )
    for place, (what, work) in enumerate(kinds):
        seconds_natively(guide, paths, work, 5.1 + place / 10)  # reads units, compiles templates
        took = seconds_natively(guide, paths, work, 5.15 + place / 10)
        yield f"one answer natively, {what} (median)", statistics.median(took)


def seconds_a_week() -> list[float]:
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
        took.append(time.perf_counter() - began)
    return took


def seconds_to_read(guide: Guide) -> float:
    """Return the longest time that one of a hundred thousand random texts took to be read.

    A text that takes long is read twice more and the least is taken: the machine does other things.
    """
    longest = 0.0
    for at, text in enumerate(random_texts(1, 100_000)):
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
    with contextlib.suppress(ReadingError):
        read_answer(guide, question, text)
    return time.process_time() - began


def seconds_to_build(out: Path) -> float:
    """Return how long building the whole site takes."""
    command = [sys.executable, "-m", "guide.cli", "build", "--out", str(out)]
    began = time.perf_counter()
    subprocess.run(command, check=True)
    return time.perf_counter() - began


def seconds_in_browser(site: Path, path: str) -> tuple[float, list[float]]:
    """Return the time from opening a page until its engine is ready, and of answers after that."""
    with make_server(site, 0) as server, sync_playwright() as playwright:
        threading.Thread(target=server.serve_forever).start()
        browser = launch_whole(playwright)
        page = browser.new_page()
        page.goto(f"http://127.0.0.1:{server.server_port}/guide/{path}#{FRAGMENTS[0]}")
        page.evaluate("(window.__rig.load(), window.__rig.ready)")
        start = float(page.evaluate("performance.now() / 1000"))
        took = [float(page.evaluate(TIME_ONE_ANSWER, fragment)) for fragment in FRAGMENTS]
        browser.close()
        server.shutdown()
    return start, took


def rows() -> Iterator[tuple[str, float]]:
    """Measure and yield each row of the table: what, seconds."""
    guide = load_guide()
    paths = answer_paths(guide)
    gc.freeze()  # as in the browser: what stays for good is not searched for rubbish
    collect_seldom()  # as the command line and the build do
    yield from rows_natively(guide, paths)
    yield "a week of the battery, hour by hour (median)", statistics.median(seconds_a_week())
    yield "the slowest of 100,000 random texts to be read", seconds_to_read(guide)
    with tempfile.TemporaryDirectory() as folder:
        site = Path(folder) / "site"
        yield "full site build", seconds_to_build(site)
        start, took = seconds_in_browser(site, paths[0])
        yield "engine ready in the browser after opening a page", start
        yield "one answer in the browser after start (median)", statistics.median(took)
    yield from bench_guide.rows()


def main() -> None:
    """Print the table."""
    others = {
        "--against": bench_against.main,
        "browser": bench_browser.main,
        "lighthouse": bench_lighthouse.main,
        "replies": bench_replies.main,
    }
    if sys.argv[1:]:
        others[sys.argv[1]](sys.argv[2:])
        return
    for name, seconds in list(rows()):
        print(f"{name:<60}{seconds:>9.3f} s")


if __name__ == "__main__":
    main()
