"""Quantities in the words of the authoring tool: what a field takes, and why a text is refused."""

from engine.units import Kind, UnitError, forms_of, kind_of

KINDS = {
    "power": "a power",
    "apparent-power": "an apparent power",
    "current": "a current",
    "voltage": "a voltage",
    "battery-capacity": "a battery capacity",
    "energy": "an energy",
    "length": "a length",
    "weight": "a weight",
    "weight-per-length": "a weight per length",
    "temperature": "a temperature",
    "time": "a time",
    "time-in-days": "a time in days",
    "resistance": "a resistance",
    "capacitance": "a capacitance",
    "pressure": "a pressure",
    "airflow": "an airflow",
    "share": "a share",
    "time-in-years": "a time in years",
    "price": "a price",
    "price-per-length": "a price per length",
    "price-per-hour": "a price per hour",
    "area": "an area",
    "volume": "a volume",
    "frequency": "a frequency",
}
"""What each kind of quantity is called."""
WHY = {
    "no-number": "“{text}” has no number in front",
    "no-unit": "“{text}” has no unit",
    "unknown-unit": "“{symbol}” in “{text}” is no unit known here",
    "other-kind": "expected {wanted}, got {got} (“{text}”)",
    "unclear": "“{text}” is not understood",
}
"""Why a text is no quantity of the wanted kind, by the key of the fault."""
MONEY = "money"
"""The unit of every price inside: one of the shop's currency."""


def kind_words(unit: str) -> str:
    """What a unit measures: "a length"."""
    return KINDS[kind_of(unit)]


def examples(unit: str, currency: str = "USD") -> str:
    """Accepted ways to write a quantity of this unit."""
    *others, last = forms_of(unit)
    text = f"{', '.join(others)} or {last}" if others else last
    return text.replace(MONEY, currency)


def first_example(unit: str, currency: str = "USD") -> str:
    """One accepted way to write a quantity of this unit."""
    return forms_of(unit)[0].replace(MONEY, currency)


def why_not(error: UnitError, currency: str) -> str:
    """Why a text is no quantity of the wanted kind."""
    facts = {
        name: KINDS[each.id] if isinstance(each, Kind) else each
        for name, each in error.facts.items()
    }
    return WHY[error.key].format_map(facts).replace(MONEY, currency)
