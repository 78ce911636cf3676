"""Looks at pages with axe-core, which is locked in tests/axe."""

import json
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from guide import setup_node

FOLDER = Path(__file__).parent.parent / "axe"
LEVELS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
COLOURS = ("color-contrast", "link-in-text-block")
"""The rules whose outcome hangs on colours, and so on light and dark; half of the time."""
RUN = """async ([values, rules, without]) => {
    const what = {include: [["html"]], exclude: without.map((each) => [each])};
    const runOnly = {type: "tag", values};
    const found = await axe.run(what, {runOnly, rules, resultTypes: ["violations"]});
    return {checked: found.passes.length, violations: found.violations};
}"""


@cache
def source() -> str:
    """The text of axe-core, installed as locked."""
    packages = setup_node.packages(FOLDER, "axe-core")
    return (packages / "axe-core" / "axe.min.js").read_text("utf-8")


def faults(page: Page, *, colours: bool = True, without: Sequence[str] = ()) -> list[str]:
    """What axe finds wrong on a page as it is now, each with the elements that it means.

    colours: with what hangs on them; without: selectors of what is left out.
    """
    if not page.evaluate("() => typeof axe === 'object'"):
        page.evaluate(source())
    rules = {name: {"enabled": colours} for name in COLOURS}
    found: dict[str, Any] = page.evaluate(RUN, [list(LEVELS), rules, list(without)])
    if not found["checked"]:
        raise RuntimeError("axe checked nothing on this page")
    return [
        f"{fault['id']}: {fault['help']}: "
        + json.dumps([[node["target"], node["failureSummary"]] for node in fault["nodes"][:4]])
        for fault in found["violations"]
    ]
