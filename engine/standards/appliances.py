"""Published draw and use of appliances: ranges to judge an entry by, not a product's nameplate.

Watts are real power at the appliance's terminals; heat and cooking ratings are not. Status says how
far a row can be trusted: "published" was read in a copy of the source, "memory" was not.
"""

from dataclasses import dataclass
from typing import Literal

Status = Literal["published", "memory"]

# US Department of Energy, "Estimating appliance and home electronic energy use", as reprinted by a
# university course, a city and utilities with identical numbers.
DOE = "US Department of Energy, estimating appliance energy use (reprints)"
LISTS = "appliance lists for recreational vehicles (secondary)"
MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Draw:
    """How an appliance draws: power while it runs [W], hours of use a day [h], supply [V].

    duty : lowest and highest share of its hours in which it runs [–]
    hours : None where no source gives a usual time of use
    """

    low_w: float
    high_w: float
    hours: tuple[float, float] | None
    duty: tuple[float, float]
    volts: int
    source: str
    status: Status


_STEADY = (1.0, 1.0)
_MINUTE = 1 / 60


def _minutes(low: float, high: float) -> tuple[float, float]:
    return low * _MINUTE, high * _MINUTE


# Absorption refrigerator: amperes were read; its duty is drawn from 5–8 kWh a day, from memory.
DRAWS: dict[str, Draw] = {
    "microwave-input": Draw(1000, 1700, _minutes(5, 20), _STEADY, 120, LISTS, "published"),
    "microwave-cooking-class": Draw(750, 1100, _minutes(5, 20), _STEADY, 120, DOE, "published"),
    "induction-hob": Draw(1300, 1800, _minutes(20, 45), _STEADY, 120, MEMORY, "memory"),
    "kettle": Draw(1500, 1500, _minutes(4, 6), _STEADY, 120, LISTS, "published"),
    "coffee-maker": Draw(900, 1200, _minutes(10, 15), _STEADY, 120, DOE, "published"),
    "toaster": Draw(800, 1400, _minutes(5, 15), _STEADY, 120, DOE, "published"),
    "toaster-oven": Draw(1225, 1225, _minutes(5, 15), _STEADY, 120, DOE, "published"),
    "hair-dryer": Draw(1200, 1875, _minutes(5, 10), _STEADY, 120, DOE, "published"),
    "iron": Draw(1000, 1800, None, _STEADY, 120, DOE, "published"),
    "portable-heater": Draw(750, 1500, None, _STEADY, 120, DOE, "published"),
    "water-heater-vehicle": Draw(1400, 1500, _minutes(20, 60), _STEADY, 120, LISTS, "published"),
    "water-heater-house": Draw(4500, 5500, None, _STEADY, 240, DOE, "published"),
    "refrigerator-nameplate": Draw(725, 725, (24, 24), (1 / 3, 1 / 3), 120, DOE, "published"),
    "refrigerator-modern": Draw(100, 200, (24, 24), (1 / 3, 1 / 3), 120, MEMORY, "memory"),
    "refrigerator-defrost": Draw(300, 600, None, _STEADY, 120, MEMORY, "memory"),
    "refrigerator-absorption": Draw(300, 400, (24, 24), (0.7, 0.83), 120, LISTS, "memory"),
    "refrigerator-12v": Draw(40, 70, (24, 24), (0.3, 0.5), 12, MEMORY, "memory"),
    "water-pump-12v": Draw(48, 96, _minutes(10, 20), _STEADY, 12, LISTS, "published"),
    "furnace-blower-12v": Draw(96, 108, (24, 24), (0.25, 0.5), 12, LISTS, "published"),
    "roof-fan-12v": Draw(12, 48, (4, 12), _STEADY, 12, MEMORY, "memory"),
    "led-light": Draw(1, 5, (4, 5), _STEADY, 12, MEMORY, "memory"),
    "laptop": Draw(20, 200, (4, 8), _STEADY, 120, DOE, "published"),
    "television-doe": Draw(120, 120, (3, 5), _STEADY, 120, DOE, "published"),
    "television-to-42in": Draw(20, 60, (3, 5), _STEADY, 120, LISTS, "published"),
    "router": Draw(5, 20, (24, 24), _STEADY, 120, LISTS, "published"),
    "sleep-apnoea-heated": Draw(30, 60, (8, 8), _STEADY, 120, MEMORY, "memory"),
    "sleep-apnoea-unheated": Draw(10, 30, (8, 8), _STEADY, 120, MEMORY, "memory"),
    "washer": Draw(350, 500, (0.5, 1), _STEADY, 120, DOE, "published"),
    "dryer-compact": Draw(1400, 1800, None, _STEADY, 120, MEMORY, "memory"),
    "dryer": Draw(1800, 5000, None, _STEADY, 240, DOE, "published"),
    "dishwasher": Draw(1200, 2400, None, _STEADY, 120, DOE, "published"),
}

# Input of a microwave over its cooking power: 1.5 for a modern oven, up to 2 for an old one
# (secondary). 1.5 is planned on; the door of the oven says cooking power.
MICROWAVE_EFFICIENCY = 1 / 1.5


@dataclass(frozen=True, slots=True)
class FridgeClass:
    """Legal maximum of a refrigerator class: kWh a year = slope · adjusted volume [ft³] + fixed."""

    slope_kwh_per_ft3: float
    fixed_kwh: float
    source: str
    status: Status


_FRIDGE_RULE = "10 CFR 430.32(a), classes of 2014"
FRIDGE_CLASSES: dict[str, FridgeClass] = {
    "top-mount-auto-defrost": FridgeClass(8.07, 233.7, _FRIDGE_RULE, "published"),
    "all-refrigerator-manual": FridgeClass(6.79, 193.6, _FRIDGE_RULE, "published"),
    "compact-top-mount-auto-defrost": FridgeClass(11.80, 339.2, _FRIDGE_RULE, "memory"),
    "compact-manual": FridgeClass(9.03, 252.3, _FRIDGE_RULE, "memory"),
    "compact-all-refrigerator": FridgeClass(9.17, 259.3, _FRIDGE_RULE, "memory"),
}

DAYS_A_YEAR = 365.0


def fridge_daily_wh(fridge_class: str, adjusted_volume_ft3: float) -> float:
    """Most energy a day that a new refrigerator of a class may use.

    E = (s · AV + f) · 1000 / 365

    Parameters
    ----------
    fridge_class : a key of FRIDGE_CLASSES
    adjusted_volume_ft3 : adjusted volume, freezer space counted more [ft³]

    Returns
    -------
    Energy a day [Wh].

    Raises
    ------
    ValueError : if the class is not known, or the volume is not above zero and finite.

    Source: 10 CFR 430.32(a), classes of 2014 (reprint; compact classes from memory).

    >>> round(fridge_daily_wh("top-mount-auto-defrost", 18.0))
    1038
    """
    found = FRIDGE_CLASSES.get(fridge_class)
    if found is None:
        raise ValueError(
            f"fridge_class must be one of {' '.join(FRIDGE_CLASSES)}, got {fridge_class!r}"
        )
    if not 0 < adjusted_volume_ft3 < float("inf"):
        raise ValueError(
            f"adjusted_volume_ft3 must be more than zero and finite, got {adjusted_volume_ft3!r}"
        )
    yearly_kwh = found.slope_kwh_per_ft3 * adjusted_volume_ft3 + found.fixed_kwh
    return yearly_kwh * 1000 / DAYS_A_YEAR
