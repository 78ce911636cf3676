"""What a setup weighs against what the rig may carry."""

from collections.abc import Iterable

from engine.sizing import guard


def total_kg(items: Iterable[tuple[float, float]]) -> float:
    """Mass of everything in a list.

    m = Σ (n · m_each)

    Parameters
    ----------
    items : pairs of mass of one [kg] and count; a length and a mass a meter serve as well

    Returns
    -------
    Total mass [kg].

    Raises
    ------
    ValueError : if a mass or a count is negative or not finite.

    Source: arithmetic.

    >>> total_kg([(13.0, 2), (28.5, 1)])
    54.5
    """
    total = 0.0
    for each_kg, count in items:
        guard.not_negative(each_kg=each_kg, count=count)
        total += each_kg * count
    return total


def payload_percent(total_kg: float, payload_kg: float) -> float:
    """Share of the rig's cargo capacity that a setup takes.

    x = 100 · m_total / m_payload

    Parameters
    ----------
    total_kg : m_total, mass of the setup [kg]
    payload_kg : m_payload, cargo capacity left, from the label by the door or from a scale [kg]

    Returns
    -------
    Share; above 100 it is too heavy [%].

    Raises
    ------
    ValueError : if the mass is negative or the payload is not positive.

    Source: arithmetic; masses from the parts' data, payload as given.

    >>> payload_percent(54.5, 545.0)
    10.0
    """
    guard.not_negative(total_kg=total_kg)
    guard.positive(payload_kg=payload_kg)
    return 100 * total_kg / payload_kg
