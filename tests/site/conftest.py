"""What the tests of the site share."""

import html
import re

TIP = re.compile(r'<span class="rig-tip".*?</span>', re.DOTALL)


def words_of(page: str) -> str:
    """The text of a page: no tags, no tips behind its words, one space between words."""
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", "", TIP.sub("", page))))
