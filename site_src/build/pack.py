"""Makes of a built site a folder that works by opening its ``index.html``: no server, no network.

``python -m site_src.build.pack SITE OUT`` writes the folder OUT and OUT.zip beside it.
"""

import base64
import html
import json
import re
import shutil
import sys
from pathlib import Path

from guide.setup import say
from site_src.build.archives import write_archive
from site_src.build.joined import joined

SERVED_ONLY = (
    "service-worker.js",
    "offline.json",
    "manifest.webmanifest",
    "sitemap.xml",
    "sitemap.xml.gz",
)
PIECE = 1_500_000  # bytes a script carries: small enough for progress; three make four characters
MODULE = re.compile(r'<script type="module" src="([^"]*)engine/(\w+)\.js"></script>')
FOLDER_LINK = re.compile(r'href="(?![a-z]+:|//|#)([^"#?]*/)([#?][^"]*)?"')
WEB_MANIFEST = re.compile(r'<link rel="manifest"[^>]*>\n?')
FOOTER = re.compile(r'<footer class="rig-offline" hidden></footer>')
KEEP = re.compile(r'<script defer src="[^"]*engine/keep\.js"></script>\n?')
POLICY = re.compile(r'(http-equiv="Content-Security-Policy" content=")([^"]*)')
SHIM_INLINE = re.compile(
    r"<script>postMessage=.*?<\\/script><script src=\$\{e\}\?\$\{\+Date.now\(\)\}>"
)
SHIM_SIDE = """// Inside the frame that stands for a worker where pages are opened from a folder.
postMessage = (message, target) => parent.postMessage(message, target || "*");
importScripts = (...names) =>
  names.reduce(
    (before, name) =>
      before.then(
        () =>
          new Promise((resolve) => {
            const script = document.createElement("script");
            script.src = name;
            script.onload = resolve;
            document.body.appendChild(script);
          }),
      ),
    Promise.resolve(),
  );
addEventListener("error", ({ error }) => parent.dispatchEvent(new ErrorEvent("error", { error })));
"""
# The stand-in takes the place of the browser's own workers, which the engine needs.
KEEPS_WORKER = "window.__rigWorker = window.Worker;\n"
WORKER_START = (
    'globalThis.importScripts = () => {\n  throw new Error("this worker fetches nothing");\n};\n'
)


class PackError(Exception):
    """The built site is not of the form that can be packed."""


def pack(site: Path, out: Path) -> None:
    """Write the folder and its zip."""
    shutil.rmtree(out, ignore_errors=True)
    shutil.copytree(site, out)
    words = json.loads((out / "offline.json").read_text(encoding="utf-8"))["words"]
    for name in SERVED_ONLY:
        (out / name).unlink(missing_ok=True)
    engine = out / "assets" / "engine"
    scripts = write_scripts(engine)
    write_parts(engine)
    for name in (
        "pyodide",
        "python_stdlib.zip",
        "wheels",
        "engine-worker.js",
        "engine-start.js",
        "engine-fetch.js",
        "engine-files.js",
        "memory.js",
        "pieces.js",
    ):
        remove(engine / name)
    for pattern in ("workbox-*", "engine-*", "edition-*", "wheels.json", "*.gz"):
        for file in engine.glob(pattern):
            file.unlink()
    patch_search(engine)
    pages = list(out.rglob("*.html"))
    for page in pages:
        text = for_folder(page.read_text(encoding="utf-8"), scripts, words["folder"])
        page.write_text(text, encoding="utf-8")
    files = {
        f"{out.name}/{file.relative_to(out).as_posix()}": file.read_bytes()
        for file in sorted(out.rglob("*"))
        if file.is_file()
    }
    archive = out.with_name(f"{out.name}.zip")
    write_archive(archive, files)
    size = sum(map(len, files.values()))
    say(
        f"Packed {len(pages)} pages: {out} ({size / 1e6:.0f} MB), {archive.name} "
        f"({archive.stat().st_size / 1e6:.0f} MB)"
    )


