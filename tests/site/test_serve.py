"""The server of ``rig-guide serve``."""

import threading
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from guide.setup import SetupError
from guide.site import make_server, serve

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


def test_nothing_is_kept_by_the_browser(address: str) -> None:
    with urllib.request.urlopen(f"{address}/") as reply:
        assert reply.headers["Cache-Control"] == "no-store"


def test_a_port_in_use_is_named_with_the_way_out(address: str, tmp_path: Path) -> None:
    port = int(address.rpartition(":")[2])
    with pytest.raises(SetupError, match=f"port {port} .*--port"):
        serve(tmp_path, port)
