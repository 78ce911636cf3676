"""A published site, asked as a browser asks: one file a request, no redirect followed."""

import gzip
import http.client
import json
import re
import ssl
import threading
import zlib
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from urllib.parse import quote, urlsplit

from guide.setup import SetupError

PATIENCE_S = 60.0
MOST_BYTES = 100_000_000
LINES = 6
"""Connections at once, as many as a browser opens to a host."""
LIST = "service-worker.js"
_LISTED = re.compile(r"const files = (\[\[.*?\]\])\.map")


@dataclass(frozen=True, slots=True)
class Reply:
    """What a host sent for one file.

    heads: the headers by their names in small letters
    sent: the bytes as they came, compressed or not; the body is what a browser makes of them
    """

    status: int
    heads: dict[str, str]
    sent: bytes

    @property
    def kind(self) -> str:
        """The type without its parameters."""
        return self.heads.get("content-type", "").partition(";")[0].strip().lower()

    @property
    def encoding(self) -> str:
        """How the host says that it compressed the file; "" where it did not."""
        return self.heads.get("content-encoding", "").lower()

    @property
    def body(self) -> bytes:
        """The content, unpacked where the host packed it for the way."""
        if self.encoding == "br":
            return _out_of_brotli(self.sent)
        try:
            return gzip.decompress(self.sent) if self.encoding == "gzip" else self.sent
        except (OSError, EOFError, zlib.error):
            return self.sent

    @property
    def is_page(self) -> bool:
        """Whether it is a web page, whatever it should be."""
        return self.body.lstrip()[:9].lower().startswith((b"<!doctype", b"<html"))


def _out_of_brotli(sent: bytes) -> bytes:
    import brotli  # noqa: PLC0415 - only this command needs it

    try:
        return bytes(brotli.decompress(sent))
    except brotli.error:
        return sent


@dataclass(frozen=True, slots=True)
class Listed:
    """A file of the published list, with the hashes that it may have."""

    name: str
    hashes: frozenset[str]
    bytes: int
    needed: bool


@dataclass
class Published:
    """A site at an address.

    Raises
    ------
    SetupError : of an address that is none, or a host that does not answer.
    """

    address: str
    _own: threading.local = field(default_factory=threading.local)

    def __post_init__(self) -> None:
        """Take the address of the site from that of any of its first pages."""
        try:
            parts = urlsplit(self.address if "//" in self.address else f"https://{self.address}")
            is_good = parts.scheme in ("http", "https") and bool(parts.hostname)
            self.port = parts.port
        except ValueError:
            is_good = False
        if not is_good:
            raise SetupError(f"{self.address} is no address of a site; write https://shop.example/")
        self.scheme, self.host = parts.scheme, str(parts.hostname)
        self.folder = parts.path.removesuffix("index.html").rstrip("/") + "/"
        self.address = f"{parts.scheme}://{parts.netloc}{self.folder}"

    def get(self, name: str) -> Reply:
        """Ask for a file of the site; a line that the host closed is opened again once."""
        for attempt in (1, 2):
            line = self._line()
            try:
                line.request("GET", self.folder + quote(name, safe="/=:,;+"), headers=ASKS)
                found = line.getresponse()
                body = found.read(MOST_BYTES)
            except (OSError, http.client.HTTPException) as error:
                line.close()
                if attempt == 2:
                    raise SetupError(f"{self.address} does not answer ({error})") from error
            else:
                heads = {head.lower(): text for head, text in found.getheaders()}
                return Reply(found.status, heads, body)
        raise AssertionError

    def get_all(self, names: Iterable[str], tell: Callable[[int, int], None]) -> dict[str, Reply]:
        """Ask for several files, some at once."""
        wanted, found = list(names), {}
        with ThreadPoolExecutor(LINES) as lines:
            for name, reply in zip(wanted, lines.map(self.get, wanted), strict=True):
                found[name] = reply
                tell(len(found), len(wanted))
        return found

    def _line(self) -> http.client.HTTPConnection:
        line: http.client.HTTPConnection | None = getattr(self._own, "line", None)
        if line is None:
            if self.scheme == "https":
                safe = ssl.create_default_context()
                line = http.client.HTTPSConnection(
                    self.host, self.port, timeout=PATIENCE_S, context=safe
                )
            else:
                line = http.client.HTTPConnection(self.host, self.port, timeout=PATIENCE_S)
            self._own.line = line
        return line


ASKS = {"Accept-Encoding": "br, gzip", "User-Agent": "rig-guide publish-check", "Accept": "*/*"}


def listed_in(script: str) -> list[Listed]:
    """The files that a published service worker lists; none where it is another script.

    >>> listed_in('const files = [["a.js","sha256-x sha256-y",3,true]].map(')[0].bytes
    3
    """
    found = _LISTED.search(script)
    rows = json.loads(found[1]) if found else []
    return [Listed(name, frozenset(hashes.split()), size, needed)
            for name, hashes, size, needed in rows]  # fmt: skip
