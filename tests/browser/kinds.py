"""Every kind of page of the site, with an example of each and how to get there."""

from collections.abc import Callable
from dataclasses import dataclass

from playwright.sync_api import Page, expect

from tests.browser.fields import field_of

TAPS = ("coach-50", "whole", "2", "aircon-15k", "yes", "no")
ANSWER = "guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"


def _stay(page: Page) -> None:
    """Nothing is to be done: the page is what its address gives."""


def _drawn(page: Page) -> None:
    """Wait until the engine has drawn what the address asks."""
    expect(page.locator("main")).to_have_attribute("data-state", "ready")


def _entered(page: Page) -> None:
    _drawn(page)
    for text in ("coa", "whole", "2", "15", "yes", "no"):
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    message = page.locator(".rig-paste")
    expect(message).to_have_attribute("data-status", "recommended")


def _tapped(page: Page) -> None:
    _drawn(page)
    for choice in TAPS:
        asked = page.locator("#rig-answer h1").inner_text()
        page.locator(f"#rig-answer [data-choice='{choice}']").click()
        expect(page.locator("#rig-answer h1")).not_to_have_text(asked)
    answer = page.locator("#rig-answer")
    expect(answer).to_have_attribute("data-status", "recommended")
    _drawn(page)


def _taken_home(page: Page) -> None:
    _tapped(page)
    page.locator("#rig-show-home").click()
    expect(page.locator("#rig-take .rig-qr")).to_be_visible()


def _wrong(page: Page) -> None:
    _drawn(page)
    field_of(page, "cable").fill("15 kg")
    page.locator("#rig-details [name=cable]").press("Enter")
    expect(page.locator("#rig-cable-fault")).to_be_visible()


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of page: its name, the address of an example, and what to do there first."""

    name: str
    address: str
    then: Callable[[Page], None] = _stay

    def open(self, page: Page) -> None:
        """Show the example."""
        page.goto(self.address)
        self.then(page)


KINDS = (
    Kind("first page", "/index.html"),
    Kind("first question", "/guide/"),
    Kind("later question", "/guide/rig=coach-50/scope=whole/heavy=2/"),
    Kind("not sure", "/guide/rig=van/scope=unsure/heavy=0/"),
    Kind("answer", f"/{ANSWER}"),
    Kind("answer with details", f"/{ANSWER}#cable=15ft&nights=2", _drawn),
    Kind("wrong entry", f"/{ANSWER}#nights=2", _wrong),
    Kind("nothing fits", "/guide/rig=van/scope=some/heavy=0/#bay=8inx8inx4in", _drawn),
    Kind("units", "/units/"),
    Kind("staff", "/staff/", _drawn),
    Kind("staff with an answer", "/staff/", _entered),
    Kind("all answers", "/staff/answers/"),
    Kind("tree", "/staff/tree/"),
    Kind("show mode", "/show/", _drawn),
    Kind("show mode, answer", "/show/", _tapped),
    Kind("show mode, take home", "/show/", _taken_home),
    Kind("explained", "/explained/index.html"),
    Kind("explanatory page", "/explained/cable.html"),
    Kind("glossary", "/explained/glossary.html"),
    Kind("owner page", "/owner/products.html"),
    Kind("project page", "/project/benchmarks.html"),
    Kind("unknown address", "/guide/rig=boat/"),
)
PRINTED = ("answer", "explanatory page", "later question")
SCHEMES = ("light", "dark")
