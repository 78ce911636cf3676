"""Contrast of colors by WCAG 2.2, and the theme's own colors in light and dark."""

import re
from pathlib import Path

from guide.setup import ROOT

STYLES = ROOT / "site_src" / "theme" / "assets" / "brand.css"
TEXT, GRAPHIC = 4.5, 3.0  # WCAG 2.2, 1.4.3 and 1.4.11
GROUNDS = ("paper", "panel", "raised", "wash")
DARK_RULE = '[data-md-color-scheme="slate"]'
STEPS = 50


def colors_of(selector: str, styles: Path = STYLES) -> dict[str, str]:
    """The colors that a rule of the theme sets, by their names without `--rig-`."""
    text = styles.read_text(encoding="utf-8")
    start = text.index(f"{selector} {{")
    rule = text[start : text.index("}", start)]
    return dict(re.findall(r"--rig-([\w-]+): (#[0-9a-f]{6});", rule))


def schemes() -> dict[str, dict[str, str]]:
    """The theme's colors in light and in dark."""
    light = colors_of(":root")
    return {"light": light, "dark": light | colors_of(DARK_RULE)}


def luminance(color: str) -> float:
    """Relative luminance of a color as #14483c, as WCAG 2.2 defines it."""
    parts = [int(color[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2.2 defines it.

    >>> round(contrast("#777777", "#ffffff"), 2)
    4.48
    """
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def nearest_that_reads(color: str, grounds: list[str], least: float) -> str:
    """The color that is nearest to one, darker or lighter, and reads on all grounds; "" for none.

    >>> nearest_that_reads("#888888", ["#ffffff"], 4.5)
    '#757575'
    """
    for step in range(1, STEPS + 1):
        for end in (0, 255):
            mixed = "#" + "".join(
                f"{round(part + (end - part) * step / STEPS):02x}"
                for part in bytes.fromhex(color[1:])
            )
            if all(contrast(mixed, ground) >= least for ground in grounds):
                return mixed
    return ""
