"""Draws an answer with its template: title, description and HTML of one page."""

import re
from collections.abc import Collection
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import jinja2.runtime
import markupsafe
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from engine.answer import Answer
from engine.conversation import Conversation
from engine.kept import kept
from engine.model.guide import Guide
from engine.pages.answer.advice_view import AdviceView, WhyNot, check_row, reason_of, why_not
from engine.pages.answer.pictures import Shown
from engine.pages.answer.run_sentence import runs_sentence
from engine.pages.drawings.diagram_links import POINTED
from engine.pages.form import Field
from engine.pages.print.exports import FILES
from engine.pages.print.sheets import sheets_of, takeaway_of
from engine.pages.rests import marks_of
from engine.pages.view import View, picture_link

TEMPLATES = Path(__file__).parent / "templates"
BORDERS = ("<!--region-->", "<!--end-->")
MARKS = re.compile(r"<!--(?:region|end|body(?: [\w-]+)?)-->")
"""All that stands in an answer for the page that shows it, see `Drawn`."""
MOST_MENDS = 3
"""Changes that make it fit which stand in the first look where nothing does."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What a page's shell needs.

    bordered: the HTML with a border before and after each region that changes by itself, so
        that a page that shows the answer before need only renew what differs; what a chapter
        holds has `<!--body rig-parts-title-->` before it and `<!--body-->` after it, and
        `<!--later-->` in its place where it is put off
    """

    title: str
    description: str
    bordered: str


def borderless(html: str) -> str:
    """The HTML without the borders of its regions and chapters."""
    return MARKS.sub("", html)


@kept("answer", 4096)
def escaped(text: str) -> Markup:
    """A text as markup; most are the guide's own words, the same in every answer."""
    return markupsafe.escape(text)


def escape(value: object) -> Markup:
    """What `markupsafe.escape` gives; in the browser that has no compiled half and is slow."""
    if type(value) is Markup:
        return value
    return escaped(value) if type(value) is str else markupsafe.escape(value)


class Strict(Environment):
    """An environment in which `a.b` is an attribute and never an item.

    It raises where there is none; the library's own looks for both, which takes longer.
    """

    getattr = staticmethod(getattr)  # type: ignore[assignment]  # the built-in takes any object


@kept("never", None)
def environment() -> Environment:
    """The one template environment; everything that is put in is escaped."""
    jinja2.runtime.escape = escape  # type: ignore[attr-defined]  # compiled templates take it there
    made = Strict(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    made.globals["drawn_field"] = drawn_field
    made.globals["part_files"] = tuple(FILES)
    made.globals["most_mends"] = MOST_MENDS
    return made


def drawn_field(view: View, field: Field) -> Markup:
    """A field of the detail form."""
    return field_html(view.guide, field, view.up)


@kept("answer", 256)  # a new answer changes one field of two dozen
def field_html(guide: Guide, field: Field, up: str) -> Markup:
    """A field as it is drawn on a page that sees the guide's folder at `up`."""
    picture = partial(picture_link, up)
    page = guide.wording.page
    return Markup(_fill("field", field=field, page=page, picture=picture))


def render(
    conversation: Conversation,
    answer: Answer,
    path: str,
    fragment: str,
    up: str | None = None,
    *,
    takeaway: bool = True,
    later: Collection[str] = (),
) -> Drawn:
    """The page of an answer; links in it are relative to `path`, the one on paper is whole.

    up: the guide's folder as seen from the page, where that is not the page of `path`
    takeaway: False leaves out of a recommendation its code on paper
    later: ids of the titles of chapters whose contents are put off
    """
    view = View(conversation, answer, path, fragment, up, later)
    if answer.status == "ask":
        return _question(view)
    if answer.status == "none-fits":
        return _none_fits(view)
    return _recommended(view, takeaway=takeaway)


def _fill(name: str, **values: object) -> str:
    return environment().get_template(f"{name}.html").render(**values)


def _titled(view: View, says: str) -> str:
    """What a page says and the answers that led to it: every page has a title of its own."""
    return " · ".join([says, *(row.text for row in view.given)])


def _question(view: View) -> Drawn:
    question = view.answer.next_question
    if question is None:
        raise ValueError("a page that asks has a question")
    html = _fill("question", view=view, question=question, options=view.options(question))
    return Drawn(_titled(view, question.ask), question.why, html)


def _recommended(view: View, *, takeaway: bool) -> Drawn:
    if view.answer.advice is None:
        raise ValueError("a recommendation has its advice")
    found = AdviceView(view.guide, view.answer.advice)
    says = f"{found.bank}. {found.layout.plain} {found.layout.battery}"
    if view.answer.brief:
        runs = runs_sentence(view.page, found.needs, found.runs)
        html = _fill("brief", view=view, advice=found, runs=runs)
        return Drawn(_titled(view, found.name), says, html)
    shown = Shown(found, view.answers)
    taken_along = None
    if takeaway:
        taken_along = takeaway_of(view.guide, view.public_link)
    html = _fill(
        "recommended",
        view=view,
        advice=found,
        shown=shown,
        sheets=sheets_of(view.guide, view.answer.advice),
        taken_along=taken_along,
        pointed=POINTED,
        marks=marks_of(view.conversation, view.answer.advice, view.answers),
    )
    return Drawn(_titled(view, found.name), says, html)


def _none_fits(view: View) -> Drawn:
    outcome = view.answer.outcome
    if outcome is None:
        raise ValueError("an answer without a fit has its outcome")
    reason = reason_of(view.guide, outcome)
    nearest = outcome.considered[0]
    rows = [check_row(view.guide, check) for check in nearest.failed]
    others: list[WhyNot] = why_not(view.guide, outcome.considered, None)
    html = _fill(
        "none-fits", view=view, reason=reason, nearest=others[0], misses=rows, others=others[1:]
    )
    return Drawn(_titled(view, view.page["none-fits"]), reason, html)
