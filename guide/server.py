"""A small server of a folder on this machine: what a careful web host does, and nothing more.

It answers by RFC 9110: GET and HEAD, conditional requests, single ranges, texts compressed. It is
for this machine's own browsers: a request that names another host is refused, since a page of
another site may have sent it (DNS rebinding).
"""

import contextlib
import gzip
import http.server
import io
import logging
import re
import socket
import sys
from email.utils import parsedate_to_datetime
from functools import partial
from http import HTTPStatus
from pathlib import Path
from typing import Any, BinaryIO
from urllib.parse import urlsplit

from engine.kept import kept

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
PACKED = {"br": ".br", "gzip": ".gz"}
"""Packed copies that may stand beside a file, the best first: by what a browser calls them."""
COMPRESSED = {".html", ".css", ".js", ".mjs", ".json", ".svg", ".webmanifest", ".xml"}
"""What is sent compressed, as web hosts do; the rest is compressed already, or not read as text."""
HOSTS = re.compile(r"(?:localhost|127\.0\.0\.1|\[::1\])(?::[0-9]{1,5})?", re.IGNORECASE)
"""How this machine calls itself."""
FRESH = "no-store"
"""What browsers are told of keeping files: never, so that an edit is seen at once."""
_RANGE = re.compile(r"bytes=([0-9]{0,15})-([0-9]{0,15})")


def copy_for(file: Path, accepted: str) -> tuple[str, Path] | None:
    """The packed copy of a file that a browser reads, and its encoding; see guide/precompress.py.

    accepted: what the browser says that it reads; one that is older than its file is passed over
    """
    read = {each.split(";")[0].strip() for each in accepted.split(",")}
    for encoding, suffix in PACKED.items():
        copy = file.with_name(file.name + suffix)
        if encoding in read and copy.is_file() and not _is_older(copy, file):
            return encoding, copy
    return None


def _is_older(copy: Path, file: Path) -> bool:
    return copy.stat().st_mtime_ns < file.stat().st_mtime_ns


@kept("never", 256)
def compressed(file: Path, changed_ns: int) -> bytes:
    """A file's bytes as they are sent; an edit is another time of change, and read anew."""
    del changed_ns
    return gzip.compress(file.read_bytes(), compresslevel=6, mtime=0)


