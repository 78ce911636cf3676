"""The batteries that are there, figured once more: as the bank, with new ones, or on 12 V.

Nothing of the plan is called: kind, count and age are those of the answer's text, figures are typed
again here.
"""

from dataclasses import replace
from typing import Any, NamedTuple

from engine.model.answers import ExistingBank
from engine.model.guide import Guide
from engine.model.products import Battery
from tests.recheck import tables


class Usual(NamedTuple):
    """Planning figures of a kind of battery that comes without a data sheet.

    Sources: see engine/standards/battery_chemistry.py; short circuit: pack worked out from its
    cells (seen), 40 A/Ah for lead (secondary); sag: from memory; charge: trade press.
    """

    continuous_c: float
    start_factor: float
    depth: float
    peukert: float
    charge_c: float
    lowest_c: float
    short_per_ah: float
    sag_per_ah: float
    life_years: float


USUAL = {
    "lifepo4": Usual(1.0, 2.0, 0.8, 1.05, 0.5, 0.0, 62.0, 16.0, 10.0),
    "agm": Usual(1.0, 3.0, 0.5, 1.15, 0.4, -20.0, 40.0, 10.0, 5.0),
    "flooded": Usual(0.5, 3.0, 0.5, 1.6, 0.2, -20.0, 40.0, 10.0, 4.0),
}
START_S = 3.0


def nominal_v(have: ExistingBank) -> float:
    """Lithium "12 V" is four cells of 3.2 V."""
    blocks = round(have.nominal_v / 12)
    if have.chemistry == "lifepo4" and blocks and abs(have.nominal_v / (12 * blocks) - 1) <= 0.08:
        return 12.8 * blocks
    if blocks and abs(have.nominal_v / (12 * blocks) - 1) <= 0.08:
        return 12.0 * blocks
    return have.nominal_v


def theirs_of(guide: Guide, have: ExistingBank) -> Battery:
    """One of those that are there; stud and vents are those of the nearest of the shelf."""
    usual, capacity_ah = USUAL[have.chemistry], have.capacity_ah
    volts = nominal_v(have)
    continuous_a = usual.continuous_c * capacity_ah
    like = min(
        guide.catalogue.batteries,
        key=lambda each: (
            each.chemistry != have.chemistry,
            abs(each.nominal * each.capacity - volts * capacity_ah),
            each.id,
        ),
    )
    return replace(
        like,
        id="yours",
        name=f"{have.nominal_v:g} V {capacity_ah:g} Ah",
        price=0.0,
        mass=0.0,
        chemistry=have.chemistry,
        nominal=volts,
        capacity=capacity_ah,
        continuous_current=continuous_a,
        peak_current=usual.start_factor * continuous_a,
        peak_time=START_S,
        charge_current=usual.charge_c * capacity_ah,
        short_circuit=usual.short_per_ah * capacity_ah,
        resistance=volts / (usual.sag_per_ah * capacity_ah),
        usable=usual.depth,
        peukert=usual.peukert,
        lowest_charge_temperature=usual.lowest_c,
        most_in_series=have.count,
        most_in_parallel=guide.planning.kept_strings,
    )


def battery_of(guide: Guide, have: ExistingBank | None, found: dict[str, Any]) -> Battery:
    """The battery that an answer's bank is made of; the weaker of both where new ones joined."""
    sold = {each.id: each for each in guide.catalogue.batteries}
    bank = found["battery"]
    if not bank["kept"]:
        return sold[bank["id"]]
    assert have is not None
    theirs = theirs_of(guide, have)
    if bank["id"] not in sold:
        return theirs
    like = sold[bank["id"]]
    weaker = {
        name: min(getattr(like, name), getattr(theirs, name))
        for name in (
            *("capacity", "continuous_current", "peak_current", "peak_time", "charge_current"),
            *("usable", "most_in_parallel"),
        )
    }
    harder = {
        name: max(getattr(like, name), getattr(theirs, name))
        for name in ("short_circuit", "resistance", "peukert", "lowest_charge_temperature")
    }
    return replace(like, **weaker, **harder)


def house_short_a(have: ExistingBank) -> float:
    """What theirs deliver into a fault of the 12 V circuits; 0 where they cannot be its battery."""
    usual = USUAL[have.chemistry]
    ratio = 12 / have.nominal_v
    series = round(ratio)
    if (
        have.chemistry == "lifepo4"
        or have.age_years >= usual.life_years
        or series < 1
        or abs(ratio / series - 1) > 0.08
    ):
        return 0.0
    return min(4, have.count // series) * usual.short_per_ah * have.capacity_ah


def must_stop_a(short_a: float) -> float:
    """Interrupting rating of a fuse there: a quarter more, or 20 kA where that is above 10 kA."""
    least_a = tables.INTERRUPT_MARGIN * short_a
    return least_a if least_a <= tables.OWN_FIGURE_UP_TO_A else tables.LARGE_INTERRUPT_A
