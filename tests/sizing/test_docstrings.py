"""Every public function of the sizing reads the same way: what, equation, units, errors, source."""

import ast
import inspect
import re
from collections.abc import Callable
from importlib import import_module
from pkgutil import iter_modules
from typing import Any

import pytest

import engine.sizing

# A guard refuses and returns nothing: it has no equation, no result and no source.
WITHOUT_SOURCE = {"engine.sizing.guard"}
REFUSES = re.compile(r"\braise\b|\bguard\.|\b(?:not_negative|positive|finite|fraction)\(")


def kernels() -> list[Callable[..., Any]]:
    """Public functions, each where it is written."""
    found: list[Callable[..., Any]] = []
    for module in iter_modules(engine.sizing.__path__, "engine.sizing."):
        if module.name in WITHOUT_SOURCE:
            continue
        names = vars(import_module(module.name))
        found += [
            each
            for name, each in names.items()
            if inspect.isfunction(each)
            and each.__module__ == module.name
            and not name.startswith("_")
        ]
    return found


def parts(text: str) -> dict[str, str]:
    """The sections of a docstring by their headings; "" holds what stands before them."""
    found, heading = {"": ""}, ""
    lines = text.splitlines()
    for index, line in enumerate(lines):
        below = lines[index + 1] if index + 1 < len(lines) else ""
        if below and set(below) == {"-"}:
            heading = line.strip()
            found[heading] = ""
        elif line.startswith("Source:"):
            heading = "Source"
            found[heading] = line.removeprefix("Source:") + "\n"
        elif line.startswith(">>>"):
            heading = "Example"
            found[heading] = found.get(heading, "") + line + "\n"
        elif not line or set(line) != {"-"}:
            found[heading] += line + "\n"
    return found


def test_there_are_many_and_each_is_found_once() -> None:
    names = [f"{each.__module__}.{each.__name__}" for each in kernels()]
    assert len(names) > 90
    assert len(names) == len(set(names))


@pytest.mark.parametrize("kernel", kernels(), ids=lambda each: f"{each.__module__}.{each.__name__}")
def test_a_kernel_says_what_it_does_with_units_errors_source_and_example(
    kernel: Callable[..., Any],
) -> None:
    text = inspect.getdoc(kernel) or ""
    found = parts(text)
    first = text.splitlines()[0]
    assert first.endswith("."), "one sentence that ends on its line"
    assert len(first) <= 100
    arguments = list(inspect.signature(kernel).parameters)
    described = re.findall(r"^([\w, ]+) : ", found.get("Parameters", ""), flags=re.MULTILINE)
    named = [name.strip() for row in described for name in row.split(",")]
    assert named == arguments
    assert found["Returns"].strip()
    assert found["Source"].strip()
    assert found["Example"].count(">>>") >= 1
    body = ast.parse(inspect.getsource(kernel).lstrip()).body[0]
    assert isinstance(body, ast.FunctionDef)
    code = "\n".join(ast.unparse(statement) for statement in body.body[1:])
    if REFUSES.search(code):
        assert "ValueError" in found["Raises"]


@pytest.mark.parametrize("kernel", kernels(), ids=lambda each: f"{each.__module__}.{each.__name__}")
def test_a_quantity_has_its_unit_in_its_name_and_beside_it(kernel: Callable[..., Any]) -> None:
    """A name ends in its unit, and the unit stands in brackets; pure numbers have none."""
    found = parts(inspect.getdoc(kernel) or "")
    rows = re.split(r"\n(?=[\w, ]+ : )", found.get("Parameters", ""))
    for row in rows:
        name = row.split(" : ")[0].strip()
        ends = name.rsplit("_", 1)[-1]
        if ends in {
            "a",
            "v",
            "w",
            "va",
            "wh",
            "ah",
            "m",
            "m2",
            "kg",
            "ohm",
            "h",
            "s",
            "k",
            "c",
            "pa",
        }:
            assert "[" in row, row


def test_a_docstring_that_lacks_a_section_is_found_out() -> None:
    def bare(current_a: float) -> float:
        """Twice the current."""
        return 2 * current_a

    with pytest.raises((AssertionError, KeyError)):
        test_a_kernel_says_what_it_does_with_units_errors_source_and_example(bare)
