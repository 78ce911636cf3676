"""Figures outside the workings: no more digits than the inputs have, US units first."""

import re
from html import unescape

from engine.model.guide import Guide
from engine.respond import respond
from engine.wording.tongue import plain
from tests.pages.conftest import Case

WORKINGS = re.compile(r'<div class="rig-workings">.*?</ol></div>', re.DOTALL)
FIGURE = re.compile(
    r"(?<![\w.,])(\d[\d,]*(?:\.\d+)?)\s(A|W|V|VA|Wh|kWh|Ah|kW|kA|lb|ft|in|°F|hours|%)(?!\w)"
)
METRIC_FIRST = re.compile(r"\d\s?(?:mm|cm|m|m²|m³/h|kg|°C|L)\s\([\d.,]+\s?(?:in|ft|sq|CFM|lb|°F)")
MOST = 3


def read(guide: Guide, case: Case) -> str:
    """What stands on the page of an answer, the workings left out."""
    html = WORKINGS.sub(" ", respond(guide, case.answers, changes=False).html)
    return unescape(re.sub(r"<[^>]+>", " | ", html))


def figures_in(number: str) -> int:
    """How many significant figures a number has; zeros at the end of a whole one are none."""
    digits = number.replace(",", "")
    if "." not in digits:
        digits = digits.rstrip("0")
    return len(digits.replace(".", "").lstrip("0"))


def test_a_number_has_no_more_figures_than_a_plate_has(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    """A charger is set to the hundredth of a volt; nothing else is told to more than three."""
    seen = 0
    for case in cases[::6]:
        plan = case.advice.charging
        at = (plan.absorption_v, plan.float_v, plan.absorption_here_v)
        settings = {plain(each_v, 2) for each_v in at}
        for number, unit in FIGURE.findall(read(guide, case)):
            seen += 1
            exact = unit == "V" and number in settings
            assert exact or figures_in(number) <= MOST, f"{case.link}: {number} {unit}"
    assert seen > 1000


def test_the_metric_value_stands_in_the_brackets(guide: Guide, cases: tuple[Case, ...]) -> None:
    assert METRIC_FIRST.search("a shelf of 8 cm (3 in)")
    for case in cases[::6]:
        found = METRIC_FIRST.search(read(guide, case))
        assert found is None, f"{case.link}: {found}"
