"""Panels and a controller for the solar power that was asked for."""

import math
from dataclasses import dataclass

from engine.advice.plan.shelf import waits
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import SolarController, SolarPanel
from engine.sizing.charge_settings import cells_in_series, charge_voltages
from engine.sizing.panels import panel_switch_a, panels_in_series


@dataclass(frozen=True, slots=True)
class SolarPlan:
    """Panels in series and parallel, and the controller between them and the bank."""

    panel: SolarPanel
    panels: int
    series: int
    controller: SolarController

    @property
    def price(self) -> float:
        """Price of panels and controller."""
        return self.panels * self.panel.price + self.controller.price

    @property
    def cut(self) -> tuple[float, float]:
        """What the switch between panels and controller must carry [A] and bear [V]."""
        strings = self.panels // self.series
        current_a = panel_switch_a(self.panel.rated, self.panel.open_circuit, strings)
        return current_a, self.controller.largest_input


def solar_plan(guide: Guide, needs: Needs, bank_v: float) -> SolarPlan | None:
    """The cheapest panels and controller; None where nothing asked for, or nothing suits."""
    if not needs.solar_w:
        return None
    return _plan(guide, needs.solar_w, bank_v, needs.chemistry)


@kept("guide", 256)
def _plan(guide: Guide, wanted_w: float, bank_v: float, chemistry: str) -> SolarPlan | None:
    charge_v = charge_voltages(cells_in_series(bank_v, chemistry), chemistry).absorption_v
    found = []
    for panel in guide.catalogue.solar_panels:
        for controller in guide.catalogue.solar_controllers:
            series = panels_in_series(panel.open_circuit, charge_v, controller.largest_input)
            if series is None:
                continue
            panels = series * math.ceil(wanted_w / (panel.rated * series) - 1e-9)
            if controller.current * bank_v >= panels * panel.rated:
                found.append(SolarPlan(panel, panels, series, controller))
    return min(found, key=_preference, default=None)


def _preference(plan: SolarPlan) -> tuple[bool, float, str, str]:
    return waits(plan.panel, plan.controller), plan.price, plan.panel.id, plan.controller.id
