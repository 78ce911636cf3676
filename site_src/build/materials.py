"""``python -m site_src.build.materials``: lists of materials (CycloneDX), made from the locks.

Two kept tools read the locks, `cyclonedx-py` by `uv` and `npm sbom`; their lists are written
without what differs from one making to the next, and without addresses.
`tests/site/test_materials.py` holds the lists against the locks.
"""

import json
import os
import subprocess
from pathlib import Path
from typing import Any

from engine import __version__
from guide import setup_node
from guide.setup import ROOT

FOLDER = ROOT / "site_src" / "docs" / "project" / "materials"
LISTS = ("python", "browser")
TOOL = "cyclonedx-bom==7.5.0"


def python_list() -> dict[str, Any]:
    """The locked packages with which a site is built, some of which are in it."""
    tool = ["uv", "tool", "run", "--from", TOOL, "cyclonedx-py", "requirements"]
    lock = ("--pyproject", "pyproject.toml", "requirements/run.txt")
    found = listed([*tool, "--output-reproducible", "--short-PURLs", *lock], ROOT)
    for each in found["components"]:
        each["bom-ref"] = each["purl"]
        each["hashes"] = [
            hash_
            for place in each.pop("externalReferences", ())
            for hash_ in place.get("hashes", ())
        ]
        del each["description"]  # the line of the lock once more
    component = found["metadata"]["component"] | {"version": __version__}
    refs = [each["bom-ref"] for each in found["components"]]
    roots = [{"ref": component["bom-ref"], "dependsOn": refs}]
    found["metadata"]["component"] = component
    found["dependencies"] = roots + [{"ref": ref} for ref in refs]
    return found


def browser_list() -> dict[str, Any]:
    """The locked packages of npm, of which files are copied into a site."""
    tool = [*setup_node.npm(), "sbom", "--sbom-format", "cyclonedx", "--omit", "dev"]
    found = listed([*tool, "--package-lock-only"], setup_node.SHELL)
    del found["serialNumber"], found["metadata"]["timestamp"]
    return found


def listed(command: list[str], folder: Path) -> dict[str, Any]:
    """What a tool prints, without the tool's own addresses."""
    quiet = {**os.environ, "PYTHONWARNINGS": "ignore"}
    done = subprocess.run(command, cwd=folder, env=quiet, stdout=subprocess.PIPE, check=True)
    found: dict[str, Any] = json.loads(done.stdout)
    tools = found["metadata"]["tools"]
    for each in tools["components"] if isinstance(tools, dict) else tools:
        each.pop("externalReferences", None)
    return found


def main() -> None:
    """Write both lists."""
    FOLDER.mkdir(exist_ok=True)
    for name, found in zip(LISTS, (python_list(), browser_list()), strict=True):
        text = json.dumps(found, indent=1, sort_keys=True, ensure_ascii=False) + "\n"
        file_of(name).write_text(text, encoding="utf-8")


def file_of(name: str) -> Path:
    """Where a list is, under the ending that is common for such lists."""
    return FOLDER / f"{name}.cdx.json"


if __name__ == "__main__":
    main()
