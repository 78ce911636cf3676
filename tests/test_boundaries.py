"""Who may import whom: guide -> engine, site_src -> guide and engine, never back."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
FORBIDDEN = {
    "engine": {"guide", "site_src", "tests", "pydantic", "ruamel", "yaml", "mkdocs", "numpy"},
    "engine/standards": {"pint", "jinja2", "segno", "random", "time", "datetime", "os", "pathlib"},
    "engine/sizing": {"pint", "jinja2", "segno", "random", "time", "datetime", "os", "pathlib"},
    "guide": {"site_src", "tests"},
    "site_src": {"tests"},
}
BOOTSTRAP = ("__init__", "__main__", "setup", "setup_node")


def imported(source: str) -> Iterator[str]:
    """Yield the name of every module that a source text imports, at any depth of it."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "relative imports would hide who imports whom"
            yield node.module or ""


def tops(file: Path) -> set[str]:
    """Return the packages that a file imports from, by their first name."""
    return {name.split(".")[0] for name in imported(file.read_text(encoding="utf-8"))}


@pytest.mark.parametrize("folder", FORBIDDEN)
def test_a_room_imports_only_from_the_rooms_it_may_know(folder: str) -> None:
    files = [file for file in (ROOT / folder).rglob("*.py") if "node_modules" not in file.parts]
    assert files
    wrong = {str(file.relative_to(ROOT)): tops(file) & FORBIDDEN[folder] for file in files}
    assert {name: found for name, found in wrong.items() if found} == {}


@pytest.mark.parametrize("name", BOOTSTRAP)
def test_set_up_runs_with_the_standard_library_alone(name: str) -> None:
    assert tops(ROOT / "guide" / f"{name}.py") - {"guide"} <= sys.stdlib_module_names


def test_the_check_sees_imports_inside_functions() -> None:
    source = "def f():\n    from guide.load import load_guide\n    import yaml.nodes\n"
    assert set(imported(source)) == {"guide.load", "yaml.nodes"}
