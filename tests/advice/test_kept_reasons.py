"""What is told of batteries that cannot stay, and that the same bank is planned again."""

import pytest

from engine.advice.judge.consider import Powered, design_of, only_of
from engine.advice.judge.keeping import _fault
from engine.advice.plan.kept import battery_of
from engine.model.result import Check
from engine.sizing.bank import ReuseFault
from tests.advice.conftest import COOKING, VAN, MakeCase

COOK = "rig=van scope=whole heavy=1 biggest=cooking"
SMALL = f"{COOKING} bank=12V have=1x100Ah-12V-lifepo4-5y"


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        (SMALL, ("current", "start", "energy")),
        (f"{COOK} have=2x100Ah-12V-lifepo4-1y", ("current", "energy")),
        (f"{COOKING} bank=24V have=3x100Ah-12V-lifepo4-1y", ("current", "energy")),
    ],
)
def test_what_theirs_can_do_is_told_before_what_is_asked(
    case: MakeCase, text: str, codes: tuple[str, ...]
) -> None:
    """They cannot stay, so each figure of theirs is below what is asked."""
    found = case(text)
    keeping = found.outcome.keeping
    assert keeping is not None
    assert tuple(each.code for each in keeping.faults) == codes
    for each in keeping.faults:
        assert isinstance(each.has, float) and isinstance(each.needs, float)
        assert each.has < each.needs, each
    theirs, asked = battery_of(found.guide, keeping.bank), found.design.bank
    series = asked.series
    current = next(each for each in keeping.faults if each.code == "current")
    assert current.has == theirs.continuous_current * (keeping.bank.count // series)
    assert current.needs == pytest.approx(asked.continuous_a)


@pytest.mark.parametrize(
    ("check", "fault"),
    [
        (Check("battery-current", 150.0, 100.0, "A", True), ("current", 100.0, 150.0)),
        (Check("battery-surge", 300.0, 200.0, "A", True), ("start", 200.0, 300.0)),
        (Check("kept-energy", 1200.0, 2400.0, "Wh", False), ("energy", 1200.0, 2400.0)),
        (Check("charge-cold", -10.0, 0.0, "degC", False), ("cold", -10.0, 0.0)),
        (Check("kept-share", 0.2, 0.25, "share", False), ("share", 0.2, 0.25)),
        (Check("kept-parallel", 6.0, 4.0, "count", True), ("strings", 6.0, 4.0)),
        (Check("cable", 300.0, 200.0, "A", True), ("cable", 300.0, 200.0)),
    ],
)
def test_each_check_that_fails_gives_a_reason_with_its_figures(
    check: Check, fault: tuple[str, float, float]
) -> None:
    """Currents are asked for in the check, and have the two the other way round."""
    assert _fault(check) == ReuseFault(*fault)


@pytest.mark.parametrize(
    ("text", "use", "kept"),
    [
        (f"{VAN} have=1x300Ah-12V-lifepo4-2y", "all", 1),
        (f"{COOK} have=4x100Ah-12V-lifepo4-1y", "all", 4),
        (f"{COOK} have=2x100Ah-12V-lifepo4-1y", "more", 2),
        (VAN, "all", 0),
    ],
)
def test_a_bank_is_planned_again_as_it_was(case: MakeCase, text: str, use: str, kept: int) -> None:
    """All of theirs stay all of theirs; only a bank with new ones beside them may grow."""
    found = case(text)
    bank, best = found.design.bank, found.best
    only = only_of(bank)
    assert (only.kept, only.yours, only.battery) == (bank.kept, bank.yours, bank.battery)
    assert bank.kept == kept
    assert kept == 0 or only.use == use
    powered = Powered(best.candidate, best.design.supply if best.design else found.supply, ())
    again = design_of(found.guide, found.needs, powered, only)
    assert again.design is not None
    assert again.design.bank == bank
