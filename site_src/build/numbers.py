"""The numbers of an answer on a page of their own, beside it in its folder.

They are a quarter of an answer's bytes and what fewest people read. Without scripts a link leads
to them; with scripts `site_src/shell/numbers.js` puts them into their chapter once it is opened,
and the engine draws them there with every answer of its own.
"""

import re
from dataclasses import dataclass

from engine.links import NUMBERS
from engine.model.guide import Guide
from engine.pages.render import environment
from engine.respond import Page

PLACE = "rig-all-numbers"
APART = re.compile(rf'(?<=<div id="{PLACE}">)(?P<numbers>.*?)(?=</div>\s*</details>)', re.DOTALL)
ID = re.compile(r' id="([^"]+)"')
WITHIN = re.compile(r' href="#([^"]+)"')


@dataclass(frozen=True, slots=True)
class NumbersPage:
    """The page of an answer's numbers; its address is that of the answer and a file's name."""

    title: str
    description: str
    path: str
    html: str


def parted(guide: Guide, page: Page, content: str) -> tuple[str, NumbersPage | None]:
    """An answer without its numbers, and their page; None where it has none.

    A link from one to what stands in the other gets the other's address.

    content: what stands in the page's shell
    """
    found = APART.search(content)
    if found is None:
        return content, None
    numbers, words = found["numbers"], guide.wording.page
    moved = set(ID.findall(numbers))
    link = f'<p><a href="{NUMBERS}">{words["numbers-all"]}</a></p>'
    rest = f"{content[: found.start()]}{link}{content[found.end() :]}"

    def to_numbers(each: re.Match[str]) -> str:
        return f' href="{NUMBERS}#{each[1]}"' if each[1] in moved else each[0]

    def to_answer(each: re.Match[str]) -> str:
        return each[0] if each[1] in moved else f' href="./#{each[1]}"'

    drawn = environment().get_template("numbers.html")
    html = drawn.render(
        page=words,
        shop=guide.shop,
        title=page.title,
        place=PLACE,
        numbers=WITHIN.sub(to_answer, numbers),
    )
    title = f"{words['numbers']} · {page.title}"
    return WITHIN.sub(to_numbers, rest), NumbersPage(title, page.description, page.path, html)
