"""Content is read by the engine's own table, in bounded time whatever stands there."""

from dataclasses import dataclass

import pytest

from engine.model.fields import FlowByPressure, Meters
from guide.fault import Fault
from guide.reading import compose, read_record


@dataclass(frozen=True)
class Article:
    """An object with a quantity, a plain number and a curve."""

    length: Meters = 0.0
    share: float = 0.0
    count: int = 0
    flow: FlowByPressure = ()


def read(text: str) -> tuple[Article | None, list[Fault]]:
    faults: list[Fault] = []
    node = compose("articles.yaml", text)
    assert not isinstance(node, Fault)
    return read_record("articles.yaml", node, Article, faults).value, faults


def test_quantities_are_read_as_a_visitor_s_are() -> None:
    article, faults = read("length: six feet\nflow: [120 m^3/h at 0 Pa, 70 CFM at 20 Pa]")
    assert not faults
    assert article is not None
    assert article.length == pytest.approx(1.8288)
    assert article.flow[0] == (0.0, 120.0)
    assert article.flow[1] == pytest.approx((20.0, 118.930756))


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("length: 1 m^9^9^9^9", "is no unit known here"),
        ("length: 1m^9^9^9^9", "is no unit known here"),
        (f"length: {'9' * 400} m", "is not understood"),
        ("length: 1e999 m", "is no unit known here"),
        (f'length: "1{" " * 9000}m{" " * 9000}2"', "is no unit known here"),
        ("share: 1e999", "is no number that can be computed with"),
        ("share: .inf", "is no number"),
        ("share: nan", "is no number that can be computed with"),
        (f"share: {'9' * 400}", "is no number that can be computed with"),
        (f"count: {'9' * 400}", "is no number that can be computed with"),
        (f'flow: ["1 m^3/h{" " * 9000}0 Pa"]', "is no point"),
    ],
)
def test_what_cannot_be_computed_with_is_a_fault(text: str, why: str) -> None:
    article, (fault,) = read(text)
    assert article is None
    assert why in fault.why or why in fault.what
