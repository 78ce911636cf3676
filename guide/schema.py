"""JSON Schema of every content file, from the dataclasses that it is read into, for editors."""

import json
import os
from collections.abc import Iterator
from dataclasses import MISSING, fields, is_dataclass
from pathlib import Path
from typing import Annotated, Any, Literal, get_args, get_origin, get_type_hints

from engine.model.fields import Named, Points, Unit
from guide.content_folder import names_of
from guide.language import WORDS
from guide.load import kind_of_file
from guide.quantities import examples, first_example, kind_words
from guide.reading import Message

FOLDER = "schema"
MARK = "# yaml-language-server: $schema="
DIALECT = "http://json-schema.org/draft-07/schema#"


def write_schemas(content: Path) -> list[Path]:
    """Write the schemas into the content folder and name them at the head of each file.

    Returns the files that were written or changed.
    """
    changed = [
        file
        for file, text in wanted(content)
        if not file.exists() or file.read_text("utf-8") != text
    ]
    for file, text in wanted(content):
        if file in changed:
            file.parent.mkdir(exist_ok=True)
            file.write_text(text, encoding="utf-8")
    return changed


def wanted(content: Path) -> Iterator[tuple[Path, str]]:
    """Each schema and each content file as it should be."""
    for name in names_of(content):
        kind = kind_of_file(name)
        if kind is None:
            continue
        schema = content / FOLDER / _schema_name(name)
        yield schema, json.dumps(schema_of(*kind), ensure_ascii=False, indent=1) + "\n"
        file = content / name
        yield file, _with_head(file.read_text("utf-8"), Path(os.path.relpath(schema, file.parent)))


def _schema_name(name: str) -> str:
    """One schema a kind of file: every caution file and every question file shares one."""
    room, _, file = name.rpartition("/")
    if room.startswith(f"{WORDS}/"):
        room = WORDS  # the words of every language have the same form
    stem = room if room in ("cautions", "questions") else f"{room}-{file}" if room else file
    return f"{stem.removesuffix('.yaml')}.json"


def _with_head(text: str, schema: Path) -> str:
    first, _, rest = text.partition("\n")
    kept = rest if first.startswith(MARK) else text
    return f"{MARK}{schema.as_posix()}\n{kept}"


def schema_of(kind: Any, is_list: bool) -> dict[str, Any]:
    """The schema of a file that holds one object of this kind, or a list of them."""
    inner = _of(kind)
    whole = {"type": "array", "items": inner} if is_list else inner
    return {"$schema": DIALECT, **whole}


def _of(hint: Any) -> dict[str, Any]:
    """The schema of one type; texts with units stay texts, since people write them so."""
    if get_origin(hint) is Annotated:
        return _marked(get_args(hint)[1])
    if is_dataclass(hint):
        return _object(hint)
    if get_origin(hint) is dict:
        return {"type": "object", "additionalProperties": _of(get_args(hint)[1])}
    if get_origin(hint) is tuple:
        return {"type": "array", "items": _of(get_args(hint)[0])}
    if get_origin(hint) is Literal:
        return {"enum": list(get_args(hint))}
    simple: dict[Any, dict[str, Any]] = {
        Message: {"anyOf": [{"type": "string"}, {"type": "object"}]},
        bool: {"type": "boolean"},
        int: {"type": "integer"},
        float: {"type": "number"},
        str: {"type": "string"},
    }
    return simple[hint]


def _marked(marker: Unit | Points | Named) -> dict[str, Any]:
    if isinstance(marker, Named):
        return {"enum": list(marker.table)}
    if isinstance(marker, Points):
        example = f"{first_example(marker.value)} at {first_example(marker.where)}"
        text = f"{kind_words(marker.value)} at {kind_words(marker.where)}, such as “{example}”"
        point = {"type": "string", "pattern": " at ", "description": text}
        return {"type": "array", "items": point, "minItems": 1}
    described = f"{kind_words(marker.symbol)}, such as {examples(marker.symbol)}"
    form: dict[str, Any] = {"type": "string", "pattern": r"\d", "description": described}
    if marker.symbol == "share":
        return {**form, "type": ["string", "number"]}
    return form


def _object(kind: Any) -> dict[str, Any]:
    hints = get_type_hints(kind, include_extras=True)
    required = [
        each.name
        for each in fields(kind)
        if each.default is MISSING and each.default_factory is MISSING
    ]
    return {
        "type": "object",
        "description": (kind.__doc__ or "").strip(),
        "properties": {each.name: _of(hints[each.name]) for each in fields(kind)},
        "required": required,
        "additionalProperties": False,
    }
