"""The benchmark's tables and pictures: how figures are read, and that code tells what is missed."""

import urllib.request
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from engine.conversation import Conversation
from engine.tree import states
from tests import bench_browser, bench_page, bench_parts
from tests.bench import PARTS
from tests.bench_counted import counted
from tests.bench_guide import lean, shelf_size
from tests.bench_parts import Bench
from tests.bench_plot import Plot, draw, told
from tests.bench_rows import Bar, Judged, Row, high, table, together
from tests.browser import measures
from tests.grown import shelves_of, with_fewer_products, with_one_rig
from tests.guide.shops import demo

CURVE = Plot("curve", "products", "one answer", "ms", ((100.0, 2.0), (1e3, 5.0), (9_999.0, 40.0)))


def test_a_row_tells_median_least_and_most_of_both_and_the_ratio_of_medians() -> None:
    row = Row("ready", [0.5, 0.4, 0.9], [2.0, 2.0, 2.5], "s", 2)
    assert row.cells == ("ready", "0.50 s (0.40–0.90)", "2.00 s (2.00–2.50)", "0.25", "–", "–")


def test_a_single_figure_has_no_brackets_and_no_rival_no_ratio() -> None:
    assert Row("build", [21.04], unit="s", digits=1).cells[1:] == ("21.0 s", "–", "–", "–", "–")


@pytest.mark.parametrize(
    ("judged", "most", "bar", "verdict"),
    [
        ("median", 20, "≤ 20 ms", "yes"),
        ("median", 16, "≤ 16 ms", "**missed** by 25 %"),
        ("median", 19.99, "≤ 19.99 ms", "**missed** by 1 %"),
        ("median", 0, "≤ 0 ms", "**missed**"),
        ("p95", 30, "p95 ≤ 30 ms", "yes"),
        ("p95", 25, "p95 ≤ 25 ms", "**missed** by 20 %"),
        ("most", 30, "each ≤ 30 ms", "yes"),
        ("most", 24, "each ≤ 24 ms", "**missed** by 25 %"),
        ("ratio", 2.0, "ratio ≤ 2.00", "yes"),
        ("ratio", 1.0, "ratio ≤ 1.00", "**missed** by 100 %"),
        ("ratio of p95", 0.75, "ratio of p95 ≤ 0.75", "yes"),
        ("ratio of p95", 0.5, "ratio of p95 ≤ 0.50", "**missed** by 50 %"),
    ],
)
def test_a_bar_is_judged_by_the_figures(
    judged: Judged, most: float, bar: str, verdict: str
) -> None:
    row = Row("tap", [10.0, 20.0, 30.0], [10.0, 10.0, 40.0], bar=Bar(judged, most))
    assert row.cells[4:] == (bar, verdict)


def test_rows_of_several_runs_are_one_with_all_figures_and_each_run_s_ratio() -> None:
    of_ratio, of_tails = Bar("ratio", 1.10), Bar("ratio of p95", 1.10)
    runs = [
        [
            Row("paint", ours, rival, bar=of_ratio),
            Row("tap", ours, rival, bar=of_tails),
            Row("built", ours),
        ]
        for ours, rival in (([8.0], [4.0]), ([9.0], [3.0]), ([4.0], [4.0]))
    ]
    paint, tap, built = together(runs)
    assert paint.cells[1:4] == ("8 ms (4–9)", "4 ms (3–4)", "2.00 (1.00–3.00)")
    assert tap.cells[1:4] == ("8 ms (4–9)", "4 ms (3–4)", "2.25")  # 9 ÷ 4
    assert built.cells[1:4] == ("8 ms (4–9)", "–", "–")
    assert together(runs[:1]) == runs[0]
    with pytest.raises(ValueError, match="shorter"):
        together([runs[0], runs[1][:1]])


def test_the_median_of_several_runs_is_judged_where_a_bar_is_about_runs() -> None:
    row = Row("paint", [9.0], [3.0], bar=Bar("ratio", 1.10), ratios=(1.05, 1.30, 1.02))
    assert row.cells[3:] == ("1.05 (1.02–1.30)", "ratio ≤ 1.10", "yes")


def test_a_bar_about_a_rival_without_one_is_a_mistake() -> None:
    with pytest.raises(ValueError, match="no rival"):
        table([Row("tap", [1.0], bar=Bar("ratio", 1.0))])


