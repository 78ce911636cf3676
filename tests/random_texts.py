"""Texts at random, near to what people type and far from it; the same seed gives the same texts."""

from collections.abc import Iterator
from random import Random

LONGEST = 10_000
ABOUT = ("", "", "about ", "~", "approx. ", "ca")
NUMBERS = ("15", "0.5", "13,500", "4,5", "-4", "1 1/2", "½", "six", "twenty-five", "2 x 200", "1e9")
UNITS = (
    *("ft", "in", "m", "mm", "feet", "'", '"', "W", "kW", "VA", "A", "V", "Ah", "kWh", "h", ""),
    *("min", "days", "°F", "C", "degF", "lb", "kg", "money/m", "BTU/h", "m^3/h", "m^9^9^9^9"),
    *(" lithium", "Ah agm", " N", "x10x12 in", "%", "mohm", "lb/ft", "hours", "amp", "volts"),
)
PIECES = (
    *"0123456789",
    *" .,-+−/*^×x'\"′″°%½~:;\t\n\x00\x1b\u202e\u0663",
    *("about", "six", "twenty", "hundred", "and a half", "per", "at", "by", "of", "or"),
    *UNITS,
    *("**", "inH2O", "USD", "money"),
    *("1e999", "inf", "nan", "e", "_", "12", "100", "13,500", "0.5", "9" * 40),
    *("lifepo4", "agm", "lithium", "kettle", "fan*2", "July", "N", "unsure", "é", "中"),
)


def random_texts(seed: int, count: int) -> Iterator[str]:
    """Quantities with a slip here and there, short texts of their pieces, and very long ones."""
    random = Random(seed)
    for _ in range(count):
        how = random.random()
        if how < 0.5:
            parts = (
                ABOUT,
                NUMBERS,
                ("", " ", "  ", "-"),
                UNITS,
                ("", "", "", " 6 in", "30", ".", "x2"),
            )
            yield "".join(random.choice(part) for part in parts)
        elif how < 0.9:
            yield "".join(random.choices(PIECES, k=random.randint(0, 9)))
        elif how < 0.95:
            yield "".join(random.choices(PIECES, k=random.randint(10, 1200)))[:LONGEST]
        else:
            few = "".join(random.choices(PIECES, k=random.randint(1, 3)))
            start = "".join(random.choices(PIECES, k=random.randint(0, 3)))
            size = random.randint(100, LONGEST)
            yield (start + few * (size // max(len(few), 1)))[:LONGEST]
