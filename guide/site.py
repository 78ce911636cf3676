"""Building the site with MkDocs, and serving it on this machine."""

import contextlib
import os
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from guide.content_folder import CONTENT
from guide.server import listening
from guide.setup import ROOT, SetupError, say

CONFIG = ROOT / "mkdocs.yml"
NO_DATE = "315532800"  # 1980, so that two builds of the same content are the same bytes


def settings(content: Path, extra: str = "", engine: str = "") -> dict[str, str]:
    """Return the environment in which the site of a content folder is built.

    extra: "pages" leaves the guide out, which is there already; "figures" those pages, too, on
        which the content says nothing; "report" adds the coverage report
    engine: the list of the engine's files that the pages name, where it is not in their folder
    """
    return {
        **os.environ,
        "NO_MKDOCS_2_WARNING": "1",
        "SOURCE_DATE_EPOCH": NO_DATE,
        "RIG_GUIDE_CONTENT": str(content),
        "RIG_GUIDE_BUILD": extra,
        "RIG_GUIDE_ENGINE": engine,
    }


def mkdocs(out: Path, *options: str) -> list[str]:
    """Return the command that builds the site into a folder."""
    quiet_tool = [sys.executable, "-m", "mkdocs", "--quiet", "build", *options]
    return [*quiet_tool, "--config-file", str(CONFIG), "--site-dir", str(out.resolve())]


def build(out: Path, content: Path = CONTENT, *, report: bool = False) -> None:
    """Build the whole site into a folder; what goes wrong is told by SetupError."""
    if not CONFIG.exists():
        raise SetupError("the site is built from a working copy of the repository, with mkdocs.yml")
    refuse_what_is_no_site(out)
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


def refuse_what_is_no_site(out: Path) -> None:
    """Keep a folder from being emptied for a site, or a stick, that never held one."""
    if out.is_dir():
        is_mine = out.resolve() == ROOT / "site" or not any(out.iterdir())
        if is_mine or (out / "assets" / "engine").is_dir():
            return
    elif not out.exists():
        return
    raise SetupError(f"{out} holds something that is no site; name a new or an empty folder")


def pack(out: Path, content: Path = CONTENT) -> None:
    """Build the site and make of it a folder and a zip that open without a server."""
    refuse_what_is_no_site(out)
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


def serve(content: Path, port: int) -> int:
    """Build the site and serve it with pages that follow every saved edit, until interrupted.

    The port is taken first: who has to choose another learns it before the build, and a browser
    that comes early waits. Each server has a folder of its own, so that several may run.
    """
    try:
        line = listening(port)
    except OSError as error:
        raise SetupError(f"port {port} cannot be used ({error}); choose another: --port") from error
    with line, tempfile.TemporaryDirectory(prefix="rig-guide-") as folder:
        out = Path(folder) / "site"
        build(out, content)
        live = [sys.executable, "-m", "site_src.build.live", str(out), str(content)]
        command = [*live, str(line.fileno())]
        signal.signal(signal.SIGTERM, signal.default_int_handler)  # or what it started would go on
        with contextlib.suppress(KeyboardInterrupt):
            return subprocess.run(
                command, cwd=ROOT, env=settings(content), pass_fds=[line.fileno()], check=False
            ).returncode
    return 0
