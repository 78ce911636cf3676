"""``rig-guide serve``: the built site, with all its pages drawn anew from each saved edit.

``python -m site_src.build.live SITE CONTENT LINE`` serves a built site; LINE is the number of a
socket that listens. Pages of the guide, of staff and of all units are drawn when they are asked
for; the explanatory ones take some seconds, and say so meanwhile. A page that is open reloads
itself when something was saved. A fault in the content is shown in the terminal and in the page;
the last good edition stays.
"""

import functools
import html
import json
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterable
from dataclasses import dataclass, field
from http import HTTPStatus
from pathlib import Path
from urllib.parse import unquote, urlsplit

from mkdocs.config import load_config

from engine.links import INDEX, NUMBERS
from engine.model.guide import Guide
from engine.pages.units_page import PATH as RANGE
from guide import terminal
from guide.fault import ContentError
from guide.load import as_module, load_guide
from guide.server import Handler, Server
from guide.setup import ROOT, say
from guide.site import CONFIG, mkdocs, settings
from site_src.build.addresses import root_of
from site_src.build.archives import content_hash, entry, write_archive
from site_src.build.brand import put_on
from site_src.build.drawn import draw_page
from site_src.build.fields import fields_of
from site_src.build.tree import (
    FOLDER,
    STAFF,
    Shell,
    ShellOf,
    drawn_beside,
    files_of,
    kept_shells,
    lost_page,
)
from site_src.build.wheels import edition_module

EVERY_S = 0.3
QUIET_S = 1.0
BESIDE = (*STAFF, RANGE)
LOOKS = ("assets/brand", "assets/guide.css")
"""What of the site's look follows the content."""
WATCHED = (CONFIG, ROOT / "site_src" / "docs", ROOT / "site_src" / "theme")
VERSION, SCRIPT = "/__edition", "/__live.js"
RELOADS = f"""let shown = null;
setInterval(async () => {{
  const found = await fetch("{VERSION}").then((reply) => reply.text()).catch(() => shown);
  if (shown !== null && found !== shown) location.reload();
  shown = found;
}}, 500);
"""
WAITS = b"""<p role="status" style="margin:0;padding:.5em 1em;background:#fff3d4;color:#16241f">
This page still shows the edition before: it is being drawn anew, and reloads by itself.</p>"""
TAG = f'<script src="{SCRIPT}"></script>'.encode()


Stamps = dict[Path, tuple[int, int]]


@dataclass
class Live:
    """The edition that is shown now, and what was saved since."""

    site: Path
    content: Path
    guide: Guide | None = None
    faults: str = ""
    manifest: str = ""
    version: int = 0
    drawn: str = ""
    drawer: subprocess.Popen[bytes] | None = None
    asked: threading.Event = field(default_factory=threading.Event)
    shells: ShellOf | None = None
    drawing: threading.Lock = field(default_factory=threading.Lock)

    def load(self) -> None:
        """Read the content; a fault keeps the last good edition and is told."""
        began = time.monotonic()
        try:
            guide = load_guide(self.content)
        except ContentError as error:
            self.faults = str(error)
            say(self.faults)
        else:
            self.guide, self.faults = guide, ""
            self.manifest = manifest_of(guide, self.site / "assets" / "engine")
            self.shells = None
            lost = lost_page(guide, self.site, self.shell(guide))
            (self.site / "404.html").write_text(lost, encoding="utf-8")
            self.drawn = self.drawn or guide.edition  # the build has just drawn it
            self.asked.set()
            say(f"Edition {guide.edition} after {time.monotonic() - began:.1f} s")
        self.version += 1

    def page(self, path: str) -> bytes | None:
        """A page of the guide, of staff or of all units, drawn now; None where there is none."""
        if self.faults:
            told = html.escape(self.faults)
            return f"<!doctype html><title>Faults</title><pre>{told}</pre>".encode()
        if self.guide is None:
            return None
        with self.drawing:
            if path in BESIDE:
                return drawn_beside(self.guide, path, self.site, self.shell(self.guide))
            path, _, name = path.removeprefix(FOLDER).rpartition("/")
            path = f"{path}/" if path else ""
            page = draw_page(self.guide, path, fields_of(self.guide))
            if page.path != path:
                return None
            self.shells = self.shells or kept_shells(self.shell(self.guide))
            return files_of(self.guide, page, self.site, self.shells).get(name or INDEX)

    def shell(self, guide: Guide) -> Shell:
        """What surrounds the pages, from the theme as it is now."""
        config = load_config(str(CONFIG), site_dir=str(self.site), site_url=root_of(guide))
        put_on(config, guide)
        page, form = guide.wording.page, guide.shop.estimate.form
        return Shell(config.theme.get_env(), config, self.manifest, page, form)

    def is_waiting(self) -> bool:
        """Whether the explanatory pages still show an edition before."""
        return self.guide is not None and self.drawn != self.guide.edition

    def draw_figures(self) -> None:
        """Draw the explanatory pages whenever the content is another, once nobody saves."""
        while self.asked.wait():
            self.asked.clear()
            if not self.asked.wait(QUIET_S) and self.guide is not None and self.is_waiting():
                self.draw_explained(self.guide)

    def draw_explained(self, guide: Guide) -> None:
        """Draw the explanatory pages beside the site, then put them into it."""
        with tempfile.TemporaryDirectory() as folder:
            out = Path(folder)
            around = settings(self.content, "figures", self.manifest)
            self.drawer = subprocess.Popen(mkdocs(out, "--clean"), cwd=ROOT, env=around)
            if self.drawer.wait():
                return
            for file in out.rglob("*.*"):
                name = file.relative_to(out).as_posix()
                if name.startswith(LOOKS) or (file.suffix == ".html" and is_explained(name)):
                    (self.site / name).parent.mkdir(parents=True, exist_ok=True)
                    shutil.copyfile(file, self.site / name)
        self.drawn = guide.edition
        self.version += 1

    def stop(self) -> None:
        """End what is at work beside the server."""
        if self.drawer is not None:
            self.drawer.terminate()

    def watch(self, content: Stamps, pages: Stamps) -> None:
        """Load again whenever something was saved since these stamps were taken."""
        while True:
            time.sleep(EVERY_S)
            if (now := stamps([self.content])) != content:
                content = now
                self.load()
            if (now := stamps(WATCHED)) != pages:
                pages = now
                self.draw_pages()

    def draw_pages(self) -> None:
        """Draw the explanatory pages again, those that changed."""
        command = mkdocs(self.site, "--dirty")
        subprocess.run(command, cwd=ROOT, env=settings(self.content, "pages"), check=False)
        self.shells = None
        self.version += 1


