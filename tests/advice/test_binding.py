"""Which constraint is said to bind where nothing fits."""

from dataclasses import replace

import pytest

from engine.advice.judge.binding import binding_of
from engine.advice.plan.fittings import hardware_for
from engine.model.guide import Guide
from engine.model.result import Check, Considered
from engine.standards import awg
from tests.advice.conftest import VAN, MakeCase


def miss(name: str, value: float = 2.0) -> Check:
    return Check(name, value, 1.0, "", True)


@pytest.fixture(scope="module")
def like(case: MakeCase) -> Considered:
    return case(VAN).outcome.considered[0]


@pytest.mark.parametrize(
    ("failed", "name", "of"),
    [
        ((("fit",),), "space", 0),
        ((("payload", "fit"), ("fit",)), "space", 1),
        ((("fit",), ("payload",)), "weight", 1),
        ((("temperature", "continuous-w"),), "heat", 0),
        ((("temperature",), ("continuous-w",)), "power", 1),
        ((("fit", "continuous-w"), ("payload", "fit")), "power", 0),
    ],
)
def test_what_fails_alone_binds_else_the_last_of_the_nearest(
    like: Considered, failed: tuple[tuple[str, ...], ...], name: str, of: int
) -> None:
    """Heat takes the power with it, so both together are heat alone."""
    considered = [replace(like, checks=tuple(map(miss, each)), design=None) for each in failed]
    found, nearest, check = binding_of(considered)
    assert (found, nearest) == (name, considered[of])
    assert check in nearest.checks


def test_hardware_holds_from_its_smallest_size_to_its_largest(guide: Guide) -> None:
    for each in guide.catalogue.hardware:
        if each.smallest_awg:
            for size in (each.smallest_awg, each.largest_awg):
                assert each in hardware_for(guide, each.use, size)
            beyond = [
                size
                for size in awg.SIZES
                if not awg.rank(each.smallest_awg) <= awg.rank(size) <= awg.rank(each.largest_awg)
            ]
            assert not [size for size in beyond if each in hardware_for(guide, each.use, size)]
    assert any(each.smallest_awg for each in guide.catalogue.hardware)
