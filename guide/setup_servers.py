"""The web servers that the tests start with the settings that the page *Publish* prints."""

import shutil
from collections.abc import Callable
from functools import partial
from pathlib import Path

from guide.setup import install_with_apt, say

PLACES = ":/usr/sbin:/usr/local/sbin"
"""Where Debian puts programs of the system, which are not on every user's path."""
PROGRAMS = {"nginx": "nginx", "apache": "apache2", "caddy": "caddy", "lighttpd": "lighttpd"}
PACKAGES = {
    "nginx": ("nginx",),
    "apache": ("apache2-bin",),
    "caddy": ("caddy",),
    "lighttpd": ("lighttpd", "lighttpd-mod-deflate"),
}
DEFLATE = Path("/usr/lib/lighttpd/mod_deflate.so")


def find(name: str) -> str | None:
    """Return the path of a server's program, or None; lighttpd counts with its compression."""
    path = shutil.which(PROGRAMS[name]) or shutil.which(PROGRAMS[name], path=PLACES)
    return None if name == "lighttpd" and not DEFLATE.exists() else path


def offer() -> None:
    """Install the servers where this user may; say which tests are left out if not."""
    for name, packages in PACKAGES.items():
        if find(name) is None:
            install_with_apt(*packages)
        if find(name) is None:
            say(f"[setup] the tests with {name} are left out; to have them, {how(name)}")


def how(name: str) -> str:
    """How to get a server."""
    return f"install it (Debian: sudo apt-get install {' '.join(PACKAGES[name])})"


SYSTEM_PACKAGES: dict[str, Callable[[], object]] = {
    package: partial(find, name) for name, packages in PACKAGES.items() for package in packages
}
"""Debian's packages of the servers, each with what tells whether it is there."""
