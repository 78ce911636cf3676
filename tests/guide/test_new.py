"""`rig-guide new` writes what can be read at once, and makes up nothing."""

import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from engine.model.answers import Answers
from engine.respond import conversation_of
from engine.usual import usual_case
from guide import cli
from guide.content_folder import CONTENT
from guide.load import CATALOGUE_FILES, load_guide
from guide.new_shop import NEEDED, WORKBOOK, smallest_set
from guide.setup import ROOT
from guide.spreadsheet.export import export
from tests.guide.shops import demo, edited

New = Callable[..., int]
BLOCK = re.compile(r"^```\n(.*?)^```", re.MULTILINE | re.DOTALL)
PROGRAM = "rig-guide "


@pytest.fixture
def content(tmp_path: Path) -> Path:
    return edited(tmp_path / "content")


@pytest.fixture
def new(content: Path) -> New:
    return lambda *words: cli.main(["new", *words, "--content", str(content)])


@pytest.mark.parametrize("like", ["tall-24v-3200va", "lug-8-m10", "lfp-12-200-warm", "surge-15"])
def test_a_product_like_another_has_all_its_values_written_out(
    like: str, content: Path, new: New, capsys: pytest.CaptureFixture[str]
) -> None:
    assert new("product", "own-1", "--like", like, "--name", "Our own: 1, new") == 0
    said = capsys.readouterr().out
    guide = load_guide(content)
    made, model = guide.article("own-1"), guide.article(like)
    assert made is not None
    assert model is not None
    for name in model.__dataclass_fields__:
        if name not in ("id", "name", "stock", "delivery", "successor", "open_box"):
            assert getattr(made, name) == getattr(model, name), name
    assert (made.name, made.stock) == ("Our own: 1, new", "in-stock")
    file, line = said.split()[1].split(":")[:2]
    text = (content / file).read_text("utf-8")
    assert text.splitlines()[int(line) - 1] == "- id: own-1"
    assert "<<" not in text[text.index("- id: own-1") :]
    assert text.startswith((CONTENT / file).read_text("utf-8").rstrip("\n"))


def test_an_appliance_has_no_motor_and_no_warning_that_nobody_named(
    content: Path, new: New
) -> None:
    words = ("--name", "Rice cooker", "--running", "700 W", "--source", "nameplate")
    assert new("appliance", "rice-cooker", *words) == 0
    found = load_guide(content).appliance("rice-cooker")
    assert (found.running, found.heavy, found.source) == (700.0, False, "nameplate")
    assert (found.locked_rotor, found.start_time, found.caution) == (0.0, 0.0, "")
    assert not found.soft_startable


def test_a_question_of_ones_own_leads_to_one_that_the_engine_reads(content: Path, new: New) -> None:
    assert new("question", "door", "--for", "rig") == 0
    guide = load_guide(content)
    question = guide.question("door")
    assert [each.means for each in question.choices] == [
        {"rig": each.id} for each in guide.question("rig").choices
    ]
    assert question.only_with == {"rig": ("unsure",)}


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("product", "own", "--like", "tall-24v-3200"), "Did you mean “tall-24v-3200va”?"),
        (("product", "lug-8-m8", "--like", "lug-8-m8"), "there is a “lug-8-m8” already"),
        (("product", "my own", "--like", "lug-8-m8"), "“my own” is no id"),
        (
            ("appliance", "x", "--name", "X", "--running", "9 A", "--source", "y"),
            "“9 A” is no power. Write it as 900 W.",
        ),
        (("question", "door", "--for", "nights"), "there is no question “nights” with choices"),
    ],
)
def test_what_cannot_be_made_is_told_with_its_mend(
    words: tuple[str, ...], told: str, new: New, capsys: pytest.CaptureFixture[str]
) -> None:
    assert new(*words) == 2
    assert told in capsys.readouterr().err


def blocks(page: str) -> list[list[str]]:
    """The commands of each block of an owner's page, without the name of the program."""
    text = (ROOT / "site_src" / "docs" / "owner" / f"{page}.md").read_text("utf-8")
    found = [block.strip().splitlines() for block in BLOCK.findall(text)]
    return [
        [line.removeprefix(PROGRAM) for line in block] for block in found if PROGRAM in block[0]
    ]


@pytest.mark.parametrize("page", ["products", "questions"])
def test_the_commands_of_the_owners_pages_run_as_printed(
    page: str, content: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "feed.csv").write_text("article,price,stock\nlfp-12-100,395,3\n", "utf-8")
    ran = [command for block in blocks(page) for command in block]
    assert len(ran) > 1
    for command in ran:
        assert cli.main([*shlex.split(command), "--content", str(content)]) == 0, command
    load_guide(content)


def test_the_printed_commands_fill_a_new_shop_that_answers_every_kind_of_rig(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    needed, [[make, *others]] = smallest_set(demo()), blocks("start")
    assert cli.main(shlex.split(make)) == 0
    folder = tmp_path / make.rpartition(" ")[2]
    assert f"{len(needed)} products are needed" in capsys.readouterr().out
    assert len(needed) < 80
    for file in CATALOGUE_FILES.values():
        assert "id:" not in (folder / file).read_text("utf-8"), file
    everything = "\n".join(file.read_text("utf-8") for file in folder.rglob("*.yaml"))
    for stranger in (demo().shop.name, demo().shop.site, "Quillmarsh", "Hobbeck", "demo-data"):
        assert stranger not in everything + (folder / NEEDED).read_text("utf-8")
    fill(folder / WORKBOOK, needed, tmp_path)
    for command in others:
        assert cli.main(shlex.split(command)) == 0, capsys.readouterr().out
    guide = load_guide(folder)
    conversation = conversation_of(guide)
    for rig in guide.rigs:
        best = conversation.outcome(usual_case(guide, Answers({"rig": rig.id}))).best
        assert best is not None
        assert best.design is not None
        assert all(line.product for line in best.design.parts), rig.id


def fill(book: Path, needed: frozenset[str], folder: Path) -> None:
    """Write a product into each row of the list, as an owner would; here those of the demo."""
    export(CONTENT, folder / "all.xlsx")
    everything: Any = load_workbook(folder / "all.xlsx")
    list_of: Any = load_workbook(book)
    filled = set()
    for page in list_of.worksheets[1:]:
        rows = list(everything[page.title].iter_rows(min_row=2, values_only=True))
        own = [row for row in rows if row[0] in needed]
        assert len(own) == page.max_row - 1
        for place, row in enumerate(own, start=2):
            assert page.cell(place, 1).value
            for number, value in enumerate(row, start=2):
                page.cell(place, number).value = value
            filled.add(row[0])
    assert filled == needed
    list_of.save(book)


def test_a_new_shop_may_be_filled_in_steps(tmp_path: Path) -> None:
    folder = tmp_path / "shop"
    assert cli.main(["new", "shop", str(folder)]) == 0
    export(CONTENT, tmp_path / "all")
    (tmp_path / "one").mkdir()
    (tmp_path / "all" / "batteries.csv").rename(tmp_path / "one" / "batteries.csv")
    words = ["import", str(tmp_path / "one"), "--write", "--content", str(folder)]
    assert cli.main(["catalogue", *words]) == 0
    assert "id: lfp-12-100" in (folder / "catalogue/batteries.yaml").read_text("utf-8")
    assert cli.main(["check", "--content", str(folder)]) == 1


def test_a_folder_that_holds_something_is_left_alone(
    content: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["new", "shop", str(content)]) == 2
    assert "Name a new folder." in capsys.readouterr().err
