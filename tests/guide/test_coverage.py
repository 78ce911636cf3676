"""The walk over all states finds what leaves a customer stranded, and nothing in the demo."""

import os
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from typing import Any

import pytest

from engine.conversation import Conversation
from engine.model.guide import Explanation, Guide
from engine.tree import states
from guide import coverage_sweep, processes, reports
from guide.coverage import Report, cover
from guide.coverage_file import Accepted, CoverageFile
from guide.load import load_content
from tests.guide.shops import demo, lean

NOTHING = CoverageFile()


@pytest.fixture(scope="module")
def report() -> Report:
    """The walk over the whole demo, with what its shop tells the walk."""
    content = load_content()
    return cover(content.guide, content.coverage)


@pytest.fixture(scope="module")
def base() -> frozenset[str]:
    """What is found in the small guide as it is."""
    return names(lean(demo()))


def names(guide: Guide, told: CoverageFile = NOTHING) -> frozenset[str]:
    return frozenset(each.name for each in cover(guide, told).faults)


def with_catalogue(guide: Guide, **shelves: Any) -> Guide:
    return replace(guide, catalogue=replace(guide.catalogue, **shelves))


def test_the_demo_has_no_fault_that_its_shop_has_not_accepted(report: Report) -> None:
    assert [each.name for each in report.faults] == []


def test_every_page_of_the_tree_is_counted(report: Report) -> None:
    conversation = Conversation(demo())
    paths = states(conversation)
    assert report.states == len(paths)
    depths = [path.count("/") for path in paths]
    assert report.depth_most == max(depths)
    assert 0 < report.depth_least <= report.depth_most <= 7
    assert sum(count for _, count in report.asked) == report.states - report.answers
    assert {name for name, _ in report.asked} == {
        question.id for question in conversation.path_questions
    }


def test_reports_say_the_same_as_text_as_data_and_as_a_page(report: Report) -> None:
    text = reports.coverage_text(report)
    page = reports.coverage_html(demo(), report)
    assert f"{report.states} pages" in text
    assert f"{report.states} pages" in page
    assert f'"states": {report.states}' in reports.as_json(report)
    assert "0 faults" in text


def test_a_product_that_is_never_recommended_is_told_with_what_keeps_it_out() -> None:
    guide = lean(demo())
    unit = guide.catalogue.inverters[0]
    battery = guide.catalogue.batteries[0]
    bar = guide.catalogue.busbars[0]
    dear = replace(unit, id="dear", price=unit.price + 5000)
    weak = replace(unit, id="weak", continuous=((25.0, 90.0), (60.0, 80.0)), apparent=100.0)
    fragile = replace(battery, id="fragile", continuous_current=1.0, most_in_parallel=1)
    guide = with_catalogue(
        guide,
        inverters=(*guide.catalogue.inverters, dear, weak),
        batteries=(*guide.catalogue.batteries, fragile),
        busbars=(*guide.catalogue.busbars, replace(bar, id="bar-2", price=bar.price + 50)),
    )
    found = {each.name: each for each in cover(guide, NOTHING).faults}
    assert "“parts-price”" in " ".join(found["product:dear"].details)
    weak_words = guide.check_words("continuous-w").name
    assert f"it fails the check “{weak_words}”" in " ".join(found["product:weak"].details)
    assert "it fails the check" in " ".join(found["product:fragile"].details)
    assert "product:bar-2" in found


def test_a_question_that_can_change_nothing_is_never_asked(base: frozenset[str]) -> None:
    guide = lean(demo())
    idle = replace(guide.question("scope"), id="v240")
    found = names(replace(guide, questions=(*guide.questions[:1], idle, *guide.questions[1:])))
    assert found - base == {"never-asked:v240"}


def test_choices_that_lead_to_the_same_everywhere_are_told(base: frozenset[str]) -> None:
    guide = lean(demo())
    rig = replace(guide.rig("van"), heavy={
        **guide.rig("van").heavy, "heating": guide.rig("van").heavy["cooking"]
    })  # fmt: skip
    biggest = guide.question("biggest")
    twin = replace(biggest.choice("cooking"), id="heating")
    questions = tuple(
        replace(each, choices=(*each.choices, twin)) if each.id == "biggest" else each
        for each in guide.questions
    )
    found = names(replace(guide, rigs=(rig,), questions=questions))
    assert found - base == {"no-effect:biggest=cooking|heating"}


