"""Explanatory pages: a typed figure is found, and told with file, line and mend."""

from pathlib import Path

import pytest

from guide import check_pages, cli
from guide.check_pages import DOCS, PICTURES, page_faults, pages_of, typed_figures
from tests.guide.shops import demo, edited

BAD_PAGE = 'One line.\n\nIt draws 12.5 A, or {{ "40 A" }}.\n'


def texts(source: str) -> list[str]:
    return [each.text for each in typed_figures(source)]


@pytest.mark.parametrize("file", pages_of(demo()), ids=lambda file: file.stem)
def test_a_page_types_no_figure_that_the_engine_computes(file: Path) -> None:
    assert typed_figures(file.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("file", sorted(PICTURES.glob("*.html")), ids=lambda file: file.stem)
def test_a_picture_types_no_figure_that_the_engine_computes(file: Path) -> None:
    assert typed_figures(file.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "text",
    [
        "It draws 12.5 A.",
        "about 3,600 VA",
        "a run of 15 ft",
        "18 mm deep",
        "80 % of it",
        "$450",
        "35 °C",
        "4/0 AWG and 2 kWh",
        "about 9 kA",
        "some 200 amps",
    ],
)
def test_a_typed_figure_is_seen(text: str) -> None:
    assert texts(text)


@pytest.mark.parametrize(
    "text",
    [
        "a 30 A rig, a 50 A coach on 120/240 V",
        "a 12 V battery",
        "NEC 551.44 in the second part",
        "DIN 46228-4, in part from memory",
        'strip {{ fig.push_in_strip() }} and {{ fig.amperes("1500 W") }}',
    ],
)
def test_names_and_filled_in_figures_are_no_typed_ones(text: str) -> None:
    assert texts(text) == []


def test_a_quoted_figure_is_an_input_only_if_the_engine_gets_it_too() -> None:
    assert texts('{{ "2,400 W" }} make {{ dc.current("2400 W") }}') == []
    assert texts('{{ "2,400 W" }} make {{ "200 A" }}, {{ dc.current("2400 W") }}') == ["200 A"]
    assert texts('{{ "200 A" }} and {{ "200 A" }}') == ["200 A", "200 A"]


def test_a_figure_is_found_on_its_line() -> None:
    assert [(each.text, each.line, each.column) for each in typed_figures(BAD_PAGE)] == [
        ("12.5 A", 3, 10),
        ("40 A", 3, 25),
    ]


def test_check_names_file_line_and_mend_of_a_typed_figure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    docs = tmp_path / "docs"
    for file in pages_of(demo()):
        copy = docs / file.relative_to(DOCS)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_text(file.read_text("utf-8"), "utf-8")
    (docs / "explained" / "cable.md").write_text(BAD_PAGE, "utf-8")
    (docs / "explained" / "solar.md").unlink()
    monkeypatch.setattr(check_pages, "DOCS", docs)
    monkeypatch.setattr(check_pages, "ROOT", tmp_path)
    monkeypatch.setattr(check_pages, "PICTURES", tmp_path / "pictures")
    assert cli.main(["check"]) == 1
    out = capsys.readouterr().out
    assert "docs/explained/cable.md:3:10: “12.5 A”: this figure is typed" in out
    assert "docs/explained/cable.md:3:25: “40 A”" in out
    assert "docs/explained/solar.md:1:1: page “solar”: explanations.yaml names it" in out
    assert "3 faults in 2 files" in out


def test_only_the_pages_that_a_shop_lists_are_its_own(tmp_path: Path) -> None:
    folder = edited(
        tmp_path / "content", ("explanations.yaml", "- id: solar\n", "- id: sunshine\n")
    )
    assert cli.main(["check", "--content", str(folder)]) == 1


def test_the_demo_has_no_fault_in_its_pages() -> None:
    assert page_faults(demo()) == []
