"""What the page *What stays* promises of a version, as it is now, in the form of `promised.json`.

``python -m tests.documents.promised`` writes that file, when a version added something. Nothing
goes from it but with a version whose first number is higher.
"""

import argparse
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from guide.answer_schema import answer_schema
from guide.commands import parser
from guide.content_folder import CONTENT
from guide.load import load_guide

FILE = Path(__file__).with_name("promised.json")


def promised() -> dict[str, Any]:
    """Everything that is promised, each list in an order of its own."""
    return {
        "questions": questions(),
        "commands": commands(),
        "json": keys(answer_schema()),
        "content": {file.stem: content_of(file) for file in sorted((CONTENT / "schema").glob("*"))},
    }


def questions() -> dict[str, list[str]]:
    """Ids of the demo's questions, each with its choices."""
    return {
        each.id: sorted(choice.id for choice in each.choices) for each in load_guide().questions
    }


def commands() -> dict[str, list[str]]:
    """Names of the commands, each with its options and places."""
    actions = parser()._subparsers
    assert actions is not None
    (group,) = (each for each in actions._actions if isinstance(each, argparse._SubParsersAction))
    return {name: sorted(options_of(one)) for name, one in sorted(group.choices.items())}


def options_of(command: argparse.ArgumentParser) -> Iterator[str]:
    """What may stand behind a command: options, places, and commands of its own."""
    for action in command._actions:
        if isinstance(action, argparse._SubParsersAction):
            yield from action.choices
        elif action.dest != "help":
            yield from action.option_strings or [action.dest]


def keys(schema: Any, place: str = "") -> list[str]:
    """Where each key of a schema stands, with dots between."""
    found = []
    for name, each in schema.get("properties", {}).items():
        here = f"{place}.{name}" if place else name
        found += [here, *keys(each, here)]
    if "items" in schema:
        found += keys(schema["items"], f"{place}[]")
    return found


def content_of(file: Path) -> dict[str, list[str]]:
    """What one file of the content may hold, and what it must."""
    schema = json.loads(file.read_text("utf-8"))
    record = schema.get("items", schema)
    return {
        "may": sorted(record.get("properties", {})),
        "must": sorted(record.get("required", [])),
    }


def main() -> None:
    """Write the file."""
    text = json.dumps(promised(), indent=1, ensure_ascii=False)
    FILE.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
