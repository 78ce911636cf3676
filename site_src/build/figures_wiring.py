"""Figures of the explanatory pages about services, shared neutrals and sub-panels."""

from dataclasses import dataclass

from engine.model.guide import Guide
from engine.pages.words import lower_first
from engine.sizing import ampacity, grounding, legs, loads, shore
from engine.standards.services import SERVICES
from engine.units import read
from engine.wording.tongue import all_of, plain

LEG_V = 120.0
ROOM_C = 30.0  # what the table of ampacities stands on
WIRES_OF_A_CIRCUIT = 2


@dataclass(frozen=True, slots=True)
class Fit:
    """Some loads on a service: what the busier hot wire carries, and whether that is planned on."""

    loads: str
    asks: str
    planned: str
    verdict: str


@dataclass(frozen=True, slots=True)
class Feed:
    """What feeds a panel from a breaker: hot and neutral wires, and the ground wire."""

    breaker: str
    wire: str
    ground: str


class WiringFigures:
    """What the pages may ask about hot wires, neutrals and panels."""

    def __init__(self, guide: Guide) -> None:
        self.guide = guide

    def fit(self, service: str, *names: str) -> Fit:
        """Appliances at the same time on a service, shared between its hot wires as best they go.

        A name may be given twice, for two of a kind.
        """
        found = SERVICES[service]
        each = [self.guide.appliance(name) for name in names]
        volt_amperes = tuple(loads.apparent_power_va(one.running, one.power_factor) for one in each)
        if found.legs == 1:
            busier_va = sum(volt_amperes)
        else:
            split = legs.assign_legs(volt_amperes)
            busier_va = max(split.leg1_va, split.leg2_va)
        asks_a = loads.running_current_a(busier_va, LEG_V)
        planned_a = shore.planning_current_a(found.amps)
        verdict = "fits" if asks_a <= planned_a else "for minutes only"
        return Fit(
            all_of(self._counted(names)),
            f"{plain(asks_a, 1)} A",
            f"{plain(planned_a)} A",
            verdict if asks_a <= found.amps else "too much",
        )

    def _counted(self, names: tuple[str, ...]) -> list[str]:
        shown = {name: lower_first(self.guide.appliance(name).name) for name in names}
        return [
            f"{names.count(name)} × {text}" if names.count(name) > 1 else text
            for name, text in shown.items()
        ]

    def neutral(self, first: str, second: str) -> tuple[str, str, str, str]:
        """Currents of two circuits, and what their shared neutral carries both ways."""
        one_a, other_a = read(first, "A"), read(second, "A")
        apart_a = shore.neutral_current_split_a(one_a, other_a)
        together_a = shore.neutral_current_in_phase_a(one_a, other_a)
        return first, second, f"{plain(apart_a)} A", f"{plain(together_a)} A"

    def bears(self, breaker: str) -> str:
        """The usual wire on a breaker, by its gauge."""
        planning = self.guide.planning
        size = ampacity.ac_conductor(
            read(breaker, "A"),
            planning.ac_insulation_c,
            planning.ac_terminal_c,
            ROOM_C,
            WIRES_OF_A_CIRCUIT,
        )
        return f"{size} AWG"

    def feed(self, breaker: str) -> Feed:
        """What a panel behind a breaker is fed with."""
        ground = grounding.equipment_ground(read(breaker, "A"))
        return Feed(breaker, self.bears(breaker), f"{ground} AWG")
