"""Every state of the short path, walked: proof that no customer is left stranded."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fnmatch import fnmatchcase
from itertools import combinations

from engine.conversation import Conversation
from engine.links import path_of, read_link
from engine.model.answers import Answers
from engine.model.guide import Guide, Question
from engine.needs import implied
from engine.tree import follow, options, states
from engine.ways import Ways
from guide.coverage_file import CoverageFile, Finding
from guide.coverage_holes import holes
from guide.coverage_sweep import Progress, Sweep, no_progress, sweep
from guide.coverage_unused import unused_articles
from guide.setup import ROOT

_PAGE = re.compile(r"[\s(/]([a-z0-9-]+)\.md\b")


@dataclass(frozen=True, slots=True)
class Report:
    """What a walk over all states found.

    ways: ways through the short path in which nothing is left open
    tried: answers that were worked out, those ways with every choice of the answer page
    asked: how many pages ask each question, the most frequent first
    """

    edition: str
    date: str
    states: int
    answers: int
    ways: int
    tried: int
    depth_least: int
    depth_most: int
    asked: tuple[tuple[str, int], ...]
    findings: tuple[Finding, ...]
    notes: tuple[str, ...]

    @property
    def faults(self) -> tuple[Finding, ...]:
        """The findings that the shop has not accepted."""
        return tuple(each for each in self.findings if not each.accepted)


def cover(guide: Guide, told: CoverageFile, progress: Progress = no_progress) -> Report:
    """Walk the whole tree, work out every way through it, and say what is wrong."""
    swept = sweep(guide, told.tries, progress)
    conversation = Conversation(guide)
    conversation.remember(swept.signatures())
    walk = _Walk(conversation)
    findings = [
        *_errors(guide, swept),
        *walk.dead_ends(),
        *walk.never_asked(),
        *walk.choices_without_effect(),
        *_details_without_effect(guide, swept),
        *_articles(guide, swept),
        *_lacking(swept),
        *_cautions(guide, swept),
        *_pages(guide),
        *holes(conversation, swept),
    ]
    return Report(
        edition=guide.edition,
        date=guide.shop.prices_as_of,
        states=len(walk.paths),
        answers=len(walk.depths),
        ways=len(swept.ways),
        tried=swept.count,
        depth_least=min(walk.depths),
        depth_most=max(walk.depths),
        asked=tuple(walk.asked.most_common()),
        findings=_with_reasons(findings, told),
        notes=tuple(_notes(guide, swept)),
    )


class _Walk:
    """All pages of the tree, with what each asks."""

    def __init__(self, conversation: Conversation) -> None:
        self.conversation = conversation
        self.guide = conversation.guide
        self.paths = states(conversation)
        self.asking: list[tuple[str, Answers, Question]] = []
        self.depths: list[int] = []
        for path in self.paths:
            answers = read_link(self.guide, path)
            question = conversation.next_question(answers)
            if question is None:
                self.depths.append(len(answers.values))
            else:
                self.asking.append((path, answers, question))
        self.asked = Counter(question.id for _, _, question in self.asking)

    def dead_ends(self) -> Iterator[Finding]:
        """Pages that offer nothing, or lead to a page that is none."""
        known = set(self.paths)
        for path, answers, question in self.asking:
            if not question.choices:
                yield Finding(f"dead-end:{path}", f"“{question.ask}” has no choices")
            for choice in options(question):
                to, _ = self.conversation.place(
                    follow(self.conversation, answers, question, choice)
                )
                if to not in known:
                    what = f"the choice “{choice}” of “{question.ask}” leads to no page ({to})"
                    yield Finding(f"dead-end:{path}", what)

    def never_asked(self) -> Iterator[Finding]:
        """Questions of the short path that no page asks."""
        for question in self.conversation.path_questions:
            if not self.asked[question.id]:
                yield Finding(
                    f"never-asked:{question.id}",
                    f"“{question.ask}” is asked nowhere",
                    ("It has a meaning nowhere, or no choice of it changes an answer.",),
                )

    def choices_without_effect(self) -> Iterator[Finding]:
        """Two choices of a question that lead to the same wherever it is asked."""
        alike = {
            question.id: set(combinations([each.id for each in question.choices], 2))
            for question in self.conversation.path_questions
            if self.asked[question.id]
        }
        for _, answers, question in self.asking:
            ways = {each.id: self._ways(answers, question, each.id) for each in question.choices}
            alike[question.id] -= {
                pair
                for pair in alike[question.id]
                if self.conversation.compared.differ(ways[pair[0]], ways[pair[1]])
            }
        for name, pairs in alike.items():
            yield from _without_effect(self.guide.question(name), sorted(pairs))

    def _ways(self, answers: Answers, question: Question, choice: str) -> Ways:
        chosen = Answers({**answers.values, question.id: choice})
        return self.conversation.ways(implied(self.guide, chosen))


def _without_effect(question: Question, pairs: list[tuple[str, str]]) -> Iterator[Finding]:
    for first, other in pairs:
        yield Finding(
            f"no-effect:{question.id}={first}|{other}",
            f"“{question.choice(first).label}” and “{question.choice(other).label}” "
            f"lead to the same, wherever “{question.ask}” is asked",
            ("Make one choice of them, or change what tells them apart.",),
        )


def _details_without_effect(guide: Guide, swept: Sweep) -> Iterator[Finding]:
    """The same for the questions of the answer page, by what the sweep tried."""
    places = {each.key(): at for at, each in enumerate(swept.variants)}
    for question in guide.questions:
        if question.where == "path" or question.kind != "choice":
            continue
        alike = []
        for first, other in combinations([each.id for each in question.choices], 2):
            pairs = [
                (places[key], places[partner])
                for key in places
                if ((question.id, first) in key)
                for partner in [_exchanged(key, question.id, other)]
                if partner in places
            ]
            if pairs and all(
                row[one].signature == row[two].signature
                for row in swept.tried
                for one, two in pairs
            ):
                alike.append((first, other))
        yield from _without_effect(question, alike)


def _exchanged(
    key: tuple[tuple[str, str], ...], name: str, choice: str
) -> tuple[tuple[str, str], ...]:
    return tuple((each, choice if each == name else value) for each, value in key)


def _errors(guide: Guide, swept: Sweep) -> Iterator[Finding]:
    """Answers that the engine could not work out."""
    for way, row in zip(swept.ways, swept.tried, strict=True):
        for more, tried in zip(swept.variants, row, strict=True):
            if tried.error:
                where = path_of(guide, Answers({**way.values, **more.values}))
                yield Finding(f"dead-end:{where}", f"it cannot be worked out: {tried.error}")


def _articles(guide: Guide, swept: Sweep) -> Iterator[Finding]:
    for each in unused_articles(guide, swept):
        yield Finding(f"product:{each.id}", f"“{each.name}” is never recommended", each.reasons)


def _lacking(swept: Sweep) -> Iterator[Finding]:
    counted = Counter(name for row in swept.tried for each in row for name in each.lacking)
    for name, count in counted.most_common():
        what = f"{count} of the answers tried need {name}, which the shop does not sell"
        yield Finding(f"lacking:{name}", what, ("Put it into the catalogue.",))


def _cautions(guide: Guide, swept: Sweep) -> Iterator[Finding]:
    shown = {name for row in swept.tried for each in row for name in each.cautions}
    for caution in guide.cautions:
        if caution.id not in shown:
            yield Finding(
                f"caution:{caution.id}",
                f"“{caution.title}” is never shown",
                (f"No answer that was tried meets its rule “{caution.rule}”.",),
            )


def _pages(guide: Guide) -> Iterator[Finding]:
    linked = {question.page for question in guide.questions} | set(_linked_from_pages())
    for page in guide.explanations:
        if page.id not in linked and not page.beside:
            yield Finding(
                f"page:{page.id}",
                f"nothing links to the page “{page.title}”",
                ("Name it in a question's “page”, give it a “beside”, or link it from a page.",),
            )


def _linked_from_pages() -> Iterator[str]:
    """Ids of the explanatory pages that the site's navigation or another page names."""
    sources = [ROOT / "mkdocs.yml", *sorted((ROOT / "site_src" / "docs").rglob("*.md"))]
    for source in sources:
        if source.is_file():
            yield from _PAGE.findall(source.read_text(encoding="utf-8"))


