"""The checked guide is kept for the same content and code, and trusted for no other."""

from pathlib import Path

import pytest

import guide.load
from engine.answer import answer_of
from engine.links import read_pairs
from engine.model.guide import Guide
from engine.respond import conversation_of
from guide import guide_kept
from guide.content_folder import CONTENT
from guide.fault import ContentError
from guide.guide_kept import checked_guide
from guide.load import load_guide
from tests.guide.shops import edited

DEARER = ("catalogue/inverters.yaml", "price: ", "price: 1")
BROKEN = ("shop.yaml", "phone: ", "telephone: ")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder in the place of the one that holds what is kept."""
    monkeypatch.setattr(guide_kept, "FOLDER", tmp_path / "kept")
    return tmp_path / "kept"


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The folders whose content was read and checked."""
    found: list[Path] = []

    def load(content: Path = CONTENT) -> Guide:
        found.append(content)
        return load_guide(content)

    monkeypatch.setattr(guide.load, "load_guide", load)
    return found


def test_what_was_kept_is_the_guide_that_was_checked(read: list[Path]) -> None:
    first, second = checked_guide(), checked_guide()
    assert read == [CONTENT]
    assert first is not second
    assert repr(first) == repr(second)
    pairs = [
        "softstart=no",
        "rig=coach-50",
        "scope=whole",
        "heavy=2",
        "biggest=aircon-15k",
        "v240=no",
    ]
    told = [
        answer_of(conversation_of(each), read_pairs(each, pairs), changes=False)
        for each in (first, second)
    ]
    assert told[0].outcome is not None
    assert repr(told[0].outcome.best) == repr(told[1].outcome and told[1].outcome.best)


def test_another_content_is_read_and_a_faulty_one_is_told_each_time(
    tmp_path: Path, read: list[Path], folder: Path
) -> None:
    checked_guide()
    dearer = edited(tmp_path / "dearer", DEARER)
    assert checked_guide(dearer).edition != checked_guide().edition
    broken = edited(tmp_path / "broken", BROKEN)
    for _ in range(2):
        with pytest.raises(ContentError, match=r"shop\.yaml"):
            checked_guide(broken)
    assert read == [CONTENT, dearer, broken, broken]
    assert len(list(folder.iterdir())) == 2


def test_what_is_no_yaml_counts_too(tmp_path: Path, read: list[Path]) -> None:
    """A logo beside the content is part of what was checked."""
    own = edited(tmp_path / "own", DEARER)
    checked_guide(own)
    (own / "logo.svg").write_text("<svg/>", "utf-8")
    checked_guide(own)
    assert read == [own, own]


@pytest.mark.parametrize("data", [b"", b"x", b"N", b"{0", b"\xe3"])
def test_what_is_damaged_is_read_afresh(folder: Path, read: list[Path], data: bytes) -> None:
    checked_guide()
    (file,) = folder.iterdir()
    file.write_bytes(data)
    assert checked_guide().questions
    assert read == [CONTENT, CONTENT]


def test_where_nothing_may_be_kept_it_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guide_kept, "FOLDER", Path("/dev/null/nowhere"))
    assert checked_guide().questions
