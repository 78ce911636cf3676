"""A feed of prices and stock touches nothing else."""

from pathlib import Path

import pytest

from guide import cli
from guide.content_folder import CONTENT
from guide.load import load_guide
from guide.spreadsheet.book import read_tables
from guide.spreadsheet.feed import plan_prices


def feed(folder: Path, text: str) -> Path:
    place = folder / "feed.csv"
    place.write_text(text, "utf-8")
    return place


def test_price_and_stock_are_taken_and_only_these(content: Path, tmp_path: Path) -> None:
    rows = "Article number,Price,In stock,name\nlfp-12-100,410,0,X\nsurge-15,99.50 USD,4,Y\n"
    found = plan_prices(content, read_tables(feed(tmp_path, rows)))
    assert found.faults == ()
    assert sorted(found.write()) == ["catalogue/batteries.yaml", "catalogue/cord-guards.yaml"]
    changed = load_guide(content).article("lfp-12-100")
    assert changed is not None
    assert (changed.stock, getattr(changed, "price", 0.0)) == ("out-of-stock", 410.0)
    for file in CONTENT.rglob("*.yaml"):
        name = file.relative_to(CONTENT)
        before, now = (folder / name for folder in (CONTENT, content))
        lines = set(now.read_text("utf-8").splitlines()) - set(
            before.read_text("utf-8").splitlines()
        )
        assert all("price" in line or "stock" in line for line in lines), name
    again = plan_prices(content, read_tables(feed(tmp_path, rows)))
    assert (again.faults, again.changed) == ((), False)


def test_what_is_discontinued_stays_so(tmp_path: Path) -> None:
    rows = "id,stock\ntall-2000-12,0\n"
    assert not plan_prices(CONTENT, read_tables(feed(tmp_path, rows))).changed


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ("article,price\nlfp-12-10,4\n", "this shop has no such article. Did you mean “lfp-12-"),
        (
            "article,price\nlfp-12-100,4\nlfp-12-100,5\n",
            "feed.csv:3:1: “lfp-12-100”: it is here twice",
        ),
        (
            "article,price\nlfp-12-100,cheap\n",
            "feed.csv:2:2: “price”: “cheap” has no number in front",
        ),
        ("article,price\nlfp-12-100,4 EUR\n", "feed.csv:2:2: “price”: “4 EUR” is in EUR"),
        ("article,stock\nlfp-12-100,maybe\n", "feed.csv:2:2: “stock”: “maybe” is not one of"),
        (
            "article,price,price\nlfp-12-100,400,401\n",
            "feed.csv:1:3: “price”: this column is here twice. Take one of them out.",
        ),
        ("name,price\nlfp-12-100,4\n", "feed: the headings: a feed has the columns"),
    ],
)
def test_a_fault_is_told_with_its_cell(
    rows: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["catalogue", "prices", str(feed(tmp_path, rows))]) == 1
    out = capsys.readouterr().out
    assert told in out
    assert "1 fault; nothing is written" in out
