"""What it can and cannot run, in one sentence of the visitor's own loads."""

from dataclasses import replace

import pytest

from engine.advice.judge.runs import Runs, runs_of
from engine.model.guide import Guide
from engine.needs import load_of
from engine.pages.answer.run_sentence import runs_sentence
from tests.pages.conftest import Case, case_of

AIRCON, MICROWAVE, KETTLE, HOB = "aircon-13k5", "microwave", "kettle", "induction-hob"


def said(
    guide: Guide,
    counts: dict[str, int],
    pairs: list[tuple[str, str]],
    at_once: tuple[str, ...] = (),
) -> str:
    """The sentence for these loads, of which these pairs run together, and all these at once."""
    case = case_of(guide, "rig=van/scope=whole/heavy=0/")
    assert case is not None
    loads = tuple(load_of(guide.appliance(name), count) for name, count in counts.items())
    names = {name: guide.appliance(name).name for name in counts}
    runs = Runs(
        at_once=tuple(names[each] for each in at_once),
        alone=tuple(names.values()),
        together=tuple((names[first], names[second]) for first, second in pairs),
        never=(),
        dead=(),
    )
    return runs_sentence(guide.wording.page, replace(case.needs, loads=loads), runs)


@pytest.mark.parametrize(
    ("counts", "pairs", "expected"),
    [
        ({AIRCON: 1}, [], "It runs the air conditioner, plus"),
        (
            {AIRCON: 1, MICROWAVE: 1},
            [],
            "It runs the air conditioner or the microwave oven; one of these at a time",
        ),
        (
            {AIRCON: 1, MICROWAVE: 1, KETTLE: 1},
            [(MICROWAVE, KETTLE)],
            "the air conditioner or the microwave oven and the kettle together; one of these",
        ),
        (
            {AIRCON: 1, MICROWAVE: 1},
            [(AIRCON, MICROWAVE)],
            "It runs the air conditioner and the microwave oven together, plus",
        ),
        (
            {MICROWAVE: 1, KETTLE: 1, HOB: 1},
            [(MICROWAVE, KETTLE), (MICROWAVE, HOB), (KETTLE, HOB)],
            "any two of the microwave oven, the kettle and the induction cooktop",
        ),
        (
            {AIRCON: 1, MICROWAVE: 1, KETTLE: 1},
            [(AIRCON, MICROWAVE), (AIRCON, KETTLE)],
            "It runs the air conditioner with the microwave oven or the kettle",
        ),
        ({AIRCON: 2}, [(AIRCON, AIRCON)], "the air conditioner and a second one together"),
    ],
)
def test_it_is_said_in_the_visitors_loads(
    guide: Guide, counts: dict[str, int], pairs: list[tuple[str, str]], expected: str
) -> None:
    assert expected in said(guide, counts, pairs)


@pytest.mark.parametrize(
    ("counts", "pairs", "at_once", "expected"),
    [
        (
            {AIRCON: 1, MICROWAVE: 1, KETTLE: 1},
            [(AIRCON, MICROWAVE), (AIRCON, KETTLE), (MICROWAVE, KETTLE)],
            (AIRCON, MICROWAVE, KETTLE),
            "It runs the air conditioner, the microwave oven and the kettle together, plus",
        ),
        (
            {AIRCON: 2, MICROWAVE: 1},
            [(AIRCON, AIRCON), (AIRCON, MICROWAVE)],
            (AIRCON, AIRCON, MICROWAVE),
            "It runs the air conditioner, a second one and the microwave oven together, plus",
        ),
        (
            {AIRCON: 3},
            [(AIRCON, AIRCON)],
            (AIRCON, AIRCON, AIRCON),
            "It runs the air conditioner and 2 more of them together, plus",
        ),
        (
            {AIRCON: 2, MICROWAVE: 1},
            [(AIRCON, AIRCON)],
            (AIRCON, AIRCON),
            "It runs the air conditioner and a second one together or the microwave oven; one",
        ),
        (
            {AIRCON: 1, MICROWAVE: 1, KETTLE: 1, HOB: 1},
            [(AIRCON, MICROWAVE), (AIRCON, KETTLE), (MICROWAVE, KETTLE), (KETTLE, HOB)],
            (AIRCON, MICROWAVE, KETTLE),
            "kettle together or the kettle and the induction cooktop together",
        ),
        (
            {MICROWAVE: 1, KETTLE: 1, HOB: 1},
            [(MICROWAVE, KETTLE), (MICROWAVE, HOB), (KETTLE, HOB)],
            (HOB, KETTLE),
            "any two of the microwave oven, the kettle and the induction cooktop",
        ),
    ],
)
def test_what_was_asked_to_run_at_once_is_said_as_such(
    guide: Guide,
    counts: dict[str, int],
    pairs: list[tuple[str, str]],
    at_once: tuple[str, ...],
    expected: str,
) -> None:
    assert expected in said(guide, counts, pairs, at_once)


def test_two_of_a_name_are_kept_apart(guide: Guide) -> None:
    text = said(guide, {AIRCON: 1, "aircon-15k": 1}, [])
    assert "13,500" in text and "15,000" in text


def test_every_recommendation_of_the_tree_has_its_sentence(
    guide: Guide, tree: tuple[Case, ...]
) -> None:
    for case in tree:
        runs = runs_of(guide, case.needs, case.design)
        text = runs_sentence(guide.wording.page, case.needs, runs)
        assert text.startswith("It runs ")
        for name in runs.never + runs.dead:
            assert name not in text, case.link
