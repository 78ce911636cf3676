"""A title of a step that is missing, not used or wrong stops the load, with its place and mend."""

import shutil
from pathlib import Path

import pytest

from guide.content_folder import CONTENT
from guide.fault import ContentError
from guide.load import load_guide

SOLAR = "fuse.solar.fuse_minimum_a: Smallest fuse of the solar controller\n"
START = "power.only.start_va: Start of {name} as planned\n"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            SOLAR,
            "",
            "“fuse.solar.fuse_minimum_a”: engine/advice/explain.py says it, and it has no "
            "words. Add “fuse.solar.fuse_minimum_a: …”.",
        ),
        (
            SOLAR,
            f"{SOLAR}fuse.solar.fuse_maximum_a: Largest fuse\n",
            "“fuse.solar.fuse_maximum_a”: no page says it. Take it out.",
        ),
        (
            START,
            START.replace("{name}", "{load}"),
            "“power.only.start_va”: nothing fills in “{load}” here. Use one of: name.",
        ),
        (
            SOLAR,
            SOLAR.replace("controller", "{size}"),
            "“fuse.solar.fuse_minimum_a”: nothing fills in “{size}” here. There is none to choose "
            "from.",
        ),
        (
            START,
            START.replace("{name}", "{name"),
            "“power.only.start_va”: a brace stands in it alone. Close it, or take it out; a brace "
            "that is meant to be read is doubled.",
        ),
    ],
)
def test_a_fault_in_the_titles_is_told(tmp_path: Path, old: str, new: str, expected: str) -> None:
    shutil.copytree(CONTENT, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "words" / "en" / "steps.yaml"
    text = file.read_text("utf-8")
    assert text.count(old) == 1
    file.write_text(text.replace(old, new), "utf-8")
    with pytest.raises(ContentError) as caught:
        load_guide(tmp_path)
    place, _, told = str(caught.value).partition(": ")
    assert place.startswith("words/en/steps.yaml:")
    assert told == expected
