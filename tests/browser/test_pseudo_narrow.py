"""Words that are a third longer fit a narrow telephone, on every kind of page."""

import re
import shutil

import pytest
from playwright.sync_api import Route

from engine.links import read_link
from engine.model.guide import Guide
from engine.pages.pieces.pieces import piece_html
from engine.pages.staff.staff import staff_page
from engine.pages.units_page import draw_range
from engine.respond import conversation_of, respond
from guide.content_folder import CONTENT
from guide.load import load_guide
from tests.browser.conftest import NewPage
from tests.pseudo import OPEN, add_pseudo

NARROW = {"width": 360, "height": 740}
ANSWER = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
NO_FIT = ("rig=van/scope=some/heavy=0/", "bay=8inx8inx4in")
BEYOND = """() => document.documentElement.scrollWidth - window.innerWidth"""


@pytest.fixture(scope="module")
def guide(tmp_path_factory: pytest.TempPathFactory) -> Guide:
    folder = tmp_path_factory.mktemp("pseudo") / "content"
    shutil.copytree(CONTENT, folder)
    add_pseudo(folder)
    return load_guide(folder)


def drawn(guide: Guide, kind: str) -> str:
    """What stands in the page's frame, in the language that is a third longer."""
    if kind == "units":
        return draw_range(guide).html
    if kind == "staff":
        return staff_page(conversation_of(guide)).html
    if kind == "piece":
        return f'<div data-rig-piece="hours">{piece_html(guide, "hours", live=True)}</div>'
    path, fragment = {
        "question": ("rig=coach-50/", ""),
        "answer": (ANSWER, "gen=3000W&solar=600W&alt=180A"),
        "nothing fits": NO_FIT,
        "not sure": ("rig=van/scope=unsure/heavy=0/", ""),
    }[kind]
    return respond(guide, read_link(guide, path, fragment)).html


FRAMES = {
    "question": "/guide/rig=coach-50/",
    "answer": f"/guide/{ANSWER}",
    "nothing fits": f"/guide/{ANSWER}",
    "not sure": "/guide/rig=van/scope=unsure/heavy=0/",
    "units": "/units/",
    "staff": "/staff/",
    "piece": f"/guide/{ANSWER}",
}
"""By kind, the page of the site in whose frame it is shown."""


@pytest.mark.parametrize("kind", FRAMES)
def test_longer_words_fit_a_narrow_page(kind: str, guide: Guide, new_page: NewPage) -> None:
    html = drawn(guide, kind)
    page = new_page(viewport=NARROW, java_script_enabled=False)

    def put_in(route: Route) -> None:
        frame = route.fetch().text()
        start, end = frame.index('<div id="rig-answer"'), frame.rindex("</main>")
        opened = re.sub(r"<details", "<details open", html)
        route.fulfill(body=frame[:start] + opened + frame[end:], content_type="text/html")

    page.route(f"**{FRAMES[kind]}", put_in)
    page.goto(FRAMES[kind])
    assert OPEN in page.locator("main").inner_text()
    assert page.evaluate(BEYOND) <= 0
