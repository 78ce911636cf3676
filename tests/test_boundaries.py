"""What each room may import; what is not listed is refused, arrows inside the engine included."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent

# The engine has no clock, chance, files or network: the same answers give the same bytes.
PURE = {
    "base64", "bisect", "collections", "dataclasses", "decimal", "difflib", "enum",
    "fractions", "functools",
    "hashlib", "inspect", "itertools", "json", "math", "operator", "re", "string", "typing",
    "types", "unicodedata", "urllib", "xml", "html", "io", "csv", "contextlib",
}  # fmt: skip
KEPT = {"engine.kept"}
SPELLED = {
    "engine.typed.amounts", "engine.typed.outside", "engine.typed.spellings",
    "engine.typed.unit_table", "engine.typed.words",
}  # fmt: skip
SPEECH = {"engine.wording"}
BASE = {
    *SPEECH, "engine.standards", "engine.sizing", "engine.model", "engine.units", "engine.trace",
    *KEPT,
}  # fmt: skip
TALK = {
    "engine.links", "engine.typed.answers", "engine.typed.outside", "engine.needs",
    "engine.conversation", "engine.answer", "engine.editions", "engine.completion",
    "engine.loads_said", "engine.matching", "engine.suggestions", "engine.suggested_choices",
    "engine.suggested_loads", "engine.suggested_values", "engine.tree",
    "engine.usual", "engine.ways", "engine.what_if", "engine.mends", "engine.alternatives",
    "engine.load_rows", "engine.load_rows_typed", "engine.past",
}  # fmt: skip
HEARS = {*SPEECH, "engine.model", *TALK, "engine.typed.heard", "engine.typed.words"}
PLAN = {"engine.advice.plan"}
ADVICE = {*PLAN, "engine.advice.judge"}
DRAWING = {"jinja2", "markupsafe", "pathlib"}
COMMON_PAGES = {
    "engine.pages.words", "engine.pages.view", "engine.pages.form", "engine.pages.contact",
}  # fmt: skip

MAY: dict[str, set[str]] = {
    "engine/kept.py": set(),
    "engine/trace.py": set(),
    "engine/wording": KEPT,
    "engine/standards": set(),
    "engine/sizing": {"engine.standards", "engine.trace"},
    "engine/typed": SPELLED,
    "engine/typed/spellings.py": {*KEPT, *SPELLED},
    "engine/typed/batteries.py": {
        *SPELLED, *SPEECH, "engine.model", "engine.standards", "engine.units",
    },
    "engine/typed/heard.py": {*KEPT, *SPELLED},
    "engine/typed/load_names.py": {*KEPT, "engine.model"},
    "engine/typed/answers.py": {*SPELLED, *SPEECH, "engine.model", "engine.typed", "engine.units"},
    "engine/units.py": {*KEPT, *SPELLED, *SPEECH},
    "engine/model": {*SPEECH, "engine.standards", "engine.sizing", "engine.units"},
    "engine/links.py": {
        *SPEECH, "engine.load_rows_typed", "engine.model", "engine.typed.answers",
        "engine.typed.outside",
    },
    "engine/needs.py": {
        "engine.model", "engine.typed.answers", "engine.standards", "engine.weather",
        "engine.shedding", *KEPT,
    },
    "engine/shedding.py": {"engine.model", "engine.sizing", "engine.standards"},
    "engine/weather.py": {"engine.model", "engine.sizing", "engine.standards", "engine.trace"},
    "engine/advice/plan": BASE,
    "engine/advice/judge": {*BASE, *PLAN, "engine.needs", "engine.shedding"},
    "engine/advice/explain.py": {*BASE, *ADVICE, "engine.weather"},
    "engine/ways.py": set(),
    "engine/conversation.py": {
        "engine.advice.judge", "engine.links", "engine.model", "engine.needs", "engine.usual",
        "engine.ways", *KEPT,
    },
    "engine/usual.py": {"engine.model", "engine.needs"},
    "engine/load_rows.py": {
        "engine.model", "engine.needs", "engine.typed", "engine.units", "engine.usual",
    },
    "engine/load_rows_typed.py": {
        "engine.load_rows", "engine.model", "engine.needs", "engine.typed", "engine.usual",
    },
    "engine/what_if.py": {
        "engine.advice.judge", "engine.conversation", "engine.model", "engine.needs",
        "engine.usual",
    },
    "engine/tree.py": {"engine.conversation", "engine.model", "engine.usual"},
    "engine/alternatives.py": {
        "engine.advice.judge", "engine.conversation", "engine.model", "engine.typed.answers",
        "engine.usual",
    },
    "engine/past.py": {"engine.conversation", "engine.links", "engine.model", "engine.usual"},
    "engine/editions.py": {
        *BASE, *ADVICE, "engine.conversation", "engine.links", "engine.past", "engine.usual",
    },
    "engine/completion.py": {*SPEECH, "engine.model", *TALK},
    "engine/loads_said.py": {"engine.model", "engine.typed"},
    "engine/matching.py": HEARS,
    "engine/suggestions.py": HEARS,
    "engine/suggested_choices.py": HEARS,
    "engine/suggested_loads.py": HEARS,
    "engine/suggested_values.py": HEARS,
    "engine/answer.py": {
        *BASE, *ADVICE, "engine.alternatives", "engine.conversation", "engine.mends",
        "engine.usual", "engine.what_if",
    },
    "engine/mends.py": {
        "engine.conversation", "engine.model", "engine.needs", "engine.typed.answers",
        "engine.units", "engine.usual",
    },
    "engine/pages/drawings": {*BASE, *PLAN, *DRAWING, "engine.answer", "engine.pages.words"},
    "engine/pages/drawings/diagram_symbols.py": {*BASE, *DRAWING, "engine.pages", "schemdraw"},
    "engine/pages/answer": {
        *BASE, *ADVICE, *COMMON_PAGES, *DRAWING,
        "engine.advice.explain", "engine.answer", "engine.needs", "engine.pages.drawings",
    },
    "engine/pages/print": {
        *BASE, *ADVICE, *COMMON_PAGES, *DRAWING, "segno",
        "engine.answer", "engine.links", "engine.pages.answer",
    },
    "engine/pages/pieces": {
        *BASE, *PLAN, *DRAWING,
        "engine.typed.answers", "engine.typed.outside", "engine.pages.drawings",
        "engine.pages.render",
    },
    "engine/pages/staff": {
        *BASE, *ADVICE, *TALK, *DRAWING, "engine.pages",
    },
    "engine/pages": {*BASE, *ADVICE, *TALK, *DRAWING, "engine.pages", "segno"},
    "engine": {"engine"},
    "guide": {"babel", "engine", "guide", "jinja2", "pint", "pydantic", "pydantic_core", "yaml"},
    "guide/precompress.py": {"brotli", "guide"},
    "guide/published.py": {"brotli", "guide"},
    "guide/estimate_file.py": {"engine", "guide.fault", "openpyxl"},
    "guide/spreadsheet": {"engine", "guide", "openpyxl"},
    "guide/setup_browser.py": {"guide", "playwright"},
    "site_src": {
        "site_src", "guide", "engine", "jinja2", "markdown", "mkdocs", "griffe", "PIL",
        "markupsafe", "mkdocstrings_handlers", "schemdraw",
    },
    "site_src/build/archives.py": {"deflate"},
    "site_src/build/joined.py": {"rjsmin"},
    "site_src/build/styles.py": {"mkdocs", "rcssmin"},
}  # fmt: skip
"""By room, or by module that is a room of its own; the longest name that fits is the room."""
BOOTSTRAP = ("__init__", "__main__", "setup", "setup_node", "setup_pyodide")


def imported(source: str) -> Iterator[str]:
    """Yield every module, or name of a module, that a source text imports, at any depth of it."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "relative imports would hide who imports whom"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def files_of(folder: str) -> list[Path]:
    """Every Python file of a folder of this repository."""
    return [
        file
        for file in sorted((ROOT / folder).rglob("*.py"))
        if "node_modules" not in file.parts and "__pycache__" not in file.parts
    ]


