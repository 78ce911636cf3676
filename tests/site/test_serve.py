"""The server of ``rig-guide serve``."""

import gzip
import http.client
import socket
import threading
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from guide import cli, site
from guide.server import listening, make_server
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
        plug = line.sock
        for _ in range(3):
            line.request("GET", "/a.js")
            assert line.getresponse().read() == b"text"
            assert line.sock is plug
    assert plug.recv(1) == b""


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


def test_a_packed_copy_is_sent_to_who_reads_it_with_a_tag_of_its_own(
    address: str, tmp_path: Path
) -> None:
    for suffix in (".br", ".gz"):
        (tmp_path / f"a.js{suffix}").write_text(f"packed {suffix}")
        (tmp_path / f"a.wasm{suffix}").write_text(f"packed {suffix}")
    for name in ("a.js", "a.wasm"):
        assert asked(f"{address}/{name}", "gzip, br") == (b"packed .br", "br")
        assert asked(f"{address}/{name}", "gzip") == (b"packed .gz", "gzip")
        assert asked(f"{address}/{name}", "identity") == (b"text", "")
    tags = {
        got(address, "/a.js", f"Accept-Encoding: {each}")[1].partition("ETag: ")[2].split("\r\n")[0]
        for each in ("br", "gzip", "identity")
    }
    assert len(tags) == 3
    status, _, body = got(address, "/a.js", "Accept-Encoding: br", "Range: bytes=1-2")
    assert (status, body) == (206, b"ex")


def test_a_missing_file_is_missing_whatever_is_understood(address: str) -> None:
    with pytest.raises(urllib.error.HTTPError, match="404"):
        asked(f"{address}/b.js", "gzip")


def said(address: str, request: bytes) -> bytes:
    """All that the server sends to these bytes before it closes the connection."""
    host, _, port = address.partition("//")[2].partition(":")
    with socket.create_connection((host, int(port)), timeout=180) as line:
        line.sendall(request)
        line.shutdown(socket.SHUT_WR)
        return b"".join(iter(lambda: line.recv(65536), b""))


def got(address: str, path: str, *heads: str, method: str = "GET") -> tuple[int, str, bytes]:
    """Status, headers and body of one request."""
    lines = [f"{method} {path} HTTP/1.1", "Host: localhost", "Connection: close", *heads, "", ""]
    head, _, body = said(address, "\r\n".join(lines).encode()).partition(b"\r\n\r\n")
    return int(head.split()[1]), head.decode("latin-1"), body


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("localhost", 200), ("LOCALHOST:8000", 200), ("127.0.0.1:1", 200), ("[::1]:8000", 200),
        ("evil.example", 421), ("localhost.evil.example", 421), ("127.0.0.1.evil.example", 421),
        ("", 421), ("localhost:8000:9", 421), ("localhost@evil.example", 421),
    ],
)  # fmt: skip
def test_only_requests_for_this_machine_are_answered(address: str, host: str, status: int) -> None:
    reply = said(address, f"GET /a.js HTTP/1.1\r\nHost: {host}\r\n\r\n".encode())
    assert int(reply.split()[1]) == status
    assert (reply[-4:] == b"text") == (status == 200)


@pytest.mark.parametrize(
    ("asked_for", "status", "sent", "names"),
    [
        ("bytes=1-2", 206, b"ex", "bytes 1-2/4"),
        ("bytes=2-", 206, b"xt", "bytes 2-3/4"),
        ("bytes=-1", 206, b"t", "bytes 3-3/4"),
        ("bytes=-99", 206, b"text", "bytes 0-3/4"),
        ("bytes=0-99", 206, b"text", "bytes 0-3/4"),
        ("bytes=4-", 416, b"", "bytes */4"),
        ("bytes=-0", 416, b"", "bytes */4"),
        ("bytes=3-1", 200, b"text", ""),
        ("bytes=-", 200, b"text", ""),
        ("bytes=0-1,3-3", 200, b"text", ""),
        ("lines=0-1", 200, b"text", ""),
        ("bytes=" + "9" * 5000 + "-", 200, b"text", ""),
    ],
)
def test_a_range_is_sent_as_asked_for_or_the_whole(
    address: str, asked_for: str, status: int, sent: bytes, names: str
) -> None:
    """Cases of RFC 9110, section 14."""
    found = got(address, "/a.wasm", f"Range: {asked_for}", "Accept-Encoding: gzip")
    assert (found[0], found[2]) == (status, sent)
    assert (f"Content-Range: {names}\r\n" in found[1]) == bool(names)


def test_a_range_of_another_version_is_not_sent(address: str) -> None:
    assert got(address, "/a.wasm", "Range: bytes=1-2", 'If-Range: "other"')[::2] == (200, b"text")


