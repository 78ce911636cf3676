"""No line of a sheet sends hands to what is live, nor an unlicensed person into 120/240 V parts."""

import re

import pytest

from engine.model.guide import Guide, SheetLine
from engine.pages.print.sheets import Sheets, sheets_of
from tests.pages.conftest import DETAILED, Case, case_of

LICENSED = re.compile(r"licensed|technician", re.IGNORECASE)
TOUCH = re.compile(
    r"\b(?:feel|touch|grab|hand on|hands on|finger|by hand|warm to the)\b", re.IGNORECASE
)
ALLOWED_TOUCH = ("touch nothing", "before anybody touches")
OPENS_AC = re.compile(
    r"cover off|covers off|open the (?:breaker )?panel(?! disconnect)|inside the panel|"
    r"white wire|neutral|"
    r"between hot|hot wires|hot to |size of the wires|ground bar",
    re.IGNORECASE,
)
DEAD = re.compile(r"shut down|proven dead|cord out", re.IGNORECASE)
BOLTS = re.compile(r"torque wrench|go over the bolts|go over every bolt", re.IGNORECASE)
MORE = (
    ("rig=van/scope=whole/heavy=1/biggest=cooking/", "chemistry=flooded&gen=2000W&solar=800W"),
    ("rig=coach-50/scope=some/heavy=1/biggest=cooking/v240=no/", "bank=48V&alt=200A&drive=2h"),
    ("rig=rig-30/scope=whole/heavy=1/biggest=aircon-15k/softstart=no/", "chemistry=agm"),
)


def hazards(line: SheetLine) -> list[str]:
    """What a line asks that it must not."""
    found = []
    text = f"{line.do} {line.planned}"
    for allowed in ALLOWED_TOUCH:
        text = text.replace(allowed, "")
    if TOUCH.search(text):
        found.append("touches")
    if OPENS_AC.search(line.do) and not LICENSED.search(line.who):
        found.append("opens 120/240 V parts without a licence")
    works = line.sheet == "commission" and BOLTS.search(line.do)
    if works and not (line.part == "With everything off" or DEAD.search(line.do)):
        found.append("wrench on live bolts")
    return found


def test_no_line_sends_hands_to_what_is_live(guide: Guide) -> None:
    assert {line.id: hazards(line) for line in guide.sheets if hazards(line)} == {}


@pytest.mark.parametrize(
    ("do", "who", "part", "found"),
    [
        ("After a quarter of an hour feel cable, lugs and fuse.", "Yourself", "", ["touches"]),
        (
            "Measure between hot and neutral at the panel.",
            "Yourself",
            "On battery",
            ["opens 120/240 V parts without a licence"],
        ),
        ("A week later, go over the bolts once more.", "Yourself", "", ["wrench on live bolts"]),
        ("Measure between hot and neutral.", "A licensed electrician", "", []),
        ("Covers stay on; touch nothing.", "Yourself", "", []),
    ],
)
def test_the_scan_finds_what_it_is_for(do: str, who: str, part: str, found: list[str]) -> None:
    line = SheetLine(id="x", sheet="commission", rule="always", do=do, who=who, part=part)
    assert hazards(line) == found


@pytest.fixture(scope="module")
def drawn(guide: Guide) -> list[tuple[Case, Sheets]]:
    """Sheets of answers that differ in cord, battery, sources and layout."""
    cases = [case_of(guide, *link) for link in (*DETAILED, *MORE)]
    assert all(cases)
    return [(case, sheets_of(guide, case.advice)) for case in cases if case]


def test_every_printed_list_begins_by_shutting_down(drawn: list[tuple[Case, Sheets]]) -> None:
    for case, sheets in drawn:
        part, rows = sheets.commission[0]
        assert part.startswith("First: shut down"), case.link
        text = " ".join(row.do for row in rows)
        order = ["loads off", "cord out", "Open the battery switch", "Rings", "Wait for"]
        places = [text.index(each) for each in order]
        assert places == sorted(places), case.link
        assert ("panel disconnect" in text) == (case.needs.solar_w > 0), case.link


def test_only_what_the_rig_has_is_shut_down(drawn: list[tuple[Case, Sheets]]) -> None:
    seen = set()
    for case, sheets in drawn:
        text = " ".join(row.do for row in sheets.commission[0][1])
        for word, there in (
            ("Engine off", case.needs.alternator_a > 0),
            ("Generator off", case.needs.generator_w > 0),
            ("starter battery", case.needs.alternator_a > 0),
            ("the busbars and", case.design.dc.shared),
            ("fuse at each battery", case.design.dc.battery_fuse is not None),
            ("main fuse", case.design.dc.battery_fuse is None),
        ):
            assert (word in text) == there, (case.link, word)
            seen.add((word, there))
    assert len(seen) == 12


