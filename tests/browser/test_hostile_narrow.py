"""Whatever a link holds, no page is wider than a narrow telephone."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from engine.model.guide import Guide
from tests.browser import narrow
from tests.browser.conftest import Host, NewPage
from tests.once import made_once


@pytest.fixture
def telephone(site: Path, guide: Guide, of_run: Path, host: Host) -> Iterator[str]:
    """The address of a page that shows hostile links on a narrow telephone."""

    def write(out: Path) -> None:
        narrow.write(site, guide, narrow.SAMPLE, out)

    with host(made_once(of_run / "narrow", write)) as address:
        yield address


def test_no_hostile_link_makes_a_page_wider_than_a_narrow_telephone(
    telephone: str, new_page: NewPage
) -> None:
    page = new_page()
    page.goto(telephone)
    assert page.evaluate(narrow.MEASURE) == {"drawn": len(narrow.SAMPLE), "wide": {}}


def test_a_page_that_is_too_wide_is_found(telephone: str, new_page: NewPage) -> None:
    page = new_page()
    wide = '<div id="rig-answer"><div style="width: 400px">wide</div></div>'
    page.route("**/replies/0.html", lambda route: route.fulfill(body=wide))
    page.route("**/replies/1.html", lambda route: route.fulfill(status=404))
    page.goto(telephone)
    found = page.evaluate(narrow.MEASURE)
    assert list(found["wide"]) == ["0"]
    assert found["wide"]["0"] >= 40
