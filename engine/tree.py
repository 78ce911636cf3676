"""The tree of static pages: every state that the short path can reach."""

from engine.conversation import Conversation
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Question
from engine.usual import usual_case


def states(conversation: Conversation) -> tuple[str, ...]:
    """Paths of all pages below the guide, parents before children: "", "rig=van/", …"""
    found: dict[str, None] = {}
    waiting = [Answers({})]
    while waiting:
        answers = waiting.pop(0)
        path, _ = conversation.place(answers)
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

    States of the same meaning share a page: a household plug leads to the page of the van.
    """
    return conversation.walk(Answers({**answers.values, question.id: choice}))


def questions_ahead(conversation: Conversation, answers: Answers) -> tuple[Question, ...]:
    """What is asked after the next question, where everything is answered with the usual case."""
    found = []
    question = conversation.next_question(answers)
    while question is not None:
        found.append(question)
        usual = usual_case(conversation.guide, answers).choice(question.id) or UNSURE
        answers = follow(conversation, answers, question, usual)
        question = conversation.next_question(answers)
    return tuple(found[1:])
