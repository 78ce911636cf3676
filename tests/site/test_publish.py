"""Publishing as the owner's page tells it: servers, what a host does wrong, editions."""

import gzip
import json
import re
import shutil
import subprocess
import sys
from http import HTTPStatus
from pathlib import Path
from typing import Any

import pytest

from engine.model.guide import Guide
from guide import cli, setup_servers
from guide import site as builder
from guide.content_folder import CONTENT
from guide.earlier_engine import current_list, earlier_engine, files_of, put_back
from guide.precompress import precompress
from guide.publish_check import Finding, check_published
from guide.published import Published
from guide.server import Handler
from guide.setup import SetupError
from site_src.build.offline import write_offline
from tests.browser.serving import served
from tests.guide.shops import edited
from tests.site.servers import answers, free_port, started

ELSEWHERE = "the guide calls itself https://"
ENGINE = "engine-0123456789ab"
PAGE = (
    '<!doctype html><link rel="canonical" href="{at}">'
    '<main data-kind="answer" data-engine="{list}">'
)


FIRST_PAGE = PAGE.format(at="https://shop.example/guide/", list=f"{ENGINE}.json") + "word " * 400


def silent(_done: int, _total: int) -> None:
    """Show no progress."""


def found_at(address: str) -> list[Finding]:
    """What is wrong with a site; that it is not at the shop's own address is no matter here."""
    findings = check_published(Published(address), silent)
    return [each for each in findings if not each.what.startswith(ELSEWHERE)]


@pytest.mark.parametrize("folder", ["", "/rig-guide"], ids=["at the root", "in a folder"])
@pytest.mark.parametrize("name", setup_servers.PROGRAMS)
def test_a_server_with_the_printed_settings_does_nothing_wrong(
    name: str, folder: str, site: Path, tmp_path: Path
) -> None:
    if setup_servers.find(name) is None:
        pytest.skip(f"{name} is not on this machine: {setup_servers.how(name)}")
    with started(name, site, tmp_path, folder) as address:
        assert [each.text for each in found_at(address)] == []


PACKED_FIRST = {"caddy": "br", "apache": "br", "nginx": "gzip", "lighttpd": "gzip"}
"""How each server sends a text, at best, of which there are packed copies."""


@pytest.mark.parametrize("name", setup_servers.PROGRAMS)
def test_a_server_with_the_printed_settings_sends_packed_copies(
    name: str, small: Path, tmp_path: Path, guide: Guide
) -> None:
    if setup_servers.find(name) is None:
        pytest.skip(f"{name} is not on this machine: {setup_servers.how(name)}")
    (small / "guide" / "index.html").write_text(FIRST_PAGE)
    write_offline(small, "Guide", "Guide", guide.wording.page)
    precompress(small, effort=1)
    memory = f"assets/engine/{ENGINE}.memory.gz"
    with started(name, small, tmp_path / "run") as address:
        site = Published(address)
        assert [each.text for each in found_at(address)] == []
        page, engine = site.get("guide/"), site.get(memory)
    assert (page.encoding, page.kind) == (PACKED_FIRST[name], "text/html")
    assert page.body.decode() == FIRST_PAGE
    if name == "nginx":
        assert page.sent == (small / "guide" / "index.html.gz").read_bytes()
    if PACKED_FIRST[name] == "br":
        assert page.sent == (small / "guide" / "index.html.br").read_bytes()
        assert (engine.encoding, engine.body) == ("br", b"memory")
    else:
        assert (engine.encoding, gzip.decompress(engine.sent)) == ("", b"memory")


def test_of_a_plain_host_only_the_page_for_unknown_addresses_is_wrong(site: Path) -> None:
    port = free_port()
    plain = [sys.executable, "-m", "http.server", "--bind", "127.0.0.1", str(port)]
    with subprocess.Popen(
        plain, cwd=site, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    ) as host:
        try:
            while not answers(port):
                assert host.poll() is None
            wrong = [each for each in found_at(f"http://127.0.0.1:{port}") if each.breaks]
        finally:
            host.terminate()
    assert ["404.html" in each.what for each in wrong] == [True]


