"""The figures of the explanatory pages: each a thin call of the engine, as text that is read."""

from dataclasses import dataclass
from functools import cached_property

from engine.advice.plan.cooling import VENT_VELOCITY_M_PER_S
from engine.answer import answer_of
from engine.links import read_link
from engine.model.guide import Guide
from engine.model.products import InverterCharger
from engine.model.result import Design
from engine.pages.answer.advice_view import AdviceView
from engine.pages.answer.numbers_ac import refusal_text
from engine.pages.answer.numbers_dc import CRIMPERS
from engine.pages.words import clearance_text, vent_text
from engine.respond import conversation_of
from engine.sizing import cooling, inverter, shore, terminals
from engine.standards import ferrules
from engine.standards.services import LOW_SHORE_V, SERVICES
from engine.units import read, show
from engine.wording.tongue import money, plain

SEA_LEVEL_M = 0.0
FERRULE_SIZES = ("14", "12", "10", "8", "6")


@dataclass(frozen=True, slots=True)
class Ferrule:
    """What one gauge of wire asks of its ferrule."""

    awg: str
    area: str
    bare: str
    insulated: str
    color: str


@dataclass(frozen=True, slots=True)
class Cooling:
    """The heat of a unit at one load, and the air that carries it away."""

    load: str
    efficiency: str
    heat: str
    airflow: str
    vent: str


class Example:
    """The recommendation for one set of answers, as its page shows it."""

    def __init__(self, guide: Guide, path: str) -> None:
        answers = read_link(guide, path)
        advice = answer_of(conversation_of(guide), answers, changes=False).advice
        if advice is None:
            raise ValueError(f"{path} leads to no recommendation")
        self.path = path
        self._view = AdviceView(guide, advice)
        self._design: Design = self._view.design
        self.headline = self._view.headline
        self.layout = self._view.layout.name
        self.bank = self._view.bank
        self.price = money(round(self._design.parts_price, -1))
        self.mass = show(self._design.mass_kg, "kg")
        self.units = plain(self._view.candidate.units)
        self.ends = plain(len(self._design.ac.ends_per_unit) * self._view.candidate.units)
        self.input_a = f"{plain(self._design.ac.input_a)} A"
        self.output_a = f"{plain(self._design.ac.output_a)} A"
        self.wire = f"{self._design.ac.output_awg} AWG"
        self.ground = f"{self._design.ac.ground_awg} AWG"
        self.together = ", ".join(self._view.together())
        self.dead = ", ".join(self._view.runs.dead)


