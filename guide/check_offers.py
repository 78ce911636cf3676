"""Stock and offers that cannot be: dates, successors, opened units."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from engine.model.guide import Shop
from engine.model.products import Article, OpenBox
from guide.content_read import ContentRead
from guide.fault import Fault, suggest
from guide.reading import Place, Record

DAY = "Write a day as 2026-01-31."


def offers(content: ContentRead) -> Iterator[Fault]:
    """Faults of dates, stock, successors and opened units."""
    shop = content.shop.value
    if shop is not None:
        yield from _shop(content.shop, shop)
    for records in content.catalogue.values():
        articles = {each.id: each.value for each in records if each.id}
        for record in records:
            article = record.value
            if article is None:
                continue
            yield from _date(record, ("as_of",), article.as_of)
            if shop is not None and article.as_of:
                yield from _too_old(record, ("as_of",), article.as_of, shop.refuse_before)
            yield from _successor(record, article, articles)
            yield from _opened(record, article)


def _shop(record: Record[Shop], shop: Shop) -> Iterator[Fault]:
    for name in ("prices_as_of", "refuse_before"):
        yield from _date(record, (name,), getattr(shop, name))
    if not shop.prices_as_of:
        yield record.fault(("prices_as_of",), "“prices_as_of”", "an edition has a date", DAY)
    yield from _too_old(record, ("prices_as_of",), shop.prices_as_of, shop.refuse_before)


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _date(record: Record[Any], path: Place, text: str) -> Iterator[Fault]:
    if text and _day(text) is None:
        yield record.fault(path, f"“{path[0]}”", f"“{text}” is no day", DAY)


def _too_old(record: Record[Any], path: Place, text: str, oldest: str) -> Iterator[Fault]:
    day, limit = _day(text), _day(oldest)
    if day and limit and day < limit:
        what = f"“{record.id}”, {path[0]}" if record.id else f"“{path[0]}”"
        why = f"its price and stock are of {text}, and the shop refuses those from before {oldest}"
        yield record.fault(path, what, why, "Look them up again and write today's date.")


def _successor(
    record: Record[Any], article: Article, articles: dict[str, Article | None]
) -> Iterator[Fault]:
    """Its successor, or that one's, and so on, is sold; a broken one has been told already."""
    what = f"“{record.id}”, successor"
    if article.successor and article.sold:
        why = "only a discontinued article has one"
        mend = "Write stock: discontinued, or take the successor out."
        yield record.fault(("successor",), what, why, mend)
    elif article.successor:
        name = _last_of(article, articles)
        last = articles.get(name)
        if name not in articles or (last is not None and not last.sold):
            why = f"“{name}” is not sold among the articles of this file"
            sold = [each.id for each in articles.values() if each and each.sold]
            yield record.fault(("successor",), what, why, suggest(name, sold))


def _last_of(article: Article, articles: dict[str, Article | None]) -> str:
    """The id at which the successors end; where they go round in a circle, one of them."""
    passed: set[str] = set()
    at = article.successor
    while at not in passed and (later := articles.get(at)) and later.successor:
        passed.add(at)
        at = later.successor
    return at


def _opened(record: Record[Any], article: Article) -> Iterator[Fault]:
    opened: tuple[OpenBox, ...] = getattr(article, "open_box", ())
    for at, each in enumerate(opened):
        place = ("open_box", at)
        what = f"“{record.id}”, open_box"
        if not each.condition.strip():
            mend = "Say what it looks like and what is missing."
            yield record.fault((*place, "condition"), what, "its condition is not told", mend)
        if each.count < 1:
            mend = "Take the entry out when the last one is sold."
            yield record.fault((*place, "count"), what, "there is none of it", mend)
        if each.price >= getattr(article, "price", 0.0):
            why = "an opened one costs as much as a new one"
            yield record.fault((*place, "price"), what, why, "Write a lower price.")
