"""Editors check the content while it is typed, by schemas from the same dataclasses."""

import json
import shutil
from dataclasses import fields
from pathlib import Path
from typing import Any

import fastjsonschema
import pytest

from engine.model.products import InverterCharger
from guide.content_folder import CONTENT, names_of
from guide.load import load_guide
from guide.schema import MARK, schema_of, wanted, write_schemas
from guide.yaml_text import values_of

FILES = sorted(names_of(CONTENT))


def schema_named_in(file: Path) -> Path:
    """The schema that the first line of a content file names."""
    first = file.read_text("utf-8").splitlines()[0]
    assert first.startswith(MARK), file
    return file.parent / first.removeprefix(MARK)


def plain(file: Path) -> Any:
    """The content as an editor sees it: YAML types, merged keys resolved."""
    return values_of(file)


@pytest.mark.parametrize("name", FILES)
def test_every_content_file_names_its_schema_and_keeps_it(name: str) -> None:
    schema = json.loads(schema_named_in(CONTENT / name).read_text("utf-8"))
    fastjsonschema.compile(schema)(plain(CONTENT / name))


def test_the_schemas_in_the_content_are_those_of_the_dataclasses() -> None:
    stale = [file for file, text in wanted(CONTENT) if file.read_text("utf-8") != text]
    assert stale == [], "run rig-guide schema"


def test_a_schema_knows_every_key_and_which_are_missing() -> None:
    schema = schema_of(InverterCharger, True)["items"]
    assert set(schema["properties"]) == {each.name for each in fields(InverterCharger)}
    assert "surge" in schema["required"]
    assert "stock" not in schema["required"]


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("output", "three-phase"),
        ("price", True),
        ("surge", ["6000 VA"]),
        ("surge", []),
        ("pairs", ["series"]),
        ("bond_relay", "perhaps"),
        ("legs_passed", "two"),
        ("colour", "red"),
    ],
)
def test_a_schema_refuses_what_the_loader_refuses(key: str, value: object) -> None:
    entry = plain(CONTENT / "catalogue" / "inverters.yaml")[0]
    validate = fastjsonschema.compile(schema_of(InverterCharger, True))
    validate([entry])
    with pytest.raises(fastjsonschema.JsonSchemaValueException):
        validate([{**entry, key: value}])


def test_writing_names_the_schema_once_and_leaves_the_rest(tmp_path: Path) -> None:
    shutil.copytree(CONTENT, tmp_path, dirs_exist_ok=True)
    write_schemas(tmp_path)
    fans = tmp_path / "catalogue" / "fans.yaml"
    text = fans.read_text("utf-8")
    fans.write_text(text.partition("\n")[2], "utf-8")
    assert write_schemas(tmp_path) == [fans]
    assert fans.read_text("utf-8") == text
    assert write_schemas(tmp_path) == []
    load_guide(tmp_path)
