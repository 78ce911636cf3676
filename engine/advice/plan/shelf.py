"""What the shelf holds of a kind, and which of several that all will do is taken."""

from engine.kept import kept
from engine.model.guide import Guide
from engine.model.products import Article, Breaker, Cable, Crimper, Ferrule, Lug, Product
from engine.sizing.terminals import ferrule_refusal
from engine.standards import awg


def waits(*articles: Article) -> bool:
    """Whether one of them must be waited for."""
    return any(each.stock == "out-of-stock" for each in articles)


def preference(article: Product) -> tuple[bool, float, str]:
    """Sorting key: in stock first, then the cheapest; the id decides between equals."""
    return waits(article), article.price, article.id


@kept("guide", 512)
def cable_for(guide: Guide, use: str, size: str, cores: int) -> Cable | None:
    """The cable on the shelf for a size; a ground wire may be thicker, the others must be exact."""
    able = [
        cable
        for cable in guide.catalogue.cables
        if cable.use == use
        and cable.conductors == cores
        and (cable.awg == size or use == "ground")
        and awg.rank(cable.awg) >= awg.rank(size)
    ]

    def order(each: Cable) -> tuple[bool, int, float, str]:
        return waits(each), awg.rank(each.awg), each.price, each.id

    return min(able, key=order, default=None)


@kept("guide", 512)
def lugs_for(guide: Guide, size: str, stud: str) -> tuple[Lug, ...]:
    """The lugs on the shelf for a cable and a stud."""
    return tuple(each for each in guide.catalogue.lugs if (each.awg, each.stud) == (size, stud))


@kept("guide", 256)
def breakers_for(guide: Guide, rating_a: float, poles: int) -> tuple[Breaker, ...]:
    """The breakers on the shelf of a rating and a number of poles."""
    return tuple(
        each for each in guide.catalogue.breakers if (each.rating, each.poles) == (rating_a, poles)
    )


@kept("guide", 256)
def crimpers_for(guide: Guide, makes: str, thinnest: str, thickest: str) -> tuple[Crimper, ...]:
    """The tools on the shelf that make such a crimp on all sizes between two."""
    least, most = awg.rank(thinnest), awg.rank(thickest)
    return tuple(
        each
        for each in guide.catalogue.crimpers
        if each.makes == makes
        and awg.rank(each.smallest_awg) <= least
        and most <= awg.rank(each.largest_awg)
    )


@kept("guide", 256)
def ferrule_for(guide: Guide, size: str, depth_m: float) -> Ferrule | None:
    """The ferrule on the shelf that suits a push-in terminal of this depth, by stock and price."""
    able = [
        each
        for each in guide.catalogue.ferrules
        if each.awg == size and ferrule_refusal(each.insulated, each.barrel, depth_m) is None
    ]
    return min(able, key=lambda each: (waits(each), each.price / each.pack, each.id), default=None)
