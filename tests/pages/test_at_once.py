"""At once means at once: sentence, design, data and list agree on what runs at the same time."""

from collections import Counter
from html import unescape
from itertools import combinations
from random import Random

import pytest

from engine.advice.judge.runs import Runs, asked_at_once, runs_of
from engine.answer_text import as_data
from engine.conversation import Conversation
from engine.links import read_link, read_pairs
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.pages.answer.run_sentence import runs_sentence
from engine.pages.words import lower_first
from engine.respond import conversation_of, respond_to
from tests.pages.conftest import Case
from tests.random_answers import random_loads

RANDOM_LISTS = 1000
"""Each is planned in some ten milliseconds."""


def names_of(needs: Needs) -> Counter[str]:
    return Counter(load.name for load in asked_at_once(needs))


def entries_of(needs: Needs, name: str) -> set[float]:
    return {load.running_w for load in needs.loads if load.name == name}


def agree(guide: Guide, needs: Needs, runs: Runs) -> None:
    """The set that is said to run at once is that of the design, and all of it can."""
    live = names_of(needs)
    for name in runs.dead:
        live.pop(name, None)
    assert Counter(runs.at_once) == live
    alike = {name for name in live if len(entries_of(needs, name)) == 1}
    assert alike & set(runs.at_once) <= set(runs.alone)
    for name, count in live.items():
        if name not in alike:  # two entries of one name and unlike watts
            continue
        assert count < 2 or (name, name) in runs.together
    pairs = {frozenset(pair) for pair in runs.together}
    assert all(frozenset(pair) in pairs for pair in combinations(sorted(alike), 2))
    sentence = runs_sentence(guide.wording.page, needs, runs)
    for name in live:
        assert lower_first(name.partition(",")[0]) in sentence
    if sum(live.values()) > 2:
        assert " together" in sentence
        assert not sentence.startswith("It runs any two")


def test_what_runs_at_once_is_the_same_for_every_recommendation_of_the_tree(
    guide: Guide, tree: tuple[Case, ...]
) -> None:
    most = 0
    for case in tree:
        agree(guide, case.needs, runs_of(guide, case.needs, case.design))
        asked = int(case.answers.choice("heavy"))
        # What the panel cannot carry waits for the others.
        wanted = (*asked_at_once(case.needs), *case.needs.waits)
        listed = [load for load in wanted if load.volts == 120.0]
        assert len(listed) == asked, case.link
        most = max(most, asked)
    assert most == 3


def test_what_runs_at_once_is_the_same_for_lists_at_random(guide: Guide) -> None:
    conversation, recommended = Conversation(guide), 0
    for seed in range(RANDOM_LISTS):
        answers = read_pairs(guide, with_a_list(guide, Random(seed)))
        assert not answers.faults
        outcome = conversation.usual_outcome(answers)
        if outcome.best is None or outcome.best.design is None:
            continue
        recommended += 1
        agree(guide, outcome.needs, runs_of(guide, outcome.needs, outcome.best.design))
    assert recommended > RANDOM_LISTS / 3


def with_a_list(guide: Guide, random: Random) -> list[str]:
    """Answers of the short path with a list of loads."""
    chosen = [
        f"{question.id}={random.choice(question.choices).id}"
        for question in guide.questions
        if question.where == "path" and question.id != "plug"
    ]
    return [*chosen, f"loads={random_loads(guide, random)}"]


@pytest.mark.parametrize(
    ("heavy", "at_once"),
    [
        ("1", {"Air conditioner, 13,500 BTU/h": 1}),
        ("2", {"Air conditioner, 13,500 BTU/h": 1, "Induction cooktop, single burner": 1}),
        (
            "3",
            {
                "Air conditioner, 13,500 BTU/h": 1,
                "Induction cooktop, single burner": 1,
                "Microwave oven": 1,
            },
        ),
    ],
)
def test_the_hardest_to_start_is_in_the_set_and_the_largest_come_with_it(
    guide: Guide, heavy: str, at_once: dict[str, int]
) -> None:
    path = f"rig=coach-50/scope=whole/heavy={heavy}/biggest=cooking/v240=no/"
    listed = "loads=microwave,induction-hob,toaster,aircon-13k5,lights"
    answers = read_link(guide, path, listed)
    assert names_of(conversation_of(guide).usual_outcome(answers).needs) == at_once


