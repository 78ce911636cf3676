"""The shop's own look, put over the theme's: title, colors, logo, the picture of links."""

import re
from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files

from engine.model.brand import Brand, Colors
from engine.model.guide import Guide
from engine.wording.sentences import Sentences
from guide.content_folder import CONTENT
from guide.contrast import schemes
from site_src.build.icons import ICONS, drawn
from site_src.build.offline import MARK

STYLES = "assets/brand.css"
FOLDER = "assets/brand"
PICTURES = "assets/pictures/"
_COLOR = re.compile(r"#[0-9a-f]{3,6}\b")
DARK = (
    '[data-md-color-scheme="slate"] {{ {0} }}\n'
    "@media (prefers-color-scheme: dark) {{\n"
    "  html[data-root]:not([data-md-color-scheme]) {{ {0} }}\n}}\n"
)


def put_on(config: MkDocsConfig, guide: Guide) -> None:
    """Let the pages have the title and the logo of the shop, where it has its own."""
    brand = guide.shop.brand
    config.site_name = brand.title or config.site_name
    if brand.logo:
        config.theme["logo"] = config.theme["favicon"] = picture_of(brand.logo)


def color_of(guide: Guide, name: str) -> str:
    """A color of the site as #14483c: the shop's own, or the theme's."""
    names = {"brand": "brand", "on_brand": "on-brand", "accent": "amber"}
    own: str = getattr(guide.shop.brand.colors, name)
    return own or schemes()["light"][names[name]]


def styles_of(brand: Brand) -> str:
    """The rules that put the shop's colors over the theme's; "" where it has none.

    >>> from engine.model.brand import Colors
    >>> styles_of(Brand(colors=Colors(link="#003366")))
    ':root { --rig-link: #003366; }\\n'
    """
    own = brand.colors
    light = {"brand": own.brand, "on-brand": own.on_brand, "amber": own.accent, "link": own.link}
    rules = " ".join(f"--rig-{name}: {color};" for name, color in light.items() if color)
    text = f":root {{ {rules} }}\n" if rules else ""
    return text + (DARK.format(f"--rig-link: {own.link_dark};") if own.link_dark else "")


def words_of(page: Sentences) -> str:
    """The words that a style sheet puts before what opens: a browser tells its state by itself."""
    words = {"show": page["fold-show"], "hide": page["fold-hide"]}
    rules = " ".join(f'--rig-{name}: "{word}";' for name, word in words.items())
    return f":root {{ {rules} }}\n"


def picture_of(name: str) -> str:
    """Where a picture of the content lies in the site; "" where there is none."""
    return f"{FOLDER}/{Path(name).name}" if name else ""


def painted(picture: str, guide: Guide) -> str:
    """A picture of the theme, as SVG, in the shop's colors."""
    theme = schemes()["light"]
    colors = {theme["brand"]: "brand", theme["amber"]: "accent", "#fff": "on_brand"}
    return _COLOR.sub(
        lambda found: color_of(guide, colors[found[0]]) if found[0] in colors else found[0], picture
    )


def in_page(mark: str) -> str:
    """The mark as a part of a page's header: a picture in a file of its own is painted later.

    >>> in_page('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 48 48">\\n</svg>\\n')
    '<svg viewBox="0 0 48 48" width="28" height="28" aria-hidden="true"></svg>'
    """
    said = mark.replace(' xmlns="http://www.w3.org/2000/svg"', "").replace("\n", "")
    return said.replace(">", ' width="28" height="28" aria-hidden="true">', 1)


def _put_pictures(files: Files, config: MkDocsConfig, guide: Guide) -> None:
    """Put the theme's pictures in the shop's colors in their place, and icons beside them."""
    for each in [each for each in files if each.src_uri.startswith(PICTURES)]:
        if guide.shop.brand.colors != Colors() and each.src_uri.endswith(".svg"):
            text = painted(each.content_string, guide)
            files.remove(each)
            files.append(File.generated(config, each.src_uri, content=text))
    logo = guide.shop.brand.logo
    of_pixels = CONTENT / logo if logo and not logo.endswith(".svg") else None
    mark, ground = files.src_uris[MARK].content_string, color_of(guide, "brand")
    config.theme["mark"] = "" if logo else in_page(mark)
    for icon in ICONS:
        content = drawn(icon, mark, ground, of_pixels)
        files.append(File.generated(config, icon.src, content=content))


def put_brand(files: Files, config: MkDocsConfig, guide: Guide) -> None:
    """Put the shop's colors and words behind the theme's, and its pictures beside it."""
    brand = guide.shop.brand
    own = files.src_uris[STYLES]
    text = f"{own.content_string}\n{words_of(guide.wording.page)}{styles_of(brand)}"
    files.remove(own)
    files.append(File.generated(config, STYLES, content=text))
    _put_pictures(files, config, guide)
    for name in filter(None, (brand.logo, brand.image)):
        source = str(CONTENT / name)
        files.append(File.generated(config, picture_of(name), abs_src_path=source))
