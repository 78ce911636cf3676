"""Scenarios that a shop can read: answers, and what must come out of them.

Each file of this folder is a list of scenarios. A scenario has a name, a source and answers, and
any of these expectations:

  status             recommended, none-fits or ask
  layout, units      the wiring layout and how many inverter-chargers
  inverter           how its id starts: its family
  terminals          screw or push-in
  soft_starters      how many are part of it
  bank               any of: volts, chemistry, least_energy_wh
  dc                 any of: fuse_class, awg_at_least, runs
  shore              any of: legs, amps, input_limit
  parts              groups that are on the parts list
  no_parts           groups that are not
  counts             group: how many pieces, all lines together
  cautions           ids of cautions that are shown
  no_cautions        ids of cautions that are not
  before             pairs [layout, family]: those that pass must stand in this order
  stopped            list of {layout, inverter, by}: each such set-up fails these checks
  existing           way: alone, joined, house or replaced; faults, joining: codes of the reasons
  generator          any of: starts_alone, starts_supported, charges
  can_run            one_at_a_time, not_together: names of loads
  says               texts that stand on the page
  says_not           texts that do not
"""

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from engine.advice.judge.runs import runs_of
from engine.answer import Advice
from engine.links import read_pairs
from engine.model.guide import Guide
from engine.model.result import Considered, Design
from engine.pages.answer.parts_view import GROUPS, SPARE
from engine.respond import Page, respond
from engine.standards import awg
from guide.yaml_text import values_of
from tests.guide.shops import demo

HERE = Path(__file__).parent
ABOUT = {"name", "source", "answers"}


def scenarios() -> list[Any]:
    return [
        pytest.param(scenario, id=f"{file.stem}: {scenario['name']}")
        for file in sorted(HERE.glob("*.yaml"))
        for scenario in values_of(file)
    ]


@pytest.fixture(scope="module")
def guide() -> Guide:
    return demo()


@pytest.mark.parametrize("scenario", scenarios())
def test_it_comes_out_as_the_scenario_says(guide: Guide, scenario: dict[str, Any]) -> None:
    assert scenario["source"].strip()
    expected = {key: value for key, value in scenario.items() if key not in ABOUT}
    assert expected, "a scenario expects something"
    assert expected.keys() <= EXPECTED.keys()
    answers = read_pairs(guide, [f"{key}={text}" for key, text in scenario["answers"].items()])
    assert not answers.faults, answers.faults
    seen = Seen(guide, respond(guide, answers, changes=False))
    for key, value in expected.items():
        EXPECTED[key](seen, value)


def test_there_are_enough_scenarios_and_every_expectation_is_used() -> None:
    found = [parameters.values[0] for parameters in scenarios()]
    names = [scenario["name"] for scenario in found]
    assert len(found) >= 25
    assert len(names) == len(set(names))
    assert {key for scenario in found for key in scenario} - ABOUT == set(EXPECTED)


class Seen:
    """A page and the answer behind it."""

    def __init__(self, guide: Guide, page: Page) -> None:
        self.guide = guide
        self.page = page
        self.answer = page.answer

    @property
    def advice(self) -> Advice:
        assert self.answer.advice is not None, self.answer.status
        return self.answer.advice

    @property
    def best(self) -> Considered:
        return self.advice.best

    @property
    def design(self) -> Design:
        assert self.best.design is not None
        return self.best.design

    @property
    def considered(self) -> tuple[Considered, ...]:
        assert self.answer.outcome is not None
        return self.answer.outcome.considered

    @property
    def text(self) -> str:
        """What a reader sees, without the marks of the page."""
        return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", self.page.html)))

    def pieces(self, group: str) -> float:
        return sum(line.quantity for line in self.design.parts if line.group == group)


def _status(seen: Seen, value: str) -> None:
    assert seen.answer.status == value


def _layout(seen: Seen, value: str) -> None:
    assert seen.best.candidate.layout == value


def _units(seen: Seen, value: int) -> None:
    assert seen.best.candidate.units == value
    assert seen.pieces("inverter") == value


def _inverter(seen: Seen, value: str) -> None:
    assert seen.best.candidate.inverter.id.startswith(value)


def _terminals(seen: Seen, value: str) -> None:
    assert seen.best.candidate.inverter.terminals.kind == value


def _soft_starters(seen: Seen, value: int) -> None:
    assert seen.best.candidate.soft_starters == value
    assert seen.pieces("soft-starter") == value


def _bank(seen: Seen, value: dict[str, Any]) -> None:
    bank = seen.design.bank
    found = {
        "volts": seen.best.candidate.inverter.dc_nominal,
        "chemistry": bank.battery.chemistry,
    }
    least_wh = value.get("least_energy_wh", 0)
    assert bank.usable_wh >= least_wh
    assert {key: found[key] for key in value if key != "least_energy_wh"} == {
        key: text for key, text in value.items() if key != "least_energy_wh"
    }


