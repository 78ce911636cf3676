"""A published style sheet says to a browser what its source says, in fewer bytes."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from guide.setup import ROOT

SOURCES = ROOT / "site_src" / "theme" / "assets"
SHEETS = [file.name for file in sorted(SOURCES.glob("*.css")) if file.stem != "brand"]
RULES = """text => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(text);
    return [...sheet.cssRules].map((rule) => rule.cssText.replaceAll(/\\s+/g, ""));
}"""


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_keeps_each_of_its_rules_and_loses_its_comments(
    page: Page, site: Path, name: str
) -> None:
    source = (SOURCES / name).read_text("utf-8")
    sent = (site / "assets" / name).read_text("utf-8")
    rules = page.evaluate(RULES, source)
    assert page.evaluate(RULES, sent)[-len(rules) :] == rules
    assert "/*" not in sent
    assert len(sent) < 0.85 * len(source) or name == "guide.css"  # which holds others as well