class Figures:
    """What the pages may ask for. Quantities come in and go out as people write them."""

    def __init__(self, guide: Guide) -> None:
        self.guide = guide

    def example(self, path: str) -> Example:
        """The recommendation on one page of the guide."""
        return Example(self.guide, path)

    def number(self, text: str) -> float:
        """The number in front of a quantity, for drawing to scale."""
        return float(text.split(maxsplit=1)[0].replace(",", ""))

    def length(self, text: str) -> str:
        """A length in this market's units and metric."""
        return show(read(text, "m"), "m")

    def limit_a(self, breaker: str) -> str:
        """Input limit to set for a breaker."""
        return f"{plain(shore.input_limit_a(read(breaker, 'A')))} A"

    def planning(self) -> list[tuple[str, str, str]]:
        """Each figure that the shop plans with: name, value, and where it comes from."""
        planning = self.guide.planning
        return [
            (name.replace("_", " "), f"{getattr(planning, name):g}", source)
            for name, source in planning.source.items()
        ]

    # Services

    def service_name(self, service: str) -> str:
        """Voltage of a service: "120 V" or "120/240 V"."""
        found = SERVICES[service]
        volts = plain(found.volts)
        return f"{volts} V" if found.legs == 1 else f"{volts}/{plain(found.volts * found.legs)} V"

    def service_a(self, service: str) -> str:
        """Rating of each leg."""
        return f"{plain(SERVICES[service].amps)} A"

    def service_legs(self, service: str) -> str:
        """Number of legs."""
        return plain(SERVICES[service].legs)

    def service_va(self, service: str) -> str:
        """Apparent power over all legs."""
        found = SERVICES[service]
        return show(shore.pass_through_va(found.amps, found.volts, found.legs), "VA")

    def planned_a(self, service: str) -> str:
        """Current of each leg that is planned on for hours on end."""
        return f"{plain(shore.planning_current_a(SERVICES[service].amps))} A"

    def low_park_v(self) -> str:
        """Voltage of a leg below which an energy management system cuts off."""
        return show(LOW_SHORE_V, "V")

    def planned_share(self) -> str:
        """Share of a breaker that is planned on for hours on end."""
        return show(shore.planning_current_a(1.0), "share")

    def on_one_leg_va(self, service: str) -> str:
        """Apparent power when one leg of this rating feeds everything through an adapter."""
        found = SERVICES[service]
        return show(shore.pass_through_va(found.amps, found.volts, 1), "VA")

    # Legs and neutrals

    def in_step_a(self, first: str, second: str) -> str:
        """Neutral current with the legs in phase."""
        return f"{plain(shore.neutral_current_in_phase_a(read(first, 'A'), read(second, 'A')))} A"

    def half_turn_a(self, first: str, second: str) -> str:
        """Neutral current with the legs 180° apart."""
        return f"{plain(shore.neutral_current_split_a(read(first, 'A'), read(second, 'A')))} A"

    # Terminals

    @cached_property
    def push_in_depth(self) -> str:
        """Bare ferrule that a push-in terminal of these units asks for."""
        return f"{plain(terminals.PUSH_IN_BARREL_M * 1000)} mm"

    def push_in_mm(self) -> float:
        """The same as a number, for drawing to scale."""
        return terminals.PUSH_IN_BARREL_M * 1000

    def push_in_strip(self) -> str:
        """Insulation to strip for it."""
        return show(terminals.strip_length_m(terminals.PUSH_IN_BARREL_M, insulated=False), "m")

    def short_barrel(self, awg: str) -> str:
        """Longest barrel of an insulated ferrule below the push-in depth."""
        return f"{plain(self.short_barrel_mm(awg))} mm"

    def short_barrel_mm(self, awg: str) -> float:
        """The same as a number, for drawing to scale."""
        made = terminals.ferrule_barrels_m(awg, insulated=True)
        return max(barrel for barrel in made if barrel < terminals.PUSH_IN_BARREL_M) * 1000

    def refusal(self, awg: str) -> str:
        """Why the usual insulated ferrule of a gauge does not suit a push-in terminal."""
        barrel_m = terminals.ferrule_barrels_m(awg, insulated=True)[0]
        why = terminals.ferrule_refusal(True, barrel_m, terminals.PUSH_IN_BARREL_M)
        if why is None:
            raise ValueError(f"nothing speaks against an insulated ferrule on {awg} AWG")
        depth_m = terminals.PUSH_IN_BARREL_M
        return refusal_text(self.guide.wording.numbers, why, barrel_m, depth_m)

    def ferrules(self) -> list[Ferrule]:
        """One row for each gauge that enters an AC terminal."""
        return [self._ferrule(awg) for awg in FERRULE_SIZES]

    def _ferrule(self, awg: str) -> Ferrule:
        area = terminals.ferrule_area_mm2(awg)

        def lengths(insulated: bool) -> str:
            made = terminals.ferrule_barrels_m(awg, insulated)
            return ", ".join(plain(length * 1000) for length in made) + " mm"

        return Ferrule(
            f"{awg} AWG",
            f"{plain(area, 2)} mm²",
            lengths(False),
            lengths(True),
            ferrules.COLLAR_COLOR[area],
        )

    def hydraulic_from(self) -> str:
        """Gauge from which a lug wants a hydraulic tool."""
        return f"{terminals.HYDRAULIC_FROM} AWG"

    def crimper(self, awg: str) -> str:
        """Kind of tool for the lug of a battery cable."""
        kind = terminals.crimper_kind(awg)
        return self.guide.wording.numbers.one_of("crimper-", kind, CRIMPERS)

    def ends(self, path: str) -> str:
        """Wire ends in the terminals of a recommendation."""
        return self.example(path).ends

    # Mounting and cooling

    def inverter(self, model: str) -> InverterCharger:
        """A unit of the catalog."""
        return next(each for each in self.guide.catalogue.inverters if each.id == model)

    def inverter_name(self, model: str) -> str:
        """Its maker and name."""
        unit = self.inverter(model)
        return f"{unit.maker} {unit.name}"

    def inverter_mass(self, model: str) -> str:
        """Its weight."""
        return show(self.inverter(model).mass, "kg")

    def charge_a(self, model: str) -> str:
        """Its largest charge current."""
        return f"{plain(self.inverter(model).charge_current)} A"

    def fan_factor(self) -> str:
        """How much more air than needed a fan must be good for, by its label."""
        return plain(self.guide.planning.fan_factor, 2)

    def continuous(self, model: str, ambient: str) -> str:
        """What a unit gives for hours in air of this temperature."""
        given_w = inverter.continuous_at(self.inverter(model).continuous, read(ambient, "degC"))
        if given_w is None:
            raise ValueError(f"{model} is not rated at {ambient}")
        return show(given_w, "W")

    def temperature(self, text: str) -> str:
        """A temperature on both scales."""
        return show(read(text, "degC"), "degC")

    def clearances(self, model: str) -> str:
        """Free space that the maker asks for."""
        return clearance_text(self.guide, self.inverter(model).clearances)

    def rise(self) -> str:
        """Warming of the air through the compartment that is planned on."""
        kelvin = self.guide.planning.allowed_rise_k
        return f"{plain(kelvin * 9 / 5)} °F ({plain(kelvin)} °C)"

    def cooling(self, model: str, load: str, ambient: str) -> Cooling:
        """Heat at one load, the air for it, and the opening for that air."""
        unit = self.inverter(model)
        load_w = read(load, "W")
        curve = inverter.fit_losses(unit.efficiency, unit.idle)
        heat_w = inverter.heat_w(curve, load_w)
        air = cooling.airflow_m3_per_h(
            heat_w, self.guide.planning.allowed_rise_k, SEA_LEVEL_M, read(ambient, "degC")
        )
        vent_m2 = cooling.vent_area_m2(air, VENT_VELOCITY_M_PER_S)
        return Cooling(
            show(load_w, "W"),
            show(inverter.efficiency(curve, load_w), "share"),
            show(round(heat_w), "W"),
            show(air, "m^3/h"),
            vent_text(vent_m2),
        )
