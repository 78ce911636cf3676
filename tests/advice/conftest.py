"""A design for some answers, with the steps that led to it at hand."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import pytest

from engine.advice.judge.recommend import outcome_of
from engine.advice.plan.supply import Demands, supply_of
from engine.links import read_pairs
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Candidate, Check, Considered, Design, Outcome, Supply
from engine.needs import needs_of
from tests.guide.shops import demo

VAN = "rig=van scope=whole heavy=0"
COOKING = "rig=rig-30 scope=whole heavy=1 biggest=cooking"
AIRCON = "rig=rig-30 scope=whole heavy=1 biggest=aircon-15k softstart=no"
COACH = "rig=coach-50 scope=whole heavy=1 biggest=aircon-15k softstart=no v240=no"
TWO_AIRCONS = "rig=coach-50 scope=whole heavy=2 biggest=aircon-15k softstart=no v240=no"
SIDE_BY_SIDE = "rig=van scope=whole heavy=3 biggest=aircon-15k softstart=yes"
SOME = "rig=coach-50 scope=some heavy=1 biggest=cooking v240=no"


@dataclass(frozen=True)
class Case:
    """Answers with what they ask for and what became of every candidate."""

    guide: Guide
    answers: Answers
    needs: Needs
    outcome: Outcome

    @property
    def best(self) -> Considered:
        assert self.outcome.best is not None, [
            (check.id, check.value, check.limit) for check in self.outcome.considered[0].failed
        ]
        return self.outcome.best

    @property
    def design(self) -> Design:
        assert self.best.design is not None
        return self.best.design

    @property
    def candidate(self) -> Candidate:
        return self.best.candidate

    @property
    def supply(self) -> Supply:
        return supply_of(self.needs, self.candidate, Demands(self.guide, self.needs))

    def considered(self, layout: str, inverter: str, soft_starters: int = 0) -> Considered:
        """What became of one candidate."""
        return next(
            each
            for each in self.outcome.considered
            if (each.candidate.layout, each.candidate.inverter.id, each.candidate.soft_starters)
            == (layout, inverter, soft_starters)
        )

    def check(self, check_id: str) -> Check:
        """One check of the recommendation."""
        return next(check for check in self.best.checks if check.id == check_id)


@pytest.fixture(scope="session")
def guide() -> Guide:
    return demo()


MakeCase = Callable[..., Case]


@pytest.fixture(scope="session")
def case(guide: Guide) -> MakeCase:
    """Build a case from "question=value" words; quantities are written without spaces."""
    known: dict[tuple[str, int], Case] = {}

    def build(text: str, shelf: Guide = guide) -> Case:
        key = (text, id(shelf))
        if key not in known:
            answers = read_pairs(shelf, text.split())
            assert not answers.faults, answers.faults
            needs = needs_of(shelf, answers)
            known[key] = Case(shelf, answers, needs, outcome_of(shelf, answers, needs))
        return known[key]

    return build


def with_shelf(guide: Guide, **kinds: Any) -> Guide:
    """The same guide with other articles of some kinds."""
    return replace(guide, catalogue=replace(guide.catalogue, **kinds))
