"""Hostile links: each of these texts in each place where a link carries something from outside."""

from collections.abc import Iterator
from itertools import product
from urllib.parse import quote

PATH = "rig=coach-50/scope=whole/heavy=1/biggest=cooking/v240=no/"
TEXTS = (
    # markup, scripts, templates, formulas
    "<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "<svg/onload=alert(1)>",
    "</textarea><b>", "--><!--region--><p>", "<!--end-->", "javascript:alert(1)", "&lt;b&gt;&#0;",
    "{{ 7*7 }}", "{page.__class__}", "{0[0]}", "%s%n%x", "$(id)", "`id`", "'; DROP TABLE x;--",
    '=HYPERLINK("http://x.example","y")', "+1+cmd|' /C calc'!A0", "@SUM(1)", "../../etc/passwd",
    # signs
    "15\x00ft", "\x1b[2J\x1b[31mred", "\x07\x08\x7f", "\x9b31m", "15\u202eft", "\u2066ab\u2069",
    "\u200b\u200c\u200d15\u00a0ft\ufeff", "\ud800", "\U000e0041\U000e0042", "\uffff", "\ue000",
    "a\u0300\u0301\u0302\u0303" * 40, "\u0489" * 300, "a\u2028b\u2029c\x85d", "\r\nSet-Cookie: a=b",
    "שלום 15 ft", "مرحبا", "١٥ ft", "１５ ft", "㎞", "½½½", "ﬀ", "İI",
    "👨‍👩‍👧‍👦", "\u3164", "﷽" * 50,
    # lengths
    "a" * 590, "9" * 99, "9" * 590, "0." + "0" * 90 + "1 ft", " " * 590 + "1 ft", "W" * 5000,
    "é" * 590, "1 " * 290, "½" * 590, "x" * 19_000, "a b " * 140, "-" * 590, "." * 590, ":" * 590,
    "9" * 20 + "ft", "%" * 120, "_" * 200, "/" * 200, "漢" * 150, "😀" * 90, "e\u0301" * 200,
    "\u202e" + "abc" * 60, "\u00a0" * 200, "x\u200b" * 90, "&nbsp;" * 60,
    "https://elsewhere.example/" + "a" * 200, "<table><tr><td>" + "b" * 200,
    # numbers
    "1e999 ft", "inf ft", "nan", "-0 ft", "1m^9^9^9^9", "1m" + "^9" * 100,
    "1 m**9**9", "0x10 ft", "1_000 ft", "1/0 ft", "99/99 ft", "1,2,3,4 ft", "1.2.3 ft", "--5 ft",
    "1 ft 2 ft 3 ft", "1e-400 ft",
    # separators of the grammar
    "a=b=c", "a&b&c", "a#b#c", "a/b/c", "%", "%zz", "%00", "%25%30%30", "+++", ";;;", ",,,", "***",
)  # fmt: skip
"""Texts that somebody might send: to run something, to hide something, to keep a machine busy."""
PLACES = (
    "{path}#cable={text}",
    "{path}#loads={text}:100W",
    "{path}#have={text}&bay={text}",
    "{path}#note={text}",
    "{path}#{text}=1",
    "{path}{text}/",
    "{path}#edition={text}&have={text}",
)
"""Where a text stands: a quantity, names, lists, a note, a question, the path, the rest."""


def links() -> Iterator[tuple[str, str]]:
    """Each hostile link as path and fragment."""
    for text, place in product(TEXTS, PLACES):
        sent = quote(text, safe="", errors="surrogatepass")
        path, _, fragment = place.format(path=PATH, text=sent).partition("#")
        yield path, fragment
