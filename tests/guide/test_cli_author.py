"""The authors' commands: what they print and how they exit."""

import json
from pathlib import Path

import pytest

from guide import cli
from guide.cli_author import progress_bar
from guide.content_folder import CONTENT
from tests.guide.shops import demo, edited


def run(*arguments: str) -> int:
    return cli.main(list(arguments))


def test_check_says_that_there_is_no_fault(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("check") == 0
    assert f"No fault; edition {demo().edition}" in capsys.readouterr().out


def test_check_tells_every_fault_and_exits_with_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = edited(
        tmp_path,
        ("catalogue/fans.yaml", "price: 16 USD", "price: 16 A"),
        ("priorities.yaml", "measure: idle", "measure: idel"),
    )
    assert run("check", "--content", str(folder)) == 1
    out = capsys.readouterr().out
    assert "catalogue/fans.yaml:7:10: “price”: expected a price, got a current" in out
    assert "Did you mean “idle”?" in out
    assert "2 faults in 2 files" in out


def test_a_folder_without_content_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as stopped:
        run("check", "--content", str(tmp_path))
    assert stopped.value.code == 2
    assert "there is no shop.yaml" in capsys.readouterr().err


def test_schema_says_what_it_wrote(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = edited(tmp_path)
    assert run("schema", "--content", str(folder)) == 0
    assert "up to date" in capsys.readouterr().out
    (folder / "schema" / "shop.json").unlink()
    assert run("schema", "--content", str(folder)) == 0
    assert "wrote schema/shop.json" in capsys.readouterr().out


def test_compare_prints_text_and_data_and_writes_a_page(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = edited(tmp_path / "new", ("words/en/page.yaml", "why-this: ", "why-this: Reasons, "))
    page = tmp_path / "compare.html"
    assert run("compare", str(CONTENT), str(folder), "--html", str(page)) == 0
    assert "0 of " in capsys.readouterr().out
    assert "<h1>What the edit changes</h1>" in page.read_text("utf-8")
    assert run("compare", str(CONTENT), str(folder), "--json") == 0
    assert json.loads(capsys.readouterr().out)["changed"] == 0


def test_compare_refuses_what_is_no_content(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("compare", "no-such-thing") == 2
    assert "no folder, no zip and no revision" in capsys.readouterr().err


def test_keep_writes_this_edition(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = edited(tmp_path)
    assert run("keep", "--content", str(folder)) == 0
    assert f"kept editions/2026-01-15-{demo().edition}.json" in capsys.readouterr().out
    assert run("check", "--content", str(folder)) == 0


def test_an_answer_comes_from_the_content_that_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = edited(
        tmp_path, ("words/en/page.yaml", "recommended: Recommended", "recommended: Our pick")
    )
    pairs = ("rig=van", "scope=whole", "heavy=0")
    assert run("answer", *pairs, "--content", str(folder)) == 0
    assert "Our pick for you" in capsys.readouterr().out


def test_try_ends_with_the_input(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def nothing(_prompt: str) -> str:
        raise EOFError

    monkeypatch.setattr("builtins.input", nothing)
    assert run("try") == 0
    assert demo().question("rig").ask in capsys.readouterr().out


def test_the_progress_bar_is_for_terminals_only(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    progress_bar("walking")(1, 2)
    assert capsys.readouterr().err == ""
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    tell = progress_bar("walking")
    tell(1, 2)
    tell(2, 2)
    shown = capsys.readouterr().err
    assert "1/2" in shown
    assert shown.endswith("2/2\n")