def test_choices_of_the_answer_page_that_change_nothing_are_told(base: frozenset[str]) -> None:
    guide = lean(demo())
    screw = tuple(each for each in guide.catalogue.inverters if each.terminals.kind == "screw")
    tools = guide.question("tools")
    same = replace(tools, choices=(tools.choices[0], replace(tools.choices[0], id="pliers")))
    questions = tuple(same if each.id == "tools" else each for each in guide.questions)
    found = names(replace(with_catalogue(guide, inverters=screw), questions=questions))
    assert "no-effect:tools=screwdriver|pliers" in found - base


def test_a_caution_that_is_never_shown_is_told(base: frozenset[str]) -> None:
    guide = lean(demo())
    more = replace(guide.cautions[0], id="of-two-legs", rule="one-source-two-legs")
    found = names(replace(guide, cautions=(*guide.cautions, more)))
    assert found - base == {"caution:of-two-legs"}


def test_a_page_that_nothing_links_to_is_told(base: frozenset[str]) -> None:
    guide = lean(demo())
    page = Explanation(id="lonely", title="Lonely")
    found = names(replace(guide, explanations=(*guide.explanations, page)))
    assert found - base == {"page:lonely"}


def test_where_nothing_fits_it_is_said_what_would_fill_the_hole() -> None:
    guide = lean(demo())
    weak = tuple(each for each in guide.catalogue.inverters if each.apparent < 1500)
    guide = with_catalogue(guide, inverters=weak)
    found = {each.name: each for each in cover(guide, NOTHING).faults}
    holes = [name for name in found if name.startswith("no-fit:")]
    assert holes
    assert all("heavy=1" in name for name in holes)
    assert guide.check_words("continuous-w").name in " ".join(found[holes[0]].details)
    told = CoverageFile(accepted=(Accepted(why="small units only", faults=("no-fit:heavy=1",)),))
    assert not [name for name in names(guide, told) if name.startswith("no-fit:")]


def test_a_part_that_the_shelf_lacks_is_told(base: frozenset[str]) -> None:
    guide = lean(demo())
    found = names(with_catalogue(guide, monitors=()))
    assert {name for name in found - base if name.startswith("lacking:a battery monitor")}


def test_an_empty_shelf_is_a_hole_and_no_crash() -> None:
    found = names(with_catalogue(lean(demo()), inverters=()))
    assert "no-fit:" in found


def test_an_answer_that_cannot_be_worked_out_is_a_dead_end() -> None:
    guide = lean(demo())
    rig = guide.rig("van")
    broken = replace(rig, heavy={**rig.heavy, "cooking": ("no-such-thing",)})
    found = cover(replace(guide, rigs=(broken,)), NOTHING).faults
    dead = [each for each in found if each.name.startswith("dead-end:rig=van/")]
    assert dead
    assert all("biggest=cooking" in each.name for each in dead)
    assert all("cannot be worked out" in each.what for each in dead)


def test_a_fault_is_accepted_by_its_name_and_in_vain_without_it(base: frozenset[str]) -> None:
    first = min(base)
    told = CoverageFile(accepted=(Accepted(why="known", faults=(first, "product:nothing")),))
    assert names(lean(demo()), told) == base - {first} | {"accepted:product:nothing"}


def test_one_process_finds_what_several_find(
    base: frozenset[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pools: list[int] = []

    class Pool(ProcessPoolExecutor):
        def __init__(self, count: int, **how: Any) -> None:
            pools.append(count)
            super().__init__(count, **how)

    monkeypatch.setattr(coverage_sweep, "FEWEST_FOR_PROCESSES", 0)
    monkeypatch.setattr(processes, "ProcessPoolExecutor", Pool)
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    assert names(lean(demo())) == base
    assert set(pools) == {2}
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    pools.clear()
    assert names(lean(demo())) == base
    assert pools == []


def test_progress_runs_to_its_end() -> None:
    told: list[tuple[int, int]] = []
    tell: Callable[[int, int], None] = lambda done, total: told.append((done, total))  # noqa: E731
    cover(lean(demo()), NOTHING, tell)
    assert told
    assert told[-1][0] == told[-1][1]


def test_what_is_out_of_stock_or_discontinued_is_noted() -> None:
    guide = lean(demo())
    battery = replace(guide.catalogue.batteries[0], stock="out-of-stock")
    report = cover(with_catalogue(guide, batteries=(battery,)), NOTHING)
    assert any(battery.name in note and "out of stock" in note for note in report.notes)
    gone = guide.discontinued[0]
    assert any(gone.name in note and "discontinued" in note for note in report.notes)
