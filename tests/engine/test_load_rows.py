"""Loads as rows: what is shown is what counts, and changed rows write the list of a link."""

import json
from collections import Counter
from random import Random
from typing import Any

import pytest

from engine.browser import reply
from engine.links import read_link
from engine.load_rows import LoadRow, rows_of
from engine.load_rows_typed import typed_loads
from engine.model.guide import Guide
from engine.respond import conversation_of
from tests.random_answers import random_loads

COACH = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
VAN = "rig=van/scope=whole/heavy=1/biggest=cooking/"
THREE = ("aircon-15k", "microwave", "kettle")
ALL_THREE = f"loads={','.join(THREE)}"
CARRIED = "fridge-residential,lights,pump,tv,router,phones,alarms"


def drawn(guide: Guide, fragment: str = "", path: str = COACH) -> tuple[LoadRow, ...]:
    return rows_of(guide, read_link(guide, path, fragment))


def fields_of(rows: tuple[LoadRow, ...]) -> dict[str, str]:
    """What a form sends whose rows nobody changed: each field, ticks as yes or no."""
    found = {}
    for row in rows:
        if row.fixed:
            continue
        name = f"loads.{row.key}"
        found[f"{name}.use"] = "yes" if row.in_use else "no"
        if row.in_use:
            found |= {f"{name}.count": row.count, f"{name}.watts": row.watts}
            found[f"{name}.hours"] = row.hours
            if row.at_once != "always":
                found[f"{name}.together"] = row.at_once
    return found


def changed(guide: Guide, fragment: str, changes: dict[str, str], path: str = COACH) -> str | None:
    rows = fields_of(drawn(guide, fragment, path))
    return typed_loads(guide, read_link(guide, path, fragment), {**rows, **changes})


def asked(guide: Guide, fragment: str, form: dict[str, str], **more: Any) -> dict[str, Any]:
    request = {"id": 1, "path": COACH, "fragment": fragment, "form": form, **more}
    found: dict[str, Any] = json.loads(reply(json.dumps(request), guide))
    return found


def test_what_is_assumed_stands_there_and_unchanged_rows_are_no_list(guide: Guide) -> None:
    rows = drawn(guide)
    assert [row.appliance for row in rows] == [*CARRIED.split(","), "aircon-15k"]
    assert (rows[-1].count, rows[-1].watts, rows[-1].hours) == ("2", "1650", "5")
    assert all(row.in_use for row in rows)
    assert changed(guide, "", {}) == ""


@pytest.mark.parametrize("fragment", ["", "loads=aircon-15k:3h,saw:900W:1h,kettle,tv"])
def test_without_a_field_of_a_row_nothing_is_said_of_the_loads(guide: Guide, fragment: str) -> None:
    assert typed_loads(guide, read_link(guide, COACH, fragment), {"cable": "9 ft"}) is None


@pytest.mark.parametrize(
    ("fragment", "changes", "wanted"),
    [
        ("", {"loads.add": "coffee maker"}, f"{CARRIED},aircon-15k*2,coffee-maker"),
        ("", {"loads.tv.use": "no"}, f"{CARRIED},aircon-15k*2".replace("tv,", "")),
        ("", {"loads.aircon-15k.hours": "3"}, f"{CARRIED},aircon-15k*2:3h"),
        ("", {"loads.tv.watts": "1,100"}, f"{CARRIED},aircon-15k*2".replace("tv", "tv:1100W")),
        ("", {"loads.tv.together": "no"}, f"{CARRIED},aircon-15k*2".replace("tv", "tv:alone")),
        # of what is there already one more
        ("loads=tv,fan", {"loads.add": "TV; fridge"}, "tv*2,fan,fridge-residential"),
        # what was left out is a row to tick
        ("loads=kettle", {"loads.lights.use": "yes"}, "kettle,lights"),
        ("loads=kettle,tv", {"loads.tv.use": "no"}, "kettle"),
        # own ones are changed in their rows
        ("loads=saw:900W:1h", {"loads.own.watts": "950", "loads.own.count": "2"}, "saw*2:950W:1h"),
        (
            "loads=tv",
            {"loads.add": "sewing machine, cutter:80W:2h"},
            "tv,sewing-machine,cutter:80W:2h",
        ),
        # of what is added, as many run together as were answered, until somebody ticks
        ("loads=microwave,kettle", {"loads.add": "AC"}, "microwave,kettle,aircon-13k5"),
        (
            "loads=aircon-15k,microwave:900W",
            {"loads.microwave.watts": "1500"},
            "aircon-15k,microwave",
        ),
        (
            "loads=aircon-15k,microwave",
            {"loads.microwave.watts": "900"},
            "aircon-15k,microwave:900W",
        ),
        # three at once, though two were answered; the hardest to start is always one of them
        (
            ALL_THREE,
            {"loads.kettle.together": "yes"},
            ",".join(f"{each}:together" for each in THREE),
        ),
        (
            ALL_THREE,
            {"loads.microwave.together": "no"},
            "aircon-15k:together,microwave:alone,kettle:alone",
        ),
        ("loads=kettle", {"loads.kettle.use": "no"}, "none"),
    ],
)
def test_changed_rows_write_the_list_of_a_link(
    guide: Guide, fragment: str, changes: dict[str, str], wanted: str
) -> None:
    assert changed(guide, fragment, changes) == wanted


