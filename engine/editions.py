"""A link from an older edition: is today's answer the same, and if not, what became of it."""

from collections.abc import Iterator

from engine.advice.judge.recommend import key_of
from engine.conversation import Conversation
from engine.links import path_of
from engine.model.answers import Answers
from engine.model.edition import PastEdition, PastSetup
from engine.model.guide import Guide
from engine.model.result import Considered
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
    if past is None:
        return [page["edition-unknown"]]
    if conversation.next_question(answers) is not None:
        return [page.say("edition-open", date=past.date)]
    found = _comparison(conversation, past, answers)
    if set(answers.values) - {question.id for question in conversation.path_questions}:
        found.append(page["edition-details"])
    return found


def _comparison(conversation: Conversation, past: PastEdition, answers: Answers) -> list[str]:
    guide = conversation.guide
    page = guide.wording.page
    case = usual_case(guide, conversation.on_path(answers))
    then, now = _then(conversation, past, case), conversation.outcome(case).best
    if then is None:
        return [page.say("edition-unasked", date=past.date)]
    if then.key == key_of(now):
        return [_same(guide, past, then, now)]
    first = page.say("edition-other", date=past.date, then=_name(guide, past, then))
    reasons = dict.fromkeys(_reasons(guide, past, then, now))
    return [first, *(reasons or (page["edition-advice"],))]


def _then(conversation: Conversation, past: PastEdition, concrete: Answers) -> PastSetup | None:
    place = past.answers.get(path_of(conversation.guide, concrete))
    return None if place is None else past.setups[place]


def _same(guide: Guide, past: PastEdition, then: PastSetup, now: Considered | None) -> str:
    """Same setup as then; the price is named where it moved."""
    page = guide.wording.page
    price = now.design.parts_price if now and now.design else then.price
    if round(then.price) == round(price):
        return page.say("edition-same", date=past.date)
    return page.say("edition-price", date=past.date, then=money(then.price), now=money(price))


def _name(guide: Guide, past: PastEdition, then: PastSetup) -> str:
    if not then.layout:
        return guide.wording.page["nothing-fits-short"]
    layout = guide.layout_words(then.layout).name
    bank = f"{then.series * then.parallel} × {past.names[then.battery]}"
    return f"{layout}: {then.units} × {past.names[then.inverter]}; {bank}"


def _reasons(
    guide: Guide, past: PastEdition, then: PastSetup, best: Considered | None
) -> Iterator[str]:
    """What became of the articles of then, and what those of now cost more or less."""
    page = guide.wording.page
    for article_id in filter(None, (then.inverter, then.battery)):
        name = past.names[article_id]
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
            if article_id not in (then.inverter, then.battery):
                yield from _price(guide, past, article_id)


def _price(guide: Guide, past: PastEdition, article_id: str) -> Iterator[str]:
    before, today = past.prices.get(article_id), guide.price_of(article_id)
    article = guide.article(article_id)
    if article and before is not None and today is not None and before != today:
        yield guide.wording.page.say(
            "edition-cost", name=article.name, then=money(before), now=money(today)
        )
