"""What is printed beside the answer: its link as a code, settings, and the two lists."""

import io
import re

import pytest
import zxingcpp
from PIL import Image, ImageDraw

from engine.links import read_link
from engine.model.guide import Guide
from engine.pages.print.qr import qr_svg
from engine.pages.print.sheets import SHEET_RULES, Sheets, Takeaway, _facts, sheets_of, takeaway_of
from engine.past import link_of
from engine.respond import conversation_of, respond_to
from engine.units import show
from guide.sentences import sheet_facts
from tests.pages.conftest import Case, case_of

PIXELS = 6
STROKE = re.compile(r'<path stroke="#000" d="([^"]+)"')
MOVE = re.compile(r"([Mmh])(-?[\d.]+)(?: (-?[\d.]+))?")


def picture_of(svg: str) -> Image.Image:
    """The code as pixels, from the strokes that the SVG draws."""
    side = int(re.findall(r'viewBox="0 0 (\d+) ', svg)[0])
    picture = Image.new("L", (side * PIXELS, side * PIXELS), 255)
    pen = ImageDraw.Draw(picture)
    x = y = 0.0
    (strokes,) = STROKE.findall(svg)
    for kind, first, second in MOVE.findall(strokes):
        if kind == "h":
            box = (x * PIXELS, (y - 0.5) * PIXELS)
            pen.rectangle((*box, (x + float(first)) * PIXELS - 1, (y + 0.5) * PIXELS - 1), 0)
            x += float(first)
        elif kind == "M":
            x, y = float(first), float(second)
        else:
            x, y = x + float(first), y + float(second)
    return picture


def decoded(svg: str) -> str:
    """What an independent decoder reads."""
    (found,) = zxingcpp.read_barcodes(picture_of(svg))
    return str(found.text)


def sheets(guide: Guide, case: Case) -> Sheets:
    """The sheets of a case."""
    return sheets_of(guide, case.advice)


def takeaway(guide: Guide, case: Case) -> Takeaway:
    """Link, code and files of a case."""
    return takeaway_of(guide, link_of(conversation_of(guide), case.answers))


