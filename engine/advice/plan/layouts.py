"""Every wiring layout with every inverter-charger that can be wired so."""

from collections.abc import Iterator

from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import PowerNeeds
from engine.model.products import InverterCharger
from engine.model.result import Candidate

SINGLE = "single"
TWO_LEG = "two-leg"
SPLIT_PAIR = "split-phase-pair"
PARALLEL_PAIR = "parallel-pair"
SUB_PANEL = "sub-panel"
SPLIT_NATIVE = "split-phase-native"

LAYOUTS = (SINGLE, TWO_LEG, SPLIT_PAIR, PARALLEL_PAIR, SUB_PANEL, SPLIT_NATIVE)


@kept("guide", 8)
def candidates(guide: Guide, to_soften: int) -> tuple[Candidate, ...]:
    """All candidates, in the order of the catalog; unsuitable ones too: checks say why.

    to_soften: see `motors_to_soften`
    """
    return tuple(
        Candidate(layout, inverter, units, soft_starters, legs, units_per_leg)
        for inverter in guide.catalogue.inverters
        for layout, units, legs, units_per_leg in _wirings(inverter)
        for soft_starters in ((0, to_soften) if to_soften else (0,))
    )


def motors_to_soften(needs: PowerNeeds) -> int:
    """How many motors that run at once could be given a soft starter and have none."""
    if needs.soft_start_fitted:
        return 0
    return sum(1 for load in needs.running if load.soft_startable)


def _wirings(inverter: InverterCharger) -> Iterator[tuple[str, int, int, float]]:
    """Layout, number of units, legs that the output has, units that share one leg."""
    if inverter.output == "split-phase":
        yield SPLIT_NATIVE, 1, 2, 0.5
        return
    if inverter.legs_passed == 1:
        yield SINGLE, 1, 1, 1.0
    else:
        yield TWO_LEG, 1, 1, 1.0
    yield SUB_PANEL, 1, 1, 1.0
    if "split-phase" in inverter.pairs:
        yield SPLIT_PAIR, 2, 2, 1.0
    if "parallel" in inverter.pairs:
        yield PARALLEL_PAIR, 2, 1, 2.0
