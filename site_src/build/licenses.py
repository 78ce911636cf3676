"""The page of licenses: every work of others that a site or a stick carries, with its terms."""

import json
from dataclasses import dataclass
from importlib.metadata import distribution
from pathlib import Path

from engine import __version__
from guide import setup_node
from guide.setup import ROOT

PAGE = "project/licenses.md"


@dataclass(frozen=True, slots=True)
class Shipped:
    """A work of others in the site. `name` is its package; `terms` holds the text of its license.

    terms: a package of Python that carries the same license, where the work itself has no copy
    """

    name: str
    license: str
    what: str
    terms: str = ""


FROM_NPM = (
    Shipped(
        "pyodide", "MPL-2.0", "Python for the browser, with the libraries that it is built of",
        "pathspec",
    ),
    Shipped(
        "idiomorph", "0BSD", "renews what differs in a page",
    ),
    Shipped(
        "iframe-worker", "MIT", "stands for a worker where pages are opened from a folder",
    ),
    *(
        Shipped(
            f"workbox-{part}", "MIT", "keeps the site on a device",
        )
        for part in ("core", "precaching", "routing", "strategies")
    ),
)  # fmt: skip
"""Packages of npm of which files are copied by `site_src.build.bundle`."""
FROM_PYTHON = (
    Shipped("jinja2", "BSD-3-Clause", "fills in the pages"),
    Shipped("markupsafe", "BSD-3-Clause", "escapes text"),
    Shipped("segno", "BSD-3-Clause", "draws QR codes"),
    Shipped(
        "mkdocs-material", "MIT", "the theme: styles, scripts, icons and the search",
    ),
)  # fmt: skip
"""Packages of Python of which files are in the engine's wheels or in the theme."""
LIBRARY = Shipped(
    "Python standard library", "PSF-2.0", "runs the engine in the browser", "typing_extensions",
)  # fmt: skip
"""It comes with Pyodide, without a copy of its license."""


def filled(markdown: str) -> str:
    """The page with its table and the terms of each license below it."""
    packages = setup_node.packages()
    rows = [(each, *_of_npm(each, packages)) for each in FROM_NPM]
    rows.append((LIBRARY, _library_version(packages), terms_of(LIBRARY.terms)))
    rows += [(each, distribution(each.name).version, terms_of(each.name)) for each in FROM_PYTHON]
    table = [
        "| work | version | license | what it does here |",
        "|---|---|---|---|",
        f"| Rig Power Guide | {__version__} | MIT | all the rest |",
        *(
            f"| {each.name} | {version} | {each.license} | {each.what} |"
            for each, version, _ in rows
        ),
    ]
    by_text: dict[str, list[str]] = {(ROOT / "LICENSE").read_text("utf-8"): ["Rig Power Guide"]}
    for each, _, text in rows:
        by_text.setdefault(text, []).append(each.name)
    terms = [
        f"### {', '.join(names)}\n\n```text\n{text.strip()}\n```" for text, names in by_text.items()
    ]
    return "\n".join([markdown.rstrip(), "", *table, "", "## Terms", "", "\n\n".join(terms), ""])


def terms_of(package: str) -> str:
    """The license texts that an installed package of Python carries.

    Raises
    ------
    LookupError : if it carries none, so that nothing is shipped without its terms.
    """
    found = [
        Path(str(file.locate())).read_text("utf-8")
        for file in distribution(package).files or ()
        if "license" in file.name.lower() and file.suffix != ".py"
    ]
    if not found:
        raise LookupError(f"the package {package} carries no license")
    return "\n\n".join(found)


def _of_npm(shipped: Shipped, packages: Path) -> tuple[str, str]:
    """Version and license text of a package of npm; its own word on its license must agree."""
    folder = packages / shipped.name
    about = json.loads((folder / "package.json").read_text("utf-8"))
    if about["license"] != shipped.license:
        raise LookupError(f"{shipped.name} is licensed as {about['license']} now")
    own = folder / "LICENSE"
    return about["version"], own.read_text("utf-8") if own.is_file() else terms_of(shipped.terms)


def _library_version(packages: Path) -> str:
    lock = json.loads((packages / "pyodide" / "pyodide-lock.json").read_text("utf-8"))
    return str(lock["info"]["python"])
