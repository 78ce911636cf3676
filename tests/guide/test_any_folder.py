"""`check` survives any folder: each attack ends in a fault with file, line and mend."""

import re
import shutil
from pathlib import Path

import pytest

from guide import cli
from guide.content_folder import CONTENT
from tests.guide.attacks import TRIED

FAULT = re.compile(r"[^\n]+:\d+:\d+: [^\n]+\.( [^\n]+)*")


@pytest.mark.parametrize("name", TRIED)
def test_an_attack_ends_in_faults_that_can_be_read(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = shutil.copytree(CONTENT, tmp_path / "content")
    tried = TRIED[name]
    tried.do(folder)
    code = cli.main(["check", "--content", str(folder)])
    out = capsys.readouterr().out
    assert code == (1 if tried.told else 0), out[:1000]
    assert tried.told in out
    assert out.replace("\n", "").isprintable()
    *faults, _count = out.splitlines()
    assert all(len(line) < 2500 for line in faults)
    assert all(FAULT.fullmatch(line) or line.startswith("… and ") for line in faults), faults[:5]


def test_there_are_more_than_forty_attacks() -> None:
    assert len(TRIED) >= 40
