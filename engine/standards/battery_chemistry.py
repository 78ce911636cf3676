"""What each battery chemistry stands: depth, cold, temperature while charging, current, age."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Chemistry:
    """Planning figures of a chemistry; a product's own sheet goes before them.

    depth : share of the capacity planned on [–]
    charge_c : lowest and highest temperature at which it may be charged [°C]
    cold_points : (temperature [°C], share of capacity left [–]), rising; nothing is planned on
        below the first
    peukert : lowest and highest exponent [–]
    life_years : age from which an existing bank is not built upon [years]
    continuous_per_h : current over capacity that a battery without a data sheet carries [1/h]
    start_factor : what it carries for the start of a motor, over that [–]
    """

    depth: float
    charge_c: tuple[float, float]
    cold_points: tuple[tuple[float, float], ...]
    peukert: tuple[float, float]
    life_years: float
    continuous_per_h: float
    start_factor: float


# Sources, field by field.
# depth: lithium 80–90 % planned, lead 50 % (secondary).
# charge_c: lithium 0–60 °C, cell sheets (secondary); lead −20–50 °C, from memory.
# cold_points: lithium 80 % at 0 °C and 70 % at −20 °C, sellers' claims (secondary); lead half
#   near −20 °C, from memory, drawn straight to its rating temperature of 25 °C; AGM from 0 to 15 °C
#   a maker's questions and answers (secondary).
# peukert: AGM 1.05–1.15, flooded 1.20–1.60 rising with age (secondary); lithium 1.0–1.05, from
#   memory.
# life_years: common practice, no source.
# continuous_per_h, start_factor: lithium, protection of 100 A a 100 Ah and two to three times that
#   for seconds, from memory, the low end; lead has no protection that opens, its voltage sags:
#   common practice, no source.
CHEMISTRIES: dict[str, Chemistry] = {
    "lifepo4": Chemistry(
        depth=0.8,
        charge_c=(0.0, 60.0),
        cold_points=((-20.0, 0.7), (0.0, 0.8), (25.0, 1.0)),
        peukert=(1.0, 1.05),
        life_years=10.0,
        continuous_per_h=1.0,
        start_factor=2.0,
    ),
    "agm": Chemistry(
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
        raise ValueError(f"chemistry must be one of {' '.join(CHEMISTRIES)}, got {name!r}")
    return found
