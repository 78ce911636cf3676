"""What is said of an article's stock and of opened ones, in the guide's words."""

from engine.model.guide import Guide
from engine.model.products import OpenBox
from engine.model.result import Design
from engine.wording.tongue import money


def offers_of(guide: Guide, article_id: str) -> tuple[str, ...]:
    """Whether it must be waited for, how long it takes, and opened ones for less."""
    article = guide.article(article_id)
    if article is None:
        return ()
    page = guide.wording.page
    found = [page["out-of-stock"]] if article.stock == "out-of-stock" else []
    if article.delivery:
        found.append(page.say("delivery", delivery=article.delivery))
    opened: tuple[OpenBox, ...] = getattr(article, "open_box", ())
    found += [
        page.say("open-box", price=money(each.price), count=each.count, condition=each.condition)
        for each in opened
    ]
    return tuple(found)


def absent_names(guide: Guide, design: Design) -> list[str]:
    """Articles of the parts list that are out of stock, each once."""
    return list(dict.fromkeys(line.name for line in design.parts if line.product in guide.absent))