def test_nineteen_of_twenty_do_not_exceed_the_high_value() -> None:
    assert high([float(each) for each in range(100, 0, -1)]) == 95.0
    assert high([3.0, 1.0]) == 3.0
    assert Row("tap", [1.0, 2.0, 9.0], tail=True).told([1.0, 2.0, 9.0]).endswith(", p95 9 ms")


def test_each_part_has_its_place_on_the_page_and_a_table_is_put_there(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    page = tmp_path / "page.md"
    text = bench_page.PAGE.read_text(encoding="utf-8")
    for name in (*PARTS, *bench_browser.PARTS, "growth", "lighthouse", measures.SECTION):
        page.write_text(text, encoding="utf-8")
        monkeypatch.setattr(bench_page, "PAGE", page)
        bench_page.put(name, "by hand", f"A table of {name}.\n")
        changed = page.read_text(encoding="utf-8")
        assert f"; by hand.\n\nA table of {name}.\n<!-- /{name} -->" in changed
        assert changed.partition(f"<!-- {name} -->")[0] == text.partition(f"<!-- {name} -->")[0]
        assert changed.partition(f"<!-- /{name} -->")[2] == text.partition(f"<!-- /{name} -->")[2]
    with pytest.raises(ValueError, match="not one place for the section “nothing”"):
        bench_page.put("nothing", "by hand", "")
    page.write_text(text + text, encoding="utf-8")
    with pytest.raises(ValueError, match="not one place for the section “growth”"):
        bench_page.put("growth", "by hand", "")


def test_the_parts_that_are_named_are_run_and_written(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    written: list[tuple[str, str]] = []
    monkeypatch.setattr(bench_page, "put", lambda *given: written.append((given[0], given[2])))

    def measured(bench: Bench) -> list[Row]:
        return [Row("work", [float(bench.rounds)], bar=Bar("median", 2))]

    parts = {name: lambda bench: iter(measured(bench)) for name in ("one", "other")}
    bench_parts.run(parts, ["other", "--rounds", "3", "--runs", "2", "--write"], "bench")
    assert written == [("other", table([Row("work", [3.0, 3.0], bar=Bar("median", 2))]))]
    assert "**missed** by 50 %" in capsys.readouterr().out
    with pytest.raises(SystemExit):
        bench_parts.run(parts, ["none"], "bench")
    assert "there is no part “none”; there are one, other" in capsys.readouterr().err


def test_a_curve_says_what_it_shows_is_drawn_alike_each_time_and_reads_in_light_and_dark() -> None:
    drawn = draw(CURVE)
    assert drawn == draw(CURVE)
    assert "prefers-color-scheme:dark" in drawn
    texts = [each.text for each in ET.fromstring(drawn).iter() if each.tag.endswith("}text")]
    assert {"one answer [ms]", "products", "100", "10,000", "2.00", "5.00", "40.0"} <= {*texts}
    assert told(CURVE) == (
        "One answer over the number of products: 2.00 ms with 100 and 40.0 ms with 9,999. "
        "At 100 times the products it is 20.0 times as large."
    )


def test_a_point_of_a_curve_stands_where_its_figures_are_on_the_scales() -> None:
    circles = [
        (float(each.attrib["cx"]), float(each.attrib["cy"]))
        for each in ET.fromstring(draw(CURVE)).iter()
        if each.tag.endswith("}circle")
    ]
    (left, low), (middle, _), (right, top) = circles
    assert middle == pytest.approx((left + right) / 2, abs=0.2)  # 100, 1,000, 10,000
    assert (210.0 - low) * 20 == pytest.approx(210.0 - top, abs=2.0)  # 2 ms, 40 ms


def test_a_server_counts_what_it_sends(tmp_path: Path) -> None:
    (tmp_path / "a.bin").write_bytes(b"x" * 1234)
    with counted(tmp_path, "no-store") as (address, sent):
        for _ in range(2):
            urllib.request.urlopen(f"{address}/a.bin").read()
    assert dict(sent) == {"/a.bin": 2468}


def test_a_shelf_is_made_smaller_and_keeps_what_is_needed() -> None:
    needed = {shelf[-1].id for shelf in shelves_of(demo()).values()}
    guide = with_fewer_products(demo(), 100, needed)
    assert needed <= {each.id for shelf in shelves_of(guide).values() for each in shelf}
    assert shelf_size(guide) == 100


def test_a_tree_of_one_rig_is_a_part_of_the_lean_one() -> None:
    small = states(Conversation(with_one_rig(lean(demo()), "rig-30")))
    assert len(small) > 100
    assert all("rig=van" not in path and "rig=coach-50" not in path for path in small)
