"""One answer says one thing: its page is read as a visitor reads it, and every part of it compared.

Facts at the top, drawing, parts list, numbers, checks and printed sheets are taken from the text of
the page alone, for every recommendation of the tree and some with details.
"""

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from engine.model.guide import Guide
from tests.pages.conftest import Case

RATED = r"([\d,.]+) A\b"


@dataclass(frozen=True)
class Shown:
    """The texts of one page, by part."""

    link: str
    facts: dict[str, str]
    cable: str
    drawing: dict[str, str]
    parts: tuple[tuple[str, str], ...]
    total: str
    numbers: dict[str, str]
    checks: dict[str, str]
    settings: dict[str, str]
    sheets: str

    def part(self, name: str) -> list[tuple[float, str, str]]:
        """Lines of the parts list whose name holds this: count or feet, name, price."""
        return [
            (float(text.split()[0].replace(",", "")), text, price)
            for text, price in self.parts
            if name in text
        ]


def words(fragment: str) -> str:
    """The text of a piece of HTML."""
    text = html.unescape(re.sub(r"<[^>]+>", " ", fragment)).replace("\xa0", " ")
    return re.sub(r"\s+", " ", text).strip()


def pairs(fragment: str) -> dict[str, str]:
    """A description list as it is read."""
    found = re.findall(r"<dt>(.*?)</dt>\s*<dd>(.*?)</dd>", fragment, re.DOTALL)
    return {words(label): words(text) for label, text in found}


def section(page: str, name: str) -> str:
    """From the heading of a section to the next part of the page."""
    start = page.index(f' id="rig-{name}-title"')
    return page[start : page.index("</section>", start)]


def shown(case: Case) -> Shown:
    """The page of a case, taken apart."""
    page = case.page.html
    listed = section(page, "parts")
    rows = re.findall(
        r"<tr><td>(.*?)</td><td><strong>(.*?)</strong>.*?</td><td>.*?</td><td>(.*?)</td></tr>",
        listed,
    )
    total = re.search(r"<tfoot>.*?<td>(.*?)</td>", listed, re.DOTALL)
    assert total is not None
    drawing = section(page, "diagram")
    key = re.search(r'<span class="rig-key">(.*?)</span>', drawing)
    assert key is not None
    labels = re.findall(r'<g[^>]* data-part="([\w-]+)">(.*?)</g>', drawing, re.DOTALL)
    numbers = page[page.index(' id="rig-numbers-title"') : page.index(' id="rig-reasons-title"')]
    checks = re.findall(r"<li><strong>(.*?)</strong>(.*?)</li>", section(page, "checks"), re.DOTALL)
    papers = [section(page, name) for name in ("settings", "measure", "commission")]
    settings = papers[0]
    return Shown(
        link=case.link,
        facts=pairs(page[: page.index("</dl>")]),
        cable=words(key[1]),
        drawing={part: words(text) for part, text in labels},
        parts=tuple((words(f"{count} {name}"), words(price)) for count, name, price in rows),
        total=words(total[1]),
        numbers=pairs(numbers),
        checks={words(name): words(text) for name, text in checks},
        settings={
            words(label): words(text)
            for label, text in re.findall(r"<tr><t[hd][^>]*>(.*?)</t[hd]><td>(.*?)</td>", settings)
        },
        sheets=" ".join(map(words, papers)),
    )


@pytest.fixture(scope="module")
def pages(cases: tuple[Case, ...]) -> tuple[Shown, ...]:
    """Every recommendation as it is shown."""
    found = tuple(shown(case) for case in cases)
    assert len(found) > 100
    return found


def amperes(text: str) -> list[float]:
    """Every figure in amperes of a text."""
    return [float(figure.replace(",", "")) for figure in re.findall(RATED, text)]


def dollars(text: str) -> float:
    """A price as it is shown."""
    return float(text.strip("$").replace(",", "")) if text else 0.0


def test_the_main_fuse_is_the_same_everywhere(guide: Guide, pages: tuple[Shown, ...]) -> None:
    words_of = guide.wording.numbers
    for each in pages:
        (rating,) = amperes(each.cable)
        assert rating in amperes(each.drawing["fuse"]), each.link
        places = (words_of[f"fuse-at-{at}"] for at in ("battery", "bars", "units"))
        (numbered,) = (each.numbers[label] for label in places if label in each.numbers)
        assert amperes(numbered)[0] == rating, each.link
        assert amperes(each.checks[guide.check_words("fuse").name])[-1] == rating, each.link
        fuses = [text for text, _ in each.parts if f"fuse {rating:g} A" in text]
        assert fuses, each.link
        assert f"{rating:g} A" in each.sheets, each.link


def test_only_what_the_form_asks_is_said_to_be_assumed(tree: tuple[Case, ...]) -> None:
    for case in tree:
        shown = case.page.html
        led = set(re.findall(r'<a href="#(rig-[\w-]+)" data-needs-form>', shown))
        assert led
        assert led <= set(re.findall(r' id="(rig-[\w-]+)"', shown)), case.link


