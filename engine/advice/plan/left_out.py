"""What a parts list leaves out, by rule; what and why are worded by the same ids."""

from collections.abc import Callable

from engine.advice.plan.fittings import ends_tow_line
from engine.model.needs import Needs
from engine.model.result import Design
from engine.sizing.battery import frost_near
from engine.standards.battery_chemistry import LITHIUM, chemistry_of

Rule = Callable[[Needs, Design], bool]


def _tow_line_stays(needs: Needs, design: Design) -> bool:
    ends = ends_tow_line(needs, design.candidate.inverter.dc_nominal)
    stays = needs.keeps_house(design.candidate.inverter.dc_nominal)
    return not needs.bare and not needs.alternator_a and not ends and not stays


def _no_sensor(needs: Needs, _design: Design) -> bool:
    lithium = chemistry_of(needs.chemistry).family is LITHIUM
    return lithium and not frost_near(needs.chemistry, needs.weather.coldest_c)


LEFT_OUT: dict[str, Rule] = {
    "labor": lambda _n, _d: True,
    "fixings": lambda _n, _d: True,
    "hold-downs": lambda _n, _d: True,
    "vents": lambda _n, d: d.cooling.fans > 0,
    "circuits": lambda n, _d: not n.panel_there,
    "own-panel": lambda n, _d: n.panel_there,
    "main-panel": lambda n, _d: n.bare and not n.whole,
    "inlet": lambda n, _d: not n.bare,
    "factory-charger": lambda n, _d: n.panel_there,
    "factory-charger-some": lambda n, _d: not n.bare and not n.panel_there,
    "tow-line": _tow_line_stays,
    "sensor": _no_sensor,
    "roof-wires": lambda n, _d: n.solar_w > 0,
}
"""Everything that may stay out of a list, and when it is said."""


def left_out_of(needs: Needs, design: Design) -> tuple[str, ...]:
    """Ids of what this design's list leaves out."""
    return tuple(name for name, holds in LEFT_OUT.items() if holds(needs, design))
