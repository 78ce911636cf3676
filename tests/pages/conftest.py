"""What the tests of pictures share: the guide, and every recommendation of its tree."""

from dataclasses import dataclass

import pytest

from engine.answer import Advice
from engine.links import read_link
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.respond import Page, conversation_of, respond
from engine.tree import states

DETAILED = (
    ("rig=van/scope=whole/heavy=1/biggest=cooking/", "alt=150A&solar=400W&nights=2"),
    ("rig=coach-50/scope=whole/heavy=1/biggest=cooking/v240=no/", "cable=12ft&solar=800W"),
    (
        "rig=rig-30/scope=whole/heavy=1/biggest=aircon-13k5/softstart=no/",
        "bank=48V&chemistry=agm&alt=200A&mount=sideways",
    ),
    (
        "rig=rig-30/scope=whole/heavy=1/biggest=cooking/",
        "bank=48V&loads=lights,heat:600W:3h:dc48",
    ),
    ("rig=rig-30/scope=some/heavy=1/biggest=cooking/", "space=closed&bank=12V&cable=10ft"),
    (
        "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=yes/",
        "space=open&bay=40in x 60in x 14in&gen=4000W",
    ),
)
"""Answers with details that change what is drawn: sources, places, voltages, mountings."""


@dataclass(frozen=True)
class Case:
    """One recommendation and where it came from."""

    link: str
    answers: Answers
    advice: Advice
    page: Page

    @property
    def needs(self) -> Needs:
        """What was asked for."""
        return self.advice.outcome.needs

    @property
    def design(self) -> Design:
        """What is recommended."""
        assert self.advice.best.design is not None
        return self.advice.best.design


def case_of(guide: Guide, path: str, fragment: str = "") -> Case | None:
    """The recommendation of a link; None where the page asks, or nothing fits."""
    answers = read_link(guide, path, fragment)
    assert not answers.faults, answers.faults
    page = respond(guide, answers, changes=False)
    advice = page.answer.advice
    return Case(f"{path}#{fragment}", answers, advice, page) if advice else None


def tree_of(guide: Guide) -> tuple[Case, ...]:
    """Every recommendation with all its chapters among the static pages.

    Where something is not sure the page has none of them: tests/engine/test_usual.py has those.
    """
    found = tuple(
        case
        for path in states(conversation_of(guide))
        if UNSURE not in read_link(guide, path).values.values()
        if (case := case_of(guide, path)) is not None
    )
    assert len(found) > 100
    return found


@pytest.fixture(scope="session")
def detailed(guide: Guide) -> tuple[Case, ...]:
    """Recommendations whose details draw what the tree has not."""
    found = tuple(case_of(guide, *link) for link in DETAILED)
    assert all(found)
    return tuple(case for case in found if case)


@pytest.fixture(scope="session")
def cases(tree: tuple[Case, ...], detailed: tuple[Case, ...]) -> tuple[Case, ...]:
    """All of them."""
    return tree + detailed
