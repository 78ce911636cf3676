"""In a language made by a script every kind of page says all of its words in that language."""

import re
import shutil
from collections.abc import Callable, Iterator
from html.parser import HTMLParser

import pytest

from engine.links import read_link
from engine.model.guide import Guide
from engine.pages.pieces.pieces import PIECES, piece_html
from engine.pages.staff.answer_table import answers_page
from engine.pages.staff.show import home_html, show_page
from engine.pages.staff.staff import compare_html, message_html, options_html, staff_page
from engine.pages.staff.tree_picture import tree_page
from engine.pages.units_page import draw_range
from engine.respond import conversation_of, respond
from guide.content_folder import CONTENT
from guide.load import load_guide
from tests.guide.shops import small
from tests.pseudo import CLOSE, OPEN, add_pseudo

WORD = re.compile(r"[A-Za-z][A-Za-z'’]+")
SAME = {
    "A", "AC", "AGM", "AWG", "Ah", "BTU", "CFM", "DC", "MB", "QR", "VA", "Wh", "cm", "ft", "h",
    "in", "kA", "kVA", "kW", "kWh", "kg", "lb", "mm", "sq", "min", "yd", "V", "W",
}  # fmt: skip
"""Signs of units, and abbreviations that are the same in every language."""
READ = ("aria-label", "alt", "title", "placeholder")
"""Attributes that are read out or shown."""
ADDRESS = re.compile(r"\S*(?://|@|\.csv|\.json|[\w-]+=)\S*|\b[0-9a-f]{12}\b")
"""Addresses, files and answers as they stand in links."""
NOT_WORDS = ("script", "style")
STEPS = "rig-workings"
"""Class of the steps of a formula, which come from the docstrings of the code."""
TYPED = {"zz", "inx"}  # of a compartment, as it stands in a field


class Visible(HTMLParser):
    """What of a page is seen or read out, in its order."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.open: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        hidden = tag in NOT_WORDS or STEPS in (given.get("class") or "").split()
        self.found += [given[name] or "" for name in READ if given.get(name)]
        if tag not in ("br", "img", "input", "hr", "meta", "link", "use", "col"):
            self.open.append((tag, hidden))

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if not any(hidden for _, hidden in self.open):
            self.found.append(data)


def untranslated(html: str, known: set[str]) -> list[str]:
    """Texts of a page that have words of no language in them but names that are the shop's."""
    page = Visible()
    page.feed(html)
    return [
        text.strip()
        for text in page.found
        if set(WORD.findall(ADDRESS.sub("", text))) - SAME - TYPED - known
    ]


@pytest.fixture(scope="module")
def guide(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Guide]:
    folder = tmp_path_factory.mktemp("pseudo") / "content"
    shutil.copytree(CONTENT, folder)
    add_pseudo(folder)
    yield load_guide(folder)
    load_guide()  # the tests after these speak the language of the demo again


@pytest.fixture(scope="module")
def names(guide: Guide) -> set[str]:
    """Words of the shop's own: it, its makers, articles, offers."""
    shop = guide.shop
    texts = [shop.name, shop.place, shop.note, shop.email, shop.site]
    for article in guide._articles.values():
        texts += [article.id, article.name, getattr(article, "maker", ""), article.delivery]
        texts += [each.condition for each in getattr(article, "open_box", ())]
        texts += [getattr(article, "dc_stud", ""), getattr(article, "stud", "")]
    return {word for text in texts for word in WORD.findall(text)}


ANSWER = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
OTHER = "rig=rig-30/scope=some/heavy=1/biggest=cooking/"


def page_of(path: str, fragment: str = "") -> Callable[[Guide], str]:
    return lambda guide: respond(guide, read_link(guide, path, fragment)).html


def staff(draw: Callable[..., str], *given: object) -> Callable[[Guide], str]:
    return lambda guide: draw(conversation_of(guide), *given)


def piece_of(name: str) -> Callable[[Guide], str]:
    return lambda guide: piece_html(guide, name)


PAGES: dict[str, Callable[[Guide], str]] = {
    "question": page_of("rig=coach-50/"),
    "answer": page_of(
        ANSWER, "have=2x100Ah-12V-agm-3y&gen=3000W&solar=600W&alt=180A&cable=1zz&note=zz"
    ),
    "answer of another edition": page_of(ANSWER, "edition=0123456789ab"),
    "small answer": page_of(OTHER, "bank=24V&space=closed&alt=120A&bay=30in x 30in x 12in"),
    "none fits": page_of(
        "rig=rig-30/scope=whole/heavy=1/biggest=aircon-15k/softstart=no/",
        "nights=5&altitude=9000ft&ambient=100F&loads=lights,kettle:3800W",
    ),
    "not sure": page_of("rig=van/scope=unsure/heavy=0/"),
    **{f"piece {name}": piece_of(name) for name in PIECES},
    "piece with a fault": lambda guide: piece_html(guide, "drop", {"current": "5 zz"}),
    "units": lambda guide: draw_range(guide).html,
    "staff": lambda guide: staff_page(conversation_of(guide)).html,
    "staff options": staff(options_html, ANSWER, "cable 3 zz"),
    "staff message": staff(message_html, ANSWER, ""),
    "staff open": staff(message_html, "rig=van/", ""),
    "staff compare": staff(compare_html, (ANSWER, OTHER)),
    "show": lambda guide: show_page(conversation_of(guide)).html,
    "show home": staff(home_html, ANSWER),
    "tree": lambda guide: tree_page(conversation_of(small(guide))).html,
    "all answers": lambda guide: answers_page(conversation_of(small(guide))).html,
}


@pytest.mark.parametrize("kind", PAGES)
def test_every_word_of_a_page_is_in_the_language(kind: str, guide: Guide, names: set[str]) -> None:
    html = PAGES[kind](guide)
    assert html.count(OPEN) > 3
    assert html.count(OPEN) == html.count(CLOSE)
    ids = {each.id for each in guide.questions} if kind == "all answers" else set()
    assert untranslated(html, names | ids) == []


def test_the_kinds_are_what_they_are_called(guide: Guide) -> None:
    assert 'data-status="recommended"' in PAGES["answer"](guide)
    assert 'data-status="recommended"' in PAGES["small answer"](guide)
    assert 'data-status="none-fits"' in PAGES["none fits"](guide)
    assert "rig-taken" in PAGES["not sure"](guide)


def test_what_is_untranslated_is_found(guide: Guide, names: set[str]) -> None:
    html = PAGES["question"](guide).replace(OPEN, f"{OPEN}Price ", 1)
    assert len(untranslated(html, names)) == 1


def test_a_number_is_written_as_the_language_writes_it(guide: Guide) -> None:
    html = PAGES["answer"](guide)
    assert re.search(r">\d{1,2}’\d{3} \$<", html)
    assert re.search(r"\d٫\d", html)
    assert "$1" not in html
