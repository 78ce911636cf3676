"""Contrast of the project's colours in light and dark, WCAG 2.2 AA (1.4.3 and 1.4.11)."""

import re

import pytest

from guide.check_pages import DOCS

BRAND = (DOCS.parent / "theme" / "assets" / "brand.css").read_text(encoding="utf-8")
TEXT, GRAPHIC = 4.5, 3.0  # WCAG 2.2, 1.4.3 and 1.4.11
GROUNDS = ("paper", "panel", "raised", "wash")


def colours(selector: str) -> dict[str, str]:
    """The colours that a rule sets."""
    start = BRAND.index(f"{selector} {{")
    rule = BRAND[start : BRAND.index("}", start)]
    return dict(re.findall(r"--rig-([\w-]+): (#[0-9a-f]{6});", rule))


LIGHT = colours(":root")
DARK = {**LIGHT, **colours('[data-md-color-scheme="slate"]')}
SCHEMES = {"light": LIGHT, "dark": DARK}


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2.2 defines it."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_ratio_is_that_of_the_definition() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)  # WCAG's own example


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("ink", ["ink", "soft", "link", "good", "bad", "warn"])
def test_text_can_be_read(scheme: str, ground: str, ink: str) -> None:
    assert contrast(SCHEMES[scheme][ink], SCHEMES[scheme][ground]) >= TEXT


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("part", ["edge", "focus"])
def test_edges_and_focus_can_be_seen(scheme: str, ground: str, part: str) -> None:
    assert contrast(SCHEMES[scheme][part], SCHEMES[scheme][ground]) >= GRAPHIC


@pytest.mark.parametrize("scheme", SCHEMES)
def test_what_stands_on_the_brand_colour_can_be_read(scheme: str) -> None:
    found = SCHEMES[scheme]
    assert contrast(found["on-brand"], found["brand"]) >= TEXT
    assert contrast(found["amber"], found["brand"]) >= GRAPHIC


def test_the_dark_colours_without_a_script_are_those_with_one() -> None:
    assert colours("  html[data-root]:not([data-md-color-scheme])") == colours(
        '[data-md-color-scheme="slate"]'
    )
