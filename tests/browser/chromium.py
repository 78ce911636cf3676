"""Starts the Chromium that the browser tests and the benchmark drive."""

from playwright.sync_api import Browser, Playwright, expect

from guide import setup_browser

ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
QUICK_CODE = "--js-flags=--liftoff-only"
"""WebAssembly is compiled once, quickly: to compile it better pays after many answers only."""
ONE_PROCESS = "--process-per-site"
"""Pages of one context share a process, and with it what was compiled of the engine."""
PATIENCE_MS = 180_000
"""How long anything is waited for: only what never comes takes that long, on a busy machine too."""

expect.set_options(timeout=PATIENCE_MS)


def launch(playwright: Playwright, *more: str) -> Browser:
    """Start the Chromium of the tests, which draws no window, with more arguments.

    RuntimeError tells how to get one where there is none.
    """
    path = setup_browser.find()
    if path is None:
        raise RuntimeError(
            "no Chromium was found: install it (Debian: apt-get install chromium-headless-shell) "
            "or run `python3 -m guide test`, which does"
        )
    return _launched(playwright, path, *more)


def launch_whole(playwright: Playwright) -> Browser:
    """Start Chromium as people use it, installed when there is none: for what is measured."""
    return _launched(playwright, setup_browser.require_whole())


def _launched(playwright: Playwright, path: str, *more: str) -> Browser:
    return playwright.chromium.launch(executable_path=path, args=[*ARGUMENTS, *more])
