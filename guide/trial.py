"""The conversation in a terminal, with the words of the pages, for a look while editing."""

from collections.abc import Callable
from enum import Enum

from engine import answer_text as report
from engine.answer import Answer
from engine.links import read_pairs
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Guide, Question
from engine.respond import conversation_of, respond
from engine.tree import follow

Ask = Callable[[str], str]
Say = Callable[[str], None]
ASK_QUESTION = "[a number or an id, ? why, b back, q leave] "
ASK_DETAILS = "[question=value changes something, b back, q leave] "


class Step(Enum):
    """What somebody wants who gives no answer."""

    BACK = "b"
    LEAVE = "q"


def converse(guide: Guide, ask: Ask, say: Say) -> None:
    """Ask until somebody leaves, or goes back from the first question."""
    trail = [Answers({})]
    while trail:
        found = respond(guide, trail[-1], changes=False).answer
        if found.next_question:
            step = _question(guide, trail[-1], found.next_question, ask, say)
        else:
            step = _answer(guide, found, ask, say)
        if step is Step.LEAVE:
            return
        if step is Step.BACK:
            trail.pop()
        elif isinstance(step, Answers):
            trail.append(step)


def _question(
    guide: Guide, answers: Answers, question: Question, ask: Ask, say: Say
) -> Answers | Step:
    """One question until it is answered."""
    ids = [*(choice.id for choice in question.choices), UNSURE]
    say(f"\n{question.ask}")
    for place, choice in enumerate(question.choices, start=1):
        say(f"  {place}  {choice.label}" + (f" – {choice.hint}" if choice.hint else ""))
    say(f"  {len(ids)}  {guide.wording.page['not-sure']}")
    while True:
        typed = _typed(ask, ASK_QUESTION)
        if isinstance(typed, Step):
            return typed
        if typed == "?":
            say(f"{question.why}\n{question.unsure}")
        elif typed.isdigit() and 1 <= int(typed) <= len(ids):  # some ids are digits, too
            return follow(conversation_of(guide), answers, question, ids[int(typed) - 1])
        elif typed in ids and not typed.isdigit():
            return follow(conversation_of(guide), answers, question, typed)
        else:
            say(f"“{typed}” is none of 1 to {len(ids)} and none of {', '.join(ids)}.")


def _answer(guide: Guide, found: Answer, ask: Ask, say: Say) -> Answers | Step:
    """The answer, then whatever somebody adds to it or changes."""
    say("\n" + report.as_text(guide, found))
    while True:
        typed = _typed(ask, ASK_DETAILS)
        if isinstance(typed, Step):
            return typed
        more = read_pairs(guide, typed.split())
        for fault in more.faults:
            say(fault.message)
        if more.values:
            return Answers({**found.answers.values, **more.values})


def _typed(ask: Ask, prompt: str) -> str | Step:
    """What was typed; the end of the input means leaving."""
    try:
        typed = ask(prompt).strip()
    except EOFError:
        return Step.LEAVE
    return Step(typed) if typed in {step.value for step in Step} else typed
