"""Formulas that a reader may open come from their docstrings, which hold all that is shown."""

from collections.abc import Callable
from typing import Any

import pytest

from engine.advice.explain import OPENED, formulas
from guide.formulas import formula_of, formulas_of_sizing
from tests.formula_lint import faults_of


@pytest.mark.parametrize("function", formulas().values(), ids=lambda each: each.__name__)
def test_every_symbol_is_explained_and_every_parameter_has_symbol_and_unit(
    function: Callable[..., Any],
) -> None:
    formula = formulas_of_sizing()[function.__name__]
    assert faults_of(function, formula) == []
    assert formula.source


def test_no_two_formulas_have_one_name() -> None:
    opened = {each for role in OPENED.values() for each in role.formulas}
    assert len(formulas()) == len(opened) > 40


def lengthened(length_m: float, factor: float) -> float:
    """A length made longer.

    l = k · l_length

    Parameters
    ----------
    length_m : l_length, the length as it is [m]
    factor : k, by how much [–]

    Returns
    -------
    The longer length [m].

    Source: arithmetic. More of it is not shown.
    """
    return length_m * factor


def renamed(old: str, new: str) -> Callable[..., Any]:
    def length_m(length_m: float, factor: float) -> float:
        return length_m * factor

    length_m.__doc__ = (lengthened.__doc__ or "").replace(old, new)
    return length_m


def test_a_docstring_is_read_as_it_is_written() -> None:
    formula = formula_of(renamed("", ""))
    assert formula.equation == "l = k · l_length"
    assert [(each.sign, each.place, each.unit) for each in formula.symbols] == [
        ("l_length", "length_m", "m"),
        ("k", "factor", ""),
    ]
    assert (formula.unit, formula.source) == ("m", "arithmetic")
    assert faults_of(renamed("", ""), formula) == []


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("k · l_length", "k · q · l_length", "q is not explained"),
        ("k · l_length", "l_length", "k is explained and not used"),
        ("l_length, the", "the", "length_m has no symbol"),
        ("as it is [m]", "as it is [A]", "l_length is no letter of what is measured in 'A'"),
        ("l_length, the length as it is [m]", "l_length, the length [h]", "length_m is not in 'h'"),
        ("longer length [m]", "longer length [V]", "length_m gives 'V'"),
    ],
)
def test_a_docstring_that_explains_too_little_is_found_out(old: str, new: str, fault: str) -> None:
    function = renamed(old, new)
    assert fault in faults_of(function, formula_of(function))


@pytest.mark.parametrize(
    ("new", "fault"),
    [
        ("l = k · l_length\n    l = l_length · k", "has 2 equations"),
        ("Nothing is said of it.", "has 0 equations"),
    ],
)
def test_a_formula_has_one_equation(new: str, fault: str) -> None:
    with pytest.raises(ValueError, match=fault):
        formula_of(renamed("l = k · l_length", new))


def test_without_docstrings_it_says_how_to_mend_it() -> None:
    function = renamed("", "")
    function.__doc__ = None
    with pytest.raises(ValueError, match="without -OO"):
        formula_of(function)
