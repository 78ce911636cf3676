"""The page “How well it agrees”: every outside case by the engine itself, three kinds apart."""

from dataclasses import replace

import pytest

from engine.sizing import alternator
from guide.check_pages import DOCS
from site_src.build.agreement import LABELS, Check, agreement, by_hand, row_of
from site_src.build.cases import NEAR, Case, cases, documents, found
from site_src.build.explained import Filler
from tests.guide.shops import demo
from tests.site.conftest import words_of

PAGE = "explained/agreement.md"
OUTSIDE = [case for case in cases() if case.document]


@pytest.fixture(scope="module")
def filler() -> Filler:
    return Filler(demo())


def drawn(filler: Filler) -> str:
    return filler.fill((DOCS / PAGE).read_text("utf-8"), PAGE)


def page(filler: Filler) -> str:
    return words_of(drawn(filler))


def test_there_are_more_cases_than_anybody_asked_for_and_each_off_by_a_tenth_says_why() -> None:
    rows = [row for check in agreement() for row in check.rows]
    assert len(rows) == len(OUTSIDE) >= 70
    assert all(row.apart <= NEAR or row.why for row in rows)


def test_every_case_is_on_the_page_with_both_figures_their_ratio_and_the_reason(
    filler: Filler,
) -> None:
    html = drawn(filler)
    shown = [(each, row) for check in agreement() for each in check.compared for row in each.rows]
    assert len(shown) == len(OUTSIDE)
    for each, row in shown:
        what = each.what(row)
        cells = (what, row.theirs, row.ours, row.ratio)
        assert f"<tr>{''.join(f'<td>{cell}</td>' for cell in cells)}</tr>" in html
        assert what.startswith(row.what)
        assert row.place in what or row.place in each.about
        assert not row.why or f'<tr class="rig-why"><td colspan="4">{row.why}</td></tr>' in html


def test_what_the_cases_say_is_no_markup() -> None:
    told = [text for case in OUTSIDE for text in (case.name, case.source, case.why, case.unit)]
    told += [text for each in documents().values() for text in (each.title, each.publisher)]
    assert not [text for text in told if set(text) & set("<>&|")]


def test_every_document_is_named_with_publisher_year_edition_and_whether_it_was_seen(
    filler: Filler,
) -> None:
    text = page(filler)
    for each in documents().values():
        assert f"### {each.title}" in text
        assert each.publisher in text
        assert each.year in text


def test_a_document_is_checked_under_one_label_only() -> None:
    titles = [each.document.title for check in agreement() for each in check.compared]
    assert len(titles) == len(set(titles)) == len(documents())
    for check in agreement():
        assert {each.document.label for each in check.compared} == {check.label}
    assert [check.label for check in agreement()] == list(LABELS)


def test_every_document_has_a_case() -> None:
    used = {case.document for case in OUTSIDE}
    assert used == set(documents().values())


def test_a_changed_formula_changes_the_page(monkeypatch: pytest.MonkeyPatch) -> None:
    case = next(each for each in OUTSIDE if each.call.endswith("alternator:continuous_a"))
    before = row_of(case)
    monkeypatch.setattr(alternator, "CONTINUOUS_SHARE", 0.25)
    after = row_of(case)
    assert (before.theirs, before.ours) == (after.theirs, "50 A of 100")
    assert after.ours == "25 A of 100"


def test_the_table_at_a_glance_counts_the_cases(filler: Filler) -> None:
    text = page(filler)
    for check in agreement():
        assert f"| {check.title} | {len(check.rows)} | {check.near} | {check.explained} |" in text
    assert f"test {by_hand()} examples" in text


NOTHING = "This shop has measured nothing on a rig yet."


def test_the_page_says_that_nothing_was_measured_until_something_was(filler: Filler) -> None:
    assert agreement()[-1].own == 0
    assert NOTHING in page(filler)
    *others, measured = agreement()
    first = measured.compared[0]
    own = replace(first, document=replace(first.document, own=True))
    told: list[Check] = [*others, replace(measured, compared=(own, *measured.compared[1:]))]
    shown = Filler(demo())
    shown.env.globals["agreement"] = lambda: tuple(told)
    assert NOTHING not in page(shown)
    assert f"This shop measured {len(own.rows)} of these on a rig." in page(shown)


def test_what_no_ratio_can_compare_is_refused() -> None:
    case = Case(
        "one", "a switch", "builtins:bool", gives=True, document=next(iter(documents().values()))
    )
    assert found(case) is False
    with pytest.raises(ValueError, match="a switch"):
        row_of(case)


def test_the_measuring_sheet_has_room_for_all_four_figures(filler: Filler) -> None:
    sheet = "explained/measuring-sheet.md"
    text = filler.fill((DOCS / sheet).read_text("utf-8"), sheet)
    for figure in (
        "1. Voltage drop",
        "2. Start-up (inrush) current",
        "3. Running time",
        "4. Air at the unit,",
    ):
        row = next(line for line in text.splitlines() if line.startswith(f"| {figure}"))
        assert row.endswith("| | |")