@pytest.fixture
def small(tmp_path: Path, guide: Guide) -> Path:
    """A site of a few files, each of another kind."""
    folder = tmp_path / "site"
    page = PAGE.format(at="https://shop.example/guide/", list=f"{ENGINE}.json")
    files: dict[str, bytes] = {
        "guide/index.html": page.encode(),
        "guide/rig=van/index.html": page.encode(),
        "index.html": page.encode(),
        "404.html": page.replace("answer", "lost").encode(),
        "assets/guide.css": b"a { color: red }" * 200,
        "assets/engine/page.js": b"let a = 1;" * 300,
        "assets/_plain.css": b"a { color: green }",
        f"assets/engine/{ENGINE}.json": b"{}",
        f"assets/engine/{ENGINE}.memory.gz": gzip.compress(b"memory", mtime=0),
        "assets/engine/wheels.json": json.dumps(
            {"edition": ENGINE.replace("engine", "edition")}
        ).encode(),
    }
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
    write_offline(folder, "Guide", "Guide", guide.wording.page)
    return folder


class Careful(Handler):
    """A host that sends all that it should; those below do one thing otherwise."""

    def end_headers(self) -> None:
        usual, is_engine = self.kept, re.search(r"/engine-[0-9a-f]{12}\b", self.path)
        self.kept = "public, max-age=31536000, immutable" if is_engine else usual
        self.send_header("Referrer-Policy", "no-referrer")
        self.send_header("Content-Security-Policy", "frame-ancestors 'none'")
        super().end_headers()
        self.kept = usual


class AllTypesReplaced(Careful):
    def guess_type(self, path: Any) -> str:
        return {".js": "text/javascript", ".gz": "application/gzip"}.get(
            Path(path).suffix, "application/octet-stream"
        )


class OnePageForAll(Careful):
    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        del message, explain
        self.send_response(HTTPStatus.OK if code == HTTPStatus.NOT_FOUND else code)
        body = (Path(self.directory) / "index.html").read_bytes()
        self.send_header("Content-Type", "text/html")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)


class HidesUnderscores(Careful):
    def file_asked(self) -> Path | None:
        return None if "/_" in self.path else super().file_asked()


class NoIndex(Careful):
    def file_asked(self) -> Path | None:
        return None if self.path.endswith("/") else super().file_asked()

    def without_slash(self) -> None:
        self.send_error(HTTPStatus.NOT_FOUND)


class PacksTwice(Careful):
    def end_headers(self) -> None:
        if self.path.endswith(".gz"):
            self.send_header("Content-Encoding", "gzip")
        super().end_headers()


class KeepsAll(Careful):
    def __init__(self, *arguments: Any, directory: str, kept: str) -> None:
        del kept
        super().__init__(*arguments, directory=directory, kept="max-age=604800")


class SendsElsewhere(Careful):
    def send_head(self) -> Any:
        if not self.path.endswith(".css"):
            return super().send_head()
        self.send_response(HTTPStatus.FOUND)
        self.send_header("Location", "https://other.example/a.css")
        self.send_header("Content-Length", "0")
        self.end_headers()
        return None


HOSTS: dict[type[Handler], str] = {
    AllTypesReplaced: "the Content-Type of .html is application/octet-stream",
    HidesUnderscores: "hides files whose names begin with an underscore",
    NoIndex: "the address of a folder shows no page (status 404)",
    OnePageForAll: "an unknown address does not show 404.html (status 200)",
    PacksTwice: "compressed again",
    KeepsAll: "for up to 604800 seconds",
    SendsElsewhere: "to another address (as https://other.example/a.css)",
}


def told_of(folder: Path, handler: type[Handler]) -> str:
    with served(folder, "no-cache", handler) as address:
        return "\n".join(each.text for each in found_at(address))


def test_of_a_careful_host_nothing_is_told(small: Path) -> None:
    assert told_of(small, Careful) == ""


@pytest.mark.parametrize("host", HOSTS, ids=lambda host: host.__name__)
def test_what_a_host_does_wrong_is_told_with_its_mend(small: Path, host: type[Handler]) -> None:
    told = told_of(small, host)
    assert HOSTS[host] in told
    assert told.count("\n    mend: ") == told.count("wrong: ") + told.count("could be better: ")


def spoiled(folder: Path, what: str) -> None:
    page = folder / "guide" / "rig=van" / "index.html"
    if what == "missing":
        (folder / "assets" / "guide.css").unlink()
    elif what == "mixed":
        page.write_text(page.read_text().replace(ENGINE, "engine-ba9876543210"))
    elif what == "changed":
        page.write_text(page.read_text() + "<script>count()</script>")
    else:
        (folder / "service-worker.js").unlink()


UPLOADS = {
    "missing": "files are missing",
    "mixed": "pages of several editions are mixed",
    "changed": "files are not as they were built",
    "other folder": "Is this the address of the folder that holds index.html?",
}


@pytest.mark.parametrize("what", UPLOADS)
def test_an_upload_that_is_not_whole_is_told(small: Path, what: str) -> None:
    spoiled(small, what)
    assert UPLOADS[what] in told_of(small, Careful)


