"""Refuse numbers that no formula can use, in words."""

from collections.abc import Iterable


def not_negative(**values: float) -> None:
    """Refuse a negative or not-finite value.

    Takes the values by name, so that the message can name the one at fault.

    Raises
    ------
    ValueError : if any value is negative, infinite or not a number.
    """
    for name, value in values.items():
        if not value >= 0 or value - value != 0:
            raise ValueError(f"{name} must be zero or more and finite, got {value!r}")


def positive(**values: float) -> None:
    """Refuse a value that is zero, negative or not finite.

    Raises
    ------
    ValueError : if any value is zero, negative, infinite or not a number.
    """
    for name, value in values.items():
        if not value > 0 or value - value != 0:
            raise ValueError(f"{name} must be more than zero and finite, got {value!r}")


def all_positive(name: str, values: Iterable[float]) -> None:
    """Refuse a value that is zero, negative or not finite among several of one name.

    Raises
    ------
    ValueError : if any value is zero, negative, infinite or not a number.
    """
    for value in values:
        if not value > 0 or value - value != 0:
            raise ValueError(f"{name} must be more than zero and finite, got {value!r}")


def finite(**values: float) -> None:
    """Refuse a value that is infinite or not a number.

    Raises
    ------
    ValueError : if any value is not finite.
    """
    for name, value in values.items():
        if value - value != 0:
            raise ValueError(f"{name} must be finite, got {value!r}")


def fraction(**values: float) -> None:
    """Refuse a value outside 0 … 1.

    Raises
    ------
    ValueError : if any value is below 0, above 1 or not a number.
    """
    for name, value in values.items():
        if not 0 <= value <= 1:
            raise ValueError(f"{name} must be between 0 and 1, got {value!r}")
