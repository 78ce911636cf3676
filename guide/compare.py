"""Two editions of the content: which answers an edit changes, and which edit changes them."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from engine.conversation import Conversation
from engine.links import path_of, read_link
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.result import Outcome
from engine.pages.words import bank_name, candidate_name, setup_name
from engine.tree import states
from engine.ways import Signature
from engine.wording.tongue import money
from guide.compare_edits import Edit, edits_between, tried_of
from guide.coverage_sweep import Progress, at_work, in_parallel, no_progress

WHAT = ("another setup", "other parts", "other cautions", "another price")
"""How an answer can change, the gravest first; an answer counts once, as the gravest."""


class Result(NamedTuple):
    """What one way through the short path leads to, as far as editions are compared."""

    signature: Signature
    setup: tuple[str, ...]
    parts: tuple[tuple[str, float], ...]
    cautions: tuple[str, ...]
    price: float
    units: str
    bank: str


Results = dict[str, Result]
Change = tuple[str, str, str, str]
"""A page, how it changes, what it showed and what it shows."""
CHUNKS = 4


@dataclass(frozen=True, slots=True)
class Move:
    """So many answers that change alike, with one of them as an example."""

    what: str
    before: str
    now: str
    count: int
    example: str


@dataclass(frozen=True, slots=True)
class Cause:
    """One edit, and what it moves by itself; `edit` is None for what only several edits do."""

    edit: Edit | None
    moves: tuple[Move, ...]

    @property
    def title(self) -> str:
        """The edit in one line."""
        if self.edit is None:
            return "several edits together"
        return f"{self.edit.cause}: {self.edit.what}"

    @property
    def count(self) -> int:
        """How many answers it changes."""
        return sum(move.count for move in self.moves)


@dataclass(frozen=True, slots=True)
class Comparison:
    """What changes from one edition to the next.

    answers: pages of the newer edition that are answers; changed: those that differ
    moves: all changes together; causes: the same by the edit that brings them
    """

    old: str
    new: str
    answers: int
    changed: int
    moves: tuple[Move, ...]
    causes: tuple[Cause, ...]
    still: tuple[Edit, ...]
    gone: tuple[str, ...]
    added: tuple[str, ...]


def compare(
    old: Guide, new: Guide, progress: Progress = no_progress, *, causes: bool = True
) -> Comparison:
    """Work out both editions, then the older one with each edit by itself.

    causes: False leaves out what each edit does by itself, which takes as long for each
    """
    edits = edits_between(old, new)
    acting = tried_of([edit for edit in edits if edit.acts and causes])
    # A single edit by itself is the newer edition.
    guides = [old, new, *(edit.applied(old) for edit in acting if len(acting) > 1)]
    worked: list[Results] = []
    for guide in guides:
        worked.append(_results_of(guide))
        progress(len(worked), len(guides))
    before, after = worked[:2]
    alone = worked[2:] or [after for _ in acting]
    pages = _Pages(_answer_pages(old, before), _answer_pages(new, after))
    alone_causes = [
        Cause(edit, pages.moves(before, found)) for edit, found in zip(acting, alone, strict=True)
    ]
    moving = sorted((each for each in alone_causes if each.moves), key=lambda each: -each.count)
    rest = pages.unexplained(before, after, alone)
    moves = pages.moves(before, after)
    return Comparison(
        old=_label(old),
        new=_label(new),
        answers=len(pages.now),
        changed=sum(move.count for move in moves),
        moves=moves,
        causes=(*moving, *([Cause(None, rest)] if rest else [])),
        still=(
            *(each.edit for each in alone_causes if each.edit and not each.moves),
            *(edit for edit in edits if not edit.acts),
        ),
        gone=pages.gone,
        added=pages.added,
    )


def _label(guide: Guide) -> str:
    return f"{guide.edition} of {guide.shop.prices_as_of}"


def _results_of(guide: Guide) -> Results:
    """What each way leads to, worked out over all processors; nothing where the guide is no whole.

    The older edition with a single edit need not hang together: a rig without its question.
    """
    ways = tuple(Conversation(guide).completions(Answers({})))
    chunks = [ways[at::CHUNKS] for at in range(CHUNKS)]
    found: Results = {}
    try:
        for part in in_parallel(_work_out, guide, [chunk for chunk in chunks if chunk]):
            found.update(part)
    except LookupError:
        return {}
    return found


def _work_out(ways: tuple[Answers, ...]) -> Results:
    conversation = at_work()
    guide = conversation.guide
    return {path_of(guide, way): _result(conversation, conversation.outcome(way)) for way in ways}


def _result(conversation: Conversation, outcome: Outcome) -> Result:
    best = outcome.best
    guide = conversation.guide
    signature = conversation.signature(outcome)
    if best is None or best.design is None:
        return Result(signature, (), (), (), 0.0, setup_name(guide, outcome.best), "")
    parts = tuple((line.product or line.name, line.quantity) for line in best.design.parts)
    price = round(best.design.parts_price, 2)
    units, bank = candidate_name(guide, best.candidate), bank_name(guide, best.design)
    return Result(signature, signature[0], parts, signature[2], price, units, bank)


def _answer_pages(guide: Guide, results: Results) -> dict[str, tuple[str, ...]]:
    """Each answer page with the ways through the short path that it stands for."""
    conversation = Conversation(guide)
    conversation.remember(
        {
            way.key(): results[path_of(guide, way)].signature
            for way in conversation.completions(Answers({}))
        }
    )
    pages = {}
    for path in states(conversation):
        answers = read_link(guide, path)
        if conversation.next_question(answers) is None:
            pages[path] = tuple(path_of(guide, way) for way in conversation.completions(answers))
    return pages


class _Pages:
    """The answer pages of both editions; what changes is told of those that both have."""

    def __init__(self, before: dict[str, tuple[str, ...]], now: dict[str, tuple[str, ...]]) -> None:
        self.now = now
        self.shared = tuple(path for path in now if path in before)
        self.added = tuple(path for path in now if path not in before)
        self.gone = tuple(path for path in before if path not in now)

    def moves(self, before: Results, after: Results) -> tuple[Move, ...]:
        """What changes, counted."""
        return _counted(self._changes(before, after))

    def unexplained(
        self, before: Results, after: Results, alone: list[Results]
    ) -> tuple[Move, ...]:
        """What changes although no edit by itself changes that page."""
        explained = {path for found in alone for path, *_ in self._changes(before, found)}
        changes = self._changes(before, after)
        return _counted(change for change in changes if change[0] not in explained)

    def _changes(self, before: Results, after: Results) -> Iterator[Change]:
        for path in self.shared:
            pairs = [
                (before[way], after[way])
                for way in self.now[path]
                if way in before and way in after
            ]
            found = [_what(then, now) for then, now in pairs if _what(then, now)]
            if found:
                what = min(found, key=WHAT.index)
                yield path, what, *_names(what, pairs)


def _what(then: Result, now: Result) -> str:
    if then.setup != now.setup:
        return WHAT[0]
    if then.parts != now.parts:
        return WHAT[1]
    if then.cautions != now.cautions:
        return WHAT[2]
    return WHAT[3] if then.price != now.price else ""


def _names(what: str, pairs: list[tuple[Result, Result]]) -> tuple[str, str]:
    """What a page showed and shows, in words: the change that most of its ways share."""
    changed = [(then, now) for then, now in pairs if _what(then, now) == what]
    if what == WHAT[3]:
        return _prices(then.price for then, _ in changed), _prices(now.price for _, now in changed)
    if what == WHAT[0]:
        told = Counter(_setups(then, now) for then, now in changed)
        return min(told, key=lambda pair: (-told[pair], pair))
    told_of = _parts if what == WHAT[1] else _cautions
    lost = {text for then, now in changed for text in told_of(then) - told_of(now)}
    gained = {text for then, now in changed for text in told_of(now) - told_of(then)}
    return ", ".join(sorted(lost)) or "nothing", ", ".join(sorted(gained)) or "nothing"


def _setups(then: Result, now: Result) -> tuple[str, str]:
    """As much of both setups as tells them apart: the units, or else the batteries."""
    if then.units != now.units:
        return then.units, now.units
    return then.bank, now.bank


def _parts(result: Result) -> set[str]:
    return {f"{quantity:g} × {name}" for name, quantity in result.parts}


def _cautions(result: Result) -> set[str]:
    return set(result.cautions)


def _prices(prices: Iterable[float]) -> str:
    found = sorted(set(prices))
    if len(found) == 1:
        return money(found[0])
    return f"{money(found[0])} to {money(found[-1])}"


def _counted(changes: Iterable[Change]) -> tuple[Move, ...]:
    examples: dict[tuple[str, str, str], str] = {}
    counts: Counter[tuple[str, str, str]] = Counter()
    for path, what, before, now in changes:
        key = (what, "", "") if what == WHAT[3] else (what, before, now)
        counts[key] += 1
        examples.setdefault(key, path)
    return tuple(
        Move(*key, count, examples[key])
        for key, count in sorted(
            counts.items(), key=lambda item: (WHAT.index(item[0][0]), -item[1], item[0])
        )
    )
