"""How the shop's site looks: what shop.yaml may say of it, and what `check` refuses."""

import io
import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from engine.model.brand import Brand, Colors
from engine.model.guide import Guide
from guide.content_folder import CONTENT
from guide.contrast import TEXT, contrast, nearest_that_reads
from guide.fault import ContentError
from guide.load import load_guide
from guide.setup import ROOT
from site_src.build.brand import painted, picture_of, styles_of
from site_src.build.icons import ICONS, Icon, drawn

SITE = "site: morrowfen.example"


def faults(folder: Path, *edits: tuple[str, str], added: str = "") -> str:
    """What is told of the demo's content with an edited shop.yaml; "" where nothing is wrong."""
    content = shutil.copytree(CONTENT, folder / "content")
    file = content / "shop.yaml"
    text = file.read_text("utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    file.write_text(text + added, "utf-8")
    try:
        load_guide(content)
    except ContentError as error:
        assert all(each.file == "shop.yaml" and each.line > 1 for each in error.faults)
        return "\n".join(map(str, error.faults))
    return ""


@pytest.mark.parametrize(
    ("written", "mended"),
    [
        ("https://morrowfen.example/", "morrowfen.example"),
        ("//morrowfen.example", "morrowfen.example"),
        ("HTTP://Shop.example/rig/index.html", "Shop.example/rig"),
        ("shop.example/", "shop.example"),
        ("our shop", "shop.example"),
    ],
)
def test_an_address_of_another_form_is_refused_with_the_right_one(
    written: str, mended: str, tmp_path: Path
) -> None:
    told = faults(tmp_path, (SITE, f"site: {written}"))
    assert f"Write it bare: site: {mended}" in told


@pytest.mark.parametrize("good", ["shop.example/rig-guide", "localhost:8000", "a.b-c.example"])
def test_a_host_with_its_folder_or_port_is_taken(good: str, tmp_path: Path) -> None:
    assert faults(tmp_path, (SITE, f"site: {good}")) == ""


COLORS = "\nbrand:\n  colors:\n    "


@pytest.mark.parametrize(
    ("colors", "told"),
    [
        ("brand: green", "“green” is no color"),
        ('brand: "#ffeecc"', "#ffffff on #ffeecc has a contrast of 1.1"),
        ('accent: "#14503c"', "#14503c on #14483c has a contrast of 1.1"),
        ('link: "#9aa8ff"', "“link”"),
        ('link_dark: "#003366"', "“link_dark”"),
    ],
)
def test_colors_that_cannot_be_read_are_refused_with_one_that_can(
    colors: str, told: str, tmp_path: Path
) -> None:
    found = faults(tmp_path, added=COLORS + colors + "\n")
    assert told in found
    assert "has it" in found or "Write six digits" in found


@pytest.mark.parametrize(
    ("picture", "told"),
    [
        ("logo: brand/none.svg", "there is no file brand/none.svg"),
        ("logo: ../../secret.svg", "there is no file ../../secret.svg"),
        ("logo: shop.yaml", "shop.yaml is of another kind"),
        ("image: schema/../catalogue", "there is no file"),
    ],
)
def test_pictures_that_are_none_are_refused(picture: str, told: str, tmp_path: Path) -> None:
    assert told in faults(tmp_path, added=f"\nbrand:\n  {picture}\n")


def test_a_color_is_made_darker_or_lighter_until_it_reads() -> None:
    grounds = ["#fbfcfb", "#fff3d4"]
    mended = nearest_that_reads("#9aa8ff", grounds, TEXT)
    assert min(contrast(mended, ground) for ground in grounds) >= TEXT
    assert nearest_that_reads("#808080", ["#000000", "#ffffff"], 21.0) == ""


def test_only_what_the_shop_says_is_put_over_the_theme() -> None:
    assert styles_of(Brand()) == picture_of("") == ""
    rules = styles_of(Brand(colors=Colors(brand="#14483c", link_dark="#83dcc3")))
    assert rules.startswith(":root { --rig-brand: #14483c; }\n")
    assert rules.count("--rig-link: #83dcc3;") == 2  # with a script that sets the scheme, and none


PICTURES = ROOT / "site_src" / "theme" / "assets" / "pictures"


def test_pictures_take_the_colors_of_the_shop_and_keep_the_others(guide: Guide) -> None:
    own = Colors(brand="#102040", on_brand="#eeeeff", accent="#ff8800")
    shop = replace(guide.shop, brand=Brand(colors=own))
    for file in sorted(PICTURES.glob("*.svg")):
        text = file.read_text("utf-8")
        shown = painted(text, replace(guide, shop=shop))
        assert not {"#14483c", "#ffc53d", '"#fff"'} & set(re.findall(r'"?#[0-9a-f]+"?', shown))
        assert painted(text, guide).replace("#ffffff", "#fff") == text, file.name
        assert re.sub(r"#\w+", "", shown) == re.sub(r"#\w+", "", text)


@pytest.mark.parametrize("icon", ICONS, ids=lambda icon: icon.src)
def test_an_icon_shows_a_logo_on_the_color_of_the_shop_the_same_each_time(
    tmp_path: Path, icon: Icon
) -> None:
    logo = tmp_path / "logo.png"
    Image.new("RGB", (60, 30), "#ff0000").save(logo)
    made = drawn(icon, "<svg/>", "#102040", logo)
    assert made == drawn(icon, "<svg/>", "#102040", logo)
    shown = Image.open(io.BytesIO(made)).convert("RGB")
    assert shown.size == (icon.size, icon.size)
    assert shown.getpixel((icon.size // 2, icon.size // 2)) == (255, 0, 0)
    assert shown.getpixel((icon.size // 2, icon.size // 8)) == (16, 32, 64)
