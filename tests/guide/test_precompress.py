"""Packed copies beside the files of a site: what is in them, and what there are."""

import gzip
import json
import os
import shutil
from pathlib import Path

import brotli
import pytest

from guide.precompress import precompress
from guide.server import copy_for

TEXT = b"The mounting space holds two units. " * 60
MEMORY = bytes(range(256)) * 300


@pytest.fixture
def few(tmp_path: Path) -> Path:
    """A few files of a site, the engine of this edition and of the one before among them."""
    folder = tmp_path / "site"
    engine = folder / "assets" / "engine"
    engine.mkdir(parents=True)
    for edition in ("a" * 12, "b" * 12):
        (engine / f"engine-{edition}.json").write_text(json.dumps({"files": {}, "wheels": []}))
        (engine / f"engine-{edition}.memory.gz").write_bytes(gzip.compress(MEMORY, mtime=0))
    (engine / "wheels.json").write_text(json.dumps({"edition": f"edition-{'b' * 12}.zip"}))
    (engine / "pyodide.asm.wasm.gz").write_bytes(gzip.compress(MEMORY, mtime=0))
    (folder / "index.html").write_bytes(TEXT)
    (folder / "short.html").write_bytes(b"short")
    (folder / "card.png").write_bytes(TEXT)
    return folder


def test_texts_have_both_copies_and_the_engine_one_of_what_is_in_it(few: Path) -> None:
    before = set(few.rglob("*"))
    made = precompress(few, effort=1)
    new = {file.relative_to(few).as_posix() for file in set(few.rglob("*")) - before}
    engine = {
        f"assets/engine/{name}.br"
        for name in (f"engine-{'b' * 12}.memory.gz", "pyodide.asm.wasm.gz")
    }
    assert new == {"index.html.br", "index.html.gz", *engine}
    assert made.files == len(new)
    assert gzip.decompress((few / "index.html.gz").read_bytes()) == TEXT
    assert brotli.decompress((few / "index.html.br").read_bytes()) == TEXT
    for name in engine:
        assert brotli.decompress((few / name).read_bytes()) == MEMORY
    assert made.engine_brotli == sum((few / name).stat().st_size for name in engine)


def test_the_same_files_give_the_same_copies(few: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    shutil.copytree(few, other)
    for folder in (few, other):
        precompress(folder, effort=1)
    copies = [file.relative_to(few) for file in sorted(few.rglob("*.[bg][rz]"))]
    assert len(copies) > 3
    assert [(other / each).read_bytes() for each in copies] == [
        (few / each).read_bytes() for each in copies
    ]


def test_a_folder_without_an_engine_has_its_texts_packed(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_bytes(TEXT)
    assert precompress(tmp_path, effort=1).files == 2


@pytest.mark.parametrize(
    ("accepted", "encoding"),
    [
        ("gzip, deflate, br, zstd", "br"),
        ("br;q=1.0", "br"),
        ("gzip", "gzip"),
        ("identity", None),
        ("", None),
        ("brother", None),
    ],
)
def test_the_best_copy_that_a_browser_reads_is_chosen(
    few: Path, accepted: str, encoding: str | None
) -> None:
    precompress(few, effort=1)
    found = copy_for(few / "index.html", accepted)
    assert (found[0] if found else None) == encoding


def test_a_copy_that_is_older_than_its_file_is_passed_over(few: Path) -> None:
    precompress(few, effort=1)
    page = few / "index.html"
    later = page.with_name("index.html.br").stat().st_mtime + 5
    os.utime(page, (later, later))
    assert copy_for(page, "br, gzip") is None
