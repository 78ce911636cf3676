"""Between which sums the parts cost, and which article of several is bought."""

from dataclasses import replace
from typing import Any

import pytest

from engine.advice.plan.part_lines import TOOLS
from engine.advice.plan.price import price_range
from engine.model.guide import Guide
from engine.model.parts import orders_of
from engine.model.products import OpenBox
from tests.advice.conftest import AIRCON, COOKING, VAN, Case, MakeCase, with_shelf
from tests.advice.test_buses import rooftop

BIG_BANK = f"{COOKING} bank=12V nights=4"


def least(found: Case, guide: Guide) -> float:
    return price_range(guide, found.design)[0]


@pytest.mark.parametrize(
    ("offers", "saved"),
    [
        ((), 0.0),
        (((30.0, 1),), 30.0),
        (((30.0, 1), (20.0, 1)), 50.0),
        (((10.0, 1), (30.0, 1)), 40.0),
        (((30.0, 1), (20.0, 5)), None),
        (((30.0, 99),), None),
    ],
)
def test_opened_ones_are_taken_cheapest_first_as_many_as_there_are(
    case: MakeCase, guide: Guide, offers: tuple[tuple[float, int], ...], saved: float | None
) -> None:
    """Arithmetic: each opened one costs less by so much, and no more are bought than are needed."""
    found = case(BIG_BANK)
    bank = found.design.bank
    assert bank.count >= 2
    own = bank.battery
    opened = tuple(
        OpenBox(condition="opened", price=own.price - less, count=count) for less, count in offers
    )
    others = tuple(each for each in guide.catalogue.batteries if each.id != own.id)
    plain = with_shelf(guide, batteries=(*others, replace(own, open_box=())))
    shelf = with_shelf(guide, batteries=(*others, replace(own, open_box=opened)))
    if saved is None:  # more offers than are needed: the first saves 30, others what they save
        rest = 20.0 if len(offers) > 1 else 30.0
        saved = 30.0 + rest * (bank.count - 1)
    assert least(found, plain) - least(found, shelf) == pytest.approx(saved)


@pytest.mark.parametrize("text", [VAN, BIG_BANK])
def test_of_what_is_the_same_the_cheapest_is_bought(
    case: MakeCase, guide: Guide, text: str
) -> None:
    fuse = case(text).design.dc.fuse
    monitors = guide.catalogue.monitors
    dear = tuple(replace(each, id=f"{each.id}-dear", price=each.price + 500.0) for each in monitors)
    found = case(text, with_shelf(guide, monitors=(*dear, *monitors)))
    assert found.design.dc.fuse == fuse
    assert not [line for line in found.design.parts if line.product.endswith("-dear")]


@pytest.mark.parametrize("have", ["", " have=2x200Ah-12V-lifepo4-1y"])
def test_the_sum_is_that_of_the_lines_and_what_is_there_costs_and_weighs_nothing(
    case: MakeCase, have: str
) -> None:
    design = case(f"{VAN}{have}").design
    orders = orders_of(design.parts)
    assert design.parts_price == pytest.approx(sum(each.price for each in orders))
    there = [line for line in design.parts if line.have]
    assert bool(there) == bool(have)
    assert all(
        (line.price_each, line.mass_each_kg) == (0.0, 0.0) for line in there if not line.product
    )


def test_tools_weigh_nothing_in_the_rig(case: MakeCase) -> None:
    lines = [line for line in case(BIG_BANK).design.parts if line.group in TOOLS]
    assert lines
    assert {line.mass_each_kg for line in lines} == {0.0}


@pytest.mark.parametrize(
    ("kind", "group"),
    [
        ("monitors", "soc-monitor"),
        ("precharges", "precharge"),
        ("fans", "fan"),
        ("alternator_chargers", "alternator-charger"),
        ("step_downs", "step-down"),
        ("crimpers", "lug-crimper"),
        ("soft_starters", "soft-starter"),
        ("buffers", "buffer"),
        ("busbars", "busbar"),
    ],
)
def test_of_several_that_will_do_the_list_holds_the_cheapest(
    case: MakeCase, guide: Guide, kind: str, group: str
) -> None:
    """Whichever stands first on the shelf."""
    text = {
        "fan": f"{COOKING} mount=sideways",
        "alternator-charger": f"{VAN} alt=180A drive=2h",
        "step-down": f"{VAN} bank=24V",
        "soft-starter": AIRCON,
        "buffer": f"{COOKING} bank=24V house=none loads=microwave,rooftop-12v",
        "busbar": BIG_BANK,
    }.get(group, COOKING)
    motor = rooftop(guide, running=120.0, locked_rotor=100.0, start_time=0.8)
    found = case(text, motor)
    like = next(line for line in found.design.parts if line.group == group)
    article: Any = motor.article(like.product)
    cheap, dear = (
        replace(article, id=name, price=price, pack=1)
        if hasattr(article, "pack")
        else replace(article, id=name, price=price)
        for name, price in (("cheap", 1.0), ("dear", 2.0))
    )
    for shelf in ((cheap, dear), (dear, cheap)):
        again = case(text, with_shelf(motor, **{kind: shelf}))
        assert {line.product for line in again.design.parts if line.group == group} == {"cheap"}
