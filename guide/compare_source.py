"""A content folder from what an author names: a folder, a zip, or a git revision."""

import io
import lzma
import subprocess
import tarfile
import tempfile
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from guide.content_folder import CONTENT
from guide.fault import Refusal, visible

LONGEST_REVISION = 200
MOST_UNPACKED = 100_000_000
UNREADABLE = (
    *(zipfile.BadZipFile, zlib.error, lzma.LZMAError, EOFError),
    *(RuntimeError, NotImplementedError, ValueError),  # of a password, a method, a name
)


class SourceError(Refusal):
    """What was named is no content folder, no zip of one, and no revision of git."""


@contextmanager
def content_of(named: str, beside: Path = CONTENT) -> Iterator[Path]:
    """The content folder that a folder, a zip file or a git revision holds.

    beside: the content folder whose earlier state a revision means
    """
    path = Path(named)
    try:
        is_folder, is_zip = path.is_dir(), path.is_file() and zipfile.is_zipfile(path)
    except (OSError, ValueError):  # no system has a file of such a name
        is_folder = is_zip = False
    if is_folder:
        yield _root(path, named)
        return
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder)
        if is_zip:
            _unzip(path, target)
        else:
            _check_out(named, target, beside.resolve())
        yield _root(target, named)


def _root(folder: Path, named: str) -> Path:
    """The folder with shop.yaml: this one, or the only one below it."""
    found = sorted(folder.rglob("shop.yaml"), key=lambda each: len(each.parts))
    if not found:
        raise SourceError(f"“{named}” holds no content: there is no shop.yaml in it")
    return found[0].parent


def _unzip(path: Path, target: Path) -> None:
    try:
        with zipfile.ZipFile(path) as archive:
            if sum(each.file_size for each in archive.infolist()) > MOST_UNPACKED:
                raise SourceError(f"“{path}” holds more than {MOST_UNPACKED:,} bytes")
            for name in archive.namelist():
                if not (target / name).resolve().is_relative_to(target.resolve()):
                    raise SourceError(f"“{path}” would write outside of its folder: {name}")
            archive.extractall(target)
    except UNREADABLE as error:
        raise SourceError(f"“{path}” cannot be unpacked ({error})") from error


def _check_out(revision: str, target: Path, content: Path) -> None:
    if revision.startswith("-") or "\0" in revision or len(revision) > LONGEST_REVISION:
        raise SourceError(
            f"“{visible(revision, LONGEST_REVISION)}” is no folder, no zip and no revision"
        )
    top = Path(_git(revision, "rev-parse", "--show-toplevel", folder=content).decode().strip())
    inside = content.relative_to(top.resolve()).as_posix()
    packed = _git(revision, "archive", "--format=tar", revision, "--", inside, folder=top)
    with tarfile.open(fileobj=io.BytesIO(packed)) as archive:
        archive.extractall(target, filter="data")


def _git(revision: str, *arguments: str, folder: Path) -> bytes:
    try:
        done = subprocess.run(["git", *arguments], cwd=folder, capture_output=True, check=False)
    except FileNotFoundError as error:
        raise SourceError("git is not installed, so a revision cannot be read") from error
    if done.returncode:
        reason = done.stderr.decode(errors="replace").strip().splitlines()
        raise SourceError(
            f"“{revision}” is no folder, no zip and no revision of {folder} "
            f"({reason[-1] if reason else 'git says no more'})"
        )
    return done.stdout
