"""What a run makes once is made once, and a making that failed is told alike to all."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.once import made_once


def test_it_is_made_once_however_many_need_it(tmp_path: Path) -> None:
    made: list[Path] = []

    def make(place: Path) -> None:
        made.append(place)
        place.mkdir()
        (place / "page").write_text("drawn")

    with ThreadPoolExecutor(4) as pool:
        found = list(pool.map(lambda _: made_once(tmp_path / "site", make), range(8)))
    assert made == [tmp_path / "site"]
    assert {(each / "page").read_text() for each in found} == {"drawn"}


def test_a_making_that_failed_is_not_tried_again_and_told_in_the_same_words(
    tmp_path: Path,
) -> None:
    tried: list[Path] = []

    def make(place: Path) -> None:
        tried.append(place)
        raise RuntimeError("no room on the disk")

    for _ in range(2):
        with pytest.raises(pytest.fail.Exception, match=r"^site could not be made: no room on"):
            made_once(tmp_path / "site", make)
    assert len(tried) == 1


def test_what_a_process_left_that_died_at_it_is_made_afresh(tmp_path: Path) -> None:
    def die(place: Path) -> None:
        place.mkdir()
        (place / "half").touch()
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        made_once(tmp_path / "site", die)
    assert list(made_once(tmp_path / "site", Path.mkdir).iterdir()) == []