def room_of(file: Path) -> str:
    """The room that a file belongs to."""
    name = file.relative_to(ROOT).as_posix()
    fitting = [room for room in MAY if name == room or name.startswith(f"{room}/")]
    return max(fitting, key=len)


def module_of(room: str) -> str:
    """The room as an import names it."""
    return room.removesuffix(".py").replace("/", ".")


def is_within(name: str, module: str) -> bool:
    """Whether a dotted name is a module or something in it."""
    return name == module or name.startswith(f"{module}.")


def strangers(name: str, file: Path) -> bool:
    """Whether a file imports what its room may not know."""
    room = room_of(file)
    allowed = {*MAY[room], module_of(room)}
    if any(is_within(name, module) for module in allowed):
        return False
    top = name.split(".", maxsplit=1)[0]
    if top not in sys.stdlib_module_names:
        return True
    return room.startswith("engine") and top not in PURE


@pytest.mark.parametrize("folder", ["engine", "guide", "site_src"])
def test_a_room_imports_only_what_it_may(folder: str) -> None:
    files = files_of(folder)
    assert files
    found = {
        file.relative_to(ROOT).as_posix(): wrong
        for file in files
        if (
            wrong := sorted(
                name for name in imported(file.read_text(encoding="utf-8")) if strangers(name, file)
            )
        )
    }
    assert found == {}


def test_every_room_that_is_listed_is_there() -> None:
    assert [room for room in MAY if not (ROOT / room).exists()] == []


@pytest.mark.parametrize(
    ("file", "name"),
    [
        ("engine/sizing/loads.py", "engine.advice.plan.bank"),
        ("engine/advice/plan/bank.py", "engine.advice.judge.checks.CHECKS"),
        ("engine/pages/drawings/svg.py", "engine.pages.answer.numbers"),
        ("engine/units.py", "pint"),
        ("engine/respond.py", "guide.load"),
        ("engine/needs.py", "random"),
        ("engine/browser.py", "pydantic"),
        ("guide/check.py", "site_src.build.tree"),
        ("site_src/build/tree.py", "tests.reader"),
    ],
)
def test_an_arrow_that_is_not_listed_is_refused(file: str, name: str) -> None:
    assert strangers(name, ROOT / file)


@pytest.mark.parametrize("name", BOOTSTRAP)
def test_set_up_runs_with_the_standard_library_alone(name: str) -> None:
    tops = {each.split(".")[0] for each in imported((ROOT / "guide" / f"{name}.py").read_text())}
    assert tops - {"guide"} <= sys.stdlib_module_names


def test_the_check_sees_imports_inside_functions() -> None:
    source = "def f():\n    from guide.load import load_guide\n    import yaml.nodes\n"
    assert set(imported(source)) == {"guide.load.load_guide", "yaml.nodes"}
