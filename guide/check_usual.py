"""Faults of what "not sure" stands for: no usual case, or one of no meaning."""

from collections.abc import Iterator

from engine.model.guide import Question
from guide.content_read import ContentRead, ids_of, unknown
from guide.fault import Fault
from guide.reading import Record


def usual_cases(
    content: ContentRead, record: Record[Question], question: Question
) -> Iterator[Fault]:
    """A question of the short path has a usual case, unless it only leads to another question's."""
    choices = [choice.id for choice in question.choices]
    of = f"choice of “{record.id}”"
    if question.where == "path" and choices and not _leads_on(question):
        if not question.usual:
            why = "nothing stands for “not sure”"
            mend = f"Add usual: and the choice that is taken then, such as {choices[0]}."
            yield record.fault((), f"“{record.id}”", why, mend)
        if not question.unsure:
            why = "nobody who is not sure is told what to look at"
            yield record.fault((), f"“{record.id}”", why, "Add unsure: and what to look at.")
    if question.usual:
        yield from unknown(record, ("usual",), question.usual, choices, "choice", of)
    for rig, choice in question.usual_by_rig.items():
        place = ("usual_by_rig", rig)
        yield from unknown(record, place, rig, ids_of(content.rigs), "kind of rig")
        yield from unknown(record, place, choice, choices, "choice", of)


def _leads_on(question: Question) -> bool:
    """Whether every choice of it stands for one of the same other question."""
    return bool(set.intersection(*(set(choice.means) for choice in question.choices)))
