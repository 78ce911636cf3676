"""What is kept of an older edition, so that links made from it can say what differs."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PastSetup:
    """A recommendation as it was; an empty layout stands for "nothing fits".

    kept: batteries in it that were in the rig already
    """

    layout: str
    inverter: str
    units: int
    soft_starters: int
    battery: str
    series: int
    parallel: int
    price: float
    kept: int = 0

    @property
    def key(self) -> tuple[str, ...]:
        """The same texts that tell today's recommendations apart."""
        if not self.layout:
            return ()
        return (
            self.layout,
            self.inverter,
            str(self.units),
            str(self.soft_starters),
            self.battery,
            str(self.series),
            str(self.parallel),
            *((str(self.kept),) if self.kept else ()),
        )


@dataclass(frozen=True, eq=False, kw_only=True)
class PastEdition:
    """The answers of one edition: for each path without an open question, a place in `setups`.

    date: of its prices; published: the day on which it was kept, "" where nobody noted it
    names, prices: of the articles in those setups, by id
    """

    id: str
    date: str
    names: dict[str, str]
    prices: dict[str, float]
    setups: tuple[PastSetup, ...]
    answers: dict[str, int]
    published: str = ""
