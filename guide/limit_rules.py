"""What must hold of an article: orders of limits, and figures that a real thing can have."""

from collections.abc import Callable
from itertools import pairwise
from typing import Any, NamedTuple

from engine.model.products import (
    AlternatorCharger,
    Battery,
    Crimper,
    Fuse,
    InverterCharger,
    Product,
    SolarPanel,
    StepDown,
)
from engine.standards import awg

# Sizes and weights outside of these are slips of the pen: common practice, no source.
SHORTEST_M, LONGEST_M = 0.001, 3.0
LIGHTEST_KG, HEAVIEST_KG = 0.0005, 300.0
# Nothing on the shelf is denser than solid copper: 8,960 kg/m³, from memory.
DENSEST_KG_PER_M3 = 8960.0
# Nor lighter than packing foam: some 20 kg/m³, from memory.
THINNEST_KG_PER_M3 = 20.0


class Limit(NamedTuple):
    """Figures of an entry that must stand in an order, or one that must hold by itself.

    field: where it is told; a dot leads into an inner entry
    """

    field: str
    holds: Callable[[Any], bool]
    why: str
    mend: str


def _rises(curve: tuple[tuple[float, float], ...]) -> bool:
    return any(later[1] > earlier[1] for earlier, later in pairwise(curve))


def _is_measured(product: Product) -> bool:
    """Whether size and weight are each possible; if not, that is told and not their quotient."""
    sides = (product.height, product.width, product.depth)
    return (
        all(SHORTEST_M <= side <= LONGEST_M for side in sides)
        and LIGHTEST_KG <= product.mass <= HEAVIEST_KG
    )


def _size(name: str) -> Limit:
    return Limit(
        name,
        lambda product: SHORTEST_M <= getattr(product, name) <= LONGEST_M,
        "nothing that is sold has that size",
        "Look at the unit: in, mm, cm and m are easily mixed up.",
    )


PRODUCT = (
    _size("height"),
    _size("width"),
    _size("depth"),
    Limit(
        "mass",
        lambda each: LIGHTEST_KG <= each.mass <= HEAVIEST_KG,
        "nothing that is sold has that weight",
        "Look at the unit: g, kg and lb are easily mixed up.",
    ),
    Limit(
        "mass",
        lambda each: (
            not _is_measured(each)
            or each.mass <= DENSEST_KG_PER_M3 * each.height * each.width * each.depth
        ),
        "with these measures it would be denser than solid copper",
        "Look at height, width, depth and mass.",
    ),
    Limit(
        "mass",
        lambda each: (
            not _is_measured(each)
            or each.mass >= THINNEST_KG_PER_M3 * each.height * each.width * each.depth
        ),
        "with these measures it would be lighter than packing foam",
        "Look at height, width, depth and mass.",
    ),
    Limit("price", lambda each: each.price > 0, "it costs nothing", "Write its price."),
)

INVERTER = (
    Limit(
        "continuous",
        lambda each: not _rises(each.continuous),
        "it gives more when it is hotter",
        "Sort the watts so that they fall as the temperature rises.",
    ),
    Limit(
        "surge",
        lambda each: not _rises(each.surge),
        "it gives more for longer",
        "Sort the volt-amperes so that they fall as the time grows.",
    ),
    Limit(
        "continuous",
        lambda each: max(value for _, value in each.continuous) <= each.apparent,
        "more watts than volt-amperes: no unit gives that",
        "Look at “continuous” and “apparent”; the two may be swapped.",
    ),
    Limit(
        "surge",
        lambda each: min(value for _, value in each.surge) >= each.apparent,
        "for a moment it gives less than it gives all day",
        "Look at “surge” and “apparent”; the two may be swapped.",
    ),
    Limit(
        "search",
        lambda each: each.search <= each.idle,
        "searching takes more than idling",
        "Look at “search” and “idle”; the two may be swapped.",
    ),
    Limit(
        "low_voltage_cutoff",
        lambda each: 0.7 * each.dc_nominal <= each.low_voltage_cutoff < each.dc_nominal,
        "it does not belong to that battery voltage",
        "It lies a little below “dc_nominal”.",
    ),
    Limit(
        "dc_nominal",
        lambda each: each.dc_nominal in (12.0, 24.0, 48.0),
        "the guide plans with 12, 24 and 48 V",
        "Write 12 V, 24 V or 48 V.",
    ),
    Limit(
        "legs_passed",
        lambda each: each.legs_passed in (1, 2),
        "a shore service has one leg or two",
        "Write 1 or 2.",
    ),
    Limit(
        "legs_passed",
        lambda each: each.output != "split-phase" or each.legs_passed == 2,
        "a unit that makes 120/240 V passes both legs",
        "Write 2, or output: one-leg.",
    ),
    Limit(
        "pairs",
        lambda each: each.output != "split-phase" or not each.pairs,
        "a unit that makes 120/240 V by itself is not paired in this guide",
        "Write pairs: [].",
    ),
    Limit(
        "efficiency",
        lambda each: all(0.5 <= share < 1 for _, share in each.efficiency),
        "no inverter is that good or that bad",
        "Write shares between 50 % and 99 %.",
    ),
    Limit(
        "efficiency",
        lambda each: each.efficiency[-1][0] <= each.apparent,
        "its last point lies above the unit's own power",
        "Look at “efficiency” and “apparent”.",
    ),
    Limit(
        "terminals.smallest_awg",
        lambda each: _thin_to_thick(each.terminals.smallest_awg, each.terminals.largest_awg),
        "the smallest wire is thicker than the largest",
        "Look at “smallest_awg” and “largest_awg”; the two may be swapped.",
    ),
    Limit(
        "mounts",
        lambda each: bool(each.mounts),
        "it may hang in no way",
        "Write mounts: [upright].",
    ),
    Limit(
        "dc_lugs_per_stud",
        lambda each: each.dc_lugs_per_stud >= 1,
        "its stud takes no lug",
        "Write 1 or more.",
    ),
)

