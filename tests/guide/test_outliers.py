"""A price times a hundred is told, with its line; the demo has nothing to be told."""

from dataclasses import fields, replace
from pathlib import Path

import pytest

from engine.model.products import Catalogue
from guide import cli
from guide.outliers import outliers
from tests.guide.shops import demo, edited


def test_nothing_of_the_demo_is_far_from_its_kind() -> None:
    assert outliers(demo().catalogue) == []


def test_check_names_the_line_of_a_price_that_slipped(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    slip = ("catalogue/batteries.yaml", "price: 395 USD", "price: 39500 USD")
    assert cli.main(["check", "--content", str(edited(tmp_path / "content", slip))]) == 0
    said = capsys.readouterr().out
    assert "Look at this: catalogue/batteries.yaml:8:10: “lfp-12-100”, price: for its size" in said


@pytest.mark.parametrize("family", ["inverters", "batteries", "fuses", "breakers", "lugs"])
def test_each_price_of_a_family_that_slipped_twice_is_told(family: str) -> None:
    catalogue = demo().catalogue
    shelf = getattr(catalogue, family)
    assert family in {each.name for each in fields(Catalogue)}
    for at, each in enumerate(shelf):
        wrong = replace(each, price=each.price * 100)
        slipped = (*shelf[:at], wrong, *shelf[at + 1 :])
        told = outliers(Catalogue(**{**_shelves(catalogue), family: slipped}))
        assert (each.id, "price") in {(one.id, one.key) for one in told}


def _shelves(catalogue: Catalogue) -> dict[str, tuple[object, ...]]:
    return {each.name: getattr(catalogue, each.name) for each in fields(Catalogue)}
