"""The tree of questions as pictures, section by section: a column a question, a line a choice."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from engine.conversation import Conversation
from engine.links import read_link
from engine.model.answers import UNSURE
from engine.model.guide import Question
from engine.pages import words
from engine.pages.drawings.svg import (
    BOLD,
    DASHED,
    FAINT,
    SMALL,
    Canvas,
    Picture,
    sentence_of,
    wrapped,
)
from engine.pages.render import environment
from engine.pages.staff.staff import StaffPage
from engine.tree import follow, options, states

PATH = "staff/tree/"
FIRST_ANSWERS = 2
"""After so many answers a section of its own begins."""

COLUMN = 176.0
OUTCOME = 340.0
LINES = 3
ROW = 34.0
HEAD = 64.0
EDGE_TEXT = COLUMN - 34.0


@dataclass
class Node:
    """A page in a section; without a question it is a leaf, which says where it leads."""

    path: str
    question: Question | None
    says: str = ""
    edges: list["Edge"] = field(default_factory=list)
    x: float = 0.0
    y: float = 0.0


@dataclass
class Edge:
    """A choice and the page that it leads to."""

    label: str
    unsure: bool
    node: Node


@dataclass(frozen=True)
class Section:
    """One picture, and its root for the list that says the same."""

    title: str
    picture: Picture
    root: Node


def tree_page(conversation: Conversation) -> StaffPage:
    """The page with all sections."""
    guide = conversation.guide
    page = guide.wording.page
    html = (
        environment()
        .get_template("tree.html")
        .render(page=page, shop=guide.shop, sections=sections_of(conversation))
    )
    return StaffPage(page["staff-tree"], page["tree-about"], PATH, html, "tree")


def sections_of(conversation: Conversation) -> tuple[Section, ...]:
    """The first questions, then a section for each page at which the first section ends."""
    paths = states(conversation)
    starts = [
        path for path in paths if path.count("/") == FIRST_ANSWERS and f"={UNSURE}/" not in path
    ]
    titles = {path: _title(conversation, path) for path in starts}
    below = Counter(end for path in paths for end in _beginnings(path))
    drawer = _Grower(conversation, titles, below)
    roots = [drawer.node("", depth=0), *(drawer.node(path) for path in starts)]
    names = [conversation.guide.wording.page["tree-first"], *titles.values()]
    return tuple(
        Section(name, _drawn(conversation, place, name, root), root)
        for place, (name, root) in enumerate(zip(names, roots, strict=True))
    )


def _beginnings(path: str) -> Iterator[str]:
    """The path itself and every page above it."""
    parts = path.split("/")
    for count in range(len(parts)):
        yield "".join(f"{part}/" for part in parts[:count])


def _title(conversation: Conversation, path: str) -> str:
    answers = read_link(conversation.guide, path)
    return " · ".join(
        question.choice(answers.choice(question.id)).label
        for question in conversation.path_questions
        if question.id in answers.values
    )


class _Grower:
    """Makes the nodes of a section from the tree of pages."""

    def __init__(
        self, conversation: Conversation, titles: dict[str, str], below: dict[str, int]
    ) -> None:
        self.conversation = conversation
        self.page = conversation.guide.wording.page
        self.titles = titles
        self.below = below

    def node(self, path: str, depth: int = FIRST_ANSWERS) -> Node:
        """The page of this path with everything below it that belongs to the section."""
        answers = read_link(self.conversation.guide, path)
        question = self.conversation.next_question(answers)
        if question is None:
            return Node(path, None, self._outcome(path))
        found = Node(path, question)
        for choice_id in options(question):
            walked = follow(self.conversation, answers, question, choice_id)
            target, _ = self.conversation.place(walked)
            unsure = choice_id == UNSURE
            label = self.page["not-sure"] if unsure else question.choice(choice_id).label
            found.edges.append(Edge(label, unsure, self._target(path, target, unsure, depth)))
        return found

    def _target(self, path: str, target: str, unsure: bool, depth: int) -> Node:
        if target in self.titles and depth < FIRST_ANSWERS:
            return Node(target, None, self.page.say("tree-section", name=self.titles[target]))
        if not target.startswith(path):
            name = _title(self.conversation, target)
            return Node(target, None, self.page.say("tree-joins", name=name))
        if unsure and path and self.below[target] > 1:
            text = self.page.say("tree-below", count=self.below[target])
            return Node(target, None, text)
        return self.node(target, depth + 1)

    def _outcome(self, path: str) -> str:
        answers = read_link(self.conversation.guide, path)
        outcome = self.conversation.usual_outcome(answers)
        best = outcome.best
        if best is None:
            return self.page["nothing-fits-short"]
        return words.considered_name(self.conversation.guide, best)


def _walk(node: Node) -> Iterator[Node]:
    yield node
    for edge in node.edges:
        yield from _walk(edge.node)


def _drawn(conversation: Conversation, place: int, title: str, root: Node) -> Picture:
    asked = [node.question for node in _walk(root) if node.question is not None]
    columns = [question for question in conversation.path_questions if question in asked]
    width = COLUMN * len(columns) + OUTCOME
    canvas = Canvas(f"rig-svg-tree-{place}", width)
    for at, question in enumerate(columns):
        for number, line in enumerate(wrapped(question.ask, COLUMN - 16.0, SMALL, bold=True)):
            canvas.text(4.0 + at * COLUMN, 14.0 + number * 13.0, line, size=SMALL, style=BOLD)
    bottom = _place(root, columns, HEAD + ROW / 2)
    for node in _walk(root):
        _draw(canvas, node)
    page = conversation.guide.wording.page
    sentence = page.say(
        "tree-says", questions=len(asked), ends=sum(node.question is None for node in _walk(root))
    )
    svg = canvas.svg(bottom, title, sentence_of([title, sentence]))
    return Picture(f"tree-{place}", title, sentence, svg)


def _place(node: Node, columns: list[Question], top: float) -> float:
    """Give the node and all below it their places; returns where the next row begins."""
    if node.question is None:
        node.x = COLUMN * len(columns) + 4.0
        node.y = top
        return top + ROW
    node.x = 8.0 + columns.index(node.question) * COLUMN
    bottom = top
    for edge in node.edges:
        bottom = _place(edge.node, columns, bottom)
    node.y = node.edges[0].node.y
    return bottom


def _draw(canvas: Canvas, node: Node) -> None:
    if node.question is None:
        lines = wrapped(node.says, OUTCOME - 16.0, SMALL)[:LINES]
        for number, line in enumerate(lines):
            base = node.y + 4.0 + (number - (len(lines) - 1) / 2) * 11.0
            canvas.text(node.x + 8.0, base, line, size=SMALL)
        return
    bend = node.x + 8.0
    canvas.line((node.x, node.y), (bend, node.y), style=FAINT)
    above = node.y
    for edge in node.edges:
        style = DASHED if edge.unsure else FAINT
        canvas.line((bend, above), (bend, edge.node.y), (edge.node.x, edge.node.y), style=style)
        above = edge.node.y
        lines = wrapped(edge.label, EDGE_TEXT, SMALL)[:2]
        for number, line in enumerate(lines):
            base = edge.node.y - 4.0 + number * 15.0
            canvas.text(bend + 6.0, base, line, size=SMALL)
    canvas.dot(node.x, node.y, 4.0)
