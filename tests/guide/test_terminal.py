"""The command line on odd terminals, full disks, closed outputs: words and codes, no traceback."""

import io
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from guide import cli, cli_answer, cli_author, terminal
from guide.compare import Comparison, compare
from guide.load import load_guide
from guide.setup import ROOT
from tests.guide.shops import edited

VAN = ("answer", "rig=van", "scope=whole", "heavy=0")
FULL = "/dev/full"
SameOut = Callable[[str, str], tuple[io.BytesIO, io.BytesIO]]


@pytest.fixture
def outputs(monkeypatch: pytest.MonkeyPatch) -> SameOut:
    """Puts outputs of an encoding in the place of the real ones; a path goes there instead."""

    def put(encoding: str, out: str = "") -> tuple[io.BytesIO, io.BytesIO]:
        said, wrong = io.BytesIO(), io.BytesIO()
        raw = open(out, "wb") if out else said  # noqa: PTH123, SIM115 - the wrapper closes it
        monkeypatch.setattr("sys.stdout", io.TextIOWrapper(raw, encoding=encoding))
        monkeypatch.setattr("sys.stderr", io.TextIOWrapper(wrong, encoding=encoding))
        return said, wrong

    return put


def run(*arguments: str) -> int:
    """One command, with what it wrote pushed out."""
    code = cli.main(list(arguments))
    sys.stdout.flush()
    sys.stderr.flush()
    return code


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp437", "utf-8"])
def test_an_answer_is_written_on_any_terminal(outputs: SameOut, encoding: str) -> None:
    said, wrong = outputs(encoding, "")
    assert run(*VAN) == 0
    assert b"Recommended for you: 1 " in said.getvalue()
    assert wrong.getvalue() == b""


def test_a_terminal_of_plain_signs_gets_the_nearest_ones(outputs: SameOut) -> None:
    said, wrong = outputs("ascii", "")
    assert run("answer", "rig=vän", "cable=5 ½kg") == 2
    assert b'"van" is not one of the choices' in wrong.getvalue()
    assert b'("5 1/2kg")' in wrong.getvalue()
    assert said.getvalue().isascii()  # the answer that stands, with what could not be read above it
    assert b'("5 1/2kg")' in said.getvalue()


def test_data_stay_data_on_a_terminal_of_plain_signs(outputs: SameOut) -> None:
    plain, _ = outputs("ascii", "")
    assert run(*VAN, "--json") == 0
    whole, _ = outputs("utf-8", "")
    assert run(*VAN, "--json") == 0
    assert plain.getvalue().isascii()
    assert not whole.getvalue().isascii()
    assert json.loads(plain.getvalue()) == json.loads(whole.getvalue())


@pytest.fixture(scope="module")
def compared() -> Comparison:
    """What a comparison of the demo with itself finds."""
    guide = load_guide()
    return compare(guide, guide)


@pytest.fixture
def _compared_once(monkeypatch: pytest.MonkeyPatch, compared: Comparison) -> None:
    """To compare takes seconds; here it is about what becomes of what was found."""
    monkeypatch.setattr(cli_author, "compare", lambda *_: compared)


@pytest.mark.usefixtures("_compared_once")
@pytest.mark.parametrize(
    "arguments", [VAN, (*VAN, "--json"), ("check",), ("compare", "guide/content", "guide/content")]
)
def test_a_full_disk_is_one_line_and_a_code_of_its_own(
    outputs: SameOut, arguments: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    _, wrong = outputs("utf-8", FULL)
    assert run(*arguments) == terminal.UNDONE
    assert wrong.getvalue() == b"rig-guide: No space left on device\n"


@pytest.mark.usefixtures("_compared_once")
@pytest.mark.parametrize(
    ("page", "why"),
    [(FULL, "No space left"), ("/", "Is a directory"), ("/nowhere/x.html", "No such file")],
)
def test_a_page_that_cannot_be_written_is_told(
    capsys: pytest.CaptureFixture[str], page: str, why: str
) -> None:
    content = str(ROOT / "guide" / "content")
    assert run("compare", content, content, "--html", page) == terminal.UNDONE
    told = capsys.readouterr().err
    assert told.startswith("rig-guide: ")
    assert why in told
    assert told.count("\n") == 1


def test_what_cannot_be_kept_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = edited(tmp_path)
    (folder / "editions").write_text("a file in the place of a folder")
    assert run("keep", "--content", str(folder)) == terminal.UNDONE
    assert "editions" in capsys.readouterr().err


def test_an_interrupted_command_says_so_by_its_code(monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_arguments: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli_answer, "open_guide", stop)
    assert run(*VAN) == terminal.INTERRUPTED


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("check", "--content", "/\x1b[31m"), "there is no shop.yaml in /\\x1b[31m"),
        (("check", "--content", "/" + "a" * 5000), "there is no shop.yaml"),
        (("check", "--content", "README.md"), "there is no shop.yaml"),
        (("serve", "--port", "99999999"), "a port is a number up to 65535"),
        (("serve", "--port", "-1"), "a port is a number up to 65535"),
        (("serve", "\x1b[31m"), "unrecognized arguments: \\x1b[31m"),
        (("\u202eevil",), "invalid choice"),
    ],
)
def test_arguments_that_cannot_be_used_are_refused_in_signs_that_can_be_shown(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], told: str
) -> None:
    with pytest.raises(SystemExit) as stopped:
        run(*arguments)
    assert stopped.value.code == 2
    wrong = capsys.readouterr().err
    assert told in wrong
    assert wrong.replace("\n", "").isprintable()


@pytest.mark.parametrize("named", ["/dev/zero", "\x1b[31m", "a" * 5000, "\udcff", "a\0b", "pipe"])
def test_what_is_no_source_of_content_is_refused_at_once(
    named: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    os.mkfifo(tmp_path / "pipe")
    monkeypatch.chdir(tmp_path)
    assert run("compare", named) == 2
    wrong = capsys.readouterr().err
    assert "no revision" in wrong
    assert wrong.replace("\n", "").isprintable()


def test_bytes_that_are_no_text_and_missing_homes_and_outputs_are_survived() -> None:
    bare = {"PATH": os.environ["PATH"], "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "guide.cli", *VAN]
    done = subprocess.run(
        [os.fsencode(each) for each in command] + [b"cable=15\xff\xfeft"],
        env=bare, cwd="/", capture_output=True, check=False,
    )  # fmt: skip
    assert done.returncode == 2
    assert "“15��ft”" in done.stderr.decode()
    shell = 'exec "$@" >&- 2>&- <&-; exit 9'
    closed = ["sh", "-c", shell, "sh", *command]
    assert subprocess.run(closed, env=bare, cwd="/", check=False).returncode == 0


def test_a_content_folder_may_have_any_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = edited(tmp_path / "my vän's “content” #1 %20")
    assert run("check", "--content", str(folder)) == 0
    assert run(*VAN, "--content", str(folder)) == 0
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize("command", ["build", "pack"])
def test_a_folder_that_is_no_site_is_never_emptied(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mine = tmp_path / "mine.txt"
    mine.write_text("text")
    for place in (tmp_path, mine):
        assert run(command, "--out", str(place)) == 2
        assert "holds something that is no site" in capsys.readouterr().err
    assert mine.read_text() == "text"
