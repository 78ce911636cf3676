"""What the tests of the site share."""

import html
import re


def words_of(page: str) -> str:
    """The text of a page: no tags, one space between words."""
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", "", page)))