def test_the_code_of_every_recommendation_reads_as_its_link(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        found = takeaway(guide, case)
        assert found.link == link_of(conversation_of(guide), case.answers)
        assert decoded(found.code) == found.link
        path, _, fragment = found.link.partition("/guide/")[2].partition("#")
        again = read_link(guide, path, fragment)
        assert (again.key(), again.edition) == (case.answers.key(), guide.edition)


def test_each_fuse_that_goes_in_is_named_with_its_rating(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    seen = 0
    for case in cases:
        rows = [row for _, rows in sheets(guide, case).commission for row in rows]
        planned = next(row.planned for row in rows if "put them in" in row.do)
        main = case.design.dc.fuse
        said = [float(amps) for amps in re.findall(r"([\d.]+) A ", f"{planned} ")]
        at_bank = [
            each.fuse.rating
            for each in case.design.dc.branches
            if each.fuse and each.id != "starter"
        ]
        assert said == [main.rating, *at_bank], case.link
        seen += len(at_bank)
    assert seen


def test_the_button_is_held_before_the_battery_switch_closes(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    """Trade pages (secondary): the switch's contacts pit where the capacitors are empty."""
    asked = [case for case in cases if case.design.dc.precharge]
    assert asked
    for case in asked:
        done = [row.do for _, rows in sheets(guide, case).commission for row in rows]
        held = next(at for at, do in enumerate(done) if "the pre-charge module" in do)
        closed = next(at for at, do in enumerate(done) if do.startswith("Close the battery switch"))
        assert held < closed, case.link


def test_a_code_with_marks_and_letters_of_all_kinds_is_read() -> None:
    text = "https://shop.example/guide/#loads=K%C3%BChler:90W:2h&note=a%26b"
    assert decoded(qr_svg(text, "code <&>", "too long")) == text
    assert "code &lt;&amp;&gt;" in qr_svg(text, "code <&>", "too long")


def test_the_settings_are_the_design_s_for_every_recommendation(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    page = guide.wording.page
    for case in cases:
        rows = {row.label: row.text for row in sheets(guide, case).settings}
        design, charging = case.design, case.advice.charging
        unit, units = design.candidate.inverter, design.candidate.units
        most_a = number(rows[page["set-charge-most"]])
        feed_a = min(case.needs.shore_a, case.design.ac.input_a)
        shares = charging.shore.legs < design.ac.poles * units
        limit = rows[page["set-input"]]
        sharing = design.ac.poles * units // charging.shore.legs
        assert number(limit) * sharing <= 0.8 * feed_a  # NEC 210.20(A)
        assert shares == (" on each unit" in limit or " on each leg" in limit), (
            "two may not each take it all"
        )
        assert most_a <= round(min(unit.charge_current * units, design.bank.charge_limit_a))
        assert number(rows[page["set-charge-shore"]]) <= most_a
        assert number(rows[page["set-absorption"]]) == pytest.approx(
            charging.absorption_v, abs=0.005
        )
        assert number(rows[page["set-float"]]) < number(rows[page["set-absorption"]])
        cut = number(rows[page["set-cutoff"]])
        assert cut == unit.low_voltage_cutoff
        assert cut < design.dc.terminal_v, "it would stop while everything planned runs"
        assert (units > 1) == ("at each unit" in rows[page["set-charge-most"]])
        once = unit.bond_relay and units > 1
        assert (rows[page["set-bond"]] == page["set-bond-one"]) == once


@pytest.mark.parametrize("more", ["alt=180A&drive=2h", "alt=180A&drive=2h&solar=800W"])
def test_no_charger_is_set_above_what_the_bank_takes(guide: Guide, more: str) -> None:
    """A vented battery takes little; what a larger current does to it is gas."""
    little = "chemistry=flooded&loads=lights,phones"
    case = case_of(guide, "rig=van/scope=some/heavy=0/", f"{little}&{more}")
    assert case
    page, limit_a = guide.wording.page, case.design.bank.charge_limit_a
    rows = {row.label: row.text for row in sheets(guide, case).settings}
    keys = ["set-charge-alternator", "set-charge-together"]
    keys += ["set-charge-solar"] if "solar" in more else []
    assert limit_a < 30.0, "the chargers of the shop give more"
    assert [number(rows[page[key]]) <= limit_a for key in keys] == [True] * len(keys)
    assert (page["set-charge-solar"] in rows) == ("solar" in more)


@pytest.mark.parametrize(
    ("have", "capacity", "most_a"),
    [
        ("2x200Ah-12V-lifepo4-1y", "400 Ah", 200.0),
        ("4x225Ah-6V-flooded-2y", "450 Ah", 90.0),
    ],
)
def test_what_is_set_follows_the_batteries_that_stay(
    guide: Guide, have: str, capacity: str, most_a: float
) -> None:
    """Half its capacity an hour for lithium, a fifth for flooded: trade press (secondary)."""
    case = case_of(guide, "rig=van/scope=some/heavy=0/", f"bank=12V&have={have}")
    assert case is not None
    page = guide.wording.page
    rows = {row.label: row.text for row in sheets(guide, case).settings}
    assert rows[page["set-capacity"]] == capacity
    assert number(rows[page["set-charge-most"]]) <= most_a
    kind = "flooded" if "flooded" in have else "lifepo4"
    assert rows[page["set-chemistry"]] == guide.question("chemistry").choice(kind).label
    assert case.design.bank.charge_limit_a == most_a


def number(text: str) -> float:
    """The figure that a text starts with."""
    return float(text.replace(",", "").split()[0])


def test_both_legs_are_measured_as_the_layout_makes_them(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    """Between two hot wires: 240 V half a turn apart, nothing where both swing together."""
    expected = {"split-phase-pair": "240 V", "split-phase-native": "240 V", "two-leg": "0 V"}
    do = next(line.do for line in guide.sheets if line.id == "battery-between")
    seen = set()
    for case in cases:
        layout = case.design.candidate.layout
        rows = [row for _, group in sheets(guide, case).commission for row in group]
        found = [row.planned for row in rows if row.do == do]
        both = case.needs.service.legs == 2
        assert found == ([expected[layout]] if both and layout in expected else [])
        seen.add(layout)
    assert {"split-phase-pair", "two-leg", "single", "sub-panel"} <= seen


def test_the_lists_say_the_answer_s_own_figures_and_who(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        found = sheets(guide, case)
        listed = (*found.fit, *found.commission)
        rows = [*found.measure, *(row for _, group in listed for row in group)]
        planned = " ".join(row.planned for row in rows)
        assert all(row.do and row.who for row in rows)
        assert show(case.design.dc.cable_m, "m") in planned
        assert f"{case.design.dc.fuse.rating:g} A {case.design.dc.fuse.family}" in planned
        assert f"{case.design.ac.input_awg} AWG" in planned
        assert len({part for part, _ in found.commission}) == len(found.commission)


def test_cautions_beside_lines_are_the_answer_s_cautions(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        found = sheets(guide, case)
        listed = (*found.fit, *found.commission)
        rows = [*found.measure, *(row for _, group in listed for row in group)]
        titles = {note.caution.title for note in case.advice.cautions}
        shown = {row.caution for row in rows if row.caution}
        assert shown <= titles
        named = {line.caution for line in guide.sheets}
        assert shown == {
            note.caution.title for note in case.advice.cautions if note.caution.id in named
        }


def test_every_line_is_printed_somewhere_and_its_facts_are_known(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    flooded = case_of(guide, "rig=van/scope=whole/heavy=1/biggest=cooking/", "chemistry=flooded")
    assert flooded is not None
    printed = set()
    for case in (*cases, flooded):
        found = sheets(guide, case)
        printed |= {row.do for row in found.measure}
        printed |= {row.do for _, group in (*found.fit, *found.commission) for row in group}
    assert printed == {line.do for line in guide.sheets}
    assert tuple(_facts(guide, cases[0].advice, cases[0].design)) == sheet_facts()
    assert {line.rule for line in guide.sheets} <= set(SHEET_RULES)


def test_the_page_holds_button_code_and_lists_once(guide: Guide) -> None:
    html = respond_to(guide, "rig=van/scope=whole/heavy=0/").html
    for mark in (
        'type="button" data-rig-print>',
        'class="rig-qr"',
        'id="rig-settings-title"',
        'id="rig-commission-title"',
    ):
        assert html.count(mark) == 1, mark


def test_a_code_survives_a_bad_print(guide: Guide, tree: tuple[Case, ...]) -> None:
    picture = picture_of(takeaway(guide, tree[0]).code)
    pen = ImageDraw.Draw(picture)
    middle = picture.width // 2
    pen.ellipse((middle, middle, middle + 4 * PIXELS, middle + 4 * PIXELS), 128)
    small = picture.resize((picture.width // 2, picture.height // 2))
    data = io.BytesIO()
    small.save(data, "JPEG", quality=40)
    (found,) = zxingcpp.read_barcodes(Image.open(data))
    assert found.text == takeaway(guide, tree[0]).link
