"""What the documents name is there: files, rooms, functions, commands, tests that hold a claim."""

import re
import subprocess
import sys
from functools import cache
from importlib.util import find_spec

import pytest

from tests.documents.pages import DEVELOPERS, DOCUMENTS, PROJECT, ROOT, blocks
from tests.test_boundaries import imported

CODE = re.compile(r"```.*?```|`([^`\n]+)`", re.DOTALL)
ROOMS = ("engine", "guide", "site_src", "tests", "requirements")
PATH = re.compile(rf"(?<![\w/])(?:{'|'.join(ROOMS)})/(?:[\w*.<>-]+/?)*")
DOTTED = re.compile(r"(?<![\w/.-])(?:engine|guide|site_src|tests)(?:\.\w+)+")
CLAIM = re.compile(r"\ba test\b|\btests? (?:enforces?|holds?|wants?|checks?|refuses?)\b")
COMMANDS = re.compile(r"^(?:\.venv/bin/|python3 -m )(.+?)(?: +#.*)?$")
MODULES = ("pytest", "ruff", "mypy")
"""Commands of libraries, by which ``.venv/bin`` has one of their name."""
WAS = ("site_src/docs/project/decisions/rooms-and-names.md",)
"""What tells former names beside those of today."""
NAMES = [file.relative_to(ROOT).as_posix() for file in DOCUMENTS]


def quoted(source: str) -> list[str]:
    """What stands between single backquotes in a page, outside of blocks."""
    return [found[1] for found in CODE.finditer(source) if found[1]]


def missing(text: str) -> list[str]:
    """Files, folders and names of code in a quoted text that are not there."""
    paths = [each for each in PATH.findall(text) if not _is_there(each)]
    dotted = [each for each in DOTTED.findall(text) if not _is_known(each)]
    return paths + dotted


def _is_there(path: str) -> bool:
    """Whether a file or folder is there; <name> and * stand for some."""
    pattern = re.sub(r"<\w+>", "*", path.rstrip("/"))
    return any(ROOT.glob(pattern))


def _is_known(name: str) -> bool:
    """Whether a module is there, or one that speaks of what follows its name."""
    words = name.split(".")
    for count in range(len(words), 0, -1):
        module, rest = ROOT.joinpath(*words[:count]), words[count:]
        file = module.with_suffix(".py") if not module.is_dir() else module / "__init__.py"
        if file.is_file():
            return not rest or bool(re.search(rf"\b{rest[0]}\b", file.read_text("utf-8")))
    return False


@pytest.mark.parametrize("name", [each for each in NAMES if each not in WAS])
def test_every_file_and_name_of_code_that_a_document_names_is_there(name: str) -> None:
    source = (ROOT / name).read_text(encoding="utf-8")
    assert [each for text in quoted(source) for each in missing(text)] == []


@pytest.mark.parametrize(
    ("text", "lacking"),
    [
        ("tests/test_boundaries.py", []),
        ("guide/content/words/<language>/", []),
        ("engine.respond.respond(guide, answers)", []),
        ("tests/test_nothing.py", ["tests/test_nothing.py"]),
        ("see engine/pages/numbers_dc.py", ["engine/pages/numbers_dc.py"]),
        ("engine.respond.answer_it(guide)", ["engine.respond.answer_it"]),
        ("engine.nowhere", ["engine.nowhere"]),
    ],
)
def test_what_is_not_there_is_found_out(text: str, lacking: list[str]) -> None:
    assert missing(text) == lacking


def paragraphs(source: str) -> list[str]:
    """A page's paragraphs, items of lists and captions, without its blocks."""
    bare = re.sub(r"```.*?```", "", source, flags=re.DOTALL)
    return re.split(r"\n\n|\n(?=- |\d+\. |<|\|)", bare)