def test_the_command_says_what_is_wrong_and_how_much(
    small: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with served(small, "no-cache", Careful) as address:
        assert cli.main(["publish-check", f"{address}/index.html"]) == 0
        assert "0 wrong, 1 could be better" in capsys.readouterr().out
        spoiled(small, "missing")
        assert cli.main(["publish-check", "--all", address]) == 1
    assert "at: assets/guide.css\n    mend: Upload" in capsys.readouterr().out


@pytest.mark.parametrize(
    "address", ["", "ftp://shop.example", "http://", "http://a:b/", "http://[::1"]
)
def test_what_is_no_address_is_told(address: str) -> None:
    with pytest.raises(SetupError, match="no address of a site"):
        Published(address)


def test_a_host_that_does_not_answer_is_told() -> None:
    with pytest.raises(SetupError, match="does not answer"):
        Published(f"http://127.0.0.1:{free_port()}/").get("index.html")


def engine_of(folder: Path, edition: str) -> Path:
    """What `build` leaves of the engine of an edition."""
    engine = folder / "assets" / "engine"
    shutil.rmtree(engine, ignore_errors=True)
    (engine / "wheels" / edition).mkdir(parents=True)
    names = (f"engine-{edition}.memory.gz", f"edition-{edition}.zip", f"wheels/{edition}/a.whl")
    for name in (*names, "pyodide.asm.wasm.gz"):
        (engine / name).write_text(edition)
    memory, content, wheel = ({"name": name} for name in names)
    files = {"snapshot": memory, "edition": content, "wasm": {"name": "pyodide.asm.wasm.gz"}}
    manifest = {"files": files, "wheels": [wheel]}
    (engine / f"engine-{edition}.json").write_text(json.dumps(manifest))
    (engine / "wheels.json").write_text(json.dumps({"edition": content["name"]}))
    return folder


def test_pages_of_the_edition_before_keep_their_engine_until_the_next_but_one(
    tmp_path: Path,
) -> None:
    for edition in ("a" * 12, "b" * 12, "c" * 12, "c" * 12):
        with earlier_engine(tmp_path) as earlier:
            put_back(earlier, engine_of(tmp_path, edition))
    engine = tmp_path / "assets" / "engine"
    lists = sorted(file.stem for file in engine.glob("engine-*.json"))
    assert lists == [f"engine-{'b' * 12}", f"engine-{'c' * 12}"]
    now = current_list(tmp_path)
    assert now is not None
    assert now.stem == lists[1]
    for name in files_of(engine / f"{lists[0]}.json"):
        assert (engine / name).is_file()
    assert (engine / "pyodide.asm.wasm.gz").read_text() == "c" * 12


def test_build_keeps_the_answers_of_a_real_shop_and_the_engine_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    edited(tmp_path / "content", ("shop.yaml", "invented: true", "invented: false"))
    editions = iter(("a" * 12, "b" * 12))
    monkeypatch.setattr(builder, "build", lambda out, *_, **__: engine_of(out, next(editions)))
    command = ["build", "--out", str(tmp_path / "out"), "--content", str(tmp_path / "content")]
    assert cli.main(command) == cli.main(command) == 0
    (kept,) = (tmp_path / "content" / "editions").glob("*.json")
    said = capsys.readouterr().out
    assert f"kept editions/{kept.name}" in said
    assert said.count("It keeps the calculator of the edition before, 0.0 MB") == 1
    assert len(list((tmp_path / "out" / "assets" / "engine").glob("engine-*.json"))) == 2


def test_a_site_that_was_built_while_its_content_changed_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    content = edited(tmp_path / "content", ("shop.yaml", "invented: true", "invented: false"))
    shop = content / "shop.yaml"

    def edit_and_build(out: Path, *_: object, **__: object) -> None:
        shop.write_text(shop.read_text("utf-8").replace("days: 45", "days: 30"), "utf-8")
        engine_of(out, "a" * 12)

    monkeypatch.setattr(builder, "build", edit_and_build)
    assert cli.main(["build", "--out", str(tmp_path / "out"), "--content", str(content)]) == 2
    assert "edited while the site was built. Build it again." in capsys.readouterr().err
    assert not (content / "editions").exists()


def test_build_keeps_nothing_of_an_invented_shop(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(CONTENT, tmp_path / "content")
    monkeypatch.setattr(builder, "build", lambda out, *_, **__: engine_of(out, "a" * 12))
    command = ["build", "--out", str(tmp_path / "out"), "--content", str(tmp_path / "content")]
    assert cli.main(command) == 0
    assert not (tmp_path / "content" / "editions").exists()
