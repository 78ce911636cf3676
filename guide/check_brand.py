"""Faults of shop.yaml that show outside: addresses, colors that cannot be read, pictures."""

import re
from collections.abc import Iterator
from pathlib import Path

from engine.model.brand import Brand, Colors
from engine.model.guide import Shop
from guide.contrast import GRAPHIC, GROUNDS, TEXT, contrast, nearest_that_reads, schemes
from guide.fault import Fault
from guide.reading import Record

SITE = re.compile(r"(?:[a-z0-9-]+\.)*[a-z0-9-]+(?::\d+)?(?:/[\w.~-]+)*", re.IGNORECASE)
SCHEME = re.compile(r"^\s*(?:[a-z][a-z+.-]*:)?/{2,}", re.IGNORECASE)
EMAIL = re.compile(r"[^@\s]+@[^@\s]+\.[^@\s.]+")
COLOR = re.compile(r"#[0-9a-f]{6}")
MOST_BYTES = {"logo": 100_000, "image": 400_000}
KINDS = {"logo": (".svg", ".png"), "image": (".png", ".jpg")}


def brand_faults(record: Record[Shop], folder: Path) -> list[Fault]:
    """What is wrong with the shop's addresses, colors and pictures.

    folder: the content, in which the pictures are
    """
    shop = record.value
    if shop is None:
        return []
    return [
        *_addresses(record, shop),
        *_colors(record, shop.brand.colors),
        *_pictures(record, shop.brand, folder),
    ]


def _addresses(record: Record[Shop], shop: Shop) -> Iterator[Fault]:
    if not SITE.fullmatch(shop.site):
        bare = SCHEME.sub("", shop.site).strip().removesuffix("index.html").strip("/")
        good = bare if SITE.fullmatch(bare) else "shop.example"
        why = f"“{shop.site}” is no host, with a folder where the site has one"
        yield record.fault(("site",), "“site”", why, f"Write it bare: site: {good}")
    if not EMAIL.fullmatch(shop.email):
        why = f"“{shop.email}” is no email address"
        yield record.fault(("email",), "“email”", why, "Write it as bench@shop.example.")


def _colors(record: Record[Shop], colors: Colors) -> Iterator[Fault]:
    own = {name: getattr(colors, name) for name in Colors.__slots__}
    wrong = {name for name, text in own.items() if text and not COLOR.fullmatch(text)}
    for name in sorted(wrong):
        why = f"“{own[name]}” is no color"
        mend = "Write six digits from 0 to f in small letters after #, as “#14483c”, in quotes."
        yield record.fault(("brand", "colors", name), f"“{name}”", why, mend)
    if wrong:
        return
    light, dark = schemes()["light"], schemes()["dark"]
    brand = own["brand"] or light["brand"]
    for name, color, grounds, least in (
        ("on_brand", own["on_brand"] or light["on-brand"], [brand], TEXT),
        ("accent", own["accent"] or light["amber"], [brand], GRAPHIC),
        ("link", own["link"], [light[each] for each in GROUNDS], TEXT),
        ("link_dark", own["link_dark"], [dark[each] for each in GROUNDS], TEXT),
    ):
        if not color or not (own[name] or own["brand"]):
            continue
        least_found = min(contrast(color, ground) for ground in grounds)
        if least_found < least:
            good = nearest_that_reads(color, grounds, least)
            at = name if own[name] else "brand"
            why = f"{color} on {' and '.join(grounds)} has a contrast of {least_found:.1f}"
            mend = f"At least {least} is needed (WCAG 2.2)"
            mend += f"; {name}: “{good}” has it." if good else "; take another brand color."
            yield record.fault(("brand", "colors", at), f"“{name}”", why, mend)


def _pictures(record: Record[Shop], brand: Brand, folder: Path) -> Iterator[Fault]:
    for name, most in MOST_BYTES.items():
        text = getattr(brand, name)
        if not text:
            continue
        file, what = folder / text, f"“{name}”"
        is_inside = file.resolve().is_relative_to(folder.resolve()) and file.is_file()
        if not is_inside:
            why = f"there is no file {text} in the content"
            yield record.fault(("brand", name), what, why, f"Put it there, as brand/{name}.png.")
        elif file.suffix not in KINDS[name]:
            mend = f"Take one that ends in {' or '.join(KINDS[name])}."
            yield record.fault(("brand", name), what, f"{text} is of another kind", mend)
        elif file.stat().st_size > most:
            why = f"{text} has {file.stat().st_size / 1000:.0f} kB"
            mend = f"Make it smaller: {most // 1000} kB at most, since every visitor loads it."
            yield record.fault(("brand", name), what, why, mend)
