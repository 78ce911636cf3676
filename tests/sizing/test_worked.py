"""Worked examples of handbooks, laws and plain arithmetic, one YAML file a subject.

An example names a function, what goes in, what a published source or a hand says comes out, and
how near is near enough; a whole number without `within` is meant exactly. `gives` may be a mapping
of a result's fields to their values. In `with`, `{module:Class: {field: value}}` is an object.
"""

from collections.abc import Mapping
from importlib import import_module
from typing import Any

import pytest
from ruamel.yaml import YAML

from tests.reader import PUBLISHED

KEYS = {"name", "source", "call", "with", "gives"}


def _examples() -> list[Any]:
    reader = YAML(typ="safe")
    return [
        pytest.param(example, id=f"{file.stem}: {example['name']}")
        for file in sorted((PUBLISHED / "worked").glob("*.yaml"))
        for example in reader.load(file)
    ]


def _named(place: str) -> Any:
    """What `module:name` stands for."""
    module, _, name = place.partition(":")
    return getattr(import_module(module), name)


def _taken(value: Any) -> Any:
    """A value as kernels take it: sequences as tuples, `{module:Class: fields}` as an object."""
    if isinstance(value, list):
        return tuple(map(_taken, value))
    if isinstance(value, Mapping):
        ((place, fields),) = value.items()
        return _named(place)(**{name: _taken(field) for name, field in fields.items()})
    return value


def _assert_same(found: Any, expected: Any, within: float | None) -> None:
    if isinstance(expected, Mapping):
        for field, value in expected.items():
            _assert_same(getattr(found, field), value, within)
    elif isinstance(expected, list):
        assert len(found) == len(expected)
        for one, other in zip(found, expected, strict=True):
            _assert_same(one, other, within)
    elif isinstance(expected, bool | str) or expected is None:
        assert found == expected
        assert isinstance(found, type(expected))
    else:
        assert not isinstance(found, bool)
        assert within is not None or isinstance(expected, int), "a fraction needs `within`"
        assert found == pytest.approx(expected, abs=within or 0, rel=0)


@pytest.mark.parametrize("example", _examples())
def test_the_engine_agrees_with_a_worked_example(example: dict[str, Any]) -> None:
    assert set(example) - {"within"} == KEYS
    assert example["source"].strip()
    arguments = {name: _taken(value) for name, value in example["with"].items()}
    found = _named(example["call"])(**arguments)
    _assert_same(found, example["gives"], example.get("within"))


def test_no_two_examples_share_a_name() -> None:
    names = [parameters.id for parameters in _examples()]
    assert len(names) == len(set(names)) > 0


def test_a_wrong_figure_is_found_out() -> None:
    with pytest.raises(AssertionError):
        _assert_same(0.195, 0.193, 0.001)
    with pytest.raises(AssertionError):
        _assert_same(True, 1, None)
    with pytest.raises(AssertionError):
        _assert_same(0.193, 0.193, None)
    with pytest.raises(AssertionError):
        _assert_same(1, True, None)
    with pytest.raises(AssertionError):
        _assert_same((1.0,), [1.0, 2.0], 0.1)
