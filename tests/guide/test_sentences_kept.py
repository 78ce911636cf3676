"""The table of sentences is kept beside its sources, and read afresh when one of them changes."""

from pathlib import Path

import pytest

from engine.kept import forget
from guide import sentences


@pytest.fixture(autouse=True)
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    file = tmp_path / "kept" / "sentences.json"
    monkeypatch.setattr(sentences, "KEPT", file)
    return file


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str], sentences.Said]:
    """The table as it is read from its sources."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sentences, "KEPT", tmp_path_factory.mktemp("first") / "sentences.json")
        return again()


def again() -> dict[tuple[str, str], sentences.Said]:
    forget("never")
    return sentences.table()


def test_what_was_kept_is_what_was_read(kept: Path) -> None:
    first = again()
    assert len(first) > 500
    before = kept.read_bytes()
    assert again() == first
    assert kept.read_bytes() == before


@pytest.mark.parametrize("damage", ["", "{}", '{"digest": "x", "said": []}', "[1]"])
def test_what_is_damaged_is_read_afresh(
    kept: Path, first: dict[tuple[str, str], sentences.Said], damage: str
) -> None:
    kept.parent.mkdir()
    kept.write_text(damage)
    assert again() == first
    assert len(kept.read_text()) > len(damage)


def test_another_source_makes_another_table(
    first: dict[tuple[str, str], sentences.Said], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sentences, "STEPS", {})
    without = again()
    assert {room for room, _ in first} - {room for room, _ in without} == {"steps"}


def test_where_nothing_may_be_written_it_is_read_each_time(kept: Path) -> None:
    kept.parent.write_text("a file where the folder would be")
    assert len(again()) > 500
    assert not kept.exists()
