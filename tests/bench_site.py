"""What the benchmark of the browser side opens: the built site, and its rivals beside it."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from guide import setup_node, site
from guide.load import load_guide
from guide.setup import ROOT
from site_src.build.archives import write_archive, write_compressed
from site_src.build.in_node import run
from site_src.build.library import library
from site_src.build.wheels import EDITION, write_sources

OURS = """<!doctype html><meta charset="utf-8"><title>ours</title><script type="module">
const began = performance.now();
const worker = new Worker("assets/engine/engine-worker.js", {type: "module"});
worker.postMessage({type: "start", address: new URL("assets/engine/MANIFEST", location).href});
window.took = new Promise((resolve, reject) => {
  worker.onerror = reject;
  worker.onmessage = ({data}) => {
    if (data.state === "ready") resolve([performance.now() - began, data.reason || data.way]);
    if (data.state === "failed") reject(new Error(data.detail));
  };
});
</script>"""
PLAIN = """<!doctype html><meta charset="utf-8"><title>plain</title><script type="module">
const began = performance.now();
const worker = new Worker("plain-worker.js", {type: "module"});
window.took = new Promise((resolve, reject) => {
  worker.onerror = reject;
  worker.onmessage = ({data}) => resolve([performance.now() - began, data]);
});
</script>"""
PLAIN_WORKER = """import { loadPyodide } from "./plain/pyodide.mjs";
const archives = ARCHIVES;
const [pyodide, ...fetched] = await Promise.all([
  loadPyodide({ indexURL: new URL("./plain/", import.meta.url).href }),
  ...archives.map((name) => fetch(`plain/${name}`).then((reply) => reply.arrayBuffer())),
]);
fetched.forEach((each, place) => {
  pyodide.unpackArchive(each, archives[place].split(".").pop());
});
pyodide.runPython("import engine.browser, edition");
postMessage("plain");
"""


NOTHING = {
    "edition.py": b"GUIDE = SIGNATURES = SYMBOLS = None\n",
    "engine/__init__.py": b"",
    "engine/browser.py": b"def reply(request, guide):\n    return request\n",
}
"""Stands for content and engine in the floor: the door that a worker looks for, and no more."""
NO_WARMING = "def warm(*given):\n    import engine.browser\n"


def ours(built: Path) -> str:
    """A page that does nothing but start a built site's engine: how long it took, and how."""
    return OURS.replace("MANIFEST", listed(built).name)


def listed(built: Path) -> Path:
    """The list of a built site's engine's files."""
    return next((built / "assets" / "engine").glob("engine-*.json"))


def prepare(folder: Path, given: Path | None = None) -> Path:
    """Build the site, or copy one that is built, and lay the rivals beside it."""
    built = folder / "site"
    if given is None:
        site.build(built)
    else:
        shutil.copytree(given, built)
    (built / "ours.html").write_text(ours(built), encoding="utf-8")
    lay_floor(folder, built)
    lay_plain(built)
    bare_page(folder, built / "bare")
    return built


def lay_plain(built: Path) -> None:
    """Lay Pyodide as it comes beside the site, with the engine and its libraries as wheels."""
    plain = built / "plain"
    shutil.copytree(setup_node.packages() / "pyodide", plain)
    write_sources(load_guide(), plain)
    archives = [*(file.name for file in plain.glob("*.whl")), EDITION]
    (built / "plain.html").write_text(PLAIN, encoding="utf-8")
    worker = PLAIN_WORKER.replace("ARCHIVES", repr(archives))
    (built / "plain-worker.js").write_text(worker, encoding="utf-8")


def lay_floor(folder: Path, built: Path) -> None:
    """Lay the memory of a bare Python beside the site, started by the site's own scripts."""
    image, base = bare_memory(folder)
    manifest = json.loads(listed(built).read_text(encoding="utf-8"))
    engine = built / "assets" / "engine"
    manifest["files"]["snapshot"] = write_compressed(engine / "floor.memory.gz", image)
    manifest["base"] = json.loads(base)
    (engine / "floor.json").write_text(json.dumps(manifest), encoding="utf-8")
    (built / "floor.html").write_text(OURS.replace("MANIFEST", "floor.json"), encoding="utf-8")


def bare_memory(folder: Path) -> tuple[bytes, str]:
    """The memory of a Python that imported nothing, and its layout as JSON.

    It is taken by a copy of the scripts that take the engine's, with nothing to be warmed.
    """
    scripts, archives, out = folder / "site_src", folder / "nothing", folder / "floor"
    without = shutil.ignore_patterns("node_modules", "__pycache__")
    for name in ("build", "shell"):
        shutil.copytree(ROOT / "site_src" / name, scripts / name, ignore=without)
    memory = scripts / "build" / "memory"
    (memory / "warm.py").write_text(NO_WARMING, encoding="utf-8")
    archives.mkdir()
    write_archive(archives / EDITION, NOTHING)
    what = "the memory of a bare Python could not be kept"
    packages, node = setup_node.packages(), setup_node.node()
    given = (library(packages, node), archives, out)
    told = run(node, memory / "snapshot.mjs", packages, *given, what=what)
    return out.read_bytes(), told


def bare_page(folder: Path, out: Path) -> None:
    """Build two short pages with the same theme and nothing of ours."""
    docs = folder / "bare-docs"
    docs.mkdir()
    for name, other in (("index", "next"), ("next", "index")):
        text = f"# What are you fitting out?\n\nA page of words, [and another]({other}.md).\n"
        (docs / f"{name}.md").write_text(text)
    config = folder / "bare.yml"
    config.write_text(
        f"site_name: Bare\ndocs_dir: {docs}\ntheme:\n  name: material\n  font: false\n"
        "use_directory_urls: false\nplugins:\n  - search\n"
    )
    command = [sys.executable, "-m", "mkdocs", "--quiet", "build", "--config-file", str(config)]
    quiet = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    subprocess.run([*command, "--site-dir", str(out)], check=True, env=quiet)
