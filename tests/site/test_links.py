"""The built site: every link and anchor leads somewhere, every page has its one address."""

import gzip
import html
import os
import re
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from engine.links import NUMBERS
from engine.model.guide import Guide
from site_src.build.addresses import root_of

LOADING = {("script", "src"), ("link", "href"), ("img", "src"), ("iframe", "src"), ("use", "href")}
POINTING = ("href", "src", "action", "poster")
NAMING = ("for", "aria-labelledby", "aria-describedby", "aria-controls")
DRAWN_LATER = ("rig-take-title",)  # the engine fills the dialog of show mode before it opens
NOT_LISTED = ("404.html", "staff/", "show/")


@dataclass
class Found:
    """What a page points to as (tag, attribute, address), its ids, and the ids that it names."""

    addresses: set[tuple[str, str, str]] = field(default_factory=set)
    ids: list[str] = field(default_factory=list)
    named: set[str] = field(default_factory=set)
    canonical: list[str] = field(default_factory=list)
    hidden: bool = False


class Reader(HTMLParser):
    """Reads what a page points to."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found = Found()
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what a tag points to and is called."""
        given = {name: value for name, value in attrs if value}
        self.found.addresses.update((tag, name, given[name]) for name in POINTING if name in given)
        for each in (part for name in NAMING for part in given.get(name, "").split()):
            self.found.named.add(each)
        if "id" in given:
            self.found.ids.append(given["id"])
        if tag == "a" and "name" in given:
            self.found.ids.append(given["name"])
        if tag == "link" and given.get("rel") == "canonical":
            self.found.canonical.append(given["href"])
        if tag == "meta" and given.get("name") == "robots":
            self.found.hidden = "noindex" in given["content"]


@pytest.fixture(scope="module")
def pages(site: Path) -> dict[str, Found]:
    """What every page of the site points to, by its file."""
    return {
        file.relative_to(site).as_posix(): Reader(file.read_text(encoding="utf-8")).found
        for file in sorted(site.rglob("*.html"))
    }


def target_of(site: Path, page: str, path: str) -> str:
    """The file that an address means, seen from a page; "" where there is none."""
    start = site if path.startswith("/") else (site / page).parent
    target = Path(os.path.normpath(start / unquote(path).lstrip("/")))
    target = target / "index.html" if target.is_dir() else target
    inside = target.is_file() and site in target.parents
    return target.relative_to(site).as_posix() if inside else ""


def test_every_link_and_anchor_of_every_page_leads_somewhere(
    site: Path, pages: dict[str, Found]
) -> None:
    assert len(pages) > 1000
    ids = {name: set(found.ids) for name, found in pages.items()}
    broken = set()
    for name, found in pages.items():
        targets: dict[str, str] = {"": name}
        for _tag, _attribute, address in found.addresses:
            parts = urlsplit(address)
            if parts.scheme or parts.netloc:
                continue
            if parts.path not in targets:
                targets[parts.path] = target_of(site, name, parts.path)
            target, anchor = targets[parts.path], unquote(parts.fragment)
            details = "=" in anchor  # of an answer, for the engine
            if not target or (anchor and not details and anchor not in ids.get(target, ())):
                broken.add((name, address))
    assert broken == set()


def test_every_address_with_a_host_is_of_the_shop_or_a_known_kind(
    guide: Guide, pages: dict[str, Found]
) -> None:
    known = (root_of(guide), "mailto:", "tel:", "data:")
    strange = {
        (name, address)
        for name, found in pages.items()
        for _tag, _attribute, address in found.addresses
        if (urlsplit(address).scheme or urlsplit(address).netloc) and not address.startswith(known)
    }
    assert strange == set()


def test_no_page_loads_anything_from_outside(pages: dict[str, Found]) -> None:
    loaded = {
        (name, address)
        for name, found in pages.items()
        for tag, attribute, address in found.addresses
        if (tag, attribute) in LOADING and re.match(r"(\w+:)?//", address)
        if address not in found.canonical
    }
    assert loaded == set()


def test_ids_are_there_once_and_whatever_names_one_finds_it(pages: dict[str, Found]) -> None:
    assert [name for name, page in pages.items() if len(page.ids) != len(set(page.ids))] == []
    lost = {name: page.named - {*page.ids, *DRAWN_LATER} for name, page in pages.items()}
    assert {name: ids for name, ids in lost.items() if ids} == {}


def test_every_page_that_is_to_be_found_has_its_own_address_and_is_listed(
    guide: Guide, site: Path, pages: dict[str, Found]
) -> None:
    root = root_of(guide)
    hidden = {name for name, page in pages.items() if page.hidden}
    assert hidden == {
        name for name in pages if name.startswith(NOT_LISTED) or name.endswith(f"/{NUMBERS}")
    }
    wanted = {
        name: root + re.sub(r"(^|/)index\.html$", r"\1", name)
        for name in pages
        if name not in hidden
    }
    assert {name: pages[name].canonical for name in wanted} == {
        name: [address] for name, address in wanted.items()
    }
    assert all(pages[name].canonical == [] for name in hidden)
    listed = (site / "sitemap.xml").read_text("utf-8")
    assert sorted(html.unescape(each) for each in re.findall(r"<loc>(.*?)</loc>", listed)) == (
        sorted(wanted.values())
    )
    assert gzip.decompress((site / "sitemap.xml.gz").read_bytes()).decode() == listed
