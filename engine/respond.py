"""The one door: a guide and answers in, a page out; build, browser and command line use it."""

from collections.abc import Collection
from dataclasses import dataclass

from engine.answer import Answer, answer_of
from engine.conversation import Conversation
from engine.kept import kept
from engine.links import read_link, stamped
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.pages.render import borderless, render
from engine.wording.tongue import speak


@dataclass(frozen=True, slots=True)
class Page:
    """A page of the guide. `path` and `fragment` are its link; `html` stands inside the shell.

    The link of an older edition keeps naming it, so that a page that is opened again says so again.

    bordered: the HTML with borders around its regions, see `Drawn`
    """

    kind: str
    title: str
    description: str
    path: str
    fragment: str
    bordered: str
    answer: Answer

    @property
    def html(self) -> str:
        """The page as it is shown."""
        return borderless(self.bordered)


def conversation_of(guide: Guide) -> Conversation:
    """The conversation about this guide, from now on in its language.

    Outcomes worked out once are kept in it.
    """
    speak(guide.wording.grammar, guide.shop.currency)
    return _conversation_of(guide)


@kept("guide", 4)
def _conversation_of(guide: Guide) -> Conversation:
    return Conversation(guide)


def respond(
    guide: Guide,
    answers: Answers,
    *,
    changes: bool = True,
    takeaway: bool = True,
    up: str | None = None,
    later: Collection[str] = (),
) -> Page:
    """The next question, or the answer, for these answers.

    changes: False leaves out what each other choice would lead to
    takeaway: False leaves out its code on paper
    up: where the guide's folder lies from the page that will show it; by default from its own
    later: ids of the titles of chapters whose contents are put off
    """
    conversation = conversation_of(guide)
    answer = answer_of(conversation, answers, changes=changes)
    path, fragment = conversation.place(answers)
    drawn = render(conversation, answer, path, fragment, up, takeaway=takeaway, later=later)
    if answers.edition not in ("", guide.edition):
        fragment = stamped(fragment, answers.edition, answers.was)
    return Page(
        kind="question" if answer.status == "ask" else "answer",
        title=drawn.title,
        description=drawn.description,
        path=path,
        fragment=fragment,
        bordered=drawn.bordered,
        answer=answer,
    )


def respond_to(guide: Guide, path: str, fragment: str = "") -> Page:
    """The page of a link: its path below the guide and its fragment."""
    return respond(guide, read_link(guide, path, fragment))
