"""What each battery chemistry stands: cells, charge, depth, cold, current, age. One record each.

A chemistry is added by its record here and its words in the content: the choice of its name in the
question of the kind of battery, and its batteries in the catalog.
"""

from dataclasses import dataclass
from typing import Final

from engine.standards import charge_profiles
from engine.standards.charge_profiles import ChargeProfile
from engine.standards.interrupt import (
    LEAD_ACID_SHORT_A_PER_AH,
    LITHIUM_SAG_A_PER_AH,
    LITHIUM_SHORT_A_PER_AH,
)


@dataclass(frozen=True, slots=True)
class Family:
    """What all chemistries of a family do alike.

    by_peukert : whether they give less the faster they are emptied, so that Peukert's law counts
    short_a_per_ah : short circuit of a battery whose maker states none, over its capacity [A/Ah]
    short_floor_a_per_ah : no maker's figure below it is planned on; 0 where each is [A/Ah]
    sag_a_per_ah : short circuit by which the resistance of a battery without a data sheet is
        planned, over its capacity; low, so that its voltage sags rather too much [A/Ah]
    """

    name: str
    by_peukert: bool
    short_a_per_ah: float
    short_floor_a_per_ah: float
    sag_a_per_ah: float


# Lithium follows Peukert's law with an exponent so near 1 that its capacity counts as rated.
LITHIUM: Final = Family(
    "lithium",
    by_peukert=False,
    short_a_per_ah=LITHIUM_SHORT_A_PER_AH,
    short_floor_a_per_ah=LITHIUM_SHORT_A_PER_AH,
    sag_a_per_ah=LITHIUM_SAG_A_PER_AH,
)
LEAD_ACID: Final = Family(
    "lead-acid",
    by_peukert=True,
    short_a_per_ah=LEAD_ACID_SHORT_A_PER_AH[-1],
    short_floor_a_per_ah=0.0,
    sag_a_per_ah=LEAD_ACID_SHORT_A_PER_AH[0],
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chemistry:
    """Planning figures of a chemistry; a product's own sheet goes before them.

    family : what it shares with others of its family
    profile : cell voltages and how it takes charge
    valve_regulated : whether it is sealed by valves, which blow off gas where it is overcharged
    highest_cell_v : voltage of a cell that fuses and switches must bear while it is charged [V]
    efficiency : energy out over energy in [–]
    depth : share of the capacity planned on [–]
    charge_c : lowest and highest temperature at which it may be charged [°C]
    cold_points : (temperature [°C], share of capacity left [–]), rising; nothing is planned on
        below the first
    peukert : lowest and highest exponent [–]
    life_years : age from which an existing bank is not built upon [years]
    continuous_per_h : current over capacity that a battery without a data sheet carries [1/h]
    start_factor : what it carries for the start of a motor, over that [–]
    """

    family: Family
    valve_regulated: bool
    profile: ChargeProfile
    highest_cell_v: float
    efficiency: float
    depth: float
    charge_c: tuple[float, float]
    cold_points: tuple[tuple[float, float], ...]
    peukert: tuple[float, float]
    life_years: float
    continuous_per_h: float
    start_factor: float

    @property
    def discharge_from_c(self) -> float:
        """Temperature below which nothing that it gives is planned on [°C]."""
        return self.cold_points[0][0]


# Sources, field by field.
# valve_regulated: trade pages (secondary).
# highest_cell_v: LiFePO4 3.65 V at most (trade tables); AGM 2.45 V in absorption, flooded 2.58 V
#   while it is equalized, 15.5 V of a 12 V battery (from memory).
# efficiency: LiFePO4 95–98 %, lead-acid 70–85 % (trade press); within them the middle for LiFePO4,
#   and for lead-acid the better half for AGM and the lower for flooded: common practice, no source.
# depth: lithium 80–90 % planned, lead 50 % (secondary).
# charge_c: lithium 0–60 °C, cell sheets (secondary); lead −20–50 °C, from memory.
# cold_points: lithium 80 % at 0 °C and 70 % at −20 °C, sellers' claims (secondary); lead half
#   near −20 °C, from memory, drawn straight to its rating temperature of 25 °C: within 5 % of IEEE
#   485 and of a maker's rule for flooded (tests/published/worked); AGM from 0 to 15 °C a maker's
#   questions and answers (secondary).
# peukert: AGM 1.05–1.15, flooded 1.20–1.60 rising with age (secondary); lithium 1.0–1.05, from
#   memory.
# life_years: from memory; 8 to 15 years in print for lithium, 4 to 7 for AGM, 3 to 6 for flooded.
# continuous_per_h, start_factor: lithium, protection of 100 A a 100 Ah and two to three times that
#   for seconds, from memory, the low end; lead has no protection that opens, its voltage sags:
#   common practice, no source.
CHEMISTRIES: dict[str, Chemistry] = {
    "lifepo4": Chemistry(
        family=LITHIUM,
        valve_regulated=False,
        profile=charge_profiles.LIFEPO4,
        highest_cell_v=3.65,
        efficiency=0.96,
        depth=0.8,
        charge_c=(0.0, 60.0),
        cold_points=((-20.0, 0.7), (0.0, 0.8), (25.0, 1.0)),
        peukert=(1.0, 1.05),
        life_years=10.0,
        continuous_per_h=1.0,
        start_factor=2.0,
    ),
    "agm": Chemistry(
        family=LEAD_ACID,
        valve_regulated=True,
        profile=charge_profiles.AGM,
        highest_cell_v=2.45,
        efficiency=0.80,
        depth=0.5,
        charge_c=(-20.0, 50.0),
        cold_points=(
            (-20.0, 0.5),
            (0.0, 0.84),
            (5.0, 0.88),
            (10.0, 0.90),
            (15.0, 0.94),
            (25.0, 1.0),
        ),
        peukert=(1.05, 1.15),
        life_years=5.0,
        continuous_per_h=1.0,
        start_factor=3.0,
    ),
    "flooded": Chemistry(
        family=LEAD_ACID,
        valve_regulated=False,
        profile=charge_profiles.FLOODED,
        highest_cell_v=2.58,
        efficiency=0.75,
        depth=0.5,
        charge_c=(-20.0, 50.0),
        cold_points=((-20.0, 0.5), (25.0, 1.0)),
        peukert=(1.2, 1.6),
        life_years=4.0,
        continuous_per_h=0.5,
        start_factor=3.0,
    ),
}


def chemistry_of(name: str) -> Chemistry:
    """Planning figures of a chemistry by its name.

    Raises
    ------
    ValueError : if the name is not known; the message lists those that are.

    >>> chemistry_of("agm").depth
    0.5
    """
    found = CHEMISTRIES.get(name)
    if found is None:
        raise ValueError(f"chemistry must be one of {', '.join(CHEMISTRIES)}, got {name!r}")
    return found
