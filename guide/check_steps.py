"""Titles of the steps that a reader may open: each has one, and names only facts that it has."""

import string
from collections.abc import Iterator

from engine.advice.explain import STEPS
from guide.content_read import Parts
from guide.fault import Fault, suggest


def steps(parts: Parts) -> Iterator[Fault]:
    """A title that is missing, that no step has, or that names a fact which its step lacks."""
    record = parts.steps
    titles = record.value
    if titles is None:
        return
    for step in STEPS:
        if step not in titles:
            why = "the step can be opened and has no title"
            yield record.fault((), f"“{step}”", why, f"Write “{step}: …”.")
    for step, title in titles.items():
        if step not in STEPS:
            yield record.fault((step,), f"“{step}”", "no step has this id", suggest(step, STEPS))
            continue
        known = ", ".join(f"{{{fact}}}" for fact in STEPS[step]) or "no facts"
        for fact in _facts(title):
            if fact not in STEPS[step]:
                why = "its braces do not match" if fact is None else f"it has no fact {{{fact}}}"
                yield record.fault((step,), f"“{step}”", why, f"Write it with {known}.")


def _facts(title: str) -> list[str | None]:
    try:
        return [name for _, name, _, _ in string.Formatter().parse(title) if name is not None]
    except ValueError:
        return [None]
