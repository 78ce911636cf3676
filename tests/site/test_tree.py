"""The guide's pages as written: complete, linked, within budget, the same every time."""

import gzip
import html
import os
import re
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from engine.model.guide import Guide
from engine.respond import conversation_of, respond_to
from engine.tree import states
from guide.load import load_guide

MOST_PAGES = 1500
MOST_BYTES = 40_000_000
MOST_COMPRESSED = 8_000_000
LOADING = {("script", "src"), ("link", "href"), ("img", "src"), ("iframe", "src"), ("use", "href")}


class Addresses(HTMLParser):
    """Collects (tag, attribute, address) and the ids of a page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, str, str]] = []
        self.ids: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what a tag points to."""
        for name, value in attrs:
            if name in {"href", "src"} and value:
                self.found.append((tag, name, value))
            if name == "id" and value:
                self.ids.append(value)


@pytest.fixture(scope="module")
def guide() -> Guide:
    """The authored guide."""
    return load_guide()


@pytest.fixture(scope="module")
def pages(site: Path) -> dict[Path, str]:
    """The text of every page of the guide, by its file."""
    return {file: file.read_text(encoding="utf-8") for file in (site / "guide").rglob("*.html")}


@pytest.fixture(scope="module")
def addresses(pages: dict[Path, str]) -> dict[Path, Addresses]:
    """What every page points to, by its file."""
    return {file: Addresses(text) for file, text in pages.items()}


def test_every_state_of_the_short_path_is_a_page(
    guide: Guide, site: Path, pages: dict[Path, str]
) -> None:
    assert {site / "guide" / path / "index.html" for path in states(conversation_of(guide))} == set(
        pages
    )


def test_every_link_leads_to_a_file_of_the_site(
    site: Path, addresses: dict[Path, Addresses]
) -> None:
    broken = set()
    for file, page in addresses.items():
        for _tag, _name, address in page.found:
            parts = urlsplit(address)
            if parts.scheme or not parts.path:
                continue
            target = Path(os.path.normpath(file.parent / unquote(parts.path)))
            target = target / "index.html" if target.is_dir() else target
            if site not in target.parents or not target.is_file():
                broken.add((str(file.relative_to(site)), address))
    assert broken == set()


def test_a_link_within_a_page_leads_to_an_element(addresses: dict[Path, Addresses]) -> None:
    broken = {
        (str(file), address)
        for file, page in addresses.items()
        for _tag, _name, address in page.found
        if address.startswith("#") and "=" not in address and address[1:] not in page.ids
    }
    assert broken == set()


def test_no_id_is_used_twice_on_a_page(addresses: dict[Path, Addresses]) -> None:
    assert [file for file, page in addresses.items() if len(page.ids) != len(set(page.ids))] == []


def test_no_page_of_the_site_loads_anything_from_outside(site: Path) -> None:
    loaded = {
        (str(file.relative_to(site)), address)
        for file in site.rglob("*.html")
        for tag, name, address in Addresses(file.read_text(encoding="utf-8")).found
        if (tag, name) in LOADING and re.match(r"(\w+:)?//", address)
    }
    assert loaded == set()


def test_the_tree_stays_within_its_budget(pages: dict[Path, str]) -> None:
    encoded = [text.encode() for text in pages.values()]
    assert len(encoded) <= MOST_PAGES
    assert sum(map(len, encoded)) <= MOST_BYTES
    assert sum(len(gzip.compress(text, mtime=0)) for text in encoded) <= MOST_COMPRESSED


def test_each_page_has_its_own_title_and_description(
    guide: Guide, site: Path, pages: dict[Path, str]
) -> None:
    for path in states(conversation_of(guide))[::50]:
        page = respond_to(guide, path)
        text = pages[site / "guide" / path / "index.html"]
        assert page.title
        assert page.description
        assert f"<title>{html.escape(page.title)}</title>" in text
        assert f'<meta name="description" content="{html.escape(page.description)}">' in text


SAMPLE = """
import sys
from engine.respond import conversation_of, respond_to
from engine.tree import states
from guide.load import load_guide
guide = load_guide()
for path in states(conversation_of(guide))[::60]:
    sys.stdout.buffer.write(respond_to(guide, path).html.encode())
"""


def test_pages_do_not_depend_on_the_process_that_draws_them() -> None:
    drawn = [
        subprocess.run(
            [sys.executable, "-c", SAMPLE],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert drawn[0]
    assert drawn[0] == drawn[1]
