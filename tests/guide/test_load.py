"""The content is read whole, into numbers of the engine's units, and travels as Python text."""

import shutil
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any

import pytest

from engine.kept import forget
from engine.model.guide import Guide
from engine.model.products import Catalogue
from guide.content_folder import CONTENT, edition_of
from guide.load import CATALOGUE_FILES, FILES, as_module, load_guide
from guide.sentences import table
from tests.counted import calls_of

INCH_M = 0.0254  # exact by definition
FOOT_M = 0.3048  # exact by definition


@pytest.fixture(scope="module")
def guide() -> Guide:
    return load_guide()


def test_texts_with_units_become_numbers_of_the_engine(guide: Guide) -> None:
    unit = next(each for each in guide.catalogue.inverters if each.id == "tall-24v-3200va")
    assert unit.height == pytest.approx(16 * INCH_M)
    assert unit.continuous == ((30.0, 2690.0), (45.0, 2370.0), (60.0, 1860.0))
    assert unit.surge == ((1.0, 6080.0), (30.0, 4480.0))
    assert unit.efficiency[0] == (160.0, 0.86)
    assert unit.input_capacitance == pytest.approx(0.011)
    cable = next(each for each in guide.catalogue.cables if each.id == "dc-4-0")
    assert cable.price == pytest.approx(9.20 / FOOT_M)
    assert guide.planning.drop_limit == pytest.approx(0.03)


def test_words_that_yaml_would_turn_into_something_else_stay_words(guide: Guide) -> None:
    assert [choice.id for choice in guide.question("softstart").choices] == ["yes", "no"]
    assert guide.rig("rig-30").service == "30"
    assert guide.question("nights").default == "1"


def test_an_entry_takes_over_what_it_does_not_write_itself(guide: Guide) -> None:
    by_id = {each.id: each for each in guide.catalogue.inverters}
    first, later = by_id["tall-24v-3200va"], by_id["tall-48v-3200va"]
    assert (later.apparent, later.mounts, later.terminals) == (
        first.apparent,
        first.mounts,
        first.terminals,
    )
    assert later.dc_nominal != first.dc_nominal


def test_the_load_is_no_more_work_than_a_start_can_bear() -> None:
    table()  # kept beside its sources, and not read at every start
    forget("never")
    assert calls_of(load_guide) < 8_000_000  # it was 2.7 million, in half a second


def test_every_kind_of_product_has_its_file() -> None:
    assert set(CATALOGUE_FILES) == {each.name for each in fields(Catalogue)}
    assert all((CONTENT / name).is_file() for name in FILES)


def test_the_python_text_gives_the_same_guide_back(guide: Guide) -> None:
    names: dict[str, Any] = {}
    exec(as_module(guide), names)
    again = names["GUIDE"]
    assert isinstance(again, Guide)
    for each in fields(Guide):
        # by their text, since rigs and guides are compared by identity
        assert repr(getattr(again, each.name)) == repr(getattr(guide, each.name)), each.name
    assert (again.catalogue, again.questions) == (guide.catalogue, guide.questions)


def test_the_python_text_is_the_same_in_every_run(guide: Guide) -> None:
    assert as_module(load_guide()) == as_module(guide)


def test_the_python_text_imports_model_and_wording_and_nothing_else(guide: Guide) -> None:
    imports = [line for line in as_module(guide).splitlines() if "import" in line.split()[:3]]
    models = [
        f"from engine.model.{name} import *" for name in ("brand", "edition", "guide", "products")
    ]
    wording = [f"from engine.wording.{name} import *" for name in ("sentences", "tongue")]
    assert imports == [*models, *wording]


def test_the_edition_changes_with_any_byte_and_with_any_name(tmp_path: Path) -> None:
    shutil.copytree(CONTENT, tmp_path, dirs_exist_ok=True)
    before = edition_of(tmp_path)
    assert before == edition_of() == load_guide().edition
    assert len(before) == 12
    shop = tmp_path / "shop.yaml"
    shop.write_bytes(shop.read_bytes() + b"\n")
    with_a_byte = edition_of(tmp_path)
    (tmp_path / "cautions" / "unit.yaml").rename(tmp_path / "cautions" / "units.yaml")
    assert len({before, with_a_byte, edition_of(tmp_path)}) == 3


def test_everything_that_was_read_can_be_hashed(guide: Guide) -> None:
    """Plans are kept by the products that they are made from."""
    for each in fields(Catalogue):
        for product in getattr(guide.catalogue, each.name):
            assert is_dataclass(product)
            assert isinstance(hash(product), int)