BATTERY = (
    Limit(
        "peak_current",
        lambda each: each.peak_current >= each.continuous_current,
        "the peak is below what it gives all day",
        "Look at “peak_current” and “continuous_current”; the two may be swapped.",
    ),
    Limit(
        "short_circuit",
        lambda each: each.short_circuit > each.peak_current,
        "a short circuit drives more than the peak current",
        "Look at “short_circuit” and “peak_current”.",
    ),
    Limit(
        "resistance",
        lambda each: 0 < each.resistance < 0.2,
        "a battery's resistance is some thousandths of an ohm",
        "Write it in mohm.",
    ),
    Limit("usable", lambda each: each.usable > 0, "nothing of it may be used", "Write its share."),
    Limit("capacity", lambda each: each.capacity > 0, "it holds nothing", "Write its Ah."),
    Limit(
        "peukert",
        lambda each: 1.0 <= each.peukert <= 1.6,
        "Peukert's exponent lies between 1 and 1.6",
        "Write 1.0 for lithium, 1.1 to 1.3 for lead-acid.",
    ),
    Limit(
        "most_in_series", lambda each: each.most_in_series >= 1, "not even one", "Write 1 or more."
    ),
    Limit(
        "most_in_parallel",
        lambda each: each.most_in_parallel >= 1,
        "not even one",
        "Write 1 or more.",
    ),
)

FUSE = (
    Limit(
        "interrupt",
        lambda each: each.interrupt > each.rating,
        "it could not stop a short circuit",
        "Look at “interrupt” and “rating”; the two may be swapped.",
    ),
)

CRIMPER = (
    Limit(
        "smallest_awg",
        lambda each: _thin_to_thick(each.smallest_awg, each.largest_awg),
        "the smallest wire is thicker than the largest",
        "Look at “smallest_awg” and “largest_awg”; the two may be swapped.",
    ),
)

STEP_DOWN = (
    Limit(
        "output",
        lambda each: each.output < each.input,
        "it would step up",
        "Look at “input” and “output”; the two may be swapped.",
    ),
)

CHARGER = (
    Limit("efficiency", lambda each: each.efficiency > 0, "it gives nothing", "Write its share."),
)

PANEL = (
    Limit(
        "power_coefficient",
        lambda each: -0.01 <= each.power_coefficient < 0,
        "a panel loses some thousandths of its power with each degree",
        "Write it below zero, such as -0.0035.",
    ),
)

RULES: tuple[tuple[type[Any], tuple[Limit, ...]], ...] = (
    (Product, PRODUCT),
    (InverterCharger, INVERTER),
    (Battery, BATTERY),
    (Fuse, FUSE),
    (Crimper, CRIMPER),
    (StepDown, STEP_DOWN),
    (AlternatorCharger, CHARGER),
    (SolarPanel, PANEL),
)


def _thin_to_thick(thin: str, thick: str) -> bool:
    """True also for sizes that are not known; that is another fault."""
    if thin not in awg.SIZES or thick not in awg.SIZES:
        return True
    return awg.rank(thin) <= awg.rank(thick)
