"""What pages say of themselves to search engines: well formed, and nothing that is not on them."""

import html
import json
import re
from pathlib import Path
from typing import Any

import pytest

from engine.model.guide import Guide
from site_src.build.addresses import root_of
from site_src.build.structured import block
from tests.site.conftest import words_of

DATA = re.compile(r'<script type="application/ld\+json">(.*?)</script>', re.DOTALL)
MAIN = re.compile(r"<article.*?</article>", re.DOTALL)
KINDS = {"BreadcrumbList", "WebApplication", "DefinedTermSet", "HowTo"}

Data = dict[str, Any]


def told(file: Path) -> list[Data]:
    """The data of a page, which may be in one block only."""
    (text,) = DATA.findall(file.read_text("utf-8"))
    data = json.loads(text)
    assert data["@context"] == "https://schema.org"
    found: list[Data] = data["@graph"]
    return found


@pytest.fixture(scope="module")
def data(site: Path) -> dict[str, dict[str, Data]]:
    """The data of every page of the theme, by file and kind."""
    files = [file for file in site.rglob("*.html") if DATA.search(file.read_text("utf-8"))]
    return {
        file.relative_to(site).as_posix(): {each["@type"]: each for each in told(file)}
        for file in files
    }


def test_every_page_of_the_theme_says_where_it_lies(
    site: Path, guide: Guide, data: dict[str, dict[str, Data]]
) -> None:
    assert len(data) > 25
    assert {kind for kinds in data.values() for kind in kinds} == KINDS
    for name, kinds in data.items():
        if name == "index.html":
            continue
        rows = kinds["BreadcrumbList"]["itemListElement"]
        assert [row["position"] for row in rows] == list(range(1, len(rows) + 1))
        for row in rows:
            path = row["item"].removeprefix(root_of(guide))
            assert path != row["item"]
            file = site / (path + "index.html" if path.endswith("/") or not path else path)
            assert file.is_file()
            assert row["name"]
        assert rows[-1]["item"].removeprefix(root_of(guide)) == name.removesuffix("index.html")


def test_the_first_page_is_a_tool_of_this_shop(
    guide: Guide, data: dict[str, dict[str, Data]]
) -> None:
    tool = data["index.html"]["WebApplication"]
    assert tool["url"] == root_of(guide)
    assert tool["provider"]["name"] == guide.shop.name
    assert not any(
        "WebApplication" in kinds for name, kinds in data.items() if name != "index.html"
    )


def test_terms_and_steps_stand_on_the_page_itself(
    site: Path, data: dict[str, dict[str, Data]]
) -> None:
    looked_at = 0
    for name, kinds in data.items():
        page = words_of(MAIN.findall((site / name).read_text("utf-8") + "<article></article>")[0])
        texts = [
            text
            for term in kinds.get("DefinedTermSet", {}).get("hasDefinedTerm", [])
            for text in (term["name"], term["description"])
        ]
        for section in kinds.get("HowTo", {}).get("step", []):
            assert len(section["itemListElement"]) > 0
            texts += [section["name"], *(step["text"] for step in section["itemListElement"])]
        for text in texts:
            assert text in page, (name, text)
        looked_at += len(texts)
    assert looked_at > 40


def test_nothing_in_the_data_ends_its_element() -> None:
    hostile = "</script><script>alert(1)</script>"
    text = block([{"@type": "HowTo", "name": hostile}])
    assert text.count("</script>") == 1
    (found,) = DATA.findall(text)
    assert json.loads(found)["@graph"][0]["name"] == hostile
    assert html.unescape(found) == found
