"""The engine's kept memory: the same at every build, described truly, and nothing of it missing."""

import base64
import gzip
import hashlib
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from engine.model.guide import Guide
from guide import setup_node
from site_src.build.in_node import run
from site_src.build.memory.keep import kept_memory
from site_src.build.wheels import EDITION, compile_sources, write_sources

MOST_BYTES = 11_000_000

# Answers of every kind after `warm`; prints the modules that only they imported.
IMPORTS = """
import json, sys
from engine.pages.drawings.diagram_symbols import ELEMENTS, symbol
from engine.pages.pieces.pieces import PIECES
from engine.respond import conversation_of
from engine.tree import states
from engine.browser import KINDS, reply
from guide.paths_kept import open_guide
from site_src.build.memory.warm import warm

guide = open_guide()
symbols = tuple(map(symbol, ELEMENTS))
warm(guide, conversation_of(guide).known(), symbols)
before = set(sys.modules)
paths = states(conversation_of(guide))
details = ("", "cable=25ft", "bank=48V&chemistry=agm&nights=5", "have=200Ah", "solar=400W&month=6",
    "gen=2000W&altitude=5000ft", "alt=120A&drive=2h", "payload=1500lb", "bay=30in x 20in x 12in",
    "mount=flat&gap=1in", "loads=kettle:1500W:0.2h", "ambient=-10C", "cabel=1&cable=5kg&space=x")
for place, path in enumerate(paths[:: len(paths) // 60]):
    asked = {"id": 1, "path": path, "fragment": details[place % len(details)], "form": None}
    reply(json.dumps({**asked, "whole": place % 12 == 0}), guide)
link = paths[-1]
for kind, piece in [(kind, "drop") for kind in KINDS] + [("piece", each) for each in PIECES]:
    asked = {"kind": kind, "piece": piece, "path": "", "link": link, "kept": link, "text": "c",
        "note": "x", "visits": [{"link": link, "when": "2026-01-01", "contact": "x"}]}
    reply(json.dumps(asked), guide)
print(json.dumps(sorted(set(sys.modules) - before)))
"""


@pytest.fixture(scope="module")
def folder(site: Path) -> Path:
    """Where the engine's files are."""
    return site / "assets" / "engine"


@pytest.fixture(scope="module")
def manifest(folder: Path) -> dict[str, Any]:
    """The list of the engine's files."""
    listed = [json.loads(file.read_text()) for file in folder.glob("engine-*.json")]
    (found,) = (each for each in listed if "snapshot" in each["files"])  # others: edits shown live
    return dict(found)


def test_the_list_describes_the_files(folder: Path, manifest: dict[str, Any]) -> None:
    for entry in (*manifest["files"].values(), *manifest["wheels"]):
        data = (folder / str(entry["name"])).read_bytes()
        digest = base64.b64encode(hashlib.sha256(data).digest()).decode()
        assert (len(data), digest) == (entry["bytes"], entry["sha256"])
        if "size" in entry:
            assert len(gzip.decompress(data)) == entry["size"]


def test_the_list_names_the_pyodide_and_the_edition(folder: Path, manifest: dict[str, Any]) -> None:
    assert f'"{manifest["pyodide"]}"' in (folder / "pyodide" / "pyodide.mjs").read_text()
    assert manifest["files"]["edition"]["name"] == f"edition-{manifest['edition']}.zip"


def test_the_engine_stays_within_its_bytes(folder: Path, manifest: dict[str, Any]) -> None:
    loaded = sum(manifest["files"][name]["bytes"] for name in ("snapshot", "wasm"))
    scripts = [*folder.glob("pyodide/*.mjs"), *folder.glob("*.js")]
    loaded += sum(len(gzip.compress(script.read_bytes())) for script in scripts)
    assert loaded < MOST_BYTES


def test_two_builds_give_the_same_wheels_and_keep_the_same_memory(
    tmp_path: Path, guide: Guide, folder: Path, manifest: dict[str, Any]
) -> None:
    packages, node = setup_node.packages(), setup_node.node()
    write_sources(guide, tmp_path)
    compile_sources(tmp_path, packages, node)
    names = {file.name: file.read_bytes() for file in tmp_path.iterdir()}
    built_names = [str(each["name"]) for each in manifest["wheels"]]
    for name in built_names:
        assert (folder / name).read_bytes() == names.pop(Path(name).name), name
    edition = folder / str(manifest["files"]["edition"]["name"])
    assert names == {EDITION: edition.read_bytes()}
    image, base = kept_memory(tmp_path, packages, node)
    built = (folder / str(manifest["files"]["snapshot"]["name"])).read_bytes()
    assert image == gzip.decompress(built)
    assert base == manifest["base"]


def test_a_module_is_the_one_of_the_memory_whatever_clock_and_chance_leave_in_it(
    manifest: dict[str, Any],
) -> None:
    script = Path(__file__).with_name("fresh_memory.mjs")
    wanted = json.dumps(manifest["base"])
    what = "no module was made"
    said = run(setup_node.node(), script, setup_node.packages(), wanted, what=what)
    assert json.loads(said) == [manifest["base"]["check"]] * 3


def test_the_memory_names_no_place_of_the_machine_that_built_it(
    folder: Path, manifest: dict[str, Any]
) -> None:
    built = (folder / str(manifest["files"]["snapshot"]["name"])).read_bytes()
    image = gzip.decompress(built)
    for place in (str(Path.cwd()), str(Path.home()), sys.prefix):
        # A stray byte before a name that goes on is no place: "/root" of "root_parts_re".
        assert not re.search(re.escape(place.encode()) + rb"(?![A-Za-z0-9_])", image)


def test_no_answer_imports_what_the_memory_does_not_hold() -> None:
    done = subprocess.run(
        [sys.executable, "-c", IMPORTS], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout) == []
