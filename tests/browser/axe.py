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
"""The rules whose outcome hangs on colours, and so on light and dark."""
RUN = """async ([type, values, without]) => {
    const what = {include: [["html"]], exclude: without.map((each) => [each])};
    const found = await axe.run(what, {runOnly: {type, values}, resultTypes: ["violations"]});
    return {checked: found.passes.length, violations: found.violations};
}"""


@cache
def source() -> str:
    """The text of axe-core, installed as locked."""
    packages = setup_node.packages(FOLDER, "axe-core")
    return (packages / "axe-core" / "axe.min.js").read_text("utf-8")


def faults(page: Page, *, of_colours: bool = False, without: Sequence[str] = ()) -> list[str]:
    """What axe finds wrong on a page as it is now, each with the elements that it means.

    of_colours: only what hangs on them; without: selectors of what is left out.
    The page's context must be made with ``bypass_csp=True``: the policy lets no other script in.
    """
    if not page.evaluate("() => typeof axe === 'object'"):
        page.add_script_tag(content=source())
    asked = ("rule", list(COLOURS)) if of_colours else ("tag", list(LEVELS))
    found: dict[str, Any] = page.evaluate(RUN, [*asked, list(without)])
    if not found["checked"]:
        raise RuntimeError("axe checked nothing on this page")
    return [
        f"{fault['id']}: {fault['help']}: "
        + json.dumps([[node["target"], node["failureSummary"]] for node in fault["nodes"][:4]])
        for fault in found["violations"]
    ]
