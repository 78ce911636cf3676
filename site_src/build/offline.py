"""What the guide needs without a network: list of files, service worker, web app manifest."""

import gzip
import json
from dataclasses import astuple, dataclass
from pathlib import Path

from engine.wording.sentences import Sentences
from guide.setup import ROOT
from site_src.build.archives import sha256
from site_src.build.icons import ICONS

SHELL = ROOT / "site_src" / "shell"
NO_JEKYLL = ".nojekyll"
"""Tells hosts that hide names with an underscore to hide none."""
NOT_KEPT = (
    NO_JEKYLL,
    "service-worker.js",
    "sitemap.xml",
    "robots.txt",
    "objects.inv",
    "assets/cards/",
    "assets/engine/packed.js",
    "assets/engine/wheels.json",
    "assets/engine/workbox-",
    "assets/images/favicon.png",
    "assets/javascripts/lunr/",
    "images/",
    "project/materials/",
)
"""What nobody reads without a network: previews of links, what other sites and programs read, the
theme's search in languages that the site does not speak, and the parts of the service worker, which
the browser keeps with it; maps of scripts, too."""
MAY_BE_MISSING = (
    "assets/_mkdocstrings.css",
    "assets/engine/edition-",
    "assets/engine/python_stdlib.zip",
    "assets/engine/wheels/",
)
"""What the guide works without: how the reference looks, and what only the plain start of the
engine reads, the way back where the kept memory does not start."""
SAID = "offline.json"
PLACE = "[/* list */]"
COLOR = "#14483c"
"""The theme's own, where a shop has none."""
MARK = "assets/pictures/mark.svg"


@dataclass(frozen=True, slots=True)
class Kept:
    """A file that is kept on a device.

    integrity: what its bytes must be, as browsers check it (Subresource Integrity); where a host
        may unpack the file on its way, its content too
    needed: whether the guide works without a network only with it
    """

    name: str
    integrity: str
    size: int
    needed: bool


def kept_files(site: Path) -> list[Kept]:
    """Return every file that is kept on a device."""
    return [
        kept_file(site, file)
        for file in sorted(path for path in site.rglob("*") if path.is_file())
        if is_kept(file.relative_to(site).as_posix())
    ]


def kept_file(site: Path, file: Path) -> Kept:
    """Return what is listed of a file."""
    name, data = file.relative_to(site).as_posix(), file.read_bytes()
    return Kept(name, integrity(name, data), len(data), not name.startswith(MAY_BE_MISSING))


def is_kept(name: str) -> bool:
    """Tell whether a file is read without a network.

    >>> is_kept("404.html"), is_kept("assets/cards/0.png"), is_kept("assets/a.js.map")
    (True, False, False)
    """
    return not (name.startswith(NOT_KEPT) or name.endswith(".map"))


def integrity(name: str, data: bytes) -> str:
    """Return the hashes of which a browser accepts any."""
    accepted = [data, gzip.decompress(data)] if name.endswith(".gz") else [data]
    return " ".join(f"sha256-{sha256(each)}" for each in accepted)


def write_offline(
    site: Path,
    name: str,
    description: str,
    page: Sentences,
    color: str = COLOR,
    mark: str = MARK,
) -> None:
    """Write the service worker, what is said about it, and the manifest of the web app.

    mark: the picture of the guide that has no size of its own, where it is SVG
    """
    (site / NO_JEKYLL).touch()
    (site / "manifest.webmanifest").write_text(
        web_manifest(name, description, color, mark), encoding="utf-8"
    )
    (site / SAID).unlink(missing_ok=True)
    kept = kept_files(site)
    total = sum(file.size for file in kept)
    said = json.dumps({"bytes": total, "words": keep_words(page)})
    (site / SAID).write_text(said + "\n", encoding="utf-8")
    kept.append(kept_file(site, site / SAID))
    source = (SHELL / "service-worker.js").read_text(encoding="utf-8")
    listed = json.dumps([astuple(file) for file in kept], separators=(",", ":"))
    (site / "service-worker.js").write_text(source.replace(PLACE, listed, 1), encoding="utf-8")


def keep_words(page: Sentences) -> dict[str, str]:
    """Return what is said about keeping the guide, by the names that the script knows."""
    return {
        "offer": page.pattern("keep-offer", "total"),
        "keeping": page.pattern("keep-keeping", "kept", "total"),
        "kept": page["keep-kept"],
        "newer": page["keep-newer"],
        "others": page["keep-others"],
        "broken": page["keep-broken"],
        "lacks": page.pattern("keep-lacks", "name"),
        "damaged": page.pattern("keep-damaged", "name"),
        "network": page["keep-network"],
        "missing": page["keep-missing"],
        "foreign": page["keep-foreign"],
        "changed": page["keep-changed"],
        "full": page["keep-full"],
        "folder": page["keep-folder"],
        "do-keep": page["keep-do-keep"],
        "do-use": page["keep-do-use"],
        "do-remove": page["keep-do-remove"],
        "progress": page["keep-progress"],
    }


def web_manifest(name: str, description: str, color: str, mark: str) -> str:
    """Return the manifest by which a device installs the guide like a program."""
    icons = [
        {
            "src": icon.src,
            "sizes": f"{icon.size}x{icon.size}",
            "type": "image/png",
            "purpose": icon.purpose,
        }
        for icon in ICONS
    ]
    drawn = {"src": mark, "sizes": "any", "type": "image/svg+xml"}
    manifest = {
        "id": "./",
        "name": name,
        "short_name": name,
        "description": description,
        "start_url": "guide/index.html",
        "scope": "./",
        "display": "standalone",
        "theme_color": color,
        "background_color": color,
        "icons": [*icons, drawn] if mark.endswith(".svg") else icons,
    }
    return json.dumps(manifest, indent=1) + "\n"
