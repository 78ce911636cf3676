"""Every DC conductor between the batteries and the units, from which stud to which.

One unit: battery or busbar – fuse – switch – unit, and back over the shunt of the monitor.
Two units: busbar – switch – a fuse for each – unit, so that one switch cuts both; what lies before
the switch and the shunt carries both, and is thicker.
At the shunt's load side the negative is joined to the frame, by a bolt of the same size.
Strings in parallel meet on the busbars, each over its own fuse. What lies ahead of a fuse that
suits its size, or between batteries in series, lies in a sheath. Where the stud behind the shunt
would take too many lugs, the negatives of the loads meet on a bar beside it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.model.result import DcConductor
from engine.sizing.conductors import CableChoice

MAIN = "dc-cable"
LINK = "battery-links"
FRAME = "frame-cable"
AHEAD_OF_FUSES = frozenset(
    {
        "bank-to-fuse",
        "busbar-to-switch",
        "switch-to-fuse-of-each-unit",
        "battery-to-battery-in-series",
        "battery-to-its-fuse",
        "fuse-of-each-battery-to-busbar",
        "battery-to-busbar",
    }
)
"""Pieces that the batteries, or the fuses of all of them, feed with more than they carry."""


@dataclass(frozen=True, slots=True)
class Chain:
    """What is joined, by which cable, and the stud of each thing on the way.

    bar_stud, battery_holder_stud : "" where there are no busbars, or no fuse for each string
    """

    units: int
    series: int
    parallel: int
    trunk: CableChoice
    cable: CableChoice
    cable_m: float
    link: CableChoice
    link_m: float
    frame_size: str
    frame_m: float
    unit_stud: str
    battery_stud: str
    holder_stud: str
    switch_stud: str
    shunt_stud: str
    bar_stud: str
    load_bar: bool
    battery_holder_stud: str


def conductors_of(chain: Chain) -> tuple[DcConductor, ...]:
    """All conductors, from the batteries on."""
    return tuple(each for each in (*_strings(chain), *_main(chain)) if each.quantity)


def _main(chain: Chain) -> Iterator[DcConductor]:
    """The way from the bank to each unit and back, with as many conductors as the run has."""
    source = chain.bar_stud or chain.battery_stud
    each, size = chain.cable.runs * chain.units, chain.cable.size

    def trunk(label: str, start: str, end: str) -> DcConductor:
        runs, thick = chain.trunk.runs, chain.trunk.size
        ahead = label in AHEAD_OF_FUSES
        return DcConductor(LINK, label, runs, thick, chain.link_m, (start, end), ahead)

    def link(label: str, start: str, end: str) -> DcConductor:
        ahead = label in AHEAD_OF_FUSES
        return DcConductor(LINK, label, each, size, chain.link_m, (start, end), ahead)

    def run(label: str, start: str) -> DcConductor:
        return DcConductor(MAIN, label, each, size, chain.cable_m, (start, chain.unit_stud))

    if chain.units == 1:
        yield trunk("bank-to-fuse", source, chain.holder_stud)
        yield link("fuse-to-switch", chain.holder_stud, chain.switch_stud)
        yield run("switch-to-unit", chain.switch_stud)
    else:
        yield trunk("busbar-to-switch", source, chain.switch_stud)
        yield link("switch-to-fuse-of-each-unit", chain.switch_stud, chain.holder_stud)
        yield run("fuse-to-unit", chain.holder_stud)
    negative = source if _bank_bar(chain) else chain.battery_stud
    yield trunk("bank-to-shunt-negative", negative, chain.shunt_stud)
    if chain.load_bar:
        yield trunk("shunt-to-busbar-negative", chain.shunt_stud, chain.bar_stud)
        yield run("busbar-to-unit-negative", chain.bar_stud)
    else:
        yield run("shunt-to-unit-negative", chain.shunt_stud)
    bolts = (chain.shunt_stud, chain.shunt_stud)
    yield DcConductor(
        FRAME, "shunt-to-frame", chain.trunk.runs, chain.frame_size, chain.frame_m, bolts
    )


def _bank_bar(chain: Chain) -> bool:
    """Whether the batteries' negatives meet on a bar ahead of the shunt."""
    return bool(chain.bar_stud) and (chain.parallel > 1 or not chain.load_bar)


def _strings(chain: Chain) -> Iterator[DcConductor]:
    """Batteries in series among themselves, and each string to the busbars."""
    runs, size, battery = chain.link.runs, chain.link.size, chain.battery_stud

    def link(label: str, count: int, start: str, end: str) -> DcConductor:
        ahead = label in AHEAD_OF_FUSES
        return DcConductor(LINK, label, count * runs, size, chain.link_m, (start, end), ahead)

    strings = chain.parallel
    yield link("battery-to-battery-in-series", strings * (chain.series - 1), battery, battery)
    if chain.bar_stud:
        if chain.battery_holder_stud:
            yield link("battery-to-its-fuse", strings, battery, chain.battery_holder_stud)
            yield link(
                "fuse-of-each-battery-to-busbar", strings, chain.battery_holder_stud, chain.bar_stud
            )
        else:
            yield link("battery-to-busbar", strings, battery, chain.bar_stud)
        if _bank_bar(chain):
            yield link("battery-to-busbar-negative", strings, battery, chain.bar_stud)
