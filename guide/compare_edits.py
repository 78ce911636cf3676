"""What differs between two editions, taken apart into edits that can be tried one by one."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

from engine.model.guide import Guide, Priority, Question
from engine.model.products import Article, Cable, Catalogue
from engine.wording.tongue import money, plain
from guide.reading import OFFER

NAMES = ("name", "maker")
# Above this, edits of one cause and one kind of article are tried together.
MOST_BY_THEMSELVES = 40


@dataclass(frozen=True, slots=True)
class Edit:
    """One difference: its cause, what it is, and the old edition with this one difference.

    acts: whether it can change an answer; wording cannot
    """

    cause: str
    what: str
    acts: bool
    applied: Callable[[Guide], Guide]


def edits_between(old: Guide, new: Guide) -> tuple[Edit, ...]:
    """All edits, in the order in which they are told."""
    return (
        *_together(list(_articles(old, new))),
        *_priorities(old, new),
        *_planning(old, new),
        *_entries("load", old.appliances, new.appliances, "appliances"),
        *_questions(old, new),
        *_cautions(old, new),
        *_wording(old, new),
    )


def _together(edits: list[tuple[str, Edit]]) -> Iterator[Edit]:
    """Edits of articles; where one shelf has very many of one cause, they are one edit."""
    groups: dict[tuple[str, str], list[Edit]] = defaultdict(list)
    for shelf, edit in edits:
        groups[shelf, edit.cause].append(edit)
    for (shelf, cause), group in groups.items():
        if len(group) <= MOST_BY_THEMSELVES:
            yield from group
            continue
        what = f"{shelf.replace('_', ' ')}: {len(group)} items"
        yield Edit(cause, what, group[0].acts, _one_after_the_other(group))


def tried_of(edits: Sequence[Edit]) -> tuple[Edit, ...]:
    """Those that are tried; where there are very many, all of one cause together."""
    if len(edits) <= MOST_BY_THEMSELVES:
        return tuple(edits)
    groups: dict[str, list[Edit]] = defaultdict(list)
    for edit in edits:
        groups[edit.cause].append(edit)
    return tuple(
        Edit(cause, f"{len(group)} edits", True, _one_after_the_other(group))
        if len(group) > 1
        else group[0]
        for cause, group in groups.items()
    )


def _one_after_the_other(edits: Sequence[Edit]) -> Callable[[Guide], Guide]:
    def applied(guide: Guide) -> Guide:
        for edit in edits:
            guide = edit.applied(guide)
        return guide

    return applied


def _shelves(guide: Guide) -> dict[str, dict[str, Article]]:
    """All articles by kind and id, discontinued ones at the shelf that their type belongs to."""
    shelves: dict[str, dict[str, Article]] = {}
    for kind in fields(Catalogue):
        shelf: tuple[Article, ...] = getattr(guide.catalogue, kind.name)
        shelves[kind.name] = {each.id: each for each in shelf}
    for article in guide.discontinued:
        shelves[_kind_of(article)][article.id] = article
    return shelves


def _kind_of(article: Article) -> str:
    wanted = type(article).__name__
    return next(each.name for each in fields(Catalogue) if wanted in str(each.type))


def _articles(old: Guide, new: Guide) -> Iterator[tuple[str, Edit]]:
    before, after = _shelves(old), _shelves(new)
    for shelf, articles in after.items():
        for name, article in articles.items():
            earlier = before[shelf].get(name)
            if earlier is None:
                yield shelf, Edit("new item", article.name, True, _with(shelf, article))
            elif earlier != article:
                for edit in _differences(shelf, earlier, article):
                    yield shelf, edit
        for name, article in before[shelf].items():
            if name not in articles:
                yield shelf, Edit("item gone", article.name, True, _without(shelf, name))


def _differences(shelf: str, old: Article, new: Article) -> Iterator[Edit]:
    changed = [
        each.name for each in fields(new) if getattr(old, each.name) != getattr(new, each.name)
    ]
    offer = [name for name in changed if name in OFFER]
    words = [name for name in changed if name in NAMES]
    limits = [name for name in changed if name not in (*OFFER, *NAMES, "price")]
    for cause, names in (
        ("price", ["price"] if "price" in changed else []),
        ("stock", offer),
        ("limit", limits),
        ("wording", words),
    ):
        if names:
            what = ", ".join(_change(name, old, new) for name in names)
            part = replace(old, **{name: getattr(new, name) for name in names})
            acts = cause != "wording" and names != ["as_of"]
            yield Edit(cause, f"{new.name}: {what}", acts, _with(shelf, part, names))


def _change(name: str, old: Article, new: Article) -> str:
    before, now = getattr(old, name), getattr(new, name)
    if name == "price":
        rounded = f"{money(before)} → {money(now)}"
        exact = f"{plain(before, 2)} → {plain(now, 2)}"
        if isinstance(new, Cable):
            return f"{exact} a meter"
        return f"{rounded} ({exact})" if money(before) == money(now) else rounded
    if isinstance(before, int | float | str) and str(before) and str(now):
        return f"{name} {before} → {now}"
    return name


def _with(shelf: str, article: Article, names: Sequence[str] = ()) -> Callable[[Guide], Guide]:
    """Put an article on its shelf; with `names`, only these of its fields."""

    def applied(guide: Guide) -> Guide:
        known = _shelves(guide)[shelf]
        earlier = known.get(article.id)
        part = {name: getattr(article, name) for name in names}
        known[article.id] = replace(earlier, **part) if earlier and names else article
        return _stocked(guide, shelf, known)

    return applied


def _without(shelf: str, name: str) -> Callable[[Guide], Guide]:
    def applied(guide: Guide) -> Guide:
        known = _shelves(guide)[shelf]
        known.pop(name, None)
        return _stocked(guide, shelf, known)

    return applied


def _stocked(guide: Guide, shelf: str, articles: dict[str, Article]) -> Guide:
    """The guide with these articles of one kind, sold and discontinued ones where they belong."""
    sold: dict[str, Any] = {shelf: tuple(each for each in articles.values() if each.sold)}
    others = tuple(each for each in guide.discontinued if _kind_of(each) != shelf)
    return replace(
        guide,
        catalogue=replace(guide.catalogue, **sold),
        discontinued=(*others, *(each for each in articles.values() if not each.sold)),
    )


def _field(name: str, value: Any) -> Callable[[Guide], Guide]:
    return lambda guide: replace(guide, **{name: value})


def _priorities(old: Guide, new: Guide) -> Iterator[Edit]:
    before = {each.measure: each for each in old.priorities.list}
    after = {each.measure: each for each in new.priorities.list}
    for measure in dict.fromkeys((*before, *after)):
        then, now = before.get(measure), after.get(measure)
        if then == now:
            continue
        counts = [f"{each.counts:g}" if each else "not counted" for each in (then, now)]
        acts = counts[0] != counts[1]
        what = f"{measure}: {' → '.join(counts)}" if acts else f"{measure}: its words"
        yield Edit("priority" if acts else "wording", what, acts, _priority(measure, now))
    if old.priorities.aims != new.priorities.aims:
        aims = new.priorities.aims
        yield Edit(
            "priority",
            "what an answer may be asked to be",
            True,
            lambda guide: replace(guide, priorities=replace(guide.priorities, aims=aims)),
        )
    if old.priorities.labor != new.priorities.labor:
        labor = new.priorities.labor
        yield Edit(
            "priority",
            "hours and rate of labor",
            True,
            lambda guide: replace(guide, priorities=replace(guide.priorities, labor=labor)),
        )


def _priority(measure: str, now: Priority | None) -> Callable[[Guide], Guide]:
    def applied(guide: Guide) -> Guide:
        known = {each.measure: each for each in guide.priorities.list}
        kept = [
            now if now and each == measure else known[each]
            for each in known
            if now or each != measure
        ]
        if now and measure not in known:
            kept.append(now)
        return replace(guide, priorities=replace(guide.priorities, list=tuple(kept)))

    return applied


def _planning(old: Guide, new: Guide) -> Iterator[Edit]:
    for each in fields(new.planning):
        before, now = getattr(old.planning, each.name), getattr(new.planning, each.name)
        if before == now:
            continue
        if each.name == "source":
            yield Edit("wording", "sources of planning figures", False, _planned(each.name, now))
        else:
            what = f"{each.name}: {before} → {now}"
            yield Edit("planning figure", what, True, _planned(each.name, now))


def _planned(name: str, value: Any) -> Callable[[Guide], Guide]:
    return lambda guide: replace(guide, planning=replace(guide.planning, **{name: value}))


def _entries(cause: str, old: Any, new: Any, name: str) -> Iterator[Edit]:
    """Entries with ids that are found by them: one edit for each that differs."""
    before, after = {each.id: each for each in old}, {each.id: each for each in new}
    for entry_id in dict.fromkeys((*before, *after)):
        then, now = before.get(entry_id), after.get(entry_id)
        if then != now:
            yield Edit(cause, entry_id, True, _entry(name, entry_id, now))


def _entry(name: str, entry_id: str, now: Any) -> Callable[[Guide], Guide]:
    def applied(guide: Guide) -> Guide:
        known = {each.id: each for each in getattr(guide, name)}
        known.pop(entry_id, None) if now is None else known.update({entry_id: now})
        changed: dict[str, Any] = {name: tuple(known.values())}
        return replace(guide, **changed)

    return applied


def _questions(old: Guide, new: Guide) -> Iterator[Edit]:
    """Questions and rigs hang together: what of them shapes the tree is one edit."""
    shaped = [tuple(map(_shape, each.questions)) for each in (old, new)]
    rigs = [tuple(map(repr, each.rigs)) for each in (old, new)]
    names = [name for name, pair in (("questions", shaped), ("rigs", rigs)) if pair[0] != pair[1]]
    if names:
        parts: dict[str, Any] = {"questions": new.questions, "rigs": new.rigs}
        what = f"{' and '.join(names)} ({', '.join(_differing(old, new)) or 'their order'})"
        yield Edit("question", what, True, lambda guide: replace(guide, **parts))
    elif old.questions != new.questions:
        what = f"questions ({', '.join(_differing(old, new))})"
        yield Edit("wording", what, False, _field("questions", new.questions))


def _differing(old: Guide, new: Guide) -> list[str]:
    texts = [
        {
            **{each.id: repr(each) for each in guide.questions},
            **{f"rig {each.id}": repr(each) for each in guide.rigs},
        }
        for guide in (old, new)
    ]
    return [
        name
        for name in dict.fromkeys((*texts[0], *texts[1]))
        if texts[0].get(name) != texts[1].get(name)
    ]


def _shape(question: Question) -> object:
    return (
        question.id,
        question.where,
        question.kind,
        question.only_with,
        question.default,
        tuple((choice.id, choice.means) for choice in question.choices),
    )


def _cautions(old: Guide, new: Guide) -> Iterator[Edit]:
    before, after = ({each.id: each for each in guide.cautions} for guide in (old, new))
    for name in dict.fromkeys((*before, *after)):
        then, now = before.get(name), after.get(name)
        if then == now:
            continue
        acts = then is None or now is None or then.rule != now.rule
        yield Edit(
            "caution" if acts else "wording", f"caution {name}", acts, _entry("cautions", name, now)
        )


def _wording(old: Guide, new: Guide) -> Iterator[Edit]:
    texts = [_texts(guide) for guide in (old, new)]
    changed = [
        name
        for name in dict.fromkeys((*texts[0], *texts[1]))
        if texts[0].get(name) != texts[1].get(name)
    ]
    if changed:
        shown = ", ".join(changed[:5]) + (" …" if len(changed) > 5 else "")
        what = f"{len(changed)} text{'s' if len(changed) > 1 else ''} ({shown})"
        yield Edit("wording", what, False, _field("wording", new.wording))


def _texts(guide: Guide) -> dict[str, object]:
    wording = guide.wording
    return {
        **{f"layouts › {each.id}": each for each in wording.layouts},
        **{f"checks › {each.id}": each for each in wording.checks},
        **{f"parts › {name}": text for name, text in wording.parts.items()},
        **{f"page › {name}": text for name, text in wording.page.items()},
        **{f"explanations › {each.id}": each for each in guide.explanations},
        **{f"sheets › {each.id}": each for each in guide.sheets},
        "shop": guide.shop,
    }
