"""The server of ``rig-guide serve``."""

import gzip
import http.client
import threading
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from guide.setup import SetupError
from guide.site import make_server, serve
from tests.browser.serving import served

TYPES = {
    "index.html": "text/html; charset=utf-8",
    "a.mjs": "text/javascript; charset=utf-8",
    "a.js": "text/javascript; charset=utf-8",
    "a.wasm": "application/wasm",
    "a.json": "application/json",
}


@pytest.fixture
def address(tmp_path: Path) -> Iterator[str]:
    """A server of a few small files."""
    for name in TYPES:
        (tmp_path / name).write_text("text")
    with make_server(tmp_path, 0) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.05,))
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


@pytest.mark.parametrize(("name", "kind"), TYPES.items())
def test_files_have_the_type_that_browsers_insist_on(address: str, name: str, kind: str) -> None:
    with urllib.request.urlopen(f"{address}/{name}") as reply:
        assert reply.headers["Content-Type"] == kind


def test_one_connection_brings_many_files_and_ends_with_the_server(tmp_path: Path) -> None:
    (tmp_path / "a.js").write_text("text")
    with served(tmp_path) as address:
        line = http.client.HTTPConnection(address.partition("//")[2], timeout=180)
        line.connect()
        socket = line.sock
        for _ in range(3):
            line.request("GET", "/a.js")
            assert line.getresponse().read() == b"text"
            assert line.sock is socket
    assert socket.recv(1) == b""


def test_a_browser_may_keep_files_where_that_is_wished(tmp_path: Path) -> None:
    (tmp_path / "a.js").write_text("text")
    with (
        served(tmp_path, "max-age=600") as address,
        urllib.request.urlopen(f"{address}/a.js") as reply,
    ):
        assert reply.headers["Cache-Control"] == "max-age=600"


def test_nothing_is_kept_by_the_browser(address: str) -> None:
    with urllib.request.urlopen(f"{address}/") as reply:
        assert reply.headers["Cache-Control"] == "no-store"


def test_a_port_in_use_is_named_with_the_way_out(address: str, tmp_path: Path) -> None:
    port = int(address.rpartition(":")[2])
    with pytest.raises(SetupError, match=f"port {port} .*--port"):
        serve(tmp_path, port)


def asked(address: str, encoding: str) -> tuple[bytes, str]:
    """What the server sends to who understands an encoding, and how it is encoded."""
    request = urllib.request.Request(address, headers={"Accept-Encoding": encoding})
    with urllib.request.urlopen(request) as reply:
        assert reply.headers["Cache-Control"] == "no-store"
        return reply.read(), reply.headers["Content-Encoding"] or ""


def test_texts_are_sent_compressed_to_who_understands_that(address: str, tmp_path: Path) -> None:
    for place in ("/", "/index.html", "/a.js", "/a.json?x=1"):
        body, encoding = asked(f"{address}{place}", "gzip, br")
        assert (gzip.decompress(body), encoding) == (b"text", "gzip")
        assert asked(f"{address}{place}", "identity") == (b"text", "")
    assert asked(f"{address}/a.wasm", "gzip") == (b"text", "")
    (tmp_path / "a.js").write_text("edited since")
    assert gzip.decompress(asked(f"{address}/a.js", "gzip")[0]) == b"edited since"


def test_a_missing_file_is_missing_whatever_is_understood(address: str) -> None:
    with pytest.raises(urllib.error.HTTPError, match="404"):
        asked(f"{address}/b.js", "gzip")
