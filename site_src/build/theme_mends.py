"""What the theme leaves out or does late is mended in each of its pages, once they are drawn."""

import re

SHIM = re.compile(r'<script src="[^"]*iframe-worker\.js"></script>')
THEME_SCRIPT = re.compile(r'<script src="[^"]*/bundle\.[^"]*"></script>')
SEARCH = 'data-md-component="search" role="dialog"'
PART_OF_CONTENTS = re.compile(r'<nav class="md-nav" aria-label="[^"]*">')


def mended(page: str) -> str:
    """The page with everything mended. ValueError where the theme is no longer as it was."""
    return plain_contents(named_search(late_shim(page)))


def late_shim(page: str) -> str:
    """The page with the search's shim beside the theme's script, where it holds up no painting.

    It is for pages opened from a folder; the theme puts it into the head.
    """
    shim, script = SHIM.search(page), THEME_SCRIPT.search(page)
    if shim is None or script is None:
        raise ValueError("a page of the theme has lost its script or the shim of the search")
    early, between, rest = page[: shim.start()], page[shim.end() : script.start()], script.start()
    return f"{early}{between}{shim[0]}{page[rest:]}"


def named_search(page: str) -> str:
    """The page with a name on its search dialog."""
    if SEARCH not in page:
        raise ValueError("a page of the theme has lost its search dialog")
    return page.replace(SEARCH, f'{SEARCH} aria-label="Search"')


def plain_contents(page: str) -> str:
    """The page with one landmark for its contents, not one more for each heading in them."""
    return PART_OF_CONTENTS.sub('<nav class="md-nav" role="presentation">', page)
