"""From `rig-guide new shop` to a published site, by the commands that the owner's pages print."""

import shlex
from pathlib import Path

import pytest

from guide import cli
from guide.load import load_guide
from guide.new_shop import WORKBOOK, smallest_set
from tests.conftest import build_site
from tests.guide.shops import demo
from tests.guide.test_new import blocks, fill
from tests.site.test_publish import Careful, told_of


def test_a_new_shop_is_filled_built_and_published(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    [[make, *others]] = blocks("start")
    assert cli.main(shlex.split(make)) == 0
    folder = tmp_path / make.rpartition(" ")[2]
    fill(folder / WORKBOOK, smallest_set(demo()), tmp_path)
    for command in others:
        assert cli.main(shlex.split(command)) == 0, capsys.readouterr().out
    own = (folder / "shop.yaml").read_text("utf-8")
    (folder / "shop.yaml").write_text(own.replace("invented: true", "invented: false"), "utf-8")
    build_site(tmp_path / "site", "--content", str(folder))
    assert told_of(tmp_path / "site", Careful) == ""
    shop = load_guide(folder).shop
    page = tmp_path / "site" / "guide" / "rig=van" / "scope=whole" / "heavy=0" / "index.html"
    assert shop.phone in page.read_text("utf-8")
    assert not shop.invented
    assert len(list((folder / "editions").glob("*.json"))) == 1
