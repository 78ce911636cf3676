"""The site in a folder that the shop did not name: an unknown address finds site and page."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from engine.model.guide import Guide
from tests.browser.conftest import Host

ANSWER = (
    "/rig-guide/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
)
IN_CAPITALS = (
    "/rig-guide/guide/SCOPE=WHOLE/RIG=COACH-50/heavy=2/biggest=AIRCON-15K/softstart=yes/v240=no"
)


@pytest.fixture
def root(site: Path, tmp_path: Path) -> Path:
    """A host's root with the site in a folder of it; the host shows the site's page for errors."""
    (tmp_path / "rig-guide").symlink_to(site)
    (tmp_path / "404.html").symlink_to(site / "404.html")
    return tmp_path


def test_a_link_of_another_form_in_capitals_is_found_below_any_folder(
    page: Page, root: Path, host: Host
) -> None:
    with host(root) as at:
        page.goto(f"{at}{IN_CAPITALS}#CABLE=9FT")
        expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")
        assert page.evaluate("location.pathname + location.hash") == f"{ANSWER}#cable=9ft"
        assert page.evaluate("document.querySelector('.rig-home').pathname") == (
            "/rig-guide/index.html"
        )
        icon = page.locator("link[rel=icon]").evaluate("(link) => link.href")
        assert page.request.get(icon).ok


@pytest.mark.parametrize("lost", ["explained/nothing.html", "nowhere/at/all.html"])
def test_an_address_that_is_nothing_shows_the_page_with_the_ways_on(
    page: Page, root: Path, host: Host, guide: Guide, lost: str
) -> None:
    with host(root) as at:
        page.goto(f"{at}/rig-guide/{lost}")
        heading = page.locator("h1", has_text=guide.wording.page["lost"])
        expect(page.locator("main")).to_have_attribute("data-root", "/rig-guide")
        expect(heading).to_be_visible()
        page.locator(".rig-go").click()
        page.wait_for_url("**/rig-guide/guide/")
