"""Articles that no answer ever lists, each with the check or the priority that keeps it out."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, fields, replace

from engine.advice.judge.consider import consider
from engine.advice.judge.supplied import Supplies
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.products import Catalogue
from engine.model.result import Considered, Outcome
from engine.pages import words
from engine.wording.tongue import money
from guide.coverage_sweep import Sweep, at_work, in_parallel, together

Asked = tuple[tuple[Answers, Answers], ...]
SAMPLES = 24
NOTHING_FITS = "nothing fits there at all"


@dataclass(frozen=True, slots=True)
class Unused:
    """An article that is never listed, and why, the most frequent reason first."""

    id: str
    name: str
    reasons: tuple[str, ...]


def unused_articles(guide: Guide, swept: Sweep) -> Iterator[Unused]:
    """All articles on the shelf that no answer of the sweep lists."""
    used = swept.used()
    idle = [
        (kind.name, article.id)
        for kind in fields(Catalogue)
        for article in getattr(guide.catalogue, kind.name)
        if article.id not in used
    ]
    asked = _samples(swept)
    inputs = [(kind, name, asked) for kind, name in idle]
    for (_, name), counted in zip(idle, in_parallel(_reasons, guide, inputs), strict=True):
        article = guide.article(name)
        tried = sum(counted.values()) - counted.pop(NOTHING_FITS, 0)
        told = tuple(f"{text} ({count} of {tried})" for text, count in counted.most_common(3))
        yield Unused(name, article.name if article else name, told)


def _samples(swept: Sweep) -> Asked:
    """Some ways with every variant, spread over both."""
    count = max(SAMPLES, len(swept.variants))
    step = max(1, len(swept.ways) // count)
    places = [((at * step) % len(swept.ways), at % len(swept.variants)) for at in range(count)]
    return tuple(
        (swept.ways[way], swept.variants[variant])
        for way, variant in places
        if not swept.tried[way][variant].error
    )


def _reasons(work: tuple[str, str, Asked]) -> Counter[str]:
    kind, name, asked = work
    conversation = at_work()
    guide = conversation.guide
    outcomes = [conversation.outcome(together(guide, *each)) for each in asked]
    if kind == "inverters":
        return Counter(_why_no_unit(guide, name, outcome) for outcome in outcomes)
    shelf = getattr(guide.catalogue, kind)
    if kind == "batteries":  # what if this were the only one
        shelf = tuple(each for each in shelf if each.id == name)
    else:  # what if it cost nothing
        shelf = tuple(replace(each, price=0.0) if each.id == name else each for each in shelf)
    other = replace(guide, catalogue=replace(guide.catalogue, **{kind: shelf}))
    return Counter(_why_no_part(other, kind, name, outcome) for outcome in outcomes)


def _why_no_unit(guide: Guide, name: str, outcome: Outcome) -> str:
    """The best candidate with this unit: the check that it fails, or what counts against it."""
    if outcome.best is None:
        return NOTHING_FITS
    with_it = [each for each in outcome.considered if each.candidate.inverter.id == name]
    return _why_not(guide, outcome.best, with_it[0]) if with_it else "no wiring layout takes it"


def _why_no_part(other: Guide, kind: str, name: str, outcome: Outcome) -> str:
    """What becomes of the recommended units and wiring with the other shelf."""
    best, needs = outcome.best, outcome.needs
    if best is None:
        return NOTHING_FITS
    found = consider(other, needs, best.candidate, Supplies(other, needs))
    if kind == "batteries":
        return _why_not(other, best, found)
    if found.design and name in {line.product for line in found.design.parts}:
        return "something cheaper does the same"
    return "no setup there has a place for it"


def _why_not(guide: Guide, best: Considered, other: Considered) -> str:
    if other.design is None:
        worst = min(other.failed, key=lambda check: check.margin)
        return f"it fails the check “{guide.check_words(worst.id).name}”"
    pairs = zip(other.contributions, best.contributions, strict=True)
    more, priority = max(
        ((theirs - ours, priority) for (priority, theirs), (_, ours) in pairs),
        key=lambda pair: pair[0],
    )
    name = words.considered_name(guide, best)
    return f"the priority “{priority.measure}” counts {money(more)} against it beside {name}"
