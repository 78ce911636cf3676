"""What of a link could not be used, in words: the same on page, paper and terminal."""

from dataclasses import dataclass

from engine.model.answers import Answers, Fault
from engine.model.guide import Guide
from engine.needs import applies, implied
from engine.pages.form import assumed_text

MOST_TOLD = 12


@dataclass(frozen=True, slots=True)
class Told:
    """What stands above the verdict of such a link.

    lines: one a fault, with what was given and what is used in its place
    marked: how figures are marked that rest on what was used instead; "" where nothing was
    counts: whether an answer that was given is missing, and not only a note cut
    """

    title: str
    lines: tuple[str, ...]
    marked: str
    counts: bool


def told_of(guide: Guide, answers: Answers) -> Told | None:
    """The faults of these answers in words; None where everything was read."""
    if not answers.faults:
        return None
    page = guide.wording.page
    lines = [line_of(guide, answers, fault) for fault in answers.faults[:MOST_TOLD]]
    if len(answers.faults) > MOST_TOLD:
        lines.append(page.say("unread-more", count=len(answers.faults) - MOST_TOLD))
    assumes = any(assumed_for(guide, answers, fault) for fault in answers.faults)
    return Told(
        title=page["typed-faults" if all_typed(answers) else "link-faults"],
        lines=tuple(lines),
        marked=page.say("unread-marked", mark=page["rests"]) if assumes else "",
        counts=bool(answers.unread),
    )


def all_typed(answers: Answers) -> bool:
    """Whether all that could not be read was typed into the form, and none of it came by a link."""
    return all(fault.in_form for fault in answers.faults)


def line_of(guide: Guide, answers: Answers, fault: Fault) -> str:
    """One fault: what it was meant for, as it was typed, why not, and what is used instead."""
    page = guide.wording.page
    name = guide.question(fault.question).ask if fault.question else fault.name
    line = fault.message
    if name and fault.typed:
        line = page.say("unread-line", ask=name, typed=fault.typed, message=fault.message)
    assumed = assumed_for(guide, answers, fault)
    return page.say("unread-taken", line=line, assumed=assumed) if assumed else line


def assumed_for(guide: Guide, answers: Answers, fault: Fault) -> str:
    """What is taken for an answer that could not be read, in words; "" where nothing is."""
    values = implied(guide, answers)
    if not fault.question or fault.question in values:
        return ""
    question = guide.question(fault.question)
    if question.where == "path" or not applies(question, values):
        return ""
    if question.kind == "loads":
        return guide.wording.page["unread-usual"]
    return assumed_text(guide, question, answers)
