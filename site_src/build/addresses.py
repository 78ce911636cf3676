"""Where the site's pages are found: the one address of each, and the list of them all."""

import html
import re
from collections.abc import Iterable

from engine.model.guide import Guide

LOC = re.compile(r"<loc>(.*?)</loc>")
INDEX = "index.html"


def root_of(guide: Guide) -> str:
    """Address of the shop's site.

    >>> from guide.load import load_guide
    >>> root_of(load_guide())
    'https://morrowfen.example/'
    """
    return f"https://{guide.shop.site}/"


def canonical(address: str) -> str:
    """The one address of a page: a folder is named without the file that is shown for it.

    >>> canonical("https://shop.example/explained/index.html")
    'https://shop.example/explained/'
    """
    return address.removesuffix(INDEX) if address.endswith(f"/{INDEX}") else address


def sitemap(theirs: str, ours: Iterable[str]) -> str:
    """The list of all pages: the theme's own, then those that the guide drew itself.

    Days are left out: the build knows none, so that two builds are the same bytes.
    """
    found = [html.unescape(address) for address in LOC.findall(theirs)]
    rows = [
        f"<url><loc>{html.escape(address)}</loc></url>"
        for address in dict.fromkeys([*found, *ours])
    ]
    start = '<?xml version="1.0" encoding="UTF-8"?>\n'
    schema = "http://www.sitemaps.org/schemas/sitemap/0.9"
    return "\n".join([f'{start}<urlset xmlns="{schema}">', *rows, "</urlset>", ""])
