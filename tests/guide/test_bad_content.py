"""Each mistake that an author can make stops the load with a message that names place and mend."""

import shutil
from pathlib import Path

import pytest

from guide.check_style import style_faults
from guide.content_folder import CONTENT
from guide.fault import ContentError
from guide.load import FILES, load_content
from guide.yaml_text import values_of
from tests.guide.shops import edited

BAD = Path(__file__).resolve().parent.parent / "bad_content"
MISTAKES = sorted(folder.name for folder in BAD.iterdir() if folder.is_dir())


def messages(folder: Path) -> str:
    with pytest.raises(ContentError) as caught:
        content = load_content(folder)
        raise ContentError(style_faults(folder, content.styles, content.guide.shop.language))
    return str(caught.value) + "\n"


def edit_of(mistake: str) -> dict[str, str] | None:
    """The one edit that makes a mistake: file, old and new text; None where files are laid over."""
    file = BAD / mistake / "edit.yaml"
    return values_of(file) if file.exists() else None


def line_of(mistake: str) -> int:
    """The line at which a mistake is made by an edit, which moves with the content; or 0."""
    edit = edit_of(mistake)
    if edit is None:
        return 0
    before = (CONTENT / edit["file"]).read_text(encoding="utf-8").partition(edit["old"])[0]
    return before.count("\n") + 1


def with_files_of(mistake: str, folder: Path) -> Path:
    """The good content with the files of one mistake laid over it, or with its one edit made."""
    edit = edit_of(mistake)
    if edit is not None:
        return edited(folder, (edit["file"], edit["old"], edit["new"]))
    shutil.copytree(CONTENT, folder, dirs_exist_ok=True)
    return shutil.copytree(
        BAD / mistake, folder, dirs_exist_ok=True, ignore=shutil.ignore_patterns("expected.txt")
    )


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_mistake_is_told_with_its_place_its_reason_and_its_mend(
    mistake: str, tmp_path: Path
) -> None:
    expected = (BAD / mistake / "expected.txt").read_text(encoding="utf-8")
    folder = with_files_of(mistake, tmp_path)
    assert messages(folder) == expected.replace("{line}", str(line_of(mistake)))


def test_a_hundred_mistakes_are_each_told_alone() -> None:
    assert len(MISTAKES) >= 100
    told = [(BAD / mistake / "expected.txt").read_text("utf-8").count("\n") for mistake in MISTAKES]
    assert set(told) == {1}


@pytest.mark.parametrize("name", sorted(FILES))
def test_a_file_that_is_no_yaml_is_told_and_nothing_that_it_would_have_held(
    name: str, tmp_path: Path
) -> None:
    folder = edited(tmp_path / "content")
    with (folder / name).open("a", encoding="utf-8") as file:
        file.write("\n : [ - {\n")
    [told] = messages(folder).splitlines()
    assert told.startswith(f"{name}:")
    assert "this is not YAML" in told


def test_the_faults_of_all_files_are_told_in_one_run(tmp_path: Path) -> None:
    for mistake in ("no-unit", "unknown-appliance", "unknown-caution-rule"):
        folder = with_files_of(mistake, tmp_path)
        shutil.copytree(BAD / "no-unit", folder, dirs_exist_ok=True)
        shutil.copytree(BAD / "unknown-appliance", folder, dirs_exist_ok=True)
    told = messages(folder)
    for file in ("catalogue/precharges.yaml:", "rigs.yaml:", "cautions/terminals.yaml:"):
        assert file in told


def test_one_unknown_id_in_many_places_is_one_fault_that_names_them(tmp_path: Path) -> None:
    folder = edited(tmp_path / "content")
    rigs = folder / "rigs.yaml"
    rigs.write_text(rigs.read_text("utf-8").replace("space-heater", "space-heating"), "utf-8")
    [told] = messages(folder).splitlines()
    lines = [
        at for at, line in enumerate(rigs.open(encoding="utf-8"), 1) if "space-heating" in line
    ]
    assert told.startswith(f"rigs.yaml:{lines[0]}:")
    assert f"Also: {', '.join(f'rigs.yaml:{at}' for at in lines[1:])}." in told


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    shutil.copytree(CONTENT, tmp_path, dirs_exist_ok=True)
    (tmp_path / "rigs.yaml").unlink()
    assert messages(tmp_path) == "rigs.yaml:1:1: the file: it is missing. Write rigs.yaml.\n"


def test_a_broken_entry_makes_no_further_faults_where_it_is_named(tmp_path: Path) -> None:
    shutil.copytree(CONTENT, tmp_path, dirs_exist_ok=True)
    loads = tmp_path / "loads.yaml"
    loads.write_text(loads.read_text("utf-8").replace("running: 24 W", "running: 24 A"), "utf-8")
    told = messages(tmp_path)
    assert told.count("\n") == 1
    assert "“running”: expected a power, got a current" in told
