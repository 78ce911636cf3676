"""What a page shows its figures of: chosen among what this shop has by what it is, never by its id.

A shop that replaces every product keeps every page. What it has nothing for is told by
`LackingError`; what a page can do without is "" or None, and the page leaves it out.
"""

import math
from collections.abc import Callable, Iterable
from typing import TypeVar

from engine.links import path_of, read_link
from engine.model.answers import UNSURE, Answers, Value
from engine.model.buses import LEG
from engine.model.guide import Appliance, Guide, Question, Rig
from engine.model.products import Article, Battery
from engine.respond import conversation_of
from engine.standards import awg
from engine.tree import options
from engine.typed.load_names import appliance_called
from engine.units import read
from engine.usual import usual_case

T = TypeVar("T", bound=Article)
USUAL_AIRCON_W = 1480.0
"""A roof air conditioner of 13,500 BTU/h; common practice, no source."""
COOLER = "air conditioner"
MOTOR, NO_MOTOR = "motor", "no-motor"


class LackingError(Exception):
    """A page needs something that this shop has none of; `mend` says what to do."""

    def __init__(self, why: str, mend: str) -> None:
        super().__init__(why)
        self.why = why
        self.mend = mend


class Examples:
    """Choices that a page names by what they are; quantities as people write them.

    walked: ways are those that a visitor is asked along, which takes all answers of the short path
        to find out; else each is what it names, which leads to the same answer
    """

    def __init__(self, guide: Guide, *, walked: bool = True) -> None:
        self.guide = guide
        self.walked = walked

    # Products

    def unit(self, apparent: str, volts: str) -> str:
        """The one-leg unit nearest to this power, on this voltage or the nearest that is sold."""
        wanted_va, wanted_v = read(apparent, "VA"), read(volts, "V")
        units = [each for each in self.guide.catalogue.inverters if each.output == "one-leg"]
        return _nearest(
            units or self.guide.catalogue.inverters,
            lambda unit: (_far(unit.dc_nominal, wanted_v), _far(unit.apparent, wanted_va)),
            "inverter/charger",
        ).id

    def units(self, apparent: str) -> dict[str, str]:
        """Such a unit for each battery voltage on which this shop sells any, the lowest first."""
        sold = sorted({each.dc_nominal for each in self.guide.catalogue.inverters})
        return {f"{volts:g} V": self.unit(apparent, f"{volts:g} V") for volts in sold}

    def batteries(self, volts: str, capacity: str, *chemistries: str) -> list[str]:
        """Of each kind that this shop sells, the battery nearest to this size."""
        found = []
        for chemistry in chemistries:
            sold = [each for each in self.guide.catalogue.batteries if each.chemistry == chemistry]
            found += [self._battery(volts, capacity, sold)] if sold else []
        return found

    def battery(self, volts: str, capacity: str) -> str:
        """The lithium battery nearest to this size, or the nearest of another kind."""
        found = self.batteries(volts, capacity, "lifepo4")
        return found[0] if found else self._battery(volts, capacity, self.guide.catalogue.batteries)

    def _battery(self, volts: str, capacity: str, sold: Iterable[Battery]) -> str:
        wanted_v, wanted_ah = read(volts, "V"), read(capacity, "Ah")
        return _nearest(
            sold,
            # 12.8 V and 12 V are one voltage of a bank, 24 V is another
            lambda each: (round(_far(each.nominal, wanted_v)), _far(each.capacity, wanted_ah)),
            "battery",
        ).id

    def cable(self, gauge: str) -> str:
        """The gauge of battery cable that this shop sells, nearest to this one."""
        sold = [each for each in self.guide.catalogue.cables if each.use == "dc"]
        wanted = awg.rank(gauge)
        return _nearest(sold, lambda each: (abs(awg.rank(each.awg) - wanted),), "battery cable").awg

    # Loads

    def load(self, name: str) -> str:
        """The appliance that people call so; "" where this shop's list has none."""
        return appliance_called(self.guide, name) or (self._cooler() if name == COOLER else "")

    def loads(self, *names: str) -> list[str]:
        """Those of these names that there are."""
        return list(dict.fromkeys(filter(None, map(self.load, names))))

    def air_conditioner(self) -> str:
        """The roof air conditioner nearest to the usual one."""
        found = self._cooler()
        if not found:
            raise LackingError(
                "it needs an air conditioner on 120 V whose motor a soft starter can help",
                "Add one to loads.yaml (soft_startable: true, with its locked_rotor), or take the "
                "page out of explanations.yaml.",
            )
        return found

    def _cooler(self) -> str:
        cooling = (
            each
            for each in self.guide.appliances
            if each.bus is LEG and each.soft_startable and each.locked_rotor
        )
        found = min(cooling, key=lambda each: _far(each.running, USUAL_AIRCON_W), default=None)
        return found.id if found else ""

    def watts(self, name: str) -> str:
        """What an appliance draws, as people type it."""
        return f"{self.guide.appliance(name).running:g} W"

    def combinations(self, *names: tuple[str, ...]) -> list[tuple[str, ...]]:
        """Lists of appliances that run at once; those of which one is missing are left out."""
        found = [tuple(map(self.load, each)) for each in names]
        return [each for each in found if all(each)]

    # Ways through the guide

    def way(self, service: str, **wanted: str) -> str | None:
        """The page of a rig on this service, as far as these answers go; None without such a rig.

        biggest: "motor" is the first choice whose load has one, "no-motor" the first other
        """
        return self._path(service, wanted, to_the_end=False)

    def answer(self, service: str, **wanted: str) -> str | None:
        """The answer of such a rig; what is asked besides is answered with the usual case.

        None without such a rig, or where nothing that this shop sells fits.
        """
        path = self._path(service, wanted, to_the_end=True)
        if path is None:
            return None
        found = conversation_of(self.guide).usual_outcome(read_link(self.guide, path))
        return path if found.best else None

    def unsure(self) -> str:
        """The page of somebody who does not know what kind of rig it is."""
        return self._place(Answers({"rig": UNSURE}))

    def rig(self, service: str) -> Rig | None:
        """The first kind of rig on this service, or on one whose name begins so."""
        return next((each for each in self.guide.rigs if each.service.startswith(service)), None)

    def needed(self, service: str, **wanted: str) -> str:
        """The same answer, for a page that makes no sense without it."""
        found = self.answer(service, **wanted)
        if found is None:
            if self.rig(service):
                raise LackingError(
                    f"nothing that this shop sells fits the answers of this example ({wanted})",
                    "Sell what fits, or take the page out of explanations.yaml.",
                )
            raise LackingError(
                f"it needs a kind of rig whose service is “{service}”",
                "Add one to rigs.yaml, or take the page out of explanations.yaml.",
            )
        return found

    def _path(self, service: str, wanted: dict[str, str], *, to_the_end: bool) -> str | None:
        rig = self.rig(service)
        if rig is None:
            return None
        given: dict[str, Value] = {"rig": rig.id}
        for name, text in wanted.items():
            question = self.guide.question(name)
            choice = self._choice(rig, question, text)
            if choice in options(question):
                given[name] = choice
        answers = Answers(given)
        return self._place(usual_case(self.guide, answers) if to_the_end else answers)

    def _place(self, answers: Answers) -> str:
        if not self.walked:
            return path_of(self.guide, answers)
        return conversation_of(self.guide).place(answers)[0]

    def _choice(self, rig: Rig, question: Question, wanted: str) -> str:
        if question.id != "biggest" or wanted not in (MOTOR, NO_MOTOR):
            return wanted
        loads: dict[str, Appliance] = {
            choice.id: self.guide.appliance(rig.heavy[choice.id][0])
            for choice in question.choices
            if rig.heavy.get(choice.id)
        }
        with_motor = wanted == MOTOR
        kinds = (choice for choice, load in loads.items() if bool(load.locked_rotor) == with_motor)
        return next(kinds, "")


def _far(value: float, wanted: float) -> float:
    """How far a figure is from the wanted one, in doublings."""
    return abs(math.log2(value / wanted))


def _nearest(sold: Iterable[T], far: Callable[[T], tuple[float, ...]], what: str) -> T:
    """The first of those that are nearest."""
    found = min(sold, key=far, default=None)
    if found is None:
        raise LackingError(
            f"this shop sells no {what}",
            "Add one to the catalog, or take the page out of explanations.yaml.",
        )
    return found
