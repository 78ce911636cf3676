"""The circuits of a rig that a load can hang on: 12 V, 48 V, one leg of the AC service, or both."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, eq=False)
class Bus:
    """A kind of circuit. There is one object of each kind, so that kinds are compared by `is`.

    legs : legs of the AC service that it lies across; 0 where the bank feeds it past the inverter
    """

    id: str
    volts: float
    legs: int

    def __reduce__(self) -> tuple[object, tuple[str]]:
        """The same object again in another process."""
        return bus_of, (self.id,)


DC = Bus("dc", 12.0, 0)
DC48 = Bus("dc48", 48.0, 0)
LEG = Bus("leg", 120.0, 1)
LEGS = Bus("legs", 240.0, 2)

BUSES = {bus.id: bus for bus in (DC, DC48, LEG, LEGS)}
"""Every kind that sizing handles, by its id."""


def bus_of(name: str) -> Bus:
    """The bus of this id.

    Raises
    ------
    ValueError : if no sizing handles such a bus; the message lists those that it does.

    >>> bus_of("legs").volts
    240.0
    """
    found = BUSES.get(name)
    if found is None:
        raise ValueError(f"a load hangs on one of {', '.join(BUSES)}, got {name!r}")
    return found


def bus_of_volts(volts: float) -> Bus:
    """The bus that a load for this voltage hangs on.

    Raises
    ------
    ValueError : if there is none; the message lists the voltages for which there is.

    >>> bus_of_volts(12).id
    'dc'
    """
    for bus in BUSES.values():
        if bus.volts == volts:
            return bus
    known = ", ".join(f"{bus.volts:g}" for bus in BUSES.values())
    raise ValueError(f"a load is for one of {known} V, got {volts!r}")
