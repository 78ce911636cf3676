"""The file of the glossary: every mistake in it is told with its line and its mend."""

from pathlib import Path

import pytest

from guide.fault import ContentError
from guide.glossary import glossary_faults, read_glossary

ONE = "- {id: bond, word: Bond, means: A connection., page: bond, trade: [N-G bond]}\n"
TWO = "- {id: lug, word: Lug, means: A ring., page: terminals}\n"


def faults(tmp_path: Path, text: str) -> list[str]:
    file = tmp_path / "glossary.yaml"
    file.write_text(text, "utf-8")
    return [str(fault) for fault in glossary_faults(file)]


def test_the_glossary_has_no_fault() -> None:
    assert glossary_faults() == []
    assert [each.id for each in read_glossary()] == list(
        dict.fromkeys(each.id for each in read_glossary())
    )


def test_two_words_that_differ_have_none(tmp_path: Path) -> None:
    assert faults(tmp_path, ONE + TWO) == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (ONE + TWO.replace("Lug,", "n-g Bond,"),
         "glossary.yaml:2:3: “n-g bond”: “bond” in line 1 has it already. Keep it in one of them."),
        (ONE + TWO.replace("id: lug", "id: bond"), "“id bond”: “bond” in line 1 has it already"),
        (TWO + ONE, "glossary.yaml:2:20: “bond”: it stands after “lug”"),
        (TWO.replace("terminals", "terminal"),
         "“lug”, page: there is no explanatory page “terminal”. Did you mean “terminals”?"),
        (TWO.replace("A ring.", "A ring"), "“lug”, means: it is no whole sentence"),
        (TWO.replace("A ring.", f"{'A ring ' * 20}."), "and a tip holds 120. Say it shorter."),
        (TWO.replace("A ring.", "It carries 200 A."), "“200 A” is typed"),
        (TWO.replace("means", "meaning"), "“meaning”: this key is not known here"),
        ("", "the file is empty"),
        ("- [", "this is not YAML"),
    ],
)  # fmt: skip
def test_a_mistake_is_told_with_its_place_and_its_mend(
    tmp_path: Path, text: str, said: str
) -> None:
    told = faults(tmp_path, text)
    assert any(said in each for each in told), told


def test_a_broken_glossary_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "glossary.yaml"
    file.write_text(TWO.replace("A ring.", "A ring"), "utf-8")
    with pytest.raises(ContentError, match="no whole sentence"):
        read_glossary(file)


def test_a_missing_glossary_is_told(tmp_path: Path) -> None:
    (fault,) = glossary_faults(tmp_path / "glossary.yaml")
    assert "cannot be read" in str(fault)
