"""An estimate's terms that cannot be: negative sums, addresses that lead nowhere."""

from collections.abc import Iterator
from urllib.parse import urlsplit

from engine.model.guide import Shop
from guide.content_read import ContentRead
from guide.fault import Fault
from guide.reading import Record

MOST_TAX = 0.5
"""Share above which a tax was mistyped (common practice, no source)."""
MOST_DAYS = 366


def estimates(content: ContentRead) -> Iterator[Fault]:
    """Faults of the terms on which the shop makes an estimate."""
    record, shop = content.shop, content.shop.value
    if shop is None:
        return
    terms = shop.estimate
    if not 0 <= terms.days <= MOST_DAYS:
        why, mend = f"it holds {terms.days} days", f"Write days from 1 to {MOST_DAYS}."
        yield record.fault(("estimate", "days"), "“days”", why, mend)
    if terms.rate < 0:
        why = "labor costs less than nothing"
        yield record.fault(("estimate", "rate"), "“rate”", why, "Write a rate such as 110 USD/h.")
    if not 0 <= terms.tax <= MOST_TAX:
        why = f"a tax of {terms.tax * 100:g} % was not meant"
        yield record.fault(("estimate", "tax"), "“tax”", why, "Write a share such as 6 %.")
    yield from _address(record, "form", terms.form)
    yield from _address(record, "item_link", terms.item_link)
    if terms.item_link and "{item}" not in terms.item_link:
        why = "it says nowhere where the item's number stands"
        mend = "Write {item} in the place of the number."
        yield record.fault(("estimate", "item_link"), "“item_link”", why, mend)


def _address(record: Record[Shop], name: str, address: str) -> Iterator[Fault]:
    parts = urlsplit(address)
    if address and (parts.scheme != "https" or not parts.hostname):
        why = f"“{address}” is no whole address of a page"
        mend = "Write it as https://shop.example/page."
        yield record.fault(("estimate", name), f"“{name}”", why, mend)
