"""Building the site with MkDocs, and serving it on this machine."""

import contextlib
import gzip
import http.server
import io
import logging
import os
import socket
import subprocess
import sys
import tempfile
import time
from functools import partial
from pathlib import Path
from typing import Any, BinaryIO
from urllib.parse import urlsplit

from engine.kept import kept
from guide.load import CONTENT
from guide.setup import ROOT, SetupError, say

CONFIG = ROOT / "mkdocs.yml"
NO_DATE = "315532800"  # 1980, so that two builds of the same content are the same bytes
MIME_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".svg": "image/svg+xml",
    ".wasm": "application/wasm",
    ".zip": "application/zip",
    ".webmanifest": "application/manifest+json",
}


def settings(content: Path, extra: str = "") -> dict[str, str]:
    """Return the environment in which the site of a content folder is built.

    extra: "pages" leaves the guide out, which is there already; "report" adds the coverage report
    """
    return {
        **os.environ,
        "NO_MKDOCS_2_WARNING": "1",
        "SOURCE_DATE_EPOCH": NO_DATE,
        "RIG_GUIDE_CONTENT": str(content),
        "RIG_GUIDE_BUILD": extra,
    }


def mkdocs(out: Path, *options: str) -> list[str]:
    """Return the command that builds the site into a folder."""
    quiet_tool = [sys.executable, "-m", "mkdocs", "--quiet", "build", *options]
    return [*quiet_tool, "--config-file", str(CONFIG), "--site-dir", str(out.resolve())]


def build(out: Path, content: Path = CONTENT, *, report: bool = False) -> None:
    """Build the whole site into a folder; what goes wrong is told by SetupError."""
    if not CONFIG.exists():
        raise SetupError("the site is built from a working copy of the repository, with mkdocs.yml")
    began = time.monotonic()
    done = subprocess.run(
        mkdocs(out, "--strict", "--clean"),
        cwd=ROOT,
        env=settings(content, "report" if report else ""),
        stdin=subprocess.DEVNULL,
        check=False,
    )
    if done.returncode:
        raise SetupError("the site was not built; the reason stands above")
    say(f"Built {out} in {time.monotonic() - began:.0f} s")


def pack(out: Path, content: Path = CONTENT) -> None:
    """Build the site and make of it a folder and a zip that open without a server."""
    with tempfile.TemporaryDirectory() as folder:
        built = Path(folder) / "site"
        build(built, content)
        pack_built(built, out)


def pack_built(built: Path, out: Path) -> None:
    """Make of a built site a folder and a zip that open without a server."""
    out.parent.mkdir(parents=True, exist_ok=True)
    command = [sys.executable, "-m", "site_src.build.pack", str(built), str(out.resolve())]
    if subprocess.run(command, cwd=ROOT, stdin=subprocess.DEVNULL, check=False).returncode:
        raise SetupError("the folder was not made; the reason stands above")


COMPRESSED = {".html", ".css", ".js", ".mjs", ".json", ".svg", ".webmanifest", ".xml"}
"""What is sent compressed, as web hosts do; the rest is compressed already, or not read as text."""


@kept("never", 256)
def compressed(file: Path, changed_ns: int) -> bytes:
    """A file's bytes as they are sent; an edit is another time of change, and read anew."""
    del changed_ns
    return gzip.compress(file.read_bytes(), compresslevel=6, mtime=0)


FRESH = "no-store"
"""What browsers are told of keeping files: never, so that an edit is seen at once."""


class Handler(http.server.SimpleHTTPRequestHandler):
    """Serves files with the right types, as web hosts do.

    kept: what the browser is told of keeping a file, as in the header Cache-Control
    """

    protocol_version = "HTTP/1.1"  # one connection for many files, as web hosts do
    disable_nagle_algorithm = True  # or every body waits until its head is acknowledged

    extensions_map = {  # noqa: RUF012 - the base declares it so
        **http.server.SimpleHTTPRequestHandler.extensions_map,
        **MIME_TYPES,
    }

    def __init__(self, *arguments: Any, directory: str, kept: str = FRESH) -> None:
        self.kept = kept
        super().__init__(*arguments, directory=directory)

    def end_headers(self) -> None:
        """Add the headers that every reply carries."""
        self.send_header("Cache-Control", self.kept)
        super().end_headers()

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        """Begin the reply to a request for a file; texts go compressed where that is understood."""
        file = Path(self.translate_path(self.path))
        if urlsplit(self.path).path.endswith("/"):
            file /= "index.html"
        understood = "gzip" in self.headers.get("Accept-Encoding", "")
        if not (understood and file.suffix in COMPRESSED and file.is_file()):
            return super().send_head()
        body = compressed(file, file.stat().st_mtime_ns)
        self.send_response(http.HTTPStatus.OK)
        self.send_header("Content-Type", self.guess_type(file))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Vary", "Accept-Encoding")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        return io.BytesIO(body)

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """Show the site's own page for an address that it does not have, as web hosts do."""
        page = Path(self.directory) / "404.html"
        if code != http.HTTPStatus.NOT_FOUND or not page.is_file():
            super().send_error(code, message, explain)
            return
        body = page.read_bytes()
        self.send_response(code)
        self.send_header("Content-Type", MIME_TYPES[".html"])
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)

    def log_message(self, format: str, *arguments: object) -> None:  # noqa: A002 - its base's name
        """Keep requests out of the terminal unless debugging."""
        logging.getLogger(__name__).debug(format, *arguments)


class Server(http.server.ThreadingHTTPServer):
    """Serves each connection in a thread; a browser that leaves early is no error."""

    def __init__(self, *arguments: Any) -> None:
        self.open: set[socket.socket] = set()
        super().__init__(*arguments)

    def process_request(self, request: Any, client_address: Any) -> None:
        """Serve a connection in a thread of its own."""
        self.open.add(request)
        super().process_request(request, client_address)

    def shutdown_request(self, request: Any) -> None:
        """Close a connection."""
        self.open.discard(request)
        super().shutdown_request(request)

    def server_close(self) -> None:
        """End the connections too; a browser keeps them open for what it asks next."""
        super().server_close()
        for each in list(self.open):
            with contextlib.suppress(OSError):
                each.shutdown(socket.SHUT_RDWR)

    def handle_error(self, request: object, client_address: object) -> None:
        """Tell of faults, but not of a connection that its browser closed."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]


def make_server(folder: Path, port: int, kept: str = FRESH) -> Server:
    """Return a server of a folder on this machine's own address; port 0 takes any free one."""
    handler = partial(Handler, directory=str(folder), kept=kept)
    return Server(("127.0.0.1", port), handler)


def serve_live(out: Path, content: Path, port: int) -> int:
    """Serve a built site whose pages follow every saved edit, until interrupted."""
    live = [sys.executable, "-m", "site_src.build.live", str(out), str(content), str(port)]
    with contextlib.suppress(KeyboardInterrupt):
        return subprocess.run(live, cwd=ROOT, env=settings(content), check=False).returncode
    return 0


def serve(folder: Path, port: int) -> int:
    """Serve a folder until interrupted."""
    try:
        server = make_server(folder, port)
    except OSError as error:
        raise SetupError(f"port {port} cannot be used ({error}); choose another: --port") from error
    with server:
        print(f"Rig Power Guide is at http://localhost:{server.server_port}/", flush=True)
        print("Stop it with Ctrl+C.", flush=True)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            print()
    return 0
