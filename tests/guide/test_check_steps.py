"""A title of a step that is missing, not used or wrong stops the load, with its place and mend."""

import shutil
from pathlib import Path

import pytest

from guide.fault import ContentError
from guide.load import CONTENT, load_guide

SOLAR = "fuse.solar.fuse_minimum_a: Smallest fuse of the solar controller\n"
START = "power.only.start_va: Start of {name} as planned\n"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            SOLAR,
            "",
            "“fuse.solar.fuse_minimum_a”: the step can be opened and has no title. "
            "Write “fuse.solar.fuse_minimum_a: …”.",
        ),
        (
            SOLAR,
            f"{SOLAR}fuse.solar.fuse_maximum_a: Largest fuse\n",
            "“fuse.solar.fuse_maximum_a”: no step has this id. "
            "Did you mean “fuse.solar.fuse_minimum_a”?",
        ),
        (
            START,
            START.replace("{name}", "{load}"),
            "“power.only.start_va”: it has no fact {load}. Write it with {name}.",
        ),
        (
            SOLAR,
            SOLAR.replace("controller", "{size}"),
            "“fuse.solar.fuse_minimum_a”: it has no fact {size}. Write it with no facts.",
        ),
        (
            START,
            START.replace("{name}", "{name"),
            "“power.only.start_va”: its braces do not match. Write it with {name}.",
        ),
    ],
)
def test_a_fault_in_the_titles_is_told(tmp_path: Path, old: str, new: str, expected: str) -> None:
    shutil.copytree(CONTENT, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "wording" / "steps.yaml"
    text = file.read_text("utf-8")
    assert text.count(old) == 1
    file.write_text(text.replace(old, new), "utf-8")
    with pytest.raises(ContentError) as caught:
        load_guide(tmp_path)
    place, _, told = str(caught.value).partition(": ")
    assert place.startswith("wording/steps.yaml:")
    assert told == expected
