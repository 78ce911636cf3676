"""Every way through the short path, with what may be answered besides, worked out in parallel."""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import product
from typing import Any

from engine.conversation import Conversation, Key
from engine.links import read_pairs
from engine.model.answers import Answers, Value
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Check, Outcome
from engine.needs import implied
from engine.pages.words import candidate_name
from engine.ways import Signature
from guide.processes import in_processes

Progress = Callable[[int, int], None]
WAYS_A_TASK = 4
FEWEST_FOR_PROCESSES = 24
OUTCOMES_KEPT = 60  # an outcome takes some 0.15 MB, and few are asked for twice
NONE: frozenset[str] = frozenset()


def no_progress(done: int, total: int) -> None:
    """Say nothing."""
    del done, total


@dataclass(frozen=True, slots=True)
class Miss:
    """Where nothing fits: the nearest setup and the checks that it fails."""

    layout: str
    name: str
    failed: tuple[Check, ...]


@dataclass(frozen=True, slots=True)
class Tried:
    """What one set of answers led to; `lacking` are parts that are not on the shelf."""

    signature: Signature
    articles: frozenset[str]
    lacking: frozenset[str]
    cautions: frozenset[str]
    miss: Miss | None
    error: str = ""


@dataclass(frozen=True, slots=True)
class Sweep:
    """All that was tried: for each way and each variant of the answer page, what came out.

    ways: answers of the short path in which nothing is open
    variants: what was answered besides; the first is nothing
    """

    ways: tuple[Answers, ...]
    variants: tuple[Answers, ...]
    tried: tuple[tuple[Tried, ...], ...]

    @property
    def count(self) -> int:
        """How many answers were worked out."""
        return len(self.ways) * len(self.variants)

    def signatures(self) -> dict[Key, Signature]:
        """The outcomes of the short path by the keys of their answers."""
        pairs = zip(self.ways, self.tried, strict=True)
        return {way.key(): tried[0].signature for way, tried in pairs}

    def used(self) -> Counter[str]:
        """How often each article stands on a parts list."""
        return Counter(name for row in self.tried for each in row for name in each.articles)


def variants(guide: Guide, tries: tuple[str, ...]) -> tuple[Answers, ...]:
    """What is answered beside the short path: nothing; every mix of the choices of the answer page;
    each choice of each detail by itself; what the shop asks to try.
    """
    beside = [each for each in guide.questions if each.where == "answer" and each.choices]
    mixes: list[dict[str, Value]] = [
        dict(zip((each.id for each in beside), chosen, strict=True))
        for chosen in product(*([choice.id for choice in each.choices] for each in beside))
    ]
    details: list[dict[str, Value]] = [
        {each.id: choice.id}
        for each in guide.questions
        if each.where == "detail" and each.kind == "choice"
        for choice in each.choices
    ]
    asked = [read_pairs(guide, pairs.split()).values for pairs in tries]
    found: dict[tuple[tuple[str, str], ...], Answers] = {}
    for values in [{}, *mixes, *details, *asked]:
        answers = Answers(values)
        found.setdefault(answers.key(), answers)
    return tuple(found.values())


def sweep(guide: Guide, tries: tuple[str, ...], progress: Progress = no_progress) -> Sweep:
    """Work out everything, over all processors."""
    ways = tuple(Conversation(guide).completions(Answers({})))
    beside = variants(guide, tries)
    rows: list[tuple[Tried, ...]] = []
    chunks = [ways[at : at + WAYS_A_TASK] for at in range(0, len(ways), WAYS_A_TASK)]
    for found in in_parallel(_try_ways, guide, [(chunk, beside) for chunk in chunks]):
        rows += found
        progress(len(rows), len(ways))
    return Sweep(ways, beside, tuple(rows))


def in_parallel(task: Callable[[Any], Any], guide: Guide, inputs: list[Any]) -> Iterator[Any]:
    """Results of the task in the order of its inputs; each process gets the guide once."""
    worth = len(inputs) * WAYS_A_TASK >= FEWEST_FOR_PROCESSES
    return in_processes(task, inputs, _start, (guide,), worth=worth)


@dataclass
class _Worker:
    """What a process keeps: the conversation about the guide that it works on."""

    conversation: Conversation | None = None


_worker = _Worker()


def _start(guide: Guide) -> None:
    _worker.conversation = Conversation(guide)
    _worker.conversation.keep = OUTCOMES_KEPT


def at_work() -> Conversation:
    """The conversation of this process."""
    if _worker.conversation is None:
        raise RuntimeError("a process works on a guide after it has been given one")
    return _worker.conversation


def _try_ways(work: tuple[tuple[Answers, ...], tuple[Answers, ...]]) -> list[tuple[Tried, ...]]:
    ways, beside = work
    return [_try_all(way, beside) for way in ways]


def _try_all(way: Answers, beside: tuple[Answers, ...]) -> tuple[Tried, ...]:
    """What a way leads to with each of those; what needs the same as another leads to the same."""
    known: dict[Needs, Tried] = {}
    return tuple(_try(way, more, known) for more in beside)


def together(guide: Guide, way: Answers, more: Answers) -> Answers:
    """A way with more answers; those of the way stay."""
    values: dict[str, Value] = {**more.values, **way.values}
    return Answers(implied(guide, Answers(values)))


def _try(way: Answers, more: Answers, known: dict[Needs, Tried]) -> Tried:
    conversation = at_work()
    try:
        answers = together(conversation.guide, way, more)
        needs = _needed(conversation, answers)
        found = known.get(needs)
        if found is None:
            found = known[needs] = _tried(conversation, answers)
        return found
    except Exception as error:  # any failure of the engine is a finding, told with its answers
        told = f"{type(error).__name__}: {error}"
        return Tried(((), (told,)), NONE, NONE, NONE, None, told)


def _needed(conversation: Conversation, answers: Answers) -> Needs:
    """What the answers ask for; whether it was said matters of batteries that are there alone."""
    needs = conversation.needs(answers)
    return needs if needs.existing else replace(needs, assumed=())


def _tried(conversation: Conversation, answers: Answers) -> Tried:
    signature = conversation.signature_of(answers)
    best = conversation.best(answers)
    if best is None or best.design is None:
        outcome = conversation.outcome(answers)
        return Tried(signature, NONE, NONE, NONE, _miss(conversation.guide, outcome))
    articles = frozenset(line.product for line in best.design.parts if line.product)
    bought = [line for line in best.design.parts if not line.have]
    lacking = frozenset(line.name for line in bought if not line.product)
    return Tried(signature, articles, lacking, frozenset(signature[-1]), None)


def _miss(guide: Guide, outcome: Outcome) -> Miss:
    if not outcome.considered:
        return Miss("", "", ())
    nearest = outcome.considered[0]
    return Miss(nearest.candidate.layout, candidate_name(guide, nearest.candidate), nearest.failed)