def test_fuses_go_in_last_and_those_at_the_batteries_at_the_very_end(
    drawn: list[tuple[Case, Sheets]],
) -> None:
    for case, sheets in drawn:
        rows = next(rows for part, rows in sheets.commission if part == "With everything off")
        own = case.design.dc.battery_fuse is not None
        does = [row.do for row in rows]
        first = next(place for place, do in enumerate(does) if "put them in" in do)
        assert first == len(does) - (2 if own else 1), case.link
        assert ("at each battery goes in last" in does[-1]) == own, case.link
        assert "Positive and negative" in " ".join(does[:first]), case.link


def rows_in_order(sheets: Sheets) -> list[str]:
    """What every line of the list before switching on says, in its order."""
    return [row.do for _, rows in sheets.commission for row in rows]


def place_of(words: str, does: list[str]) -> int:
    """Where the one line stands that says so."""
    found = [place for place, do in enumerate(does) if words in do]
    assert len(found) == 1, (words, found)
    return found[0]


BACK = {
    "fuse at the starter battery before you work": "Put the fuse at the starter battery in again",
    "If a 12 V battery stays, take its fuse out": "put its fuse in again",
    "output neutral of each unit off its terminal": "put each neutral back",
}


def test_what_was_taken_off_or_out_goes_back(drawn: list[tuple[Case, Sheets]]) -> None:
    seen = set()
    for case, sheets in drawn:
        does = rows_in_order(sheets)
        for out, back in BACK.items():
            if any(out in do for do in does):
                assert place_of(out, does) <= place_of(back, does), (case.link, out)
                seen.add(out)
            else:
                assert not any(back in do for do in does), (case.link, back)
    assert seen == set(BACK)


def test_breakers_that_were_off_go_on_before_what_needs_them(
    drawn: list[tuple[Case, Sheets]],
) -> None:
    for case, sheets in drawn:
        does = rows_in_order(sheets)
        order = ["all breakers and all switches are off", "Close the battery switch."]
        order += ["switch on the output breaker", "a lamp, then", "Switch on the input breaker"]
        order += ["Stand on dry ground"]
        places = [place_of(each, does) for each in order]
        assert places == sorted(places), case.link
        assert "cord in" in does[places[-2]], case.link


def test_the_skin_is_tested_right_after_the_cord_went_in(drawn: list[tuple[Case, Sheets]]) -> None:
    for case, sheets in drawn:
        does = [row.do for row in dict(sheets.commission)["On shore power"]]
        cord = next(place for place, do in enumerate(does) if "cord in" in do)
        assert "Test the pedestal" in does[cord - 1], case.link
        skin = does[cord + 1]
        order = ["dry ground", "Prove", "door frame", "prove it again"]
        places = [skin.index(each) for each in order]
        assert places == sorted(places), case.link


def test_settings_are_entered_before_the_sun_charges(drawn: list[tuple[Case, Sheets]]) -> None:
    seen = False
    for case, sheets in drawn:
        does = [row.do for row in dict(sheets.commission)["On battery, nothing connected"]]
        sun = [place for place, do in enumerate(does) if "panel disconnect" in do]
        seen = seen or bool(sun)
        settings = next(place for place, do in enumerate(does) if "settings" in do)
        assert all(settings < place for place in sun), case.link
    assert seen


def test_the_pre_charge_stands_before_the_switch(drawn: list[tuple[Case, Sheets]]) -> None:
    for case, sheets in drawn:
        rows = [row.do for _, group in sheets.commission for row in group]
        button = next(place for place, do in enumerate(rows) if "pre-charge" in do)
        switch = next(place for place, do in enumerate(rows) if do == "Close the battery switch.")
        assert button < switch, case.link


def test_the_expected_heat_is_that_of_this_cable(drawn: list[tuple[Case, Sheets]]) -> None:
    """T = T_air + (105 °C − T_air) · (I / I_carried)²: heating goes with the square of current."""
    for case, sheets in drawn:
        dc, air_c = case.design.dc, case.needs.ambient_c
        carried = dc.current_a / dc.cable.ampacity_a
        heat_f = (air_c + (105.0 - air_c) * carried**2) * 1.8 + 32.0
        rows = [row for _, group in sheets.commission for row in group]
        planned = next(row.planned for row in rows if "infrared" in row.do and "lugs" in row.do)
        said = re.search(r"up to (\d+(?:\.\d+)?) °F", planned)
        assert said is not None, planned
        assert float(said[1]) == pytest.approx(heat_f, abs=1.0), case.link
