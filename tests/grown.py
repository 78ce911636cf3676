"""Guides made larger, for benchmarks: more products on the shelf, more rigs in the tree."""

from collections.abc import Collection
from dataclasses import fields, replace
from typing import Any

from engine.model.guide import Choice, Guide
from engine.model.products import Battery, Catalogue, InverterCharger


def with_products(guide: Guide, count: int) -> Guide:
    """The guide with about so many products, each kind grown alike, no two of them equal."""
    shelves = shelves_of(guide)
    times = -(-count // sum(map(len, shelves.values())))
    grown: dict[str, Any] = {
        name: tuple(_varied(article, step) for article in shelf for step in range(times))
        for name, shelf in shelves.items()
    }
    return replace(guide, catalogue=Catalogue(**grown))


def with_fewer_products(guide: Guide, count: int, needed: Collection[str]) -> Guide:
    """The guide with about so many products: those that are needed, by id, and the first others."""
    shelves = shelves_of(guide)
    spare = count - sum(each.id in needed for shelf in shelves.values() for each in shelf)
    fewer: dict[str, list[Any]] = {name: [] for name in shelves}
    for name, shelf in shelves.items():
        for each in shelf:
            is_spare = each.id not in needed
            if not is_spare or spare > 0:
                fewer[name].append(each)
                spare -= is_spare
    catalogue = Catalogue(**{name: tuple(kept) for name, kept in fewer.items()})
    return replace(guide, catalogue=catalogue)


def shelves_of(guide: Guide) -> dict[str, tuple[Any, ...]]:
    """The products of each kind."""
    return {each.name: getattr(guide.catalogue, each.name) for each in fields(Catalogue)}


def with_one_rig(guide: Guide, rig: str) -> Guide:
    """The guide for one kind of rig, which is not asked for by its plug either."""
    questions = tuple(
        replace(
            each,
            choices=tuple(
                choice
                for choice in each.choices
                if (choice.id if each.id == "rig" else choice.means.get("rig", rig)) == rig
            ),
        )
        for each in guide.questions
    )
    kept = tuple(each for each in guide.rigs if each.id == rig)
    return replace(guide, rigs=kept, questions=questions)


def _varied(article: Any, step: int) -> Any:
    """An article much like this one: a little dearer, and a little better or worse at its work."""
    if not step:
        return article
    share = 1 + (step * 7 % 11 - 5) / 100
    more = {"id": f"{article.id}-{step}", "price": article.price * (1 + step / 50)}
    if isinstance(article, InverterCharger):
        more["continuous"] = tuple((at, value * share) for at, value in article.continuous)
        more["idle"] = article.idle * (2 - share)
    if isinstance(article, Battery):
        more["capacity"] = article.capacity * share
        more["continuous_current"] = article.continuous_current * (2 - share)
    return replace(article, **more)


def with_rigs(guide: Guide, times: int) -> Guide:
    """The guide with so many times the rigs, each with a little more on board than the last."""
    question = guide.question("rig")
    rigs, choices = list(guide.rigs), list(question.choices)
    for step in range(1, times):
        for rig in guide.rigs:
            name = f"{rig.id}-{step}"
            carries = {**rig.carries, "lights": rig.carries.get("lights", 0) + step}
            rigs.append(replace(rig, id=name, carries=carries))
            choices.append(Choice(id=name, label=f"{rig.name}, kind {step}"))
    known = {rig.id: [each.id for each in rigs if each.id.startswith(rig.id)] for rig in guide.rigs}
    questions = tuple(
        replace(
            each,
            choices=tuple(choices) if each.id == "rig" else each.choices,
            only_with={
                name: tuple(more for one in accepted for more in known.get(one, [one]))
                if name == "rig"
                else accepted
                for name, accepted in each.only_with.items()
            },
        )
        for each in guide.questions
    )
    return replace(guide, rigs=tuple(rigs), questions=questions)
