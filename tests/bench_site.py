"""What the benchmark of the browser side opens: the built site, and its rivals beside it."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from guide import setup_node, site
from guide.load import load_guide
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


def ours(built: Path) -> str:
    """A page that does nothing but start a built site's engine: how long it took, and how."""
    manifest = next((built / "assets" / "engine").glob("engine-*.json")).name
    return OURS.replace("MANIFEST", manifest)


def prepare(folder: Path) -> Path:
    """Build the site and lay the rivals beside it."""
    built = folder / "site"
    site.build(built)
    (built / "ours.html").write_text(ours(built), encoding="utf-8")
    plain = built / "plain"
    shutil.copytree(setup_node.packages() / "pyodide", plain)
    write_sources(load_guide(), plain)
    archives = [*(file.name for file in plain.glob("*.whl")), EDITION]
    (built / "plain.html").write_text(PLAIN, encoding="utf-8")
    worker = PLAIN_WORKER.replace("ARCHIVES", repr(archives))
    (built / "plain-worker.js").write_text(worker, encoding="utf-8")
    bare_page(folder, built / "bare")
    return built


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
