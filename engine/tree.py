"""The tree of static pages: every state that the short path can reach."""

from engine.conversation import Conversation
from engine.links import path_of
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Question


def states(conversation: Conversation) -> tuple[str, ...]:
    """Paths of all pages below the guide, parents before children: "", "rig=van/", …"""
    found: dict[str, None] = {}
    waiting = [Answers({})]
    while waiting:
        answers = waiting.pop(0)
        path = path_of(conversation.guide, answers)
        if path in found:
            continue
        found[path] = None
        question = conversation.next_question(answers)
        if question is not None:
            waiting += [follow(conversation, answers, question, text) for text in options(question)]
    return tuple(found)


def options(question: Question) -> tuple[str, ...]:
    """Every answer that a page offers to its question, "not sure" last."""
    return (*(choice.id for choice in question.choices), UNSURE)


def follow(
    conversation: Conversation, answers: Answers, question: Question, choice: str
) -> Answers:
    """The answers of the page that a choice leads to.

    States of the same meaning share a page: a choice that stands for answers of the short path
    leads to those, so that a household plug leads to the page of the van.
    """
    values = {**answers.values, question.id: choice}
    if choice != UNSURE:
        path_ids = {each.id for each in conversation.path_questions}
        meant = {
            name: text for name, text in question.choice(choice).means.items() if name in path_ids
        }
        if meant:
            values.pop(question.id)
            values.update(meant)
    return Answers(values)
