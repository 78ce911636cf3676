"""The table of all answers and the tree as a picture: complete, true to the tree, and readable."""

import re
from collections.abc import Iterator
from html.parser import HTMLParser

import pytest

from engine.conversation import Conversation
from engine.links import read_link
from engine.model.guide import Guide
from engine.pages.drawings.svg import SMALL, wrapped
from engine.pages.staff.answer_table import Row, answers_page, rows_of
from engine.pages.staff.tree_picture import LINES, OUTCOME, Node, Section, sections_of, tree_page
from engine.respond import conversation_of, respond_to
from engine.tree import options, states


@pytest.fixture(scope="module")
def conversation(guide: Guide) -> Conversation:
    return conversation_of(guide)


@pytest.fixture(scope="module")
def rows(conversation: Conversation) -> tuple[Row, ...]:
    return rows_of(conversation)


@pytest.fixture(scope="module")
def sections(conversation: Conversation) -> tuple[Section, ...]:
    return sections_of(conversation)


def walk(node: Node) -> Iterator[Node]:
    yield node
    for edge in node.edges:
        yield from walk(edge.node)


def test_the_table_has_a_line_for_every_page_that_answers(
    conversation: Conversation, rows: tuple[Row, ...]
) -> None:
    answering = [
        path
        for path in states(conversation)
        if conversation.next_question(read_link(conversation.guide, path)) is None
    ]
    assert [row.path for row in rows] == answering


def test_each_line_says_what_its_page_says(guide: Guide, rows: tuple[Row, ...]) -> None:
    for row in rows[::23]:
        answer = respond_to(guide, row.path).answer
        assert row.open == bool(answer.taken), row.path
        if answer.advice is not None and answer.advice.best.design is not None:
            assert answer.advice.best.candidate.inverter.name in row.outcomes[0]
            assert row.price == f"${answer.advice.best.design.parts_price:,.0f}"
            assert row.cautions == tuple(note.caution.title for note in answer.advice.cautions)


def test_a_mark_holds_for_its_own_line_only(rows: tuple[Row, ...]) -> None:
    assert len({row.mark for row in rows}) == len(rows)
    first = rows[0]
    dearer = Row(first.path, first.answers, first.outcomes, "$1", first.cautions, first.open)
    assert dearer.mark != first.mark


def test_what_stands_on_every_answer_is_said_once(conversation: Conversation) -> None:
    page = answers_page(conversation).html
    head, _, table = page.partition("<tbody")
    everywhere = set.intersection(
        *(set(row.cautions) for row in rows_of(conversation) if row.cautions)
    )
    assert everywhere
    for title in everywhere:
        assert title in head.replace("&#39;", "'")
        assert title not in table.replace("&#39;", "'")


def test_every_page_is_in_the_picture_or_below_a_line_that_counts_it(
    conversation: Conversation, sections: tuple[Section, ...]
) -> None:
    paths = set(states(conversation))
    shown = {node.path for section in sections for node in walk(section.root)}
    assert shown <= paths
    counted = {
        path
        for section in sections
        for node in walk(section.root)
        if node.question is None and (number := re.search(r"pages below: (\d+)", node.says))
        for path in [each for each in paths if each.startswith(node.path)]
        if int(number[1]) == sum(each.startswith(node.path) for each in paths)
    }
    assert shown | counted == paths


def test_every_line_of_the_picture_carries_the_words_of_its_choice(
    guide: Guide, sections: tuple[Section, ...]
) -> None:
    for section in sections:
        drawn = "".join(re.findall(r"<text[^>]*>([^<]*)</text>", section.picture.svg))
        letters = re.sub(r"\s", "", drawn.replace("\xa0", ""))
        for node in walk(section.root):
            if node.question is None:
                continue
            labels = [choice.label for choice in node.question.choices]
            assert [edge.label for edge in node.edges] == [*labels, guide.wording.page["not-sure"]]
            assert len(node.edges) == len(options(node.question))
            for edge in node.edges:
                assert re.sub(r"\s", "", edge.label) in letters


def test_no_outcome_is_cut_off_in_the_picture(sections: tuple[Section, ...]) -> None:
    for section in sections:
        for node in walk(section.root):
            if node.question is None:
                assert len(wrapped(node.says, OUTCOME - 16.0, SMALL)) <= LINES, node.says


class Links(HTMLParser):
    """Collects the addresses of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "a":
            self.found.append(dict(attrs).get("href") or "")


def test_the_list_beside_each_picture_leads_to_pages_that_exist(
    conversation: Conversation,
) -> None:
    reader = Links()
    reader.feed(tree_page(conversation).html)
    into_guide = [link for link in reader.found if "guide/" in link]
    paths = set(states(conversation))
    assert len(into_guide) > 100
    for link in into_guide:
        assert link.removeprefix("../../guide/") in paths