def stamps(places: Iterable[Path]) -> Stamps:
    """Time and size of every file at these places, by which a change is seen."""
    found = {}
    for place in places:
        for file in [place] if place.is_file() else place.rglob("*"):
            try:
                state = file.stat()
            except OSError:  # an editor replaces files while they are looked at
                continue
            found[file] = (state.st_mtime_ns, state.st_size)
    return found


def manifest_of(guide: Guide, folder: Path) -> str:
    """Return the list of the engine's files with this edition, made from the one that was built.

    An edition that differs from the built one starts by the plain way: keeping a memory takes long.
    """
    built = min(folder.glob("engine-*.json"), key=lambda file: file.stat().st_mtime_ns)
    manifest = json.loads(built.read_text(encoding="utf-8"))
    source = as_module(guide).encode()
    if manifest["content"] == content_hash({"edition.py": source}):
        return built.name
    contents = {"edition.py": edition_module(guide, {}).encode()}
    edition = content_hash(contents)
    file = folder / f"edition-{edition}.zip"
    write_archive(file, contents)
    del manifest["files"]["snapshot"]
    manifest["files"]["edition"] = entry(file, folder)
    name = f"engine-{edition}.json"
    (folder / name).write_text(json.dumps({**manifest, "edition": edition}), encoding="utf-8")
    return name


def is_explained(name: str) -> bool:
    """Whether a page of this name is one on which the content says something."""
    return not name.startswith(("project/", "404.html"))


def is_drawn(place: str) -> bool:
    """Whether a page is drawn when it is asked for."""
    return place in BESIDE or (place.startswith(FOLDER) and place.endswith(("/", NUMBERS)))


def with_notice(page: bytes, live: Live) -> bytes:
    """An explanatory page that says so where it still shows the edition before."""
    if not live.is_waiting():
        return page
    return re.sub(rb"<body[^>]*>", lambda found: found[0] + WAITS, page, count=1)


class LiveHandler(Handler):
    """Serves the site's files, and the guide's pages from the content as it is."""

    live: Live

    def __init__(self, *arguments: object, live: Live, **options: object) -> None:
        self.live = live
        super().__init__(*arguments, **options)  # type: ignore[arg-type]

    def do_GET(self) -> None:  # noqa: N802 - its base's name
        """Answer with a page drawn now, with what reloads it, or with a file."""
        path = unquote(urlsplit(self.path).path)
        if path == VERSION:
            self.reply(json.dumps(self.live.version).encode(), "application/json")
        elif path == SCRIPT:
            self.reply(RELOADS.encode(), "text/javascript; charset=utf-8")
        elif is_drawn(place := path.removeprefix("/").removesuffix("index.html")):
            self.reply_page(self.live.page(place))
        elif path.endswith((".html", "/")):
            file = self.file_asked()
            self.reply_page(with_notice(file.read_bytes(), self.live) if file else None)
        elif self.command == "HEAD":
            super().do_HEAD()
        else:
            super().do_GET()

    do_HEAD = do_GET  # noqa: N815 - its base's name

    def reply_page(self, page: bytes | None) -> None:
        """Send a page with the script that reloads it."""
        if page is None:
            self.send_error(HTTPStatus.NOT_FOUND)
            return
        head, end, rest = page.partition(b"</head>")
        self.reply(head + TAG + end + rest if end else page + TAG, "text/html; charset=utf-8")

    def reply(self, body: bytes, kind: str) -> None:
        """Send bytes of one kind."""
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)


def main(site: str, content: str, line: str) -> int:
    """Serve until interrupted."""
    live = Live(Path(site), Path(content))
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # or what it started would go on
    saved = stamps([live.content]), stamps(WATCHED)  # before they are read: nothing is missed
    live.load()
    handler = functools.partial(LiveHandler, directory=site, live=live)
    with Server(socket.socket(fileno=int(line)), handler) as server:
        print(f"Rig Power Guide is at http://localhost:{server.server_port}/", flush=True)
        threading.Thread(target=live.watch, args=saved, daemon=True).start()
        threading.Thread(target=live.draw_figures, daemon=True).start()
        print("A saved edit is shown at once, on the explanatory pages after some seconds.")
        print("Stop it with Ctrl+C.", flush=True)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            print()
        finally:
            live.stop()
    return 0


if __name__ == "__main__":
    terminal.prepare()
    sys.exit(terminal.guarded(lambda: main(*sys.argv[1:])))
