"""What the live pieces share: their fields, what was read from them, and what comes out."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

from engine.model.answers import Quantity, Value
from engine.model.guide import Choice, Guide, Question
from engine.model.products import InverterCharger
from engine.pages.drawings.svg import Picture

Verdict = Literal["good", "bad"]


class PieceError(ValueError):
    """Values that do not go together; the message stands at one of the fields."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


@dataclass(frozen=True, slots=True)
class Result:
    """What a piece worked out: sentences, whether it will do, and a picture with its table."""

    says: tuple[str, ...]
    verdict: Verdict
    picture: Picture


@dataclass(frozen=True, slots=True)
class Filled:
    """The values of a piece's fields by the field's id; a field left open has none."""

    values: dict[str, Value]

    def number(self, field: str) -> float | None:
        """A quantity in its field's unit; None where the field is open."""
        value = self.values.get(field)
        return value.value if isinstance(value, Quantity) else None

    def needed(self, field: str) -> float:
        """A quantity that is always there, its field having a first value."""
        value = self.number(field)
        if value is None:
            raise ValueError(f"the field “{field}” has no value")
        return value

    def text(self, field: str) -> str:
        """A quantity as it was typed, without spaces; "" where the field is open."""
        value = self.values.get(field)
        return value.text if isinstance(value, Quantity) else ""

    def choice(self, field: str) -> str:
        """The id of what was chosen."""
        return str(self.values[field])


@dataclass(frozen=True, slots=True)
class Piece:
    """One live piece: its fields for a guide, and the work that they are for."""

    id: str
    fields: Callable[[Guide], tuple[Question, ...]]
    work: Callable[[Guide, Filled], Result]


def chosen(field: str, ask: str, choices: Iterable[tuple[str, str]], default: str) -> Question:
    """A field with fixed choices, each an id and its label."""
    return Question(
        id=field,
        where="detail",
        ask=ask,
        why="",
        kind="choice",
        choices=tuple(Choice(id=id_, label=label) for id_, label in choices),
        default=default,
    )


def typed(
    field: str,
    ask: str,
    hint: str,
    *,
    unit: str,
    low: str,
    high: str,
    default: str,
    bare: str = "",
    kind: Literal["quantity", "count"] = "quantity",
) -> Question:
    """A field for a quantity in any unit of its kind; `bare` is the unit of a number alone."""
    return Question(
        id=field,
        where="detail",
        ask=ask,
        why="",
        kind=kind,
        unit=unit,
        bare=bare,
        low=low,
        high=high,
        default=default,
        accepts=hint,
    )


def units_of(guide: Guide) -> tuple[tuple[str, str], ...]:
    """The inverter-chargers that are sold, as choices."""
    return tuple((each.id, each.name) for each in guide.catalogue.inverters)


def unit_of(guide: Guide, filled: Filled) -> InverterCharger:
    """The inverter-charger that was chosen in the field `unit`."""
    wanted = filled.choice("unit")
    return next(each for each in guide.catalogue.inverters if each.id == wanted)
