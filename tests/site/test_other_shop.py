"""The site of a second shop is built from its own content, without a change of code."""

import zipfile
from pathlib import Path

from engine.respond import conversation_of
from engine.tree import states
from guide.load import load_guide
from tests.conftest import OtherSite


def test_the_site_of_another_shop_is_built(other_shop_site: OtherSite) -> None:
    out = other_shop_site.site
    guide = load_guide(other_shop_site.today)
    pages = {file.parent.relative_to(out / "guide") for file in (out / "guide").rglob("*.html")}
    assert pages == {Path(path) for path in states(conversation_of(guide))}
    assert guide.question("rig").ask in (out / "index.html").read_text("utf-8")
    assert sorted(file.name for file in (out / "explained").iterdir()) == ["index.html"]
    (archive,) = (out / "assets" / "engine").glob("engine-*.zip")
    with zipfile.ZipFile(archive) as packed:
        edition = next(name for name in packed.namelist() if name.startswith("edition."))
        assert guide.edition.encode() in packed.read(edition)
    assert "Built" in other_shop_site.said.read_text("utf-8")