def test_the_battery_cable_is_the_same_everywhere(guide: Guide, pages: tuple[Shown, ...]) -> None:
    words_of = guide.wording.numbers
    for each in pages:
        fact = each.cable
        cable, length = fact.partition(";")[0].rsplit(", ", 1)
        size = re.findall(r"(\S+) AWG", cable)[0]
        assert f"{size} AWG" in each.drawing["dc-cable"], each.link
        assert f"{size} AWG" in each.numbers[words_of["cable"]], each.link
        assert f"{length} one way" in each.drawing["dc-cable"], each.link
        assert each.numbers[words_of["length"]] == length, each.link
        assert any(f"Battery cable {size} AWG" in text for text, _ in each.parts), each.link
        assert length in each.sheets, each.link
        assert f"{size} AWG" in each.sheets, each.link


def test_counts_of_units_and_batteries_are_the_same_everywhere(
    guide: Guide, pages: tuple[Shown, ...], cases: tuple[Case, ...]
) -> None:
    page = guide.wording.page
    for each, case in zip(pages, cases, strict=True):
        battery, unit = case.design.bank.battery.name, case.design.candidate.inverter.name
        ((count, _, _),) = each.part(battery)
        assert each.facts[page["fact-battery"]].startswith(f"{count:g} × "), each.link
        assert each.drawing["battery"].startswith(f"{count:g} × {battery}"), each.link
        ((units, _, _),) = each.part(unit)
        drawn = each.drawing["inverter"]
        assert drawn.startswith(f"{units:g} × {unit}" if units > 1 else unit), each.link


def test_breakers_and_switch_are_the_same_everywhere(
    guide: Guide, pages: tuple[Shown, ...]
) -> None:
    words_of = guide.wording.numbers
    for each in pages:
        listed = [amperes(text)[0] for text, _ in each.parts if "AC breaker" in text]
        joint = ("breaker-joint",) if "breaker-joint" in each.drawing else ()
        for side in ("breaker-in", "breaker-out", *joint):
            (rating,) = amperes(each.drawing[side])
            label = words_of[side].partition("{")[0]
            (said,) = [text for name, text in each.numbers.items() if name.startswith(label)]
            assert amperes(said)[0] == rating, each.link
            assert rating in listed, each.link
        (switch,) = amperes(each.drawing["disconnect"])
        assert amperes(each.numbers[words_of["switch"]]) == [switch], each.link
        assert amperes(each.checks[guide.check_words("disconnect").name])[-1] == switch, each.link
        assert any(f"Battery switch {switch:g} A" in text for text, _ in each.parts), each.link


def test_the_rows_add_up_to_the_sum_that_is_shown(guide: Guide, pages: tuple[Shown, ...]) -> None:
    page = guide.wording.page
    for each in pages:
        total = dollars(each.total)
        assert sum(dollars(price) for _, price in each.parts) == pytest.approx(
            total, abs=0.5 * len(each.parts)
        ), each.link
        about = re.findall(r"\$[\d,]+", each.facts[page["fact-price"]])
        least, most = (dollars(text) for text in about[1:])
        assert dollars(about[0]) == pytest.approx(total, abs=5.5), each.link
        assert least < total < most, each.link


def test_settings_keep_the_limits_that_the_numbers_say(
    guide: Guide, pages: tuple[Shown, ...]
) -> None:
    words_of, page = guide.wording.numbers, guide.wording.page
    for each in pages:
        assert each.numbers[words_of["limit"]] == each.settings[page["set-input"]], each.link
        stops = each.numbers[words_of["stops-at"]].split()[0]
        assert float(each.settings[page["set-cutoff"]].split()[0]) == float(stops), each.link


def test_every_fuse_of_a_branch_is_on_the_list_with_its_rating(
    guide: Guide, pages: tuple[Shown, ...]
) -> None:
    words_of = guide.wording.numbers
    seen = 0
    for each in pages:
        drawn = " ".join(each.drawing.values())
        for label, text in _branches(each, words_of):
            seen += 1
            size = re.findall(r"(\S+) AWG", text)[0]
            assert f"Battery cable {size} AWG" in " ".join(name for name, _ in each.parts), label
            for rating, family in re.findall(r"fuse (\d+) A (.*)", text):
                assert f"use {rating} A {family}" in drawn, (each.link, label)
                named = f"{family} fuse {rating} A".lower()
                assert any(named in name.lower() for name, _ in each.parts), (each.link, named)
    assert seen > len(pages)


def _branches(each: Shown, words_of: dict[str, str]) -> Iterator[tuple[str, str]]:
    for name in ("solar", "alternator", "starter", "step-down", "house"):
        label = words_of[f"branch-{name}"]
        if label in each.numbers:
            yield label, each.numbers[label]
