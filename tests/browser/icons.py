"""Draws the icons of the installed guide from its mark: ``python -m tests.browser.icons``.

They lie ready in the theme's folder, so that building the site needs no browser; a test compares
them with the mark.
"""

from playwright.sync_api import Browser, sync_playwright

from guide.setup import ROOT
from site_src.build.offline import COLOR, ICONS, Icon
from tests.browser.chromium import launch

ASSETS = ROOT / "site_src" / "theme"


def drawn(browser: Browser, icon: Icon) -> bytes:
    """Return an icon as PNG: the mark, with room around it where a device cuts its own shape."""
    mark = (ASSETS / "assets" / "pictures" / "mark.svg").read_text(encoding="utf-8")
    ground = f"background:{COLOR}" if icon.purpose == "maskable" else ""
    share = 0.72 if icon.purpose == "maskable" else 1.0
    page = browser.new_page(viewport={"width": icon.size, "height": icon.size})
    page.set_content(
        f"<body style='margin:0;display:grid;place-items:center;height:100vh;{ground}'>"
        f"<div style='width:{share:.0%};line-height:0'>{mark}</div>"
    )
    picture = page.screenshot(omit_background=True)
    page.close()
    return picture


def main() -> None:
    """Write every icon."""
    with sync_playwright() as playwright:
        browser = launch(playwright)
        for icon in ICONS:
            (ASSETS / icon.src).write_bytes(drawn(browser, icon))
        browser.close()


if __name__ == "__main__":
    main()
