"""The trace notes what was called with what, and outside of it a step is a plain call."""

import pytest

from engine.kept import kept
from engine.trace import Note, latest, noting, step, told


def twice(value: float, *, more: float = 0.0) -> float:
    return 2 * value + more


def nested(value: float) -> float:
    return step("", twice, value) + step(".part", twice, value)


def test_a_step_is_a_plain_call_where_nothing_is_noted() -> None:
    assert step("a.role", twice, 3.0, more=1.0) == 7.0
    with noting() as notes:
        pass
    step("a.role", twice, 3.0)
    assert notes == []


def test_what_was_put_in_is_noted_by_parameter_with_defaults() -> None:
    with noting() as notes:
        step(told("a.role", size="2/0"), twice, 3.0)
        step("a.role", twice, 3.0, more=1.0)
    assert notes == [
        Note("a.role", "twice", {"value": 3.0, "more": 0.0}, 6.0, {"size": "2/0"}),
        Note("a.role", "twice", {"value": 3.0, "more": 1.0}, 7.0, {}),
    ]
    assert notes[0].id == "a.role.twice"


def test_a_step_within_has_the_role_around_it_or_a_part_of_that() -> None:
    with noting() as notes:
        step(told("a.role", name="one"), nested, 1.0)
        nested(1.0)
        step("", twice, 1.0)
    assert [(each.id, each.facts) for each in notes] == [
        ("a.role.twice", {"name": "one"}),
        ("a.role.part.twice", {"name": "one"}),
        ("a.role.nested", {"name": "one"}),
    ]


def test_what_is_kept_hides_no_step() -> None:
    remembered = kept("never", None)(nested)
    remembered(1.0)
    with noting() as notes:
        assert step("a.role", remembered, 1.0) == 4.0
    assert [each.id for each in notes] == ["a.role.twice", "a.role.part.twice", "a.role.nested"]


def test_of_several_tries_the_last_counts_and_a_name_tells_calls_apart() -> None:
    with noting() as notes:
        for value in (1.0, 2.0):
            step("a.try", twice, value)
            step(told("a.leg", name=value), twice, value)
            step(told("a.cable", size=value), twice, value)
    found = [(each.role, each.result) for each in latest(notes)]
    assert found == [("a.leg", 2.0), ("a.try", 4.0), ("a.leg", 4.0), ("a.cable", 4.0)]


def test_a_formula_that_gives_nothing_is_no_step() -> None:
    with noting() as notes:
        step("a.role", dict[str, str]().get, "key")
    assert notes == []


def test_a_formula_that_refuses_leaves_the_role_around_it() -> None:
    def refuses() -> float:
        raise ValueError("no such number")

    def around(value: float) -> float:
        with pytest.raises(ValueError, match="no such number"):
            step("b.role", refuses)
        return step("", twice, value)

    with noting() as notes:
        step("a.role", around, 1.0)
    assert [each.id for each in notes] == ["a.role.twice", "a.role.around"]
