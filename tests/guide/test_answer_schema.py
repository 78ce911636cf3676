"""The schema of an answer's JSON knows every key, and every kind of answer keeps it."""

import json
from collections.abc import Iterator
from random import Random
from typing import Any

import pytest

from engine.answer import answer_of
from engine.answer_text import as_data
from engine.links import read_pairs
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.respond import conversation_of
from guide.answer_schema import answer_schema
from guide.cli import main
from tests.random_answers import random_answers

VAN = ("rig=van", "scope=whole", "heavy=1", "biggest=cooking")
RIG = ("rig=rig-30", "scope=whole", "heavy=2", "biggest=aircon-13k5", "softstart=no")
KINDS: dict[str, tuple[str, ...]] = {
    "asks": ("rig=van",),
    "recommends": VAN,
    "is not sure": ("rig=van", "scope=unsure", "heavy=unsure", "biggest=unsure"),
    "nothing fits": (*VAN, "payload=60lb"),
    "too small a budget": (*VAN, "budget=500"),
    "an aim": (*RIG, "aim=longer"),
    "cannot be read": (*VAN, "cable=15 kg", "color=red"),
    "every source": (*RIG, "gen=5000W", "alt=200A", "drive=2h", "solar=600W"),
    "batteries that stay": (*VAN, "have=4x 100Ah 12V lifepo4 1y"),
    "batteries that go": (*VAN, "have=1x 80Ah 12V agm 9y"),
    "240 V": ("rig=coach-50", "scope=whole", "heavy=3", "biggest=cooking", "v240=yes"),
}
RANDOM_ANSWERS = 40
TYPES: dict[str, tuple[type, ...]] = {
    "object": (dict,),
    "array": (list,),
    "string": (str,),
    "integer": (int,),
    "number": (int, float),
    "boolean": (bool,),
    "null": (type(None),),
}


def faults(schema: dict[str, Any], value: Any, place: str = "answer") -> Iterator[str]:
    """Where a value breaks the part of JSON Schema that the answer's schema uses."""
    kinds = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
    able = tuple(kind for name in kinds for kind in TYPES[name])
    if not isinstance(value, able) or (isinstance(value, bool) and "boolean" not in kinds):
        yield f"{place} is {value!r}, not {kinds}"
    elif isinstance(value, dict):
        known = schema.get("properties", {})
        for name in schema.get("required", ()):
            if name not in value:
                yield f"{place} has no {name}"
        for name, each in value.items():
            inner = known.get(name) or schema["additionalProperties"]
            if inner is False:
                yield f"{place} has {name}, which the schema does not know"
            else:
                yield from faults(inner, each, f"{place}.{name}")
    elif isinstance(value, list):
        for each in value:
            yield from faults(schema["items"], each, f"{place}[]")


def data_of(guide: Guide, answers: Answers) -> Any:
    """An answer as a program reads it."""
    answer = answer_of(conversation_of(guide), answers)
    return json.loads(json.dumps(as_data(guide, answer), allow_nan=False))


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_answer_keeps_the_schema(guide: Guide, kind: str) -> None:
    data = data_of(guide, read_pairs(guide, KINDS[kind]))
    assert [*faults(answer_schema(), data)] == []


def test_answers_at_random_keep_it_too(guide: Guide) -> None:
    schema = answer_schema()
    for seed in range(RANDOM_ANSWERS):
        data = data_of(guide, random_answers(guide, Random(seed)))
        assert [*faults(schema, data)] == [], seed


def test_an_unknown_key_a_missing_one_and_a_wrong_kind_are_found(guide: Guide) -> None:
    data = data_of(guide, read_pairs(guide, VAN))
    schema = answer_schema()
    data["recommendation"]["color"] = "red"
    del data["checks"][0]["unit"]
    data["link"] = 7
    assert len([*faults(schema, data)]) == 3


def test_every_key_has_a_meaning() -> None:
    def bare(schema: dict[str, Any]) -> Iterator[str]:
        for name, each in schema.get("properties", {}).items():
            kinds = each["type"]
            if kinds not in ("object", "array") and not each.get("description"):
                yield name
            yield from bare(each.get("items", each))

    assert [*bare(answer_schema())] == []


def test_the_command_prints_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "--answer"]) == 0
    assert json.loads(capsys.readouterr().out) == answer_schema()
