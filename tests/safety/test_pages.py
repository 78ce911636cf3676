"""Explained pages speak of nobody's rig: a figure of a caution names its example."""

import re

import pytest

from guide.check_pages import DOCS
from site_src.build.explained import PageError
from tests.safety.test_statements import explained, filler

PAGES = sorted(path.stem for path in (DOCS / "explained").glob("*.md"))
NOBODYS = re.compile(
    r"\b(?:yours is|this bank|these \d+ units|no higher than that|this set-up feeds|"
    r"this one \(|on your list|of the parts list)\b",
    re.IGNORECASE,
)
CALL = re.compile(r'caution\("([\w-]+)", (?!example=)\w+=')


@pytest.mark.parametrize("page", PAGES)
def test_no_page_speaks_of_nobodys_rig(page: str) -> None:
    found = NOBODYS.search(explained(page))
    assert found is None, found


@pytest.mark.parametrize("page", PAGES)
def test_every_caution_with_figures_names_its_example(page: str) -> None:
    source = (DOCS / "explained" / f"{page}.md").read_text("utf-8")
    assert CALL.findall(source) == []


def test_a_caution_with_figures_and_no_example_is_refused() -> None:
    with pytest.raises(PageError, match="names no example"):
        filler().caution("alternator", limit_a="90 A")
    assert "Example, a large one: " in filler().caution(
        "alternator", example="a large one", limit_a="90 A"
    )
