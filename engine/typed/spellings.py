"""Units by their spelling, from the table that ``guide.unit_table`` makes."""

import re
from dataclasses import dataclass

from engine.kept import kept
from engine.typed.unit_table import ROWS

_RATIOS = {
    ("J", "s"): "W",
    ("kg", "m"): "kg/m",
    ("money", "m"): "money/m",
    ("money", "s"): "money/s",
    ("m^3", "s"): "m^3/s",
}
_SAME = str.maketrans({"³": "^3", "²": "^2", "·": "*", "⋅": "*"})
_AROUND_A_SIGN = re.compile(r" ?([/*^°]) ?")
_PER = re.compile(" per ", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Unit:
    """What it measures, its symbol, how a number of it becomes one of the measure's own unit."""

    measure: str
    symbol: str
    factor: float
    offset: float


@kept("never", None)
def _table() -> dict[str, tuple[Unit, ...]]:
    """The units by spelling; one spelling may stand for several (F, C, A)."""
    found: dict[str, tuple[Unit, ...]] = {}
    for measure, rows in ROWS.items():
        for symbol, factor, offset, spellings in rows:
            unit = Unit(measure, symbol, factor, offset)
            for spelling in spellings.split():
                found[spelling] = (*found.get(spelling, ()), unit)
    return found


def units_of(text: str) -> tuple[Unit, ...]:
    """The units that a spelling may stand for; none where it is not in the table."""
    over, sign, under = _PER.sub("/", text).partition("/")
    above = _table().get(folded(over), ())
    if not sign:
        return above
    return tuple(
        Unit(measure, f"{one.symbol}/{other.symbol}", one.factor / other.factor, 0.0)
        for one in above
        for other in _table().get(folded(under), ())
        if (measure := _RATIOS.get((one.measure, other.measure)))
    )


def folded(text: str) -> str:
    """A spelling as the table has it: small letters but for an M in front, words joined."""
    plain_signs = text.translate(_SAME).replace("**", "^").strip(" .")
    joined = _AROUND_A_SIGN.sub(r"\1", plain_signs).replace(" ", "-")
    return ("M" if joined.startswith("M") else joined[:1].lower()) + joined[1:].lower()
