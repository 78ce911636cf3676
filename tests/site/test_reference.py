"""The reference from docstrings: complete, readable, out of the search, and small."""

import gzip
import json
import re
from pathlib import Path

import pytest

from guide.setup import ROOT
from site_src.build.reference import as_markdown

MOST_AS_SENT = 280_000
SHOWN = ("engine/sizing", "engine/standards", "engine/advice", "engine/pages", "engine/model")
DOCS = ROOT / "site_src" / "docs" / "project" / "api"

DOCSTRING = """Voltage lost in a run.

U = 2 · I · l · r

Parameters
----------
current_a : current in the run [A]
one_way_m : length, one way; the return
    is counted here [m]

Returns
-------
Voltage drop [V].

Raises
------
ValueError : if one is negative.

Source: Ohm's law.

>>> round(drop_v(200.0, 1.524), 3)
0.193
"""


def test_a_docstring_becomes_lists_and_code() -> None:
    assert as_markdown(DOCSTRING).split("\n\n") == [
        "Voltage lost in a run.",
        "U = 2 · I · l · r",
        "**Parameters**",
        "- `current_a`: current in the run [A]\n"
        "- `one_way_m`: length, one way; the return is counted here [m]",
        "**Returns**",
        "Voltage drop [V].",
        "**Raises**",
        "- `ValueError`: if one is negative.",
        "Source: Ohm's law.",
        "```python\n>>> round(drop_v(200.0, 1.524), 3)\n0.193\n```",
    ]


def test_fields_of_a_class_become_a_list() -> None:
    assert as_markdown("A point.\n\na : one [m]\nb : other [s]") == (
        "A point.\n\n- `a`: one [m]\n- `b`: other [s]"
    )


@pytest.mark.parametrize("folder", SHOWN)
def test_every_module_of_a_room_is_in_the_reference(folder: str) -> None:
    listed = set(
        re.findall(
            r"^::: ([\w.]+)$",
            "\n".join(file.read_text("utf-8") for file in DOCS.glob("*.md")),
            re.MULTILINE,
        )
    )
    files = [each for each in (ROOT / folder).rglob("*.py") if each.stem != "__init__"]
    assert files
    assert {".".join(each.relative_to(ROOT).with_suffix("").parts) for each in files} <= listed


def test_the_reference_shows_equation_unit_source_and_example(site: Path) -> None:
    page = (site / "project" / "api" / "sizing.html").read_text("utf-8")
    at = page.index('id="engine.sizing.conductors.voltage_drop_v"')
    shown = page[at : at + 9000]
    for text in ("U = 2 · I · l · r / n", "length one way", "Ohm's law", "0.193"):
        assert text in shown.replace("&#39;", "'"), text


def test_the_reference_is_small_and_not_in_the_search(site: Path) -> None:
    pages = list((site / "project" / "api").glob("*.html"))
    assert len(pages) == len(list(DOCS.glob("*.md")))
    sent = sum(len(gzip.compress(page.read_bytes(), mtime=0)) for page in pages)
    assert sent <= MOST_AS_SENT
    index = json.loads((site / "search" / "search_index.json").read_text("utf-8"))
    places = {entry["location"].partition("#")[0] for entry in index["docs"]}
    assert "project/index.html" in places
    assert not {place for place in places if place.startswith("project/api/")}
