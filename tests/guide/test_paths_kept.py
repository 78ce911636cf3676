"""What the short path leads to is kept for one content and one engine, and trusted for no other."""

from pathlib import Path

import pytest

from engine.conversation import Key
from engine.model.answers import Answers
from engine.respond import conversation_of
from engine.ways import Signature
from guide import paths_kept
from guide.cache import digest_of
from tests.guide.shops import edited

KNOWN: dict[Key, Signature] = {(("rig", "van"),): (("single", "x"), ("hot",)), (): ()}
DEARER = ("catalogue/inverters.yaml", "price: ", "price: 1")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder in the place of the one that holds what is kept."""
    monkeypatch.setattr(paths_kept, "FOLDER", tmp_path / "kept")
    return tmp_path / "kept"


def test_what_was_kept_is_taken_over_and_is_what_is_worked_out(folder: Path) -> None:
    first = conversation_of(paths_kept.open_guide())
    assert len(list(folder.iterdir())) == 1
    second = conversation_of(paths_kept.open_guide())
    assert second._signatures == first.known()
    assert second.known() == first.known()
    assert not second._outcomes
    assert second.walk(Answers({"rig": "van"})) == first.walk(Answers({"rig": "van"}))


class Pretended:
    """A conversation that takes no time."""

    def __init__(self) -> None:
        self.asked = 0
        self.told: list[dict[Key, Signature]] = []

    def known(self) -> dict[Key, Signature]:
        self.asked += 1
        return KNOWN

    def remember(self, known: dict[Key, Signature]) -> None:
        self.told.append(known)


@pytest.fixture
def pretended(monkeypatch: pytest.MonkeyPatch) -> Pretended:
    """The conversation about every guide."""
    found = Pretended()
    monkeypatch.setattr(paths_kept, "conversation_of", lambda _: found)
    return found


@pytest.mark.parametrize("text", ["", "{}x", "[1]", '[["a", 5]]', "null"])
def test_what_is_damaged_is_worked_out_afresh(
    folder: Path, pretended: Pretended, text: str
) -> None:
    paths_kept.open_guide()
    (file,) = folder.iterdir()
    file.write_text(text, "utf-8")
    paths_kept.open_guide()
    assert (pretended.asked, pretended.told) == (2, [])
    paths_kept.open_guide()
    assert (pretended.asked, pretended.told) == (2, [KNOWN])


def test_another_content_or_engine_has_its_own(
    folder: Path, pretended: Pretended, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    paths_kept.open_guide()
    paths_kept.open_guide(edited(tmp_path / "content", DEARER))
    assert len(list(folder.iterdir())) == 2
    monkeypatch.setattr(paths_kept, "digest_of", lambda *_: "another")
    paths_kept.open_guide()
    assert len(list(folder.iterdir())) == pretended.asked == 3


def test_the_newest_are_kept(
    folder: Path, pretended: Pretended, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder.mkdir()
    for old in range(paths_kept.MOST_KEPT + 3):
        (folder / f"{old}.json").write_text("[]", "utf-8")
    paths_kept.open_guide()
    assert len(list(folder.iterdir())) == paths_kept.MOST_KEPT
    monkeypatch.setattr(paths_kept, "FOLDER", Path("/dev/null/nowhere"))
    assert paths_kept.open_guide().questions
    assert pretended.asked == 2


def test_any_byte_and_name_of_a_source_counts(tmp_path: Path) -> None:
    source = tmp_path / "engine" / "a.py"
    source.parent.mkdir()
    source.write_text("x = 1", "utf-8")
    seen = [digest_of(tmp_path, "engine")]
    source.write_text("x = 2", "utf-8")
    seen.append(digest_of(tmp_path, "engine"))
    source.rename(source.with_name("b.py"))
    seen.append(digest_of(tmp_path, "engine"))
    assert len(set(seen)) == 3
    (source.parent / ".git").mkdir()
    (source.parent / ".git" / "hook.py").write_text("x = 3", "utf-8")
    assert digest_of(tmp_path, "engine") == seen[-1]
