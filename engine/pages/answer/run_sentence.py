"""What a setup can and cannot run, as one sentence in the visitor's own loads."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from engine.advice.judge.runs import Runs, on_inverter
from engine.model.needs import Needs
from engine.pages.words import lower_first
from engine.wording.sentences import Sentences
from engine.wording.tongue import all_of, one_of

MOST_PAIRS = 4


@dataclass(frozen=True, slots=True)
class Allowed:
    """The visitor's heavy loads that run at all, and which two run together."""

    names: tuple[str, ...]
    pairs: frozenset[frozenset[str]]

    def together(self, first: str, second: str) -> bool:
        """Whether these two run at the same time; twice the same: two of a kind."""
        return frozenset((first, second)) in self.pairs

    def partners(self, name: str) -> list[str]:
        """The other loads that run beside this one."""
        return [other for other in self.names if other != name and self.together(name, other)]


def runs_sentence(page: Sentences, needs: Needs, runs: Runs) -> str:
    """One sentence: what runs at once as it was asked for, what runs besides, and not with it."""
    own = {load.name for load in needs.loads if on_inverter(load)}
    names = tuple(name for name in runs.alone if name in own)
    pairs = frozenset(frozenset(pair) for pair in runs.together if own.issuperset(pair))
    allowed = Allowed(names, pairs)
    short = short_names(tuple(dict.fromkeys((*names, *runs.at_once))))
    any_two = _any_two_of(allowed, runs.at_once)
    said = []
    if len(runs.at_once) > 1 and not any_two:
        said = [page.say("runs-both", both=_at_once(page, runs.at_once, short))]
        allowed = _beside(allowed, Counter(runs.at_once))
    several = {load.name for load in needs.loads if load.count > 1}
    said += _alternatives(page, allowed, several, short)
    beside = page["beside-usual" if _has_usual(needs) else "beside-listed"]
    if not said and not own:
        return page["runs-light" if _has_usual(needs) else "runs-listed"]
    if not said:
        return page.say("runs-nothing", beside=beside)
    if len(said) == 1:
        return page.say("runs-one", what=said[0], beside=beside)
    return page.say("runs-or", what=one_of(said), beside=beside)


def _has_usual(needs: Needs) -> bool:
    """Whether what such a rig always has on board is planned for; an own list may lack it."""
    return needs.rig.carries.keys() <= {load.id for load in needs.loads}


def at_once_text(page: Sentences, runs: Runs) -> str:
    """All that was asked to run at the same time, as a list."""
    return all_of(_each(page, runs.at_once, {name: name for name in runs.at_once}))


def _at_once(page: Sentences, at_once: Sequence[str], short: dict[str, str]) -> str:
    articled = {name: page.say("runs-the", name=short[name]) for name in at_once}
    return all_of(_each(page, at_once, articled))


def _each(page: Sentences, at_once: Sequence[str], said: dict[str, str]) -> list[str]:
    """Every load of the set; the second of a kind as such, more of them as a number."""
    found = []
    for name, count in Counter(at_once).items():
        found.append(said[name])
        if count > 1:
            found.append(page["a-second-one"] if count == 2 else page.count("more-ones", count - 1))
    return found


def _any_two_of(allowed: Allowed, at_once: tuple[str, ...]) -> bool:
    """Whether the two that were asked for are any two of several that all run in pairs."""
    if len(set(at_once)) != 2 or len(at_once) != 2:
        return False
    group = next(each for each in _groups(allowed) if at_once[0] in each)
    return len(group) > 2 and _all_pair(allowed, group)


def _all_pair(allowed: Allowed, group: Sequence[str]) -> bool:
    return all(allowed.together(first, second) for first, second in combinations(group, 2))


def _beside(allowed: Allowed, at_once: Counter[str]) -> Allowed:
    """What is left to say after the set: its loads only where they run with others."""
    pairs = frozenset(
        pair
        for pair in allowed.pairs
        if not pair <= at_once.keys() or (len(pair) == 1 and at_once[min(pair)] < 2)
    )
    partners = frozenset().union(*pairs)
    names = tuple(name for name in allowed.names if name not in at_once or name in partners)
    return Allowed(names, pairs)


def _alternatives(
    page: Sentences, allowed: Allowed, several: set[str], short: dict[str, str]
) -> list[str]:
    """The ways to use it, of which one at a time is possible."""
    said: list[str] = []
    for group in _groups(allowed):
        if len(group) == 1:
            name = group[0]
            two = name in several and allowed.together(name, name)
            said.append(page.say("runs-two-of" if two else "runs-the", name=short[name]))
        elif len(group) == 2:
            both = [page.say("runs-the", name=short[name]) for name in group]
            said.append(page.say("runs-both", both=all_of(both)))
        elif _all_pair(allowed, group):
            each = [page.say("runs-the", name=short[name]) for name in group]
            said.append(page.say("runs-any-two", names=all_of(each)))
        else:
            said += _pairs(page, allowed, group, short)
    return said


def _pairs(
    page: Sentences, allowed: Allowed, group: Sequence[str], short: dict[str, str]
) -> list[str]:
    """Each load with those that it runs beside, said once."""
    said = []
    done: set[str] = set()
    for name in sorted(group, key=lambda each: -len(allowed.partners(each))):
        partners = [other for other in allowed.partners(name) if other not in done]
        done.add(name)
        if partners:
            others = [page.say("runs-the", name=short[other]) for other in partners]
            with_one = one_of(others[:MOST_PAIRS])
            first = page.say("runs-the", name=short[name])
            said.append(page.say("runs-with", first=first, other=with_one))
    return said


def _groups(allowed: Allowed) -> list[tuple[str, ...]]:
    """Loads that are linked by running together, in their order."""
    groups: list[tuple[str, ...]] = []
    left = list(allowed.names)
    while left:
        group = [left[0]]
        for name in group:  # grows while it is walked
            group += [other for other in allowed.partners(name) if other not in group]
        groups.append(tuple(name for name in allowed.names if name in group))
        left = [name for name in left if name not in group]
    return groups


def short_names(names: Sequence[str]) -> dict[str, str]:
    """Names without what stands behind the comma, where they stay apart so."""
    brief = {name: lower_first(name.partition(",")[0]) for name in names}
    values = list(brief.values())
    return {
        name: text if values.count(text) == 1 else lower_first(name) for name, text in brief.items()
    }