def test_the_hardest_to_start_cannot_be_left_out_of_what_runs_together(guide: Guide) -> None:
    rows = {row.key: row.at_once for row in drawn(guide, "loads=aircon-15k,microwave,kettle,tv")}
    wanted = {"aircon-15k": "always", "microwave": "yes", "kettle": "no", "tv": "yes"}
    assert {key: rows[key] for key in wanted} == wanted


def test_unchanged_rows_of_any_list_ask_for_the_same(guide: Guide) -> None:
    conversation = conversation_of(guide)
    for seed in range(300):
        fragment = f"loads={random_loads(guide, Random(seed))}"
        again = changed(guide, fragment, {})
        before, after = (
            conversation.usual_outcome(read_link(guide, COACH, text)).needs
            for text in (fragment, f"loads={again}")
        )
        assert again, fragment
        assert Counter(each.name for each in before.running) == Counter(
            each.name for each in after.running
        )
        assert sum(each.count * each.running_w * each.hours for each in before.loads) == (
            pytest.approx(sum(each.count * each.running_w * each.hours for each in after.loads))
        )
        assert changed(guide, f"loads={again}", {}) == again


def test_the_ticks_are_what_runs_together(guide: Guide) -> None:
    conversation = conversation_of(guide)
    for seed in range(300):
        fragment = f"loads={random_loads(guide, Random(seed))}"
        answers = read_link(guide, COACH, fragment)
        ticked: Counter[str] = Counter()
        for row in rows_of(guide, answers):
            if row.in_use and row.at_once != "no":
                ticked[row.name] += int(row.count)
        needs = conversation.usual_outcome(answers).needs
        asked = (*needs.running, *needs.waits)  # what the panel cannot carry waits for the others
        assert ticked == Counter(load.name for load in asked), fragment


def test_what_cannot_be_read_stands_in_its_row_and_the_others_are_kept(guide: Guide) -> None:
    found = asked(guide, "loads=kettle:2h", {"loads.add": "press, plate warmer:40W"})
    assert found["fragment"] == "loads=kettle:2h,press:1h,plate warmer:40W:1h".replace(" ", "%20")
    assert "“press” is not on this guide's list" in found["html"].replace("&#39;", "'")
    rows = {row.name: (row.watts, row.hours) for row in drawn(guide, found["fragment"])}
    assert rows["press"] == ("", "1")
    assert rows["Kettle"] == ("1500", "2")
    mended = asked(guide, found["fragment"], {"loads.own.watts": "75 W"})
    assert mended["fragment"] == "loads=kettle:2h,press:75W:1h,plate%20warmer:40W:1h"


def test_nothing_ticked_is_told_and_the_rows_are_there_to_tick(guide: Guide) -> None:
    found = asked(guide, "loads=kettle", {"loads.kettle.use": "no"})
    assert found["fragment"] == "loads=none"
    assert guide.wording.faults["no-loads"] in found["html"]
    rows = drawn(guide, found["fragment"])
    assert [row.in_use for row in rows] == [False] * len(rows)
    assert asked(guide, "loads=none", {"loads.tv.use": "yes"})["fragment"] == "loads=tv"


def test_an_appliance_on_240_v_that_was_answered_counts_whatever_is_ticked(guide: Guide) -> None:
    path = COACH.replace("v240=no", "v240=yes")
    row = next(each for each in drawn(guide, "loads=tv", path) if each.fixed)
    assert (row.appliance, row.at_once) == ("dryer-240", "always")
    assert changed(guide, "loads=tv", {}, path) == "tv"


def test_a_change_on_the_page_of_a_link_that_was_not_counted_yet_keeps_its_list(
    guide: Guide,
) -> None:
    found = asked(guide, "loads=kettle,tv&cable=9ft", {"loads.add": "toaster"}, beneath=True)
    assert found["fragment"] == "loads=kettle,tv,toaster&cable=9ft"
