"""Work a recommendation out again, from the answers, the catalogue and published figures alone.

Neither engine.sizing nor engine.advice is called. It reads the answer as data, as any outsider gets
it, and returns one sentence for each thing that does not hold.
"""

from collections.abc import Iterator
from typing import Any

from engine.model.guide import Guide
from engine.model.needs import Needs
from tests.recheck.ac import Ac
from tests.recheck.complete import Complete
from tests.recheck.dc import Dc
from tests.recheck.goods import Goods
from tests.recheck.house_side import HouseSide
from tests.recheck.limits import Limits
from tests.recheck.power import Power
from tests.recheck.unfused import Unfused
from tests.recheck.weather import Weather


def faults(guide: Guide, needs: Needs, data: dict[str, Any]) -> list[str]:
    """Every fault of a recommended answer."""
    return list(_Recheck(guide, needs, data).all())


class _Recheck(Power, Dc, Ac, Limits, Goods, Unfused, HouseSide, Complete, Weather):
    def all(self) -> Iterator[str]:
        yield from self.layout_suits()
        yield from self.unit_carries()
        yield from self.weather()
        yield from self.frost()
        yield from self.bank_gives()
        yield from self.cable_and_fuse()
        yield from self.strings_and_lugs()
        yield from self.branches()
        yield from self.unfused()
        yield from self.small_wires()
        yield from self.small_articles()
        yield from self.kept_battery()
        yield from self.house_side()
        yield from self.voltage_left()
        yield from self.ac_side()
        yield from self.ferrules()
        yield from self.place()
        yield from self.list_adds_up()
        yield from self.input_limits()
        yield from self.charging()
        yield from self.voltages()
        yield from self.lug_sizes()
        yield from self.panel_and_inlet()
        yield from self.air()
        yield from self.house_feed()
        yield from self.lines()
        yield from self.drawing()
        yield from self.week()
        yield from self.small_parts()
        yield from self.on_cables()
        yield from self.left_out()
