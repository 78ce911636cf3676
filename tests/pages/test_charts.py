"""The charts show what the checks, the week and the cable choice hold, for every recommendation."""

import re
import xml.etree.ElementTree as ET

import pytest

from engine.model.guide import Guide
from engine.pages.drawings.chart_cable import cable_chart, sizes_of
from engine.pages.drawings.charts import charts_of, energy_chart, surge_chart, week_chart
from engine.pages.drawings.svg import Picture
from engine.standards import awg
from engine.units import show
from engine.wording.tongue import plain
from tests.pages.conftest import Case

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
        week = case.advice.charging.week
        picture = week_chart(guide.wording.page, case.advice)
        curve = max(re.findall(r'd="M([^"]+)"', picture.svg), key=len)
        assert curve.count("L") + 1 == len(week.state), case.link
        rows = rows_of(picture)
        assert len(rows) == (len(week.state) - 1) // 24
        assert rows[0][1] == show(min(week.state[:25]), "share")
        assert rows[-1][2] == show(week.state[-1], "share")
        ends.add(week.runs_out_hour is None)
        assert (guide.wording.page["chart-empty"] in picture.svg) == (
            week.runs_out_hour is not None
        )
    assert ends == {True, False}


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