def _with_reasons(findings: list[Finding], told: CoverageFile) -> tuple[Finding, ...]:
    """The findings, with the shop's reason where it accepts one; what it accepts in vain is one."""
    reasons = {name: each.why for each in told.accepted for name in each.faults}
    met: set[str] = set()
    found = []
    for finding in findings:
        name = next((name for name in reasons if _names(name, finding.name)), None)
        if name is not None:
            met.add(name)
        found.append(replace(finding, accepted=reasons[name] if name is not None else ""))
    for name in reasons:
        if name not in met:
            what = f"coverage.yaml accepts “{name}”, which does not occur"
            found.append(Finding(f"accepted:{name}", what, ("Take the name out.",)))
    return tuple(found)


def _names(accepted: str, found: str) -> bool:
    """Whether an accepted name means this finding: the same, where "*" stands for any text, or
    with fewer answers of its hole.
    """
    if fnmatchcase(found, accepted.replace("[", "[[]")):
        return True
    kind, _, pairs = accepted.partition(":")
    if kind != "no-fit" or not found.startswith("no-fit:"):
        return False
    return bool(pairs) and set(pairs.split()) <= set(found.removeprefix("no-fit:").split())


def _notes(guide: Guide, swept: Sweep) -> Iterator[str]:
    used = swept.used()
    for name in sorted(guide.absent & set(used)):
        article = guide.article(name)
        if article is not None:
            yield f"“{article.name}” is out of stock and part of {used[name]} of the answers tried"
    for article in guide.discontinued:
        successor = guide.article(article.successor)
        instead = f"; old links name “{successor.name}” in its place" if successor else ""
        yield f"“{article.name}” is discontinued and is not recommended{instead}"
