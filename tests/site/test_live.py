"""``rig-guide serve`` while the content is edited."""

import json
import os
import shutil
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from guide.content_folder import CONTENT
from guide.server import listening
from guide.setup import ROOT

PATIENCE_S = 180.0
ASK = "What kind of rig do you have?"


@pytest.fixture
def content(tmp_path: Path) -> Path:
    """A copy of the content, to be edited."""
    return shutil.copytree(CONTENT, tmp_path / "content")


@pytest.fixture(scope="module")
def copied(site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the site, since editions that are edited are written into it."""
    return shutil.copytree(site, tmp_path_factory.mktemp("live") / "site")


@pytest.fixture
def address(copied: Path, content: Path) -> Iterator[str]:
    """The server, at work on that copy."""
    command = [sys.executable, "-u", "-m", "site_src.build.live", str(copied), str(content)]
    with listening(0) as plug:
        number = plug.fileno()
        server = subprocess.Popen(
            [*command, str(number)],
            cwd=ROOT,
            env={**os.environ},
            stdout=subprocess.PIPE,
            text=True,
            pass_fds=[number],
        )
    assert server.stdout is not None
    line = next(line for line in server.stdout if "http://" in line)
    yield line.rpartition("at ")[2].strip().rstrip("/")
    server.terminate()
    server.wait()


def get(address: str) -> str:
    with urllib.request.urlopen(address) as reply:
        text: str = reply.read().decode()
    return text


def wait_until(holds: Callable[[], bool]) -> None:
    until = time.monotonic() + PATIENCE_S
    while not holds():
        assert time.monotonic() < until, "the edit did not arrive"
        time.sleep(0.1)


def edit(content: Path, old: str, new: str) -> None:
    file = content / "questions" / "short-path.yaml"
    file.write_text(file.read_text("utf-8").replace(old, new, 1), "utf-8")


def test_a_saved_wording_is_on_the_page_and_reloads_it(address: str, content: Path) -> None:
    page = get(f"{address}/guide/")
    before = json.loads(get(f"{address}/__edition"))
    assert ASK in page
    assert '<script src="/__live.js">' in page
    edit(content, ASK, "What do you build?")
    wait_until(lambda: json.loads(get(f"{address}/__edition")) > before)
    for path in ("guide/index.html", "show/", "staff/tree/"):
        assert "What do you build?" in get(f"{address}/{path}")
    wait_until(lambda: "What do you build?" in get(f"{address}/"))
    wait_until(lambda: "the edition before" not in get(f"{address}/index.html"))


def test_an_explanatory_page_says_that_it_shows_the_edition_before(
    address: str, content: Path
) -> None:
    assert "the edition before" not in get(f"{address}/explained/fuses.html")
    edit(content, ASK, "What do you build?")
    wait_until(lambda: "the edition before" in get(f"{address}/explained/fuses.html"))


def test_a_fault_is_shown_and_gone_when_it_is_mended(address: str, content: Path) -> None:
    edit(content, "where: path", "where: paths")
    wait_until(lambda: "Did you mean “path”?" in get(f"{address}/guide/"))
    edit(content, "where: paths", "where: path")
    wait_until(lambda: ASK in get(f"{address}/guide/"))


def test_answers_are_drawn_as_the_build_draws_them(address: str, site: Path) -> None:
    path = "guide/rig=van/scope=whole/heavy=0/"
    built = (site / path / "index.html").read_text("utf-8")
    shown = get(f"{address}/{path}").replace('<script src="/__live.js"></script>', "")
    main = shown.partition('<div id="rig-answer"')[2]
    assert main
    assert main == built.partition('<div id="rig-answer"')[2]


def test_what_is_no_page_is_not_found(address: str) -> None:
    for path in ("guide/rig=boat/", "guide/nothing/", "../pyproject.toml", "no.html"):
        with pytest.raises(urllib.error.HTTPError, match="404"):
            get(f"{address}/{path}")
