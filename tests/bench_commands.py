"""Rows of the benchmark: what one waits for at a terminal."""

import os
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator, Sequence
from pathlib import Path

from guide.setup import ROOT, SetupError
from tests.bench_against import ANSWER
from tests.bench_parts import Bench
from tests.bench_rows import Bar, Row
from tests.browser.drivers import free_port, running

GUIDE = ("-m", "guide.cli")
LONG_S = 900.0
NO_BYTE_CODE = "PYTHONDONTWRITEBYTECODE"
"""With it every process compiles anew what it imports: nobody is asked to work so."""


def rows(bench: Bench) -> Iterator[Row]:
    """The command line cold, the build, and the first page on a bare machine."""
    took: dict[tuple[str, ...], list[float]] = {
        each: [] for each in (("-c", ""), (*GUIDE, "--help"), (*GUIDE, "answer", *ANSWER))
    }
    for _ in range(bench.rounds + 1):
        for command, values in took.items():
            values.append(seconds_of(command))
    python, told, answered = (values[1:] for values in took.values())  # the first compiles
    rival = "rival: a Python that does nothing"
    yield Row(f"`rig-guide --help`, cold; {rival}", told, python, "s", 2)
    bar = Bar("median", 0.6)
    yield Row(f"`rig-guide answer`, cold; {rival}", answered, python, "s", 2, bar)
    with tempfile.TemporaryDirectory() as folder:
        build = (*GUIDE, "build", "--out", f"{folder}/site")
        bar = Bar("median", 22)
        yield Row("site build, all processors", [seconds_of(build)], unit="s", digits=1, bar=bar)
    bar = Bar("median", 40)
    what = "`python3 -m guide serve` in a bare copy until the first page, downloads included"
    yield Row(what, [seconds_until_page()], unit="s", digits=1, bar=bar)


def seconds_of(command: Sequence[str]) -> float:
    """Run this Python and return how long it took."""
    kept = {name: value for name, value in os.environ.items() if name != NO_BYTE_CODE}
    began = time.perf_counter()
    subprocess.run([sys.executable, *command], cwd=ROOT, check=True, capture_output=True, env=kept)
    return time.perf_counter() - began


def seconds_until_page() -> float:
    """Start the site in a copy that has nothing but the repository's files, until it is served.

    Nothing that was downloaded before is used: neither pip's nor npm's store.
    """
    with tempfile.TemporaryDirectory() as folder:
        copy, log = Path(folder) / "copy", Path(folder) / "log"
        copy_files(copy)
        python = Path(sys.base_prefix) / "bin" / f"python3.{sys.version_info.minor}"
        port = free_port()
        bare = {"PIP_NO_CACHE_DIR": "1", "npm_config_cache": f"{folder}/npm", "PYTHONPATH": ""}
        command = ["env", "--chdir", str(copy), str(python), "-m", "guide", "serve"]
        began = time.perf_counter()
        with running([*command, "--port", str(port)], log, **bare) as process:
            while not is_served(f"http://127.0.0.1:{port}/guide/"):
                if process.poll() is not None or time.perf_counter() - began > LONG_S:
                    raise SetupError(f"serve did not come up: {log.read_text()[-2000:]}")
                time.sleep(0.1)
            return time.perf_counter() - began


def copy_files(folder: Path) -> None:
    """Copy what git keeps of this working copy, as it stands."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    for name in filter(None, listed.stdout.split("\0")):
        if (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / name, folder / name)


def is_served(address: str) -> bool:
    """Whether a page is there; a server that still builds keeps who asks waiting."""
    try:
        with urllib.request.urlopen(address, timeout=LONG_S) as reply:
            return bool(reply.status == 200)
    except urllib.error.URLError:
        return False
