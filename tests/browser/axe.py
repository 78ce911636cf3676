"""Looks at pages with axe-core, which is locked in tests/axe."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from guide import setup_node

FOLDER = Path(__file__).parent.parent / "axe"
LEVELS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
RUN = """async (levels) => {
    const found = await axe.run(document, {
        runOnly: {type: "tag", values: levels}, resultTypes: ["violations"]});
    return {checked: found.passes.length, violations: found.violations};
}"""


@cache
def source() -> str:
    """The text of axe-core, installed as locked."""
    packages = setup_node.packages(FOLDER, "axe-core")
    return (packages / "axe-core" / "axe.min.js").read_text("utf-8")


def faults(page: Page) -> list[str]:
    """What axe finds wrong on a page as it is now, each with the elements that it means.

    The page's context must be made with ``bypass_csp=True``: the policy lets no other script in.
    """
    if not page.evaluate("() => typeof axe === 'object'"):
        page.add_script_tag(content=source())
    found: dict[str, Any] = page.evaluate(RUN, list(LEVELS))
    if not found["checked"]:
        raise RuntimeError("axe checked nothing on this page")
    return [
        f"{fault['id']}: {fault['help']}: "
        + json.dumps([[node["target"], node["failureSummary"]] for node in fault["nodes"][:4]])
        for fault in found["violations"]
    ]