@pytest.mark.parametrize(
    ("heavy", "listed", "at_once"),
    [
        # The hardest to start always counts, with those that are said to run together.
        (
            "1",
            "aircon-13k5,microwave:together,kettle",
            ["Air conditioner, 13,500 BTU/h", "Microwave oven"],
        ),
        ("3", "aircon-13k5:together,microwave,kettle", ["Air conditioner, 13,500 BTU/h"]),
        (
            "2",
            "aircon-13k5,induction-hob:alone,kettle",
            ["Air conditioner, 13,500 BTU/h", "Kettle"],
        ),
        ("0", "kettle*2:together", ["Kettle", "Kettle"]),
    ],
)
def test_what_the_list_says_to_run_together_is_the_set(
    guide: Guide, heavy: str, listed: str, at_once: list[str]
) -> None:
    path = f"rig=coach-50/scope=whole/heavy={heavy}/biggest=cooking/v240=no/"
    needs = conversation_of(guide).usual_outcome(read_link(guide, path, f"loads={listed}")).needs
    assert [load.name for load in asked_at_once(needs)] == at_once


def test_a_light_load_runs_along_unless_the_list_says_otherwise(guide: Guide) -> None:
    path = "rig=van/scope=some/heavy=0/"
    for listed, names in (
        ("tv,washer", ["Television"]),
        ("tv:alone,washer:together", ["Clothes washer"]),
    ):
        needs = (
            conversation_of(guide).usual_outcome(read_link(guide, path, f"loads={listed}")).needs
        )
        assert [load.name for load in needs.running] == names


def test_a_list_is_held_against_the_answers_of_this_link(guide: Guide) -> None:
    listed = "loads=microwave,lights"
    for biggest, missing in (
        ("heating", "Portable space heater"),
        ("cooking", "Induction cooktop"),
    ):
        path = f"rig=van/scope=whole/heavy=1/biggest={biggest}/"
        data = as_data(guide, respond_to(guide, path, listed).answer)
        assert [missing in note for note in data["runs"]["notes"]] == [True]


def test_a_list_that_lacks_what_was_answered_says_so_on_page_and_in_data(guide: Guide) -> None:
    path = "rig=van/scope=whole/heavy=2/biggest=aircon-13k5/softstart=yes/"
    page = respond_to(guide, path, "loads=microwave,lights")
    says = (
        "Not on it, so not planned for: Air conditioner, 13,500 BTU/h, Compressor refrigerator",
        "You want 2 heavy loads at once; your list has 1.",
    )
    text = unescape(page.html)
    data = as_data(guide, page.answer)
    for sentence in says:
        assert sentence in text
        assert any(sentence in note for note in data["runs"]["notes"])
    assert data["runs"]["at_once"] == ["Microwave oven"]
    whole = as_data(guide, respond_to(guide, path).answer)
    assert whole["runs"]["notes"] == []
    assert whole["runs"]["at_once"] == ["Air conditioner, 13,500 BTU/h", "Microwave oven"]


def test_a_list_without_what_is_always_on_board_promises_none_of_it(guide: Guide) -> None:
    path = "rig=van/scope=some/heavy=0/"
    usual, listed = (
        respond_to(guide, path, fragment) for fragment in ("", "loads=sewing machine:100W:2h")
    )
    assert guide.wording.page["runs-light"] in unescape(usual.html)
    text = unescape(listed.html)
    assert guide.wording.page["runs-listed"] in text
    assert guide.wording.page["beside-usual"] not in text
    assert "LED lights" in as_data(guide, listed.answer)["runs"]["notes"][0]


def test_two_sides_that_share_what_runs_together_are_told_to_be_looked_at(guide: Guide) -> None:
    """Each leg of a 120/240 V feed carries its own load: common practice, no source."""
    sides = guide.wording.page["runs-sides"]
    coach = "rig=coach-50/scope=whole/heavy={}/biggest=aircon-15k/softstart=yes/v240=no/"
    two, one = (respond_to(guide, coach.format(count)) for count in (2, 1))
    assert sides in unescape(two.html)
    assert sides in as_data(guide, two.answer)["runs"]["notes"]
    assert sides not in unescape(one.html)


def test_nothing_fits_is_said_of_the_usual_case_where_that_was_taken(guide: Guide) -> None:
    page = guide.wording.page
    unsure, sure = (
        respond_to(guide, f"rig=van/scope={scope}/heavy=1/biggest=cooking/", "payload=20lb")
        for scope in ("unsure", "whole")
    )
    assert (unsure.answer.status, sure.answer.status) == ("none-fits", "none-fits")
    assert page["none-fits-usual"] in unsure.html
    assert page["none-fits-usual"] not in sure.html
    assert page["none-fits-title"] in sure.html
