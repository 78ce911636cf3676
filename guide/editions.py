"""Older editions, kept small, so that links made from them can say what differs today."""

import json
from dataclasses import asdict, replace
from datetime import date
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from engine.conversation import Conversation
from engine.links import path_of
from engine.model.answers import Answers
from engine.model.edition import PastEdition, PastSetup
from engine.model.guide import Guide
from engine.past import past_setup
from guide.content_file import read_bytes
from guide.fault import Fault

EDITIONS = "editions"
MEND = "Take the file out, or restore it as `rig-guide keep` wrote it."


def edition_file(guide: Guide, folder: Path) -> Path:
    """Where this edition is kept below the content folder."""
    return folder / EDITIONS / f"{guide.shop.prices_as_of}-{guide.edition}.json"


def keep(guide: Guide, folder: Path, day: str = "") -> Path:
    """Write this edition's answers into the content folder.

    day: on which it is published, today where nothing is said; an edition that is kept already
        keeps its own
    """
    file = edition_file(guide, folder)
    file.parent.mkdir(exist_ok=True)
    before = read_edition(file) if file.exists() else None
    if isinstance(before, PastEdition) and before.published:
        day = before.published
    past = replace(past_of(guide), published=day or date.today().isoformat())
    file.write_text(as_text(past), encoding="utf-8")
    return file


def past_of(guide: Guide) -> PastEdition:
    """What is kept of an edition: each way through the short path and what was recommended."""
    setups: dict[PastSetup, int] = {}
    answers: dict[str, int] = {}
    for branch in Conversation(guide).branches(Answers({})):
        setup = past_setup(branch.outcome.best)
        answers[path_of(guide, branch.answers)] = setups.setdefault(setup, len(setups))
    ids = {name for setup in setups for name in (setup.inverter, setup.battery) if name}
    articles = {name: guide.article(name) for name in sorted(ids)}
    return PastEdition(
        id=guide.edition,
        date=guide.shop.prices_as_of,
        names={name: each.name for name, each in articles.items() if each},
        prices={name: guide.price_of(name) or 0.0 for name in articles},
        setups=tuple(setups),
        answers=answers,
    )


def as_text(past: PastEdition) -> str:
    """JSON with one setup and one path a line, so that version control stores what differs."""
    data: dict[str, Any] = asdict(past)
    setups = ",\n  ".join(map(_line, data.pop("setups")))
    answers = ",\n  ".join(f"{_line(path)}: {at}" for path, at in data.pop("answers").items())
    head = ",\n ".join(f"{_line(name)}: {_line(value)}" for name, value in data.items())
    return f'{{{head},\n "setups": [\n  {setups}],\n "answers": {{\n  {answers}}}}}\n'


def _line(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


_ADAPTER: TypeAdapter[PastEdition] = TypeAdapter(PastEdition)


def read_edition(path: Path) -> PastEdition | Fault:
    """A kept edition, or the fault that keeps it from being read."""
    name = f"{EDITIONS}/{path.name}"
    data = read_bytes(path, name)
    if isinstance(data, Fault):
        return data
    try:
        past = _ADAPTER.validate_json(data)
    except ValidationError as error:
        why = error.errors(include_url=False)[0]["msg"]
        return Fault(name, 1, 1, "this edition cannot be read", why, MEND)
    if any(not 0 <= place < len(past.setups) for place in past.answers.values()):
        return Fault(name, 1, 1, "this edition", "an answer leads to no setup", MEND)
    return past