def _dc(seen: Seen, value: dict[str, Any]) -> None:
    dc = seen.design.dc
    assert value.keys() <= {"fuse_class", "awg_at_least", "runs"}
    assert dc.fuse.family == value.get("fuse_class", dc.fuse.family)
    assert dc.cable.runs == value.get("runs", dc.cable.runs)
    assert awg.rank(dc.cable.size) >= awg.rank(value.get("awg_at_least", dc.cable.size))


def _shore(seen: Seen, value: dict[str, Any]) -> None:
    plan = seen.advice.charging.shore
    found = {
        "legs": seen.design.ac.poles * seen.best.candidate.units,
        "amps": seen.design.ac.input_a,
        "input_limit": plan.input_limit_a,
    }
    assert {key: found[key] for key in value} == value


def _parts(seen: Seen, value: list[str]) -> None:
    missing = set(value) - {line.group for line in seen.design.parts if line.product}
    assert not missing


def _no_parts(seen: Seen, value: list[str]) -> None:
    groups = {name.removeprefix(SPARE) for name in value}
    assert groups <= set(GROUPS), "an unknown group is absent everywhere"
    assert not set(value) & {line.group for line in seen.design.parts}


def _counts(seen: Seen, value: dict[str, float]) -> None:
    assert {group: seen.pieces(group) for group in value} == value


def _cautions(seen: Seen, value: list[str]) -> None:
    assert not set(value) - {note.caution.id for note in seen.advice.cautions}


def _no_cautions(seen: Seen, value: list[str]) -> None:
    assert set(value) <= {caution.id for caution in seen.guide.cautions}
    assert not set(value) & {note.caution.id for note in seen.advice.cautions}


def _before(seen: Seen, value: list[list[str]]) -> None:
    passing = [each.candidate for each in seen.considered if each.design is not None]
    places = [
        next(
            index
            for index, candidate in enumerate(passing)
            if candidate.layout == layout and candidate.inverter.id.startswith(family)
        )
        for layout, family in value
    ]
    assert places == sorted(places)
    assert len(set(places)) == len(places)


def _stopped(seen: Seen, value: list[dict[str, Any]]) -> None:
    for stopped in value:
        found = [
            {check.id for check in each.failed}
            for each in seen.considered
            if each.candidate.layout == stopped["layout"]
            and each.candidate.inverter.id == stopped["inverter"]
            and each.candidate.soft_starters == stopped.get("soft_starters", 0)
        ]
        assert found, stopped
        assert all(set(stopped["by"]) <= failed for failed in found), (stopped, found)


def _existing(seen: Seen, value: dict[str, Any]) -> None:
    keeping = seen.advice.outcome.keeping
    assert keeping is not None
    assert keeping.way == value["way"]
    assert [fault.code for fault in keeping.faults] == value.get("faults", [])
    assert [fault.code for fault in keeping.joining] == value.get("joining", [])


def _generator(seen: Seen, value: dict[str, Any]) -> None:
    plan = seen.advice.charging.generator
    assert plan is not None
    found = {
        "starts_alone": plan.starts_alone,
        "starts_supported": plan.starts_supported,
        "charges": plan.charge_free_a > 0,
    }
    assert {key: found[key] for key in value} == value


def _can_run(seen: Seen, value: dict[str, list[str]]) -> None:
    runs = runs_of(seen.guide, seen.advice.outcome.needs, seen.design)
    assert value.keys() <= {"one_at_a_time", "not_together"}
    assert set(value.get("one_at_a_time", [])) <= set(runs.alone)
    both = value.get("not_together")
    if both:
        assert set(both) <= set(runs.alone)
        assert not [pair for pair in runs.together if set(pair) == set(both)]


def _says(seen: Seen, value: list[str]) -> None:
    missing = [text for text in value if text not in seen.text]
    assert not missing


def _says_not(seen: Seen, value: list[str]) -> None:
    assert not [text for text in value if text in seen.text]


EXPECTED: dict[str, Callable[[Seen, Any], None]] = {
    "status": _status,
    "layout": _layout,
    "units": _units,
    "inverter": _inverter,
    "terminals": _terminals,
    "soft_starters": _soft_starters,
    "bank": _bank,
    "dc": _dc,
    "shore": _shore,
    "parts": _parts,
    "no_parts": _no_parts,
    "counts": _counts,
    "cautions": _cautions,
    "no_cautions": _no_cautions,
    "before": _before,
    "stopped": _stopped,
    "existing": _existing,
    "generator": _generator,
    "can_run": _can_run,
    "says": _says,
    "says_not": _says_not,
}