def test_what_a_browser_has_is_not_sent_again(address: str, tmp_path: Path) -> None:
    _, head, _ = got(address, "/a.js")
    tag = head.partition("ETag: ")[2].partition("\r")[0]
    changed = head.partition("Last-Modified: ")[2].partition("\r")[0]
    assert got(address, "/a.js", f"If-None-Match: {tag}")[::2] == (304, b"")
    assert got(address, "/a.js", f'If-None-Match: "x", W/{tag}')[::2] == (304, b"")
    assert got(address, "/a.js", f"If-Modified-Since: {changed}")[::2] == (304, b"")
    assert got(address, "/a.js", "If-Modified-Since: yesterday or so")[::2] == (200, b"text")
    assert got(address, "/a.js", f"If-None-Match: {tag}", "Accept-Encoding: gzip")[0] == 200
    (tmp_path / "a.js").write_text("edited since")
    assert got(address, "/a.js", f"If-None-Match: {tag}")[::2] == (200, b"edited since")


@pytest.mark.parametrize("path", ["/", "/a.js", "/b.js", "/a.wasm"])
@pytest.mark.parametrize("encoding", ["gzip", "identity"])
def test_a_head_is_that_of_the_whole_without_a_body(address: str, path: str, encoding: str) -> None:
    whole = got(address, path, f"Accept-Encoding: {encoding}")
    alone = got(address, path, f"Accept-Encoding: {encoding}", method="HEAD")
    assert alone[2] == b""
    for name in ("HTTP/1.1", "Content-Length", "Content-Type", "Content-Encoding"):
        assert (
            alone[1].partition(name)[2].partition("\r")[0]
            == (whole[1].partition(name)[2].partition("\r")[0])
        )


def test_folders_are_not_listed(address: str, tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "secret.txt").write_text("text")
    assert got(address, "/in/")[0] == got(address, "/in")[0] == 404
    (tmp_path / "in" / "index.html").write_text("text")
    assert got(address, "/in/")[::2] == (200, b"text")
    status, head, _ = got(address, "/in?a=b")
    assert (status, "Location: /in/?a=b\r\n" in head) == (301, True)
    assert "Location: /in/\r\n" in got(address, "//in")[1]


ODD = (
    "/" + "a" * 5000, "/" + "a/" * 4000, "/%00", "/a%00.js", "/%ff%fe", "/%ED%A0%80", "/%zz", "/%",
    "/..", "/../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/..%2f..%2fetc/passwd", "/a.js/",
    "/a.js%20", "//evil.example/x", "/\\evil.example", "/%0d%0aX-A:%20b", "/con", "/a.js;x", "/?",
    "*",
)  # fmt: skip


@pytest.mark.parametrize("path", ODD)
def test_long_and_odd_names_are_missing_and_nothing_worse(
    address: str, path: str, capfd: pytest.CaptureFixture[str]
) -> None:
    status, head, body = got(address, path)
    assert status == {"/?": 200, "/..": 301}.get(path, 404)
    assert "X-A" not in head
    assert b"root:" not in body
    assert capfd.readouterr().err == ""


BROKEN = (
    b"", b"\0\0\0\0", b"GET\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n", b"\x16\x03\x01\x02\x00\x01",
    b"GET / HTTP/1.1\r\n" + b"A: b\r\n" * 200 + b"\r\n", b"GET /" + b"a" * 70000 + b" HTTP/1.1\r\n",
    b"POST / HTTP/1.1\r\nHost: localhost\r\n\r\n",
    b"\x1b[31m / HTTP/1.1\r\nHost: localhost\r\n\r\n",
    b"GET / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 9\r\n\r\n", b"GET / HTTP/1.1\r\nHost",
)  # fmt: skip


@pytest.mark.parametrize("at", range(len(BROKEN)))
def test_broken_requests_are_refused_and_the_next_is_answered(
    address: str, at: int, capfd: pytest.CaptureFixture[str]
) -> None:
    said(address, BROKEN[at])
    assert got(address, "/a.js")[::2] == (200, b"text")
    assert capfd.readouterr().err == ""


def test_a_port_that_is_taken_is_told_before_anything_is_built(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(site, "build", lambda *_: pytest.fail("it was built"))
    with listening(0) as taken:
        port = taken.getsockname()[1]
        assert cli.main(["serve", "--port", str(port)]) == 2
    said = capsys.readouterr().err
    assert f"port {port} cannot be used" in said
    assert "--port" in said


def test_two_hundred_connections_are_answered_while_all_are_open(address: str) -> None:
    host = address.partition("//")[2]
    lines = [http.client.HTTPConnection(host, timeout=180) for _ in range(200)]
    for line in lines:
        line.connect()
    for line in reversed(lines):
        line.request("GET", "/a.js")
    assert {line.getresponse().read() for line in lines} == {b"text"}
    for line in lines:
        line.close()