class Handler(http.server.SimpleHTTPRequestHandler):
    """Serves files with the right types, as web hosts do.

    kept: what the browser is told of keeping a file, as in the header Cache-Control
    """

    protocol_version = "HTTP/1.1"  # one connection for many files, as web hosts do
    disable_nagle_algorithm = True  # or every body waits until its head is acknowledged
    timeout = 60
    """Seconds after which a connection that says nothing is closed (common practice)."""

    extensions_map = {  # noqa: RUF012 - the base declares it so
        **http.server.SimpleHTTPRequestHandler.extensions_map,
        **MIME_TYPES,
    }

    def __init__(self, *arguments: Any, directory: str, kept: str = FRESH) -> None:
        self.kept = kept
        super().__init__(*arguments, directory=directory)

    def parse_request(self) -> bool:
        """Read the head of a request, and refuse one that is meant for another host."""
        if not super().parse_request():
            return False
        if HOSTS.fullmatch(self.headers.get("Host", "localhost")):
            return True
        self.close_connection = True
        self.send_error(HTTPStatus.MISDIRECTED_REQUEST)
        return False

    def end_headers(self) -> None:
        """Add the headers that every reply carries."""
        self.send_header("Cache-Control", self.kept)
        self.send_header("X-Content-Type-Options", "nosniff")
        super().end_headers()

    def file_asked(self) -> Path | None:
        """The file of the address; None where there is none, whatever its name is."""
        try:
            path, ends = Path(self.translate_path(self.path)), urlsplit(self.path).path[-1:]
            file = path / "index.html" if ends == "/" else path
            return file if file.is_file() else None
        except (OSError, ValueError):  # of a name that is too long or that no system has
            return None

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        """Begin the reply to a request for a file."""
        file = self.file_asked()
        if file is None:
            self.without_slash()
            return None
        state = file.stat()
        spans = self.headers.get("Range")
        accepted = "" if spans else self.headers.get("Accept-Encoding", "")
        copy = copy_for(file, accepted)
        is_packed_now = copy is None and "gzip" in accepted and file.suffix in COMPRESSED
        encoding = copy[0] if copy else "gzip" if is_packed_now else ""
        tag = f'"{state.st_mtime_ns:x}-{state.st_size:x}{"-" if encoding else ""}{encoding}"'
        if self.is_known(tag, int(state.st_mtime)):
            self.send_response(HTTPStatus.NOT_MODIFIED)
            self.send_header("ETag", tag)
            self.end_headers()
            return None
        if is_packed_now:
            body = compressed(file, state.st_mtime_ns)
        else:
            body = (copy[1] if copy else file).read_bytes()
        span = span_of(spans, len(body)) if spans and self.may_be_cut(tag) else None
        if span is not None and not span:
            self.send_response(HTTPStatus.REQUESTED_RANGE_NOT_SATISFIABLE)
            self.send_header("Content-Range", f"bytes */{len(body)}")
            self.send_header("Content-Length", "0")
            self.end_headers()
            return None
        self.send_response(HTTPStatus.PARTIAL_CONTENT if span else HTTPStatus.OK)
        if span:
            self.send_header("Content-Range", f"bytes {span[0]}-{span[-1]}/{len(body)}")
            body = body[span.start : span.stop]
        self.send_header("Content-Type", self.guess_type(file))
        if encoding:
            self.send_header("Content-Encoding", encoding)
        self.send_header("Vary", "Accept-Encoding")
        self.send_header("Accept-Ranges", "bytes")
        self.send_header("ETag", tag)
        self.send_header("Last-Modified", self.date_time_string(state.st_mtime))
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        return io.BytesIO(body)

    def without_slash(self) -> None:
        """Send a browser to the folder that it asked for without a slash; else nothing is there."""
        parts = urlsplit(self.path)
        try:
            folder = Path(self.translate_path(self.path)) / "index.html"
            is_folder = not parts.path.endswith("/") and folder.is_file()
        except (OSError, ValueError):
            is_folder = False
        if not is_folder:
            self.send_error(HTTPStatus.NOT_FOUND)
            return
        self.send_response(HTTPStatus.MOVED_PERMANENTLY)
        query = f"?{parts.query}" if parts.query else ""
        self.send_header("Location", f"/{parts.path.strip('/')}/{query}")
        self.send_header("Content-Length", "0")
        self.end_headers()

    def is_known(self, tag: str, changed_s: int) -> bool:
        """Whether the browser has this already (RFC 9110, section 13)."""
        tags = self.headers.get("If-None-Match")
        if tags is not None:
            given = [each.strip().removeprefix("W/") for each in tags.split(",")]
            return tag in given or given == ["*"]
        since = self.headers.get("If-Modified-Since")
        with contextlib.suppress(TypeError, ValueError, OverflowError):
            return bool(since) and changed_s <= parsedate_to_datetime(str(since)).timestamp()
        return False

    def may_be_cut(self, tag: str) -> bool:
        """Whether a range is of what the browser has the rest of (RFC 9110, section 13.1.5)."""
        return self.headers.get("If-Range", tag) == tag

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """Show the site's own page for an address that it does not have, as web hosts do."""
        page = Path(self.directory) / "404.html"
        if code != HTTPStatus.NOT_FOUND or not page.is_file():
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


def span_of(asked: str, size: int) -> range | None:
    """The bytes of one range; empty where there are none of them, None where it is not understood.

    >>> span_of("bytes=2-4", 10), span_of("bytes=-3", 10), span_of("bytes=12-", 10)
    (range(2, 5), range(7, 10), range(0, 0))
    """
    found = _RANGE.fullmatch(asked.strip())
    if not found or not (found[1] or found[2]):
        return None
    if not found[1]:
        start, end = max(size - int(found[2]), 0), size
    else:
        start, end = int(found[1]), min(int(found[2] or size) + 1, size)
        if found[2] and int(found[2]) < start:
            return None
    return range(start, end) if start < end else range(0)


class Server(http.server.ThreadingHTTPServer):
    """Serves each connection in a thread; a browser that leaves early is no error.

    line: listens already, see `listening`
    """

    request_queue_size = 256

    def __init__(self, line: socket.socket, handler: Any) -> None:
        self.open: set[socket.socket] = set()
        super().__init__(line.getsockname()[:2], handler, bind_and_activate=False)
        self.socket.close()
        self.socket = line
        self.server_name, self.server_port = line.getsockname()[:2]

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


def listening(port: int) -> socket.socket:
    """A socket that listens at a port of this machine's own address; port 0 takes any free one.

    Raises
    ------
    OSError : if the port is taken or may not be used.
    """
    return socket.create_server(("127.0.0.1", port), backlog=Server.request_queue_size)


def make_server(folder: Path, port: int, kept: str = FRESH) -> Server:
    """Return a server of a folder on this machine's own address; port 0 takes any free one."""
    handler = partial(Handler, directory=str(folder), kept=kept)
    return Server(listening(port), handler)
