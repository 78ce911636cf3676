"""What works when: the table agrees with what runs on battery, and with breakers, over the tree."""

from dataclasses import replace
from random import Random

import pytest

from engine.advice.judge.runs import runs_of
from engine.advice.judge.works_when import WorksWhen, is_large, works_when
from engine.answer_text import as_data, as_text
from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.answers import LoadItem, Quantity
from engine.model.buses import LEGS
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.needs import load_listed
from engine.respond import respond_to
from tests.advice.conftest import COACH, COOKING
from tests.pages.conftest import Case
from tests.pages.test_at_once import with_a_list

# NEC 210.20(A): a breaker carries 80 % of its rating for hours on end, all of it for short.
CONTINUOUS = 0.8


def column(found: WorksWhen, source: str) -> dict[str, set[str]]:
    """Names by how they work on a source; two entries of one name may differ."""
    at = [each.id for each in found.sources].index(source)
    by: dict[str, set[str]] = {"yes": set(), "one": set(), "no": set()}
    for row in found.rows:
        by[row.works[at]] |= {load.name for load in row.loads}
    return by


def agrees(guide: Guide, needs: Needs, design: Design) -> WorksWhen:
    found, runs = works_when(guide, needs, design), runs_of(guide, needs, design)
    battery = column(found, "battery")
    copies = {name: sum(e.count for e in needs.loads if e.name == name) for name in runs.at_once}
    unlike = {load.name for load in needs.loads if len(entries(needs, load.name)) > 1}
    for name in set(runs.at_once) - unlike:
        wanted = "yes" if copies[name] == runs.at_once.count(name) else "one"
        assert name in battery[wanted], name
    assert not (battery["yes"] | battery["one"]) & (set(runs.never) | set(runs.dead)) - unlike
    driving = column(found, "driving")
    assert driving["yes"] <= battery["yes"] | battery["one"]
    assert not (driving["yes"] | driving["one"]) & battery["no"] - unlike
    return found


def entries(needs: Needs, name: str) -> set[float]:
    return {load.running_w for load in needs.loads if load.name == name}


def on_posts(found: WorksWhen, needs: Needs) -> None:
    for at, source in enumerate(found.sources):
        if source.kind != "post":
            continue
        legs = 1 if source.amps <= 30 else needs.service.legs
        marked = [load for row in found.rows for load in row.loads if row.works[at] == "yes"]
        on_ac = [load for load in marked if load.volts == 120 and (load.heavy or load.at_once)]
        total_va = sum(load.running_w / load.power_factor for load in on_ac)
        assert total_va <= CONTINUOUS * source.amps * 120 * legs + 1e-6, source
        if legs == 1:  # one leg has no 240 V
            works = [row.works[at] for row in found.rows for load in row.loads if load.volts == 240]
            assert set(works) <= {"no"}
        for row in found.rows:  # what runs at all is within the breaker by itself
            for load in row.loads:
                if row.works[at] != "no" and load.volts == 120:
                    assert load.running_w / load.power_factor <= source.amps * 120


def test_the_table_agrees_with_what_runs_for_every_recommendation_of_the_tree(
    guide: Guide, tree: tuple[Case, ...]
) -> None:
    for case in tree[::3]:
        on_posts(agrees(guide, case.needs, case.design), case.needs)


def test_the_table_agrees_for_lists_at_random(guide: Guide) -> None:
    conversation, tried = Conversation(guide), 0
    for seed in range(150):
        answers = read_pairs(guide, [*with_a_list(guide, Random(seed)), "gen=3500W"])
        outcome = conversation.usual_outcome(answers)
        if outcome.best is None or outcome.best.design is None:
            continue
        tried += 1
        found = agrees(guide, outcome.needs, outcome.best.design)
        assert "generator" in [source.id for source in found.sources]
    assert tried > 50


def works(guide: Guide, path: str, fragment: str = "") -> dict[str, dict[str, str]]:
    """How each appliance works, by its id and the source."""
    data = as_data(guide, respond_to(guide, path, fragment).answer)["works_when"]
    return {each["id"]: each["works"] for each in data["appliances"]}


def test_a_trailer_on_a_household_outlet_runs_no_air_conditioner(guide: Guide) -> None:
    """13 A for hours asks for a breaker of 16 A or more: NEC 210.20(A)."""
    found = works(guide, "rig=rig-30/scope=whole/heavy=1/biggest=aircon-13k5/softstart=yes/")
    assert found["aircon-13k5"] == {
        "post-30": "yes",
        "post-15": "no",
        "battery": "yes",
        "driving": "yes",
    }
    assert found["microwave"]["post-30"] == "one"
    assert found["microwave"]["driving"] == "no"
    assert found["lights"] == dict.fromkeys(("post-30", "post-15", "battery", "driving"), "yes")


