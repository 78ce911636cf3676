"""The site of a second shop is built from its own content, without a change of code."""

import json
from pathlib import Path

from engine.respond import conversation_of
from engine.tree import states
from guide.contrast import schemes
from guide.load import load_guide
from site_src.build.archives import read_archive
from tests.conftest import OtherSite


def test_the_site_of_another_shop_is_built(other_shop_site: OtherSite) -> None:
    out = other_shop_site.site
    guide = load_guide(other_shop_site.today)
    tree = out / "guide"
    pages = {file.parent.relative_to(tree) for file in tree.rglob("index.html")}
    assert pages == {Path(path) for path in states(conversation_of(guide))}
    assert guide.question("rig").ask in (out / "index.html").read_text("utf-8")
    explained = {file.stem for file in (out / "explained").glob("*.html")}
    assert explained == {"index", *(each.id for each in guide.explanations)}
    assert len(explained) > 30
    (archive,) = (out / "assets" / "engine").glob("edition-*.zip")
    assert guide.edition.encode() in read_archive(archive)["edition.pyc"]
    assert "Built" in other_shop_site.said.read_text("utf-8")


def test_it_looks_as_the_shop_says(other_shop_site: OtherSite) -> None:
    out, brand = other_shop_site.site, load_guide(other_shop_site.today).shop.brand
    pages = [out / "index.html", out / "guide" / "index.html", out / "404.html"]
    for page in (page.read_text("utf-8") for page in pages):
        assert f">{brand.title}</a>" in page
        assert "assets/brand/logo.svg" in page
        assert "mark.svg" not in page
    for sheet in ("brand", "guide"):
        styles = (out / "assets" / f"{sheet}.css").read_text("utf-8")
        assert f"--rig-brand:{brand.colors.brand}" in styles
    app = json.loads((out / "manifest.webmanifest").read_text("utf-8"))
    picture = (out / "assets/pictures/rig-van.svg").read_text("utf-8")
    assert brand.colors.brand in picture
    assert schemes()["light"]["brand"] not in picture
    assert (app["name"], app["theme_color"]) == (brand.title, brand.colors.brand)
    assert "assets/brand/link.png" in (out / "staff" / "index.html").read_text("utf-8")
    said = f"{brand.hours}, {brand.area}"
    assert any(said in page.read_text("utf-8") for page in (out / "guide").rglob("index.html"))
