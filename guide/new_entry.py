"""A new product, appliance or question, written behind the last one of its file, to be edited."""

import json
from collections.abc import Iterable, Iterator
from pathlib import Path

from engine.model.answers import UNSURE
from engine.model.guide import Guide, Question
from engine.units import UnitError, read
from guide.check_questions import ID, ID_MEND, ID_WHY
from guide.fault import Refusal, suggest
from guide.reading import OFFER
from guide.spreadsheet.columns import FAMILIES, Column, columns_of
from guide.spreadsheet.edit import applied
from guide.spreadsheet.patch import append
from guide.spreadsheet.shelf import read_shelf

LOADS, SHORT_PATH = "loads.yaml", "questions/short-path.yaml"


class NewError(Refusal):
    """An entry cannot be made: says why, and what to do."""


def product(folder: Path, like: str, new_id: str, name: str) -> str:
    """A product with every value of another one written out; returns its file.

    Nothing is taken over by "<<": each value stands there to be compared with the data sheet.
    """
    shelves = [read_shelf(folder, family) for family in FAMILIES]
    shelf = next((each for each in shelves if like in each.entries), None)
    known = [each for shelf_of in shelves for each in shelf_of.entries]
    if shelf is None:
        raise NewError(f"there is no product “{like}”. {suggest(like, known)}")
    _fresh(new_id, known)
    entry = shelf.entries[like]
    values: dict[Column, str] = {}
    for column in columns_of(shelf.family):
        value = entry.values.get(column.path)
        if value is not None and column.path[0] not in OFFER:
            values[column] = {"id": new_id, "name": name}.get(column.key, value.text)
    made = applied(shelf.source, [append(shelf, [values])])
    note = f"\n# Like {like} in everything: compare each value with the data sheet.\n"
    at = made.index("- id: ", len(shelf.source) - 1)
    _write(folder / shelf.file, made[:at].rstrip("\n") + "\n" + note + made[at:])
    return shelf.file


def appliance(folder: Path, guide: Guide, new_id: str, name: str, power: str, source: str) -> str:
    """An appliance with what its nameplate says; no motor, no warning and no hours are made up.

    hours: an hour a day at noon, which stands there to be changed
    """
    _fresh(new_id, [each.id for each in guide.appliances])
    try:
        running_w = read(power, "W")
    except UnitError as error:
        raise NewError(f"“{power}” is no power. Write it as 900 W.") from error
    heavy = running_w >= guide.planning.heavy_from
    lines = (
        f"- id: {new_id}",
        f"  name: {_text(name)}",
        f"  plain: {_text(name[:1].lower() + name[1:])}",
        "  volts: 120 # 12 and 48 for what hangs on the battery, 240 for both legs",
        f"  running: {power}",
        "  power_factor: 100 % # of what heats; of a motor by its nameplate",
        "  hours: 1 h # a day, as your customers use it",
        "  duty: 100 %",
        f"  heavy: {'true' if heavy else 'false'}",
        "  hour_of_day: 12",
        f"  source: {_text(source)}",
        "  # For a motor that starts hard only, from its nameplate: locked_rotor, start_time,",
        "  # soft_startable. Leave them out where you do not know them.",
    )
    return _added(folder, LOADS, lines)


def question(folder: Path, guide: Guide, new_id: str, leads_to: str) -> str:
    """A question whose choices stand for those of another one, asked where that is not known.

    The engine reads the answers that it knows; a question of a shop's own leads to one of these.
    """
    _fresh(new_id, [each.id for each in guide.questions])
    by_id = {each.id: each for each in guide.questions if each.choices}
    target = by_id.get(leads_to)
    if target is None:
        raise NewError(
            f"there is no question “{leads_to}” with choices. {suggest(leads_to, by_id)}"
        )
    where, file = (
        ("path", SHORT_PATH) if target.where == "path" else ("answer", "questions/answer-page.yaml")
    )
    return _added(folder, file, _question_lines(new_id, target, where))


def _question_lines(new_id: str, target: Question, where: str) -> Iterator[str]:
    yield from (
        f"- id: {new_id}",
        f"  where: {where}",
        "  kind: choice",
        f"  only_with: {{{target.id}: [{UNSURE}]}}",
        f"  ask: {_text(f'Which of these do you see? It tells: {target.topic or target.id}.')}",
        f"  topic: {_text(f'a sign of {target.topic or target.id}')}",
        f"  why: {_text(target.why)}",
        f"  unsure: {_text(target.unsure or 'Leave it open.')}",
        "  choices:",
    )
    for choice in target.choices:
        yield f"    - id: {choice.id}"
        yield f"      label: {_text(choice.label)}"
        yield f"      means: {{{target.id}: {json.dumps(choice.id)}}}"


def _fresh(new_id: str, known: Iterable[str]) -> None:
    if not ID.fullmatch(new_id):
        raise NewError(f"“{new_id}” is no id: {ID_WHY}. {ID_MEND}")
    if new_id in known:
        raise NewError(f"there is a “{new_id}” already. Choose another id.")


def _added(folder: Path, file: str, lines: Iterable[str]) -> str:
    source = (folder / file).read_text(encoding="utf-8")
    begin = "" if source.strip().endswith("[]") else source.rstrip("\n") + "\n\n"
    _write(folder / file, begin + "\n".join(lines) + "\n")
    return file


def _text(text: str) -> str:
    """A text in quotes, which may hold any sign."""
    return json.dumps(" ".join(text.split()), ensure_ascii=False)


def _write(place: Path, text: str) -> None:
    place.write_text(text, encoding="utf-8")


def line_of(folder: Path, file: str, new_id: str) -> int:
    """The line at which an entry stands."""
    text = (folder / file).read_text(encoding="utf-8")
    return text[: text.rindex(f"id: {new_id}\n")].count("\n") + 1