def test_two_air_conditioners_run_on_50_a_and_one_at_a_time_by_the_adapter(guide: Guide) -> None:
    """Each takes 13.8 A or more; one leg of 30 A has 24 A: common practice, no source."""
    path = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
    found = works(guide, path)["aircon-15k"]
    assert (found["post-50"], found["post-30"], found["post-15"]) == ("yes", "one", "no")


@pytest.mark.parametrize(
    ("generator", "wanted"), [("1000W", "no"), ("2500W", "one"), ("9kW", "yes")]
)
def test_a_generator_runs_as_much_as_it_gives(guide: Guide, generator: str, wanted: str) -> None:
    path = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
    assert works(guide, path, f"gen={generator}")["aircon-15k"]["generator"] == wanted
    assert "generator" not in works(guide, path)["aircon-15k"]


def test_a_dryer_on_240_v_works_on_50_a_and_on_battery_where_that_was_asked_for(
    guide: Guide,
) -> None:
    path = "rig=coach-50/scope=whole/heavy=1/biggest=cooking/v240=yes/"
    found = works(guide, path)["dryer-240"]
    assert (found["post-50"], found["post-30"], found["battery"]) == ("yes", "no", "yes")
    assert found["driving"] == "no"


def test_page_data_and_terminal_have_the_table_and_its_caution(guide: Guide) -> None:
    page = respond_to(guide, "rig=rig-30/scope=whole/heavy=1/biggest=aircon-13k5/softstart=yes/")
    words, text = guide.wording.page, as_text(guide, page.answer)
    for said in (words["works-how"], words["works-cord"], words["works-road"]):
        assert said in page.html
        assert said in text
    assert '<th scope="col">15 A outlet</th>' in page.html
    assert "  15 A outlet\n    yes: the small loads" in text
    loads = as_data(guide, page.answer)["loads"]
    assert {"id": "aircon-13k5", "watts": 1480.0, "hours": 5.0, "at_once": 1}.items() <= next(
        each for each in loads if each["id"] == "aircon-13k5"
    ).items()


def test_each_thing_that_makes_a_load_large_does_so_alone(guide: Guide) -> None:
    small = load_listed(guide, LoadItem("", "lamp", 1, Quantity(60.0, "60 W"), None))
    assert not is_large(guide, small)
    still = next(each.id for each in guide.appliances if not each.moving)
    for made in (
        replace(small, heavy=True),
        replace(small, bus=LEGS),
        replace(small, at_once=False),
        replace(small, id=still),
    ):
        assert is_large(guide, made)


def test_of_a_kind_that_is_listed_no_other_size_is_tried(guide: Guide) -> None:
    """A name's words before its comma are its kind; of what nobody listed one size is enough."""
    conversation = Conversation(guide)
    for text in ("heavy=1 biggest=aircon-15k softstart=no", "heavy=2 biggest=cooking"):
        answers = read_pairs(guide, f"rig=rig-30 scope=whole {text}".split())
        outcome = conversation.outcome(answers)
        assert outcome.best is not None and outcome.best.design is not None
        rows = works_when(guide, outcome.needs, outcome.best.design).rows
        own = {load.name.split(",")[0] for row in rows if row.listed for load in row.loads}
        kinds = [load.name.split(",")[0] for row in rows if not row.listed for load in row.loads]
        assert kinds and own
        assert not own & set(kinds)
        assert len(kinds) == len(set(kinds))


@pytest.mark.parametrize(
    ("text", "posts"),
    [
        (COACH, [(50.0, False), (30.0, True), (15.0, True)]),
        (f"{COACH} shore=20A", [(50.0, False), (30.0, True), (20.0, True), (15.0, True)]),
        (COOKING, [(30.0, False), (15.0, True)]),
    ],
)
def test_pedestals_stand_from_the_largest_down_and_all_but_its_own_need_an_adapter(
    guide: Guide, text: str, posts: list[tuple[float, bool]]
) -> None:
    outcome = Conversation(guide).outcome(read_pairs(guide, text.split()))
    assert outcome.best is not None and outcome.best.design is not None
    sources = works_when(guide, outcome.needs, outcome.best.design).sources
    assert [(each.amps, each.adapter) for each in sources if each.kind == "post"] == posts


def test_each_row_is_one_appliance_and_told_as_listed_where_it_is_in_the_rig(guide: Guide) -> None:
    answers = read_pairs(guide, f"{COOKING} loads=induction-hob,tv*2,lights".split())
    outcome = Conversation(guide).outcome(answers)
    assert outcome.best is not None and outcome.best.design is not None
    rows = works_when(guide, outcome.needs, outcome.best.design).rows
    in_the_rig = {load.id for load in outcome.needs.loads}
    for row in rows:
        assert {load.count for load in row.loads} == {1}
        assert {load.id in in_the_rig for load in row.loads} == {row.listed}
    assert {row.listed for row in rows} == {True, False}
