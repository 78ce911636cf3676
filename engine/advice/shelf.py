"""Which of several articles that all will do is taken: one in stock first, then the cheapest."""

from engine.model.products import Product


def preference(article: Product) -> tuple[bool, float, str]:
    """Sorting key; the id decides between equals, so that every run takes the same."""
    return article.stock == "out-of-stock", article.price, article.id
