"""The charts show what the checks, the week and the cable choice hold, for every recommendation."""

import re
import xml.etree.ElementTree as ET
from itertools import accumulate

import pytest

from engine.model.guide import Guide
from engine.pages.drawings.chart_cable import cable_chart, sizes_of
from engine.pages.drawings.chart_week import AN_HOUR, HIGH, LEFT, TOP, week_chart
from engine.pages.drawings.charts import charts_of, energy_chart, surge_chart
from engine.pages.drawings.svg import LETTER, WIDTH_OF_LETTER, Picture
from engine.sizing.energy import SOURCES
from engine.standards import awg
from engine.units import show
from engine.wording.tongue import plain
from tests.pages.conftest import Case, case_of

SVG = "{http://www.w3.org/2000/svg}"


def rows_of(picture: Picture) -> tuple[tuple[str, ...], ...]:
    assert picture.table is not None
    return picture.table.rows


def test_every_chart_has_a_table_of_its_figures_and_a_description(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        charts = charts_of(guide, case.advice)
        assert [chart.id for chart in charts] == ["surge", "week", "energy", "cable"]
        for chart in charts:
            assert chart.table is not None and chart.table.rows
            assert all(len(row) == len(chart.table.head) for row in chart.table.rows)
            root = ET.fromstring(chart.svg)
            assert root.get("role") == "img"
            assert root.findtext(f"{SVG}title") == chart.title
            assert root.findtext(f"{SVG}desc") == chart.sentence


def test_the_surge_chart_has_the_values_and_limits_of_the_checks(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        checks = {check.id: check for check in case.advice.best.checks}
        found = rows_of(surge_chart(guide.wording.page, case.design))
        for row, name in zip(found, ("continuous-w", "apparent-va", "surge-va"), strict=True):
            check = checks[name]
            assert row[1:] == (show(check.value, check.unit), show(check.limit, check.unit))


def test_the_bars_of_the_surge_chart_end_left_of_their_limits(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        picture = surge_chart(guide.wording.page, case.design)
        root = ET.fromstring(picture.svg)
        ends = [float(box.get("width") or 0) for box in root.iter(f"{SVG}rect")]
        limits = [
            float((path.get("d") or "").removeprefix("M").split()[0])
            for path in root.iter(f"{SVG}path")
            if path.get("stroke-width") == "3"
        ]
        assert len(ends) == len(limits) == 3
        assert all(end <= limit + 0.1 for end, limit in zip(ends, limits, strict=True)), case.link


def test_the_energy_of_a_day_adds_up_to_what_the_bank_is_sized_for(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        rows = rows_of(energy_chart(guide.wording.page, case.needs, case.design))
        a_day = case.design.bank.energy.total_wh / case.needs.nights
        assert rows[-1][1] == show(a_day, "Wh"), case.link
        shares = [int(row[1].rpartition(", ")[2].removesuffix(" %")) for row in rows[:-1]]
        assert sum(shares) == pytest.approx(100, abs=len(shares) / 2 + 0.01)


def test_the_week_is_drawn_hour_by_hour_and_its_table_is_the_simulation(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    ends = set()
    for case in cases:
        plan = case.advice.charging
        week = plan.away
        picture = week_chart(guide.wording.page, case.advice)
        for drawn, state in zip(curves(picture), (plan.hooked_up.state, week.state), strict=True):
            assert drawn == pytest.approx(state, abs=0.05 / HIGH + 1e-9), case.link
        rows = rows_of(picture)
        assert len(rows) == (len(week.state) - 1) // 24
        assert rows[0][1] == show(min(week.state[:25]), "share")
        assert rows[-1][2] == show(week.state[-1], "share")
        assert rows[0][3] == show(min(plan.hooked_up.state[:25]), "share")
        ends.add(week.runs_out_hour is None)
        assert (guide.wording.page["chart-empty"] in picture.svg) == (
            week.runs_out_hour is not None
        )
    assert ends == {True, False}


def curves(picture: Picture) -> list[list[float]]:
    """The charge at each hour, read back from both curves."""
    found = []
    for start, steps in re.findall(r'd="M66 ([\d.]+)l([^"]{400,})"', picture.svg):
        falls = [float(each) for each in steps.split()[1::2]]
        found.append([1.0 - (y - TOP) / HIGH for y in accumulate(falls, initial=float(start))])
    return found


def test_a_band_lies_under_each_hour_in_which_a_source_gives_something(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    seen: set[str] = set()
    driven = case_of(guide, "rig=van/scope=whole/heavy=1/biggest=cooking/", "alt=180A&drive=3h")
    assert driven is not None
    for case in (*cases, driven):
        week = case.advice.charging.hooked_up
        picture = week_chart(guide.wording.page, case.advice)
        bands = re.findall(r'd="(M[^"]+z)" fill', picture.svg)
        given = [
            (name, [hour for hour, offer in enumerate(week.offers_w) if offer[place] > 0])
            for place, name in enumerate(SOURCES)
        ]
        given = [(name, hours) for name, hours in given if hours]
        for band, (name, hours) in zip(bands, given, strict=True):
            covered: list[int] = []
            for x, wide in re.findall(r"M([\d.]+) [\d.]+h([\d.]+)", band):
                first = round((float(x) - LEFT) / AN_HOUR)
                covered += range(first, first + round(float(wide) / AN_HOUR))
            assert covered == hours, (case.link, name)
            word = guide.wording.page[f"chart-source-{name}"]
            assert word in picture.svg and word in picture.sentence
        seen |= {name for name, _ in given}
    assert seen == set(SOURCES)


def test_every_chart_has_a_scale_of_round_numbers_with_its_unit(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    units = {"surge": "W or VA", "energy": "Wh a day", "cable": "%"}
    for case in cases:
        for chart in charts_of(guide, case.advice):
            texts = [each.text for each in ET.fromstring(chart.svg).iter(f"{SVG}text")]
            if chart.id in units:
                assert texts[-1] == units[chart.id], case.link
                assert "0" in texts
                end = [*ET.fromstring(chart.svg).iter(f"{SVG}text")][-1]
                wide = len(units[chart.id]) * LETTER * WIDTH_OF_LETTER
                assert float(end.get("x") or 0) + wide <= 350.0, case.link
            else:
                assert {"0 %", "50 %", "100 %", "Battery charge"} <= set(texts)
            sizes = {each.get("font-size") for each in ET.fromstring(chart.svg).iter(f"{SVG}text")}
            assert sizes == {None}, "all letters are of the size that reads on a phone"


def test_the_cable_chart_marks_the_chosen_size_and_says_why_not_the_others(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        chosen = case.design.dc.cable
        sizes = sizes_of(guide, case.needs, case.design)
        marked = [size for size in sizes if size.verdict == "chosen"]
        assert [size.awg for size in marked] == [chosen.size], case.link
        assert marked[0].drop == pytest.approx(chosen.drop_fraction)
        assert marked[0].ampacity_a == pytest.approx(chosen.ampacity_a)
        for size in sizes:
            thinner = awg.rank(size.awg) < awg.rank(chosen.size)
            assert (size.verdict in ("thin", "drop")) == thinner, (case.link, size)
        rows = rows_of(cable_chart(guide, case.needs, case.design))
        figures = [row for row in rows if row[3] == guide.wording.page["chart-is-chosen"]]
        assert len(figures) == 1
        assert figures[0][1] == f"{plain(chosen.drop_fraction * 100, 1)} %"


def test_no_chart_has_a_colour_of_its_own(guide: Guide, tree: tuple[Case, ...]) -> None:
    for case in tree[::10]:
        for chart in charts_of(guide, case.advice):
            assert not re.search(r"#[0-9a-f]{3}|rgb|black|white", chart.svg)
            assert "style=" not in chart.svg
