"""An answer on paper, and links that lead to no page: as a browser prints and finds them."""

import re
import subprocess
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect

from engine.links import public_link, read_link
from engine.model.guide import Guide
from engine.past import link_of
from engine.respond import conversation_of
from tests.browser.conftest import NewPage, wait_for_engine
from tests.browser.fields import field_of

COACH = "rig=coach-50/scope=some/heavy=3/biggest=aircon-15k/softstart=no/v240=no/"
VAN = "rig=van/scope=some/heavy=0/"
PAPERS = {"A4": (595, 842), "Letter": (612, 792)}
FEWEST, MOST = 4, 6
MOST_OF_ALL = 28


def printed(page: Page, folder: Path, paper: str) -> tuple[list[str], Path]:
    """The text of each sheet, and the file."""
    file = folder / f"{paper}.pdf"
    page.pdf(path=file, format=paper, prefer_css_page_size=True)
    done = subprocess.run(
        ["pdftotext", "-layout", str(file), "-"], capture_output=True, text=True, check=True
    )
    return done.stdout.removesuffix("\f").split("\f"), file


def is_headed(title: str, sheet: str) -> bool:
    """Whether a sheet has this heading; a step that names it puts it into quotation marks."""
    return re.search(rf"(?<!“){re.escape(title)}", sheet) is not None


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("path", [COACH, VAN])
@pytest.mark.parametrize("scripts", [True, False])
def test_an_answer_prints_as_a_plan_for_the_installer(
    new_page: NewPage, guide: Guide, tmp_path: Path, paper: str, path: str, scripts: bool
) -> None:
    page = new_page(java_script_enabled=scripts, color_scheme="dark")
    page.goto(f"/guide/{path}")
    sheets, file = printed(page, tmp_path, paper)
    words = guide.wording.page
    assert FEWEST <= len(sheets) <= MOST
    told = subprocess.run(["pdfinfo", str(file)], capture_output=True, text=True, check=True)
    size = re.findall(r"Page size: +([\d.]+) x ([\d.]+)", told.stdout)[0]
    assert tuple(round(float(side)) for side in size) == pytest.approx(PAPERS[paper], abs=1)
    assert guide.shop.name in sheets[0]
    address = public_link(guide, path)
    assert all(address in re.sub(r"\s+", "", sheet) for sheet in sheets), "what opens it again"
    order = [
        next(place for place, sheet in enumerate(sheets) if is_headed(words[title], sheet))
        for title in (
            *("parts", "measure-sheet", "fit-steps", "settings"),
            *("commission-sheet", "safety", "diagram"),
        )
    ]
    assert order == sorted(order)
    whole = "\n".join(sheets)
    assert words["set-cutoff"] in whole
    assert words["details-hint"] not in whole, "the form is for screens"
    assert words["checks"] not in whole, "what convinces is not what one installs by"
    assert whole.count(f"{words['total']} (") == 1, "the sum stands once, at the end"
    numbers = re.findall(rf"^ *(\d+) ?/ ?{len(sheets)}$", whole, re.MULTILINE)
    numbered = [int(found) for found in numbers]
    assert numbered == list(range(1, len(sheets) + 1))


def test_the_code_on_each_sheet_reads_as_the_link_of_what_was_typed(
    page: Page, guide: Guide, tmp_path: Path
) -> None:
    page.goto(f"/guide/{VAN}")
    wait_for_engine(page)
    field_of(page, "cable").fill("12 ft")
    page.locator("#rig-details [name=cable]").press("Enter")
    page.wait_for_function("() => document.querySelector('main').dataset.state === 'ready'")
    page.wait_for_function("() => location.hash.includes('cable=')")
    _, file = printed(page, tmp_path, "A4")
    subprocess.run(["pdftoppm", "-r", "150", "-png", file, tmp_path / "sheet"], check=True)
    sheets = [Image.open(sheet) for sheet in sorted(tmp_path.glob("sheet-*.png"))]
    assert len(sheets) >= FEWEST
    address = link_of(conversation_of(guide), read_link(guide, VAN, "cable=12ft"))
    for sheet in sheets:
        (found,) = zxingcpp.read_barcodes(sheet)
        assert found.text == address


def test_nothing_runs_over_the_edge_of_the_paper(page: Page) -> None:
    page.goto(f"/guide/{COACH}")
    page.emulate_media(media="print")
    for width in (680, 695):  # A4 and Letter less their margins, in CSS pixels
        page.set_viewport_size({"width": width, "height": 900})
        wide = page.evaluate(
            """[...document.querySelectorAll("#rig-answer *")]
            .filter((each) => each.getClientRects().length
                && each.getBoundingClientRect().right > innerWidth + 1)
            .map((each) => each.outerHTML.slice(0, 80))"""
        )
        assert wide == []


def test_the_print_button_opens_the_browser_s_own_print(page: Page) -> None:
    page.add_init_script("window.print = () => { window.printed = true; }")
    page.goto(f"/guide/{VAN}")
    page.locator("[data-rig-print='']").click()
    assert page.evaluate("window.printed")


def test_everything_is_printed_where_it_is_asked_for(
    page: Page, guide: Guide, tmp_path: Path
) -> None:
    page.add_init_script(
        "window.print = () => { window.extent = document.querySelector('main').dataset.print; }"
    )
    page.goto(f"/guide/{COACH}")
    page.locator("[data-rig-print=all]").click()
    page.wait_for_function("() => window.extent === 'all'")
    page.evaluate("() => { document.querySelector('main').dataset.print = 'all'; }")
    sheets, _ = printed(page, tmp_path, "Letter")
    whole = "\n".join(sheets)
    words = guide.wording.page
    assert len(sheets) <= MOST_OF_ALL
    assert words["checks"] in whole
    assert words["why-this"] in whole
    assert "ampacity" in whole or "Σ" in whole, "the workings lie open"


def test_without_scripts_there_is_no_button_that_does_nothing(new_page: NewPage) -> None:
    page = new_page(java_script_enabled=False)
    page.goto(f"/guide/{VAN}")
    expect(page.locator("[data-rig-print='']")).to_be_hidden()
    expect(page.locator("[data-rig-print=all]")).to_be_hidden()


def test_an_address_of_another_edition_finds_today_s_page_and_names_what_is_unknown(
    page: Page,
) -> None:
    page.goto(f"/guide/rig=van/colour=blue/scope=some/heavy=0/#cable=12ft&edition={'f' * 12}")
    expect(page.locator("[data-status=recommended]")).to_be_visible()
    expect(page.locator(".rig-faults")).to_contain_text("no question “colour”")
    expect(page.locator(".rig-notice")).to_contain_text("no longer kept")
    assert page.evaluate("decodeURI(location.pathname)") == f"/guide/{VAN}"
    assert page.evaluate("location.hash") == f"#colour=blue&cable=12ft&edition={'f' * 12}"
    expect(field_of(page, "cable")).to_be_visible()


def test_an_unknown_address_says_so_without_scripts_and_leads_on(new_page: NewPage) -> None:
    page = new_page(java_script_enabled=False)
    reply = page.goto("/guide/rig=boat/")
    assert reply is not None
    assert reply.status == 404
    expect(page.locator("h1")).to_contain_text("no page of today's guide")
    expect(page.locator("[data-rig-engine]")).to_contain_text("it has not started")
    page.locator(".rig-go").click()
    expect(page.locator(".rig-choice").first).to_be_visible()
