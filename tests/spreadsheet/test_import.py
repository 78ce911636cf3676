"""An import says first what it would do, by sheet and cell; then it changes single values."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from guide import cli
from guide.content_folder import CONTENT
from guide.load import load_guide
from guide.spreadsheet.book import read_tables
from guide.spreadsheet.export import export
from guide.spreadsheet.importing import Import, plan_import
from tests.spreadsheet.conftest import Cells

Book = Callable[[str, Cells], Path]
At = Callable[[str], int]
FILE = "catalogue/batteries.yaml"


def planned(book: Path) -> Import:
    return plan_import(CONTENT, read_tables(book))


def new_row(page: Any, at: At, **changed: object) -> int:
    """A row like the first one, with other values; returns its number."""
    page.append([cell.value for cell in page[2]])
    for key, value in changed.items():
        page.cell(page.max_row, at(key)).value = value
    return int(page.max_row)


def test_a_changed_price_changes_one_line_and_the_answers_are_told(
    content: Path, book: Book, capsys: pytest.CaptureFixture[str]
) -> None:
    def change(page: Any, at: At) -> None:
        page.cell(2, at("price")).value = 425

    source = str(book("batteries", change))
    before = (content / FILE).read_text("utf-8")
    assert cli.main(["catalogue", "import", source, "--content", str(content)]) == 0
    said = capsys.readouterr().out
    assert "lfp-12-100, price: 395 USD → 425 USD" in said
    assert "answers change" in said
    assert (content / FILE).read_text("utf-8") == before
    write = ["--no-answers", "--write", "--content", str(content)]
    assert cli.main(["catalogue", "import", source, *write]) == 0
    assert (content / FILE).read_text("utf-8") == before.replace("price: 395 USD", "price: 425 USD")


def test_a_new_row_is_a_new_entry_that_is_read_as_the_cells_say(content: Path, book: Book) -> None:
    name = "Lithium, heated: 105 Ah #2"
    source = book("batteries", lambda page, at: new_row(page, at, id="own-105", name=name))
    found = plan_import(content, read_tables(source))
    assert found.faults == ()
    assert [each.new for each in found.families if each.new] == [["own-105"]]
    assert found.write() == [FILE]
    made, model = (load_guide(content).article(each) for each in ("own-105", "lfp-12-100"))
    assert made is not None
    assert made.name == name
    assert getattr(made, "capacity", 0) == getattr(model, "capacity", 1)
    again = plan_import(content, read_tables(source))
    assert (again.faults, again.changed) == ((), False)


def test_a_stock_is_written_taken_out_and_written_in_one_line_entries(
    content: Path, book: Book, exported: Path
) -> None:
    def change(page: Any, at: At) -> None:
        page.cell(3, at("stock")).value = "out-of-stock"
        page.cell(3, at("delivery")).value = "about 3 weeks"

    found = plan_import(content, read_tables(book("lugs", change)))
    assert found.faults == ()
    found.write()
    text = (content / "catalogue/lugs.yaml").read_text("utf-8")
    assert "id: lug-8-m10, stock: out-of-stock, delivery: about 3 weeks, name:" in text
    taken = plan_import(content, read_tables(exported))
    taken.write()
    assert text != (content / "catalogue/lugs.yaml").read_text("utf-8")
    assert (content / "catalogue/lugs.yaml").read_bytes() == (
        CONTENT / "catalogue/lugs.yaml"
    ).read_bytes()


OPENED = "opened for a look at a show, complete, full warranty"
INVERTERS = "catalogue/inverters.yaml"


def test_an_offer_of_opened_units_is_changed_value_by_value(content: Path, book: Book) -> None:
    said: list[str] = []

    def change(page: Any, at: At) -> None:
        [row] = [row for row in range(2, 99) if page.cell(row, at("open_box")).value]
        said.append(page.cell(row, at("open_box")).value)
        page.cell(row, at("open_box")).value = f"1 x 1050: {OPENED}"

    found = plan_import(content, read_tables(book("inverters", change)))
    assert said == [f"2 x 1110 USD: {OPENED}"]
    assert found.faults == ()
    before = (content / INVERTERS).read_text("utf-8")
    found.write()
    assert (content / INVERTERS).read_text("utf-8") == before.replace(
        "price: 1110 USD\n      count: 2", "price: 1050 USD\n      count: 1"
    )


@pytest.mark.parametrize(
    "offers",
    [(), ("3 x 900 USD: scratched: works",), ("1 x 900 USD: bare", f"2 x 910 USD: {OPENED}")],
)
def test_offers_of_opened_units_come_go_and_are_read_again(
    content: Path, book: Book, offers: tuple[str, ...]
) -> None:
    def change(page: Any, at: At) -> None:
        for row in range(2, page.max_row + 1):
            name = page.cell(row, at("id")).value
            offered = name in ("tall-24v-3200va", "tall-12v-2200va")
            page.cell(row, at("open_box")).value = "\n".join(offers) if offered else None

    source = book("inverters", change)
    found = plan_import(content, read_tables(source))
    assert found.faults == ()
    found.write()
    for name in ("tall-24v-3200va", "tall-12v-2200va"):
        opened = getattr(load_guide(content).article(name), "open_box", None)
        assert opened is not None
        told = [f"{each.count} x {each.price:g} USD: {each.condition}" for each in opened]
        assert told == list(offers)
    again = plan_import(content, read_tables(source))
    assert (again.faults, again.changed) == ((), False)


def test_what_is_no_offer_is_told_with_its_cell(book: Book) -> None:
    def change(page: Any, at: At) -> None:
        page.cell(2, at("open_box")).value = "one, cheap"

    [told] = planned(book("inverters", change)).faults
    assert "“one, cheap” is no offer of opened units. Write a line for each, as 2 x" in told


def test_numbers_as_text_titles_above_and_headings_in_capitals_are_read(book: Book) -> None:
    def change(page: Any, at: At) -> None:
        page.cell(2, at("price")).value = "1,425.00"
        page.cell(3, at("price")).value = "735,50"
        page.cell(4, at("price")).value = " 900 USD "
        page.cell(1, at("mass")).value = " Mass [kg] "
        page.insert_rows(1)
        page.cell(1, 1).value = "Our shop"

    found = planned(book("batteries", change))
    [batteries] = [each for each in found.families if each.changes]
    assert found.faults == ()
    assert [each.now for each in batteries.changes] == ["1425.00 USD", "735.50 USD", "900 USD"]


def test_every_fault_is_told_in_one_run_with_sheet_cell_and_mend(book: Book) -> None:
    def change(page: Any, at: At) -> None:
        page.cell(2, at("charge_current")).value = "50 W"
        page.cell(3, at("usable")).value = 140
        page.cell(2, at("mass")).value = None
        row = new_row(page, at, id="own", chemistry="lead", stud=None, name=None)
        assert page.cell(row, at("id")).value == "own"
        new_row(page, at, id="own")
        page.cell(1, at("peak_time")).value = "peek_time [s]"

    told = planned(book("batteries", change)).faults
    each = {line.partition(": ")[0].partition("!")[2]: line for line in told}
    text = "\n".join(told)
    assert "expected a current, got a power (“50 W”)" in text
    assert "“90 %” is taken over from another entry (gray)" in text
    assert "“lead” is not one of the choices" in text
    assert "batteries!B" in next(line for line in told if "“name”: this key is missing" in line)
    assert "stands in batteries!A" in text
    assert "“peek_time [s]”: no such column is known here. Did you mean “peak_time”?" in text
    assert all(line.startswith("batteries!") for line in told), told
    assert len(each) >= 6


def test_a_wrong_sheet_and_a_missing_id_are_told(tmp_path: Path) -> None:
    (tmp_path / "battery.csv").write_text("id,price [USD]\nlfp-12-100,1\n", "utf-8")
    (tmp_path / "fans.csv").write_text("name,price [USD]\nFan,1\n", "utf-8")
    told = "\n".join(planned(tmp_path).faults)
    assert "battery: the sheet: no family is called so. Did you mean “batteries”?" in told
    assert "fans.csv:1:1: the headings: there is no column “id”" in told


def test_a_table_of_few_columns_and_rows_changes_only_these(tmp_path: Path) -> None:
    (tmp_path / "batteries.csv").write_text("id;price [USD]\nlfp-12-100;410\n", "utf-8")
    found = planned(tmp_path)
    [batteries] = found.families
    assert found.faults == ()
    assert [(each.key, each.now) for each in batteries.changes] == [("price", "410 USD")]
    assert len(batteries.gone) > 10
    assert len(batteries.edits) == 1


def test_what_a_table_lacks_is_discontinued_only_if_asked_for(
    tmp_path: Path, content: Path
) -> None:
    lugs = read_tables(_without(tmp_path, "lugs", "lug-8-m10"))
    assert not plan_import(content, lugs).changed
    found = plan_import(content, lugs, discontinue=True)
    found.write()
    article = load_guide(content).article("lug-8-m10")
    assert article is not None
    assert article.stock == "discontinued"


def _without(folder: Path, family: str, article: str) -> Path:
    export(CONTENT, folder / "all")
    lines = (folder / "all" / f"{family}.csv").read_text("utf-8-sig").splitlines()
    few = folder / "few"
    few.mkdir()
    kept = [line for line in lines if not line.startswith(f"{article},")]
    assert len(kept) == len(lines) - 1
    (few / f"{family}.csv").write_text("\n".join(kept), "utf-8")
    return few


def test_figures_far_from_their_kind_are_told(book: Book) -> None:
    def battery(page: Any, at: At) -> None:
        page.cell(2, at("price")).value = 39500

    def unit(page: Any, at: At) -> None:
        new_row(page, at, id="own", charge_current=900, mass=140)

    told = "\n".join(planned(book("batteries", battery)).look_at)
    assert "“lfp-12-100”, price: 395 USD → 39500 USD" in told
    assert "times the usual of the others" in told
    told = "\n".join(planned(book("inverters", unit)).look_at)
    assert "“own”, charge_current: for its power it is" in told
    assert "“own”, mass: for its size it is 11 times the usual of the others" in told
