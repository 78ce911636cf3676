"""Many answers put to the re-check: every end of the tree, and answers at random."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from random import Random
from typing import Any

from engine.answer import Answer, advise, answer_of
from engine.answer_text import as_data
from engine.conversation import Conversation
from engine.links import path_of
from engine.model.answers import Answers
from engine.pages.drawings.diagram import diagram_of
from engine.tree import follow, options
from engine.usual import usual_case
from tests.random_answers import random_answers
from tests.recheck.recheck import faults


@dataclass
class Tally:
    """What was put to the re-check: all answers, those with a recommendation, and what is wrong.

    alternatives : runner-ups of these recommendations, re-checked as if they were recommended
    """

    answers: int = 0
    recommended: int = 0
    alternatives: int = 0
    wrong: dict[str, list[str]] = field(default_factory=dict)

    @property
    def violations(self) -> int:
        """Sentences about all wrong answers."""
        return sum(len(found) for found in self.wrong.values())


def ends(conversation: Conversation) -> Iterator[Answers]:
    """Every end of the tree: each question answered by each choice, and by "not sure"."""
    seen = set()
    waiting = [Answers({})]
    while waiting:
        answers = waiting.pop()
        path, _ = conversation.place(answers)
        if path in seen:
            continue
        seen.add(path)
        question = conversation.next_question(answers)
        if question is None:
            yield answers
        else:
            waiting += [follow(conversation, answers, question, each) for each in options(question)]


def at_random(conversation: Conversation, count: int) -> Iterator[Answers]:
    """Answers with details at random; the same seeds give the same ones."""
    for seed in range(count):
        yield random_answers(conversation.guide, Random(seed))


def data_of(conversation: Conversation, answer: Answer) -> dict[str, Any]:
    """A recommendation as an outsider gets it, with what its drawing says."""
    data = as_data(conversation.guide, answer)
    outcome = answer.outcome
    if outcome and outcome.best and outcome.best.design:
        drawn = diagram_of(conversation.guide, outcome.needs, outcome.best.design)
        data["drawing"] = list(drawn.steps)
    return data


def tally_of(conversation: Conversation, asked: Iterator[Answers]) -> Tally:
    """Put each answer to the re-check; those that are planned alike once."""
    tally = Tally()
    done: set[tuple[tuple[str, str], ...]] = set()
    for answers in asked:
        tally.answers += 1
        case = usual_case(conversation.guide, answers).key()
        if case in done:
            continue
        done.add(case)
        answer = answer_of(conversation, answers, changes=False)
        if answer.status != "recommended" or answer.outcome is None:
            continue
        tally.recommended += 1
        asked_for = f"{path_of(conversation.guide, answers)} {answers.key()}"
        other = runner_up_of(conversation, answer)
        for name, each in ((asked_for, answer), (f"{asked_for}, runner-up", other)):
            if each is None:
                continue
            if each.outcome is None:
                continue
            found = faults(conversation.guide, each.outcome.needs, data_of(conversation, each))
            if found:
                tally.wrong[name] = found
        tally.alternatives += other is not None
    return tally


def runner_up_of(conversation: Conversation, answer: Answer) -> Answer | None:
    """The same answer with its runner-up in the place of the recommendation; None without one."""
    outcome, advice = answer.outcome, answer.advice
    if outcome is None or advice is None or advice.runner_up is None:
        return None
    if advice.runner_up.design is None:
        return None
    kind = advice.runner_up.design.bank.battery.chemistry
    needs = replace(outcome.needs, chemistry=kind) if outcome.keeping else outcome.needs
    instead = replace(outcome, considered=(advice.runner_up,), needs=needs)
    return replace(answer, outcome=instead, advice=advise(conversation, instead))