def remove(path: Path) -> None:
    """Remove a file or a folder."""
    if path.is_dir():
        shutil.rmtree(path)
    else:
        path.unlink()


def write_scripts(engine: Path) -> set[str]:
    """Write a plain script for each module that a page starts, and return their names."""
    names = {
        found[2]
        for page in engine.parent.parent.rglob("*.html")
        for found in MODULE.finditer(page.read_text(encoding="utf-8"))
    }
    for name in names:
        text = (engine / f"{name}.js").read_text(encoding="utf-8")
        text = text.replace("import.meta.url", "document.currentScript.src")
        (engine / f"{name}.plain.js").write_text(text, encoding="utf-8")
    return names


def write_parts(engine: Path) -> None:
    """Write the engine's files as scripts: the worker, and what starts it from its memory."""
    manifests = [
        json.loads(file.read_text(encoding="utf-8")) for file in engine.glob("engine-*.json")
    ]
    manifest = next((each for each in manifests if "snapshot" in each["files"]), None)
    if manifest is None:
        raise PackError("the site has no engine with a kept memory; build it afresh")
    parts = engine / "parts"
    parts.mkdir()
    script = joined(engine, "engine-worker.js")
    worker = WORKER_START + script.replace("import.meta.url", '"https://engine.invalid/"')
    pieces = [("worker", worker)]
    for file in (manifest["files"]["snapshot"], manifest["files"]["wasm"]):
        data = (engine / file["name"]).read_bytes()
        pieces += [
            (file["name"], base64.b64encode(data[start : start + PIECE]).decode())
            for start in range(0, len(data), PIECE)
        ]
    scripts = [f"{place:02}.js" for place in range(len(pieces))]
    for script, (name, text) in zip(scripts, pieces, strict=True):
        write_part(parts / script, name, text)
    write_part(parts / "list.js", "list", json.dumps({"manifest": manifest, "scripts": scripts}))


def write_part(file: Path, name: str, text: str) -> None:
    """Write a script that hands a text to the page."""
    file.write_text(f"__rigPart({json.dumps(name)}, {json.dumps(text)});\n", encoding="utf-8")


def patch_search(engine: Path) -> None:
    """Let the stand-in for a worker, which the search uses here, obey the pages' policy."""
    shim = engine / "iframe-worker.js"
    side = "new URL('../../engine/iframe-side.js',new URL(this.url,location))"
    beside = f"<script src=${{{side}}}><\\/script><script src=${{e}}>"
    text, count = SHIM_INLINE.subn(lambda _: beside, shim.read_text(encoding="utf-8"))
    if count != 1:
        raise PackError("the stand-in for a worker is not of the form that is known")
    shim.write_text(KEEPS_WORKER + text, encoding="utf-8")
    (engine / "iframe-side.js").write_text(SHIM_SIDE, encoding="utf-8")


def for_folder(page: str, scripts: set[str], note: str) -> str:
    """Return a page as it works from a folder: plain scripts, whole links, its own policy."""

    def plain(found: re.Match[str]) -> str:
        if found[2] not in scripts:
            raise PackError(f"{found[2]}.js is no script that was made plain")
        at = f"{found[1]}engine/"
        return (
            f'<script defer src="{at}packed.js"></script>\n'
            f'<script defer src="{at}{found[2]}.plain.js"></script>'
        )

    page = FOOTER.sub(f'<footer class="rig-offline">{html.escape(note)}</footer>', page)
    page = MODULE.sub(plain, KEEP.sub("", WEB_MANIFEST.sub("", page)))
    page = FOLDER_LINK.sub(lambda found: f'href="{found[1]}index.html{found[2] or ""}"', page)
    return POLICY.sub(lambda found: found[1] + folder_policy(found[2]), page)


def folder_policy(policy: str) -> str:
    """Return a policy for pages in a folder, where browsers differ in what 'self' means."""
    policy = policy.replace("'self'", "'self' file:")
    return policy.replace("script-src ", "script-src blob: ").replace(
        "worker-src ", "worker-src blob: "
    )


if __name__ == "__main__":
    pack(Path(sys.argv[1]), Path(sys.argv[2]))
