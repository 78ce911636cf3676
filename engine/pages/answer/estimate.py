"""The estimate of an answer: parts by the shop's item numbers, labor, tax, until when it holds."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from urllib.parse import quote

from engine.advice.judge.ranking import labor_h
from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.parts import OrderLine
from engine.model.result import Design
from engine.pages.answer.parts_view import PartsView
from engine.wording.tongue import money, plain

MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
CENT = 2
"""Digits of a sum of money after its point."""


@dataclass(frozen=True, slots=True)
class EstimateLine:
    """One item as it is bought; `price` is "" where the shop does not carry it."""

    item: str
    name: str
    quantity: str
    price: str
    link: str


class Estimate:
    """The estimate of one design, as sums and as texts; wanted only where the shop has its days."""

    def __init__(self, guide: Guide, advice: Advice) -> None:
        if advice.best.design is None:
            raise ValueError("a recommendation has a design")
        self.guide = guide
        self.terms = guide.shop.estimate
        self.design: Design = advice.best.design
        self.needs = advice.outcome.needs
        self.listed = PartsView(guide, self.design)

    def orders(self) -> tuple[OrderLine, ...]:
        """What is bought; what the rig has already is no part of it."""
        return tuple(order for order in self.listed.orders() if not order.have)

    def lines(self) -> Iterator[EstimateLine]:
        """The items, each with its number and where the shop's store shows it."""
        texts = {(row.article, row.name): row for row in self.listed.rows()}
        for order in self.orders():
            row = texts[order.product, order.name]
            yield EstimateLine(
                row.article, row.name, row.quantity, row.price, self.link(row.article)
            )

    def link(self, item: str) -> str:
        """Address of an item in the shop's store; "" where either is not known."""
        where = self.terms.item_link
        return where.replace("{item}", quote(item, safe="")) if where and item else ""

    @cached_property
    def parts_price(self) -> float:
        """Sum of the parts, each line to the cent, so that the lines add up to it."""
        return round(sum(round(order.price, CENT) for order in self.orders()), CENT)

    @cached_property
    def hours(self) -> float:
        """Planning hours of labor [h], to a tenth."""
        return round(labor_h(self.guide, self.needs, self.design), 1)

    @cached_property
    def labor_price(self) -> float:
        """Labor for these hours, to the cent."""
        return round(self.hours * self.terms.rate, CENT)

    @cached_property
    def tax_price(self) -> float:
        """Tax on the parts, and on labor where that is taxed, to the cent."""
        taxed = self.parts_price + (self.labor_price if self.terms.labor_taxed else 0.0)
        return round(taxed * self.terms.tax, CENT)

    @cached_property
    def total(self) -> float:
        """Everything together, to the cent."""
        return round(self.parts_price + self.labor_price + self.tax_price, CENT)

    def sums(self) -> list[tuple[str, str]]:
        """The sums with their names, the total last."""
        page = self.guide.wording.page
        hours = self.guide.wording.numbers.count("count-hours", self.hours, 1)
        labor = page.say("estimate-labor", hours=hours, rate=money(self.terms.rate))
        tax = page.say("estimate-tax", tax=plain(self.terms.tax * 100, 2))
        return [
            (page["estimate-parts"], money(self.parts_price)),
            *([(labor, money(self.labor_price))] if self.terms.rate else []),
            *([(tax, money(self.tax_price))] if self.terms.tax else []),
            (page["total"], money(self.total)),
        ]

    def terms_said(self) -> str:
        """Until when it holds, and that it is no quote."""
        until = day_after(self.guide.shop.prices_as_of, self.terms.days)
        page = self.guide.wording.page
        return page.say("estimate-terms", until=until, date=self.guide.shop.prices_as_of)

    def left_out(self) -> str:
        """What is not in it: not the labor and tax that are among its sums."""
        page, parts = self.guide.wording.page, self.guide.wording.parts
        names = [each.what for each in self.listed.left_out(self.needs)]
        if self.terms.rate and self.terms.tax:
            counted, rest = parts["out-labor"], page["estimate-left-out"]
            names = [rest if name == counted else name for name in names]
        return " · ".join(names)


def estimate_of(guide: Guide, advice: Advice | None) -> Estimate | None:
    """The estimate of an answer; None where nothing fits, or the shop wants none."""
    if advice is None or not guide.shop.estimate.days:
        return None
    return Estimate(guide, advice)


def day_after(day: str, days: int) -> str:
    """The day so many days after another one, in the Gregorian calendar.

    >>> day_after("2026-01-15", 45), day_after("2028-02-28", 1), day_after("2026-12-31", 366)
    ('2026-03-01', '2028-02-29', '2028-01-01')
    """
    year, month, number = map(int, day.split("-"))
    number += days
    while number > (length := _length(year, month)):
        number -= length
        year, month = (year, month + 1) if month < len(MONTH_DAYS) else (year + 1, 1)
    return f"{year:04}-{month:02}-{number:02}"


def _length(year: int, month: int) -> int:
    leap = month == 2 and year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    return MONTH_DAYS[month - 1] + leap
