"""A page of somebody else asks the engine, exactly as the project's page prints it."""

import re
from mimetypes import guess_type

from playwright.sync_api import Page, Route, expect

from engine.links import read_link
from engine.model.guide import Guide
from engine.respond import respond
from guide import setup_node

TELLS = "/project/use-the-engine.html"
ASKED = re.compile(r'read_link\(GUIDE, "([^"]+)", "([^"]+)"\)')
SAME = """(html) => {
    const wanted = document.createElement("main");
    wanted.innerHTML = html;
    return document.querySelector("main").isEqualNode(wanted);
}"""


def as_npm_delivers_it(route: Route) -> None:
    """Answer with a file of the locked Pyodide."""
    file = setup_node.packages() / "pyodide" / route.request.url.rpartition("/")[2]
    suffix = file.suffix.replace(".mjs", ".js")
    route.fulfill(path=file, content_type=guess_type(f"x{suffix}")[0] or "application/wasm")


def test_the_printed_page_shows_the_answer_that_the_guide_gives(page: Page, guide: Guide) -> None:
    page.goto(TELLS)
    printed = page.locator("pre code").inner_text()
    found = ASKED.search(printed)
    assert found, printed
    path, fragment = found.groups()

    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.route("**/pyodide/*", as_npm_delivers_it)
    page.route(
        "**/elsewhere.html", lambda route: route.fulfill(body=printed, content_type="text/html")
    )
    page.goto("/elsewhere.html")
    expect(page.locator("main h1")).to_be_visible()
    assert "cable=9ft" in fragment
    assert page.evaluate(SAME, respond(guide, read_link(guide, path, fragment)).html)
    assert faults == []
