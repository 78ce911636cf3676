"""The browsers that the tests drive: Chromium, and two others where they can be had."""

import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from guide import setup_node, setup_servers
from guide.setup import SetupError, install_with_apt, say

SHELL = "chromium-headless-shell"
"""Chromium without a window: the same engine, at half the processor's time a page."""
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
MAC_APPLICATIONS = (
    Path("/Applications/Chromium.app/Contents/MacOS/Chromium"),
    Path("/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"),
)
WEBKIT_FOLDERS = ("/usr/lib", "/usr/libexec", "/usr/local/lib")
PACKAGES = {"firefox": ("firefox-esr",), "webkit": ("webkit2gtk-driver", "xvfb")}
HOW = {
    "firefox": "install Firefox (Debian: sudo apt-get install firefox-esr)",
    "webkit": "install WebKitGTK's driver (Debian: sudo apt-get install webkit2gtk-driver xvfb)",
}


def install_missing() -> None:
    """Install, in one go, the system packages that the tests use and that are missing."""
    missing = [package for package, is_there in SYSTEM_PACKAGES.items() if not is_there()]
    if missing:
        install_with_apt(*missing)  # what could not be installed is told by whoever needs it


def find() -> str | None:
    """Return the path of a Chromium on this machine, one without a window first, or None."""
    return shutil.which(SHELL) or find_whole()


def find_whole() -> str | None:
    """Return the path of a Chromium as people use it, or None."""
    for name in NAMES:
        if path := shutil.which(name):
            return path
    for application in MAC_APPLICATIONS:
        if application.exists():
            return str(application)
    return find_downloaded()


def find_downloaded() -> str | None:
    """Return the Chromium that Playwright downloaded earlier, or None."""
    try:
        from playwright.sync_api import sync_playwright  # noqa: PLC0415 - only tests install it
    except ImportError:
        return None
    with sync_playwright() as playwright:
        downloaded = Path(playwright.chromium.executable_path)
    return str(downloaded) if downloaded.exists() else None


def require() -> str:
    """Return the path of a Chromium for the tests, installing one when there is none."""
    if find() is None:
        install_with_apt(SHELL)
    return _require(find)


def require_whole() -> str:
    """Return the path of a Chromium as people use it, installing one when there is none."""
    return _require(find_whole)


def _require(find: Callable[[], str | None]) -> str:
    setup_node.ensure_library()  # the driver runs in a Node of its own
    found = find()
    if found is None and install_with_apt("chromium"):
        found = find()
    if found is None:
        say("[setup] downloading Chromium")
        command = [sys.executable, "-m", "playwright", "install", "chromium"]
        subprocess.run(command, stdin=subprocess.DEVNULL, check=False)
        found = find()
    if found is None:
        raise SetupError(
            "this needs Chromium; install it (Debian, Ubuntu: "
            "sudo apt-get install chromium; macOS: brew install chromium) and start again"
        )
    return found


def require_print_reader() -> None:
    """See that the tests can read what the browser prints: poppler's command-line tools."""
    if shutil.which("pdftotext") is None and not install_with_apt("poppler-utils"):
        raise SetupError(
            "the tests of the print-out need pdftotext; install it (Debian, Ubuntu: "
            "sudo apt-get install poppler-utils; macOS: brew install poppler) and start again"
        )


def find_firefox() -> str | None:
    """Return the path of a Firefox on this machine, or None."""
    application = Path("/Applications/Firefox.app/Contents/MacOS/firefox")
    found = shutil.which("firefox-esr") or shutil.which("firefox")
    return found or (str(application) if application.exists() else None)


def find_webkit() -> str | None:
    """Return the path of WebKitGTK's small browser where its driver and Xvfb are too, or None."""
    if not (shutil.which("WebKitWebDriver") and shutil.which("Xvfb")):
        return None
    for folder in WEBKIT_FOLDERS:
        for found in sorted(Path(folder).glob("**/webkit2gtk-4.*/MiniBrowser")):
            return str(found)
    return None


def offer_others() -> None:
    """Install the two other browsers where this user may; say which tests are left out if not."""
    for name, find_one in (("firefox", find_firefox), ("webkit", find_webkit)):
        if find_one() is None:
            all(install_with_apt(package) for package in PACKAGES[name])
        if find_one() is None:
            say(f"[setup] the tests in {name} are left out; to have them, {HOW[name]}")


SYSTEM_PACKAGES: dict[str, Callable[[], object]] = {
    "libatomic1": setup_node.has_library,
    SHELL: lambda: shutil.which(SHELL),
    "poppler-utils": lambda: shutil.which("pdftotext"),
    "firefox-esr": find_firefox,
    "webkit2gtk-driver": lambda: shutil.which("WebKitWebDriver"),
    "xvfb": lambda: shutil.which("Xvfb"),
    **setup_servers.SYSTEM_PACKAGES,
}
"""Debian's packages that the tests use, each with what tells whether it is there."""
