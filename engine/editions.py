"""A link from an older edition: is today's answer the same, and if not, what became of it."""

from collections.abc import Iterator

from engine.advice.plan.kept import YOURS
from engine.conversation import Conversation
from engine.links import path_of
from engine.model.answers import Answers
from engine.model.edition import PastEdition, PastSetup
from engine.model.guide import Guide
from engine.model.result import Considered
from engine.past import past_setup, read_said
from engine.usual import usual_case
from engine.wording.tongue import money


def notice(conversation: Conversation, answers: Answers) -> list[str]:
    """Sentences about what the link names and is no longer so; none where all is as it was."""
    return [*_replaced(conversation.guide, answers), *_since(conversation, answers)]


def _replaced(guide: Guide, answers: Answers) -> Iterator[str]:
    """For each unit that the link asks for by name and that is no longer sold, its successor."""
    asked = (answers.text(each.id) for each in guide.questions if each.kind == "unit")
    for article_id in dict.fromkeys(filter(None, asked)):
        article, now = guide.article(article_id), guide.in_its_place(article_id)
        if article and now and article is not now:
            yield guide.wording.page.say("edition-successor", name=article.name, successor=now.name)


def _since(conversation: Conversation, answers: Answers) -> list[str]:
    """What became of the answer since the edition that the link names; none for today's."""
    guide = conversation.guide
    if not answers.edition or answers.edition == guide.edition:
        return []
    page = guide.wording.page
    past = next((each for each in guide.editions if each.id == answers.edition), None)
    is_open = conversation.next_question(answers) is not None
    said = None if is_open else read_said(answers.was)
    details = set(answers.values) - {question.id for question in conversation.path_questions}
    if said is not None and details:
        now = conversation.outcome(usual_case(guide, answers)).best
        return [*_compared(guide, past, said, now), page["edition-as-said"]]
    if past is None:
        return [page["edition-unknown"]]
    if is_open:
        return [page.say("edition-open", edition=_edition(guide, past))]
    case = usual_case(guide, conversation.on_path(answers))
    then = _then(conversation, past, case)
    if then is None:
        return [page.say("edition-unasked", edition=_edition(guide, past))]
    found = _compared(guide, past, then, conversation.outcome(case).best)
    return [*found, page["edition-details"]] if details else found


def _edition(guide: Guide, past: PastEdition | None) -> str:
    """An edition by the day on which it was published, else by that of its prices."""
    page = guide.wording.page
    if past is None:
        return page["edition-older"]
    if past.published:
        return page.say("edition-of-day", date=past.published)
    return page.say("edition-of-prices", date=past.date)


def _compared(
    guide: Guide, past: PastEdition | None, then: PastSetup, now: Considered | None
) -> list[str]:
    """What was recommended then and is now for the same answers; what became of its products."""
    page, edition = guide.wording.page, _edition(guide, past)
    today = past_setup(now)
    if then.key == today.key:
        if round(then.price) == round(today.price):
            return [page.say("edition-same", edition=edition)]
        then_price, now_price = money(then.price), money(today.price)
        return [page.say("edition-price", edition=edition, then=then_price, now=now_price)]
    first = page.say(
        "edition-other",
        edition=edition,
        then=_name(guide, past, then),
        now=_name(guide, None, today),
    )
    reasons = dict.fromkeys(_reasons(guide, past, then, now))
    return [first, *(reasons or (page["edition-advice"],))]


def _then(conversation: Conversation, past: PastEdition, concrete: Answers) -> PastSetup | None:
    place = past.answers.get(path_of(conversation.guide, concrete))
    return None if place is None else past.setups[place]


def _name(guide: Guide, past: PastEdition | None, setup: PastSetup) -> str:
    page = guide.wording.page
    if not setup.layout:
        return page["nothing-fits-short"]
    return page.say(
        "edition-setup",
        units=f"{setup.units} × {_called(guide, past, setup.inverter)}",
        bank=f"{setup.series * setup.parallel} × {_called(guide, past, setup.battery)}",
        price=money(setup.price),
    )


def _called(guide: Guide, past: PastEdition | None, article_id: str) -> str:
    """An article by the name that it had, else by the one that it has."""
    if past and article_id in past.names:
        return past.names[article_id]
    article = guide.article(article_id)
    if article:
        return article.name
    return guide.wording.page["edition-yours"] if article_id == YOURS else article_id


def _reasons(
    guide: Guide, past: PastEdition | None, then: PastSetup, best: Considered | None
) -> Iterator[str]:
    """What became of the articles of then, and what those of now cost more or less."""
    page = guide.wording.page
    for article_id in filter(None, (then.inverter, then.battery)):
        if article_id == YOURS:
            continue
        name = _called(guide, past, article_id)
        article = guide.article(article_id)
        if article is None:
            yield page.say("edition-gone", name=name)
        elif not article.sold:
            successor = guide.in_its_place(article_id)
            if successor:
                yield page.say("edition-successor", name=name, successor=successor.name)
            else:
                yield page.say("edition-gone", name=name)
        elif article.stock == "out-of-stock":
            yield page.say("edition-absent", name=name)
        else:
            yield from _price(guide, past, article_id)
    if best and best.design:
        for article_id in (best.candidate.inverter.id, best.design.bank.battery.id):
            if article_id not in (then.inverter, then.battery, YOURS):
                yield from _price(guide, past, article_id)


def _price(guide: Guide, past: PastEdition | None, article_id: str) -> Iterator[str]:
    if past is None:
        return
    before, today = past.prices.get(article_id), guide.price_of(article_id)
    article = guide.article(article_id)
    if article and before is not None and today is not None and before != today:
        yield guide.wording.page.say(
            "edition-cost", name=article.name, then=money(before), now=money(today)
        )
