"""How the shop looks and when it is there, beside its name and address."""

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Colors:
    """Colors as #14483c that take the place of the theme's own; "" leaves one as it is.

    brand: ground of headers and buttons; on_brand: letters on it; accent: marks on it
    link: links on light pages; link_dark: links on dark ones
    """

    brand: str = ""
    on_brand: str = ""
    accent: str = ""
    link: str = ""
    link_dark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Brand:
    """What of the site is the shop's own beside its words.

    title: how the guide is called; hours: when somebody answers; area: where the shop works
    logo: a picture of the content folder, as brand/logo.svg; image: what messages show of a link
    """

    title: str = ""
    hours: str = ""
    area: str = ""
    logo: str = ""
    image: str = ""
    colors: Colors = field(default_factory=Colors)
