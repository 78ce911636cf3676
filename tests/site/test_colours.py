"""Contrast of the project's colours in light and dark, WCAG 2.2 AA (1.4.3 and 1.4.11)."""

import pytest

from guide.contrast import GRAPHIC, GROUNDS, TEXT, colors_of, contrast, schemes

SCHEMES = schemes()


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
    assert colors_of("  html[data-root]:not([data-md-color-scheme])") == colors_of(
        '[data-md-color-scheme="slate"]'
    )