@pytest.mark.parametrize("name", NAMES)
def test_whoever_says_that_a_test_holds_something_names_it(name: str) -> None:
    source = (ROOT / name).read_text(encoding="utf-8")
    claims = [each for each in paragraphs(source) if CLAIM.search(each)]
    assert [each for each in claims if "tests/" not in each] == []


def commands() -> list[str]:
    """Every command of the documents that a reader is to type, without what it prints."""
    found = []
    for file in DOCUMENTS:
        for block in blocks(file):
            found += [match[1] for each in block.commands if (match := COMMANDS.match(each))]
        for text in quoted(file.read_text(encoding="utf-8")):
            found += [match[1] for match in [COMMANDS.match(text)] if match]
    return sorted(set(found))


@cache
def told(module: str) -> str:
    """What a command says of itself."""
    command = (sys.executable, "-m", module, "--help")
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout


@pytest.mark.parametrize("command", commands())
def test_every_command_is_there(command: str) -> None:
    program, *words = command.split()
    if program == "python":
        assert words[0] == "-m"
        assert find_spec(words[1]), f"no module is called {words[1]}"
        options = [each for each in words[2:] if each.startswith("--")]
        assert not options or all(each in told(words[1]) for each in options)
    elif program in ("guide", "rig-guide"):
        assert words[0] in (
            *re.findall(r"^    ([a-z]+) ", told("guide.cli"), re.MULTILINE),
            "--help",
        )
    else:
        assert program in MODULES
        assert find_spec(program)
        assert all(_is_there(each) for each in words if each.startswith("tests/"))


def test_the_house_names_every_room() -> None:
    house = (PROJECT / "index.md").read_text(encoding="utf-8")
    named = set(quoted(house))
    rooms = [
        f"engine/{each.name}"
        for each in sorted((ROOT / "engine").iterdir())
        if each.name not in ("__init__.py", "__pycache__", "pyproject.toml")
    ]
    assert [each for each in rooms if each not in named] == []


def row_of(name: str, rows: list[list[str]]) -> int:
    """The row of the house's table that holds a module, by its path."""
    return next(
        place
        for place, rooms in enumerate(rows)
        if any(f"{name}/".startswith(f"{room.removesuffix('.py')}/") for room in rooms)
    )


def test_each_room_of_the_engine_knows_only_what_stands_before_it() -> None:
    house = (PROJECT / "index.md").read_text(encoding="utf-8")
    rows = [quoted(line.split("|")[1]) for line in house.splitlines() if line.startswith("| `eng")]
    files = sorted((ROOT / "engine").rglob("*.py"))
    arrows = [
        (file.relative_to(ROOT).as_posix().removesuffix(".py"), name.replace(".", "/"))
        for file in files
        for name in imported(file.read_text(encoding="utf-8"))
        if name.startswith("engine.") and file != ROOT / "engine/__init__.py"
    ]
    assert len(arrows) > 200
    upwards = [each for each in arrows if row_of(each[1], rows) > row_of(each[0], rows)]
    assert upwards == []


def test_the_picture_of_the_house_shows_rooms_that_are_there() -> None:
    house = (PROJECT / "index.md").read_text(encoding="utf-8")
    shown = re.findall(r'<text class="mid room"[^>]*>([^<]+)</text>', house)
    rooms = [room for text in shown for room in re.split(r", | · ", text)]
    assert len(rooms) > 10
    for room in rooms:
        path = ROOT / "engine" / room
        assert path.is_dir() or path.with_suffix(".py").is_file(), room


def test_developers_know_the_pages_of_the_project() -> None:
    text = DEVELOPERS.read_text(encoding="utf-8")
    for name in ("index", "from-table-to-page", "add-a-subject", "use-the-engine"):
        assert f"site_src/docs/project/{name}.md" in text


def test_no_document_holds_both_sides_of_a_merge() -> None:
    left = [
        f"{file.relative_to(ROOT).as_posix()}:{number}"
        for file in DOCUMENTS
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1)
        if line.startswith(("<<<<<<< ", ">>>>>>> "))
    ]
    assert left == []
