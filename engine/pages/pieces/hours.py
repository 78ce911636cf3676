"""Live piece: how long a bank feeds an air conditioner, or any other load that runs on and off."""

from dataclasses import dataclass

from engine.advice.plan.bank import LEAD_ACID_RATE_H
from engine.model.guide import Guide, Question
from engine.model.products import Battery, InverterCharger
from engine.pages.drawings.charts import Bar, bars
from engine.pages.drawings.svg import Canvas, Picture, Table
from engine.pages.pieces.form import (
    Filled,
    Piece,
    PieceError,
    Result,
    chosen,
    typed,
    unit_of,
    units_of,
)
from engine.sizing import battery as sizing
from engine.sizing.inverter import continuous_at, dc_current_a, fit_losses, input_w, low_battery_v
from engine.units import read, show
from engine.wording.tongue import plain

WIDTH = 360.0
SHOWN = 4
MOST = 40


def usual_heat_c(guide: Guide) -> float:
    """The air that the guide takes where nothing was said of it [°C]."""
    return read(guide.question("ambient").default, "degC")


@dataclass(frozen=True, slots=True)
class Lasts:
    """How long a bank feeds a load: planned energy [Wh], mean draw [W], hours, current of each."""

    usable_wh: float
    draw_w: float
    hours: float
    each_a: float


def lasts(
    guide: Guide,
    unit: InverterCharger,
    battery: Battery,
    strings: int,
    power_w: float,
    share: float = 1.0,
) -> Lasts:
    """How long so many strings of a battery feed a load that runs a share of the time.

    A lead-acid battery gives less the faster it is emptied; the unit takes its own draw all along.

    Raises
    ------
    ValueError : if the batteries do not make the unit's voltage.
    """
    series = sizing.batteries_in_series(unit.dc_nominal, battery.nominal)
    curve = fit_losses(unit.efficiency, unit.idle)
    running_w = input_w(curve, power_w)
    draw_w = share * running_w + (1.0 - share) * unit.idle
    capacity_ah = battery.capacity
    if battery.kind.family.by_peukert:
        mean_a = draw_w / (battery.nominal * series) / strings
        capacity_ah = sizing.peukert_capacity_ah(
            capacity_ah, LEAD_ACID_RATE_H, mean_a, battery.peukert
        )
    usable_wh = strings * sizing.usable_wh(
        battery.nominal * series,
        capacity_ah,
        battery.usable,
        sizing.cold_capacity_factor(battery.chemistry, usual_heat_c(guide)),
        guide.planning.ageing,
    )
    low_v = low_battery_v(unit.dc_nominal, unit.low_voltage_cutoff)
    each_a = dc_current_a(running_w, low_v) / strings
    return Lasts(usable_wh, draw_w, usable_wh / draw_w, each_a)


def _fields(guide: Guide) -> tuple[Question, ...]:
    pieces, batteries, units = guide.wording.pieces, guide.catalogue.batteries, units_of(guide)
    return (
        chosen(
            "battery", pieces["hours-battery"],
            ((each.id, each.name) for each in batteries), batteries[0].id,
        ),
        typed(
            "count", pieces["hours-count"],
            pieces["hours-count-hint"],
            unit="", low="1", high=str(MOST), default="1", kind="count",
        ),
        typed(
            "power", pieces["hours-power"],
            pieces["hours-power-hint"],
            unit="W", bare="W", low="10 W", high="10000 W", default="1500 W",
        ),
        typed(
            "share", pieces["hours-share"],
            pieces["hours-share-hint"],
            unit="share", bare="percent", low="1 %", high="100 %", default="100 %",
        ),
        chosen("unit", pieces["hours-unit"], units, units[0][0]),
    )  # fmt: skip


def _work(guide: Guide, filled: Filled) -> Result:
    pieces, unit = guide.wording.pieces, unit_of(guide, filled)
    wanted = filled.choice("battery")
    battery = next(each for each in guide.catalogue.batteries if each.id == wanted)
    series, strings = _joined(guide, unit, battery, filled.needed("count"))
    power_w, share = filled.needed("power"), filled.needed("share")
    if "btu" in filled.text("power").lower():
        raise PieceError("power", pieces["hours-btu"])
    found = lasts(guide, unit, battery, strings, power_w, share)
    heat_c = usual_heat_c(guide)
    gives_w = continuous_at(unit.continuous, heat_c) or 0.0
    facts = {
        "count": plain(series * strings),
        "battery": battery.name,
        "power": show(power_w, "W"),
        "hours": pieces.count("hours-time", found.hours, 1),
        "usable": show(found.usable_wh, "Wh"),
        "draw": f"{plain(found.draw_w)} W",
    }
    says = [pieces.say("hours-says", **facts), pieces.say("hours-rest", **facts)]
    sentence = says[0]
    if found.each_a > battery.continuous_current:
        asks, gives = f"{plain(found.each_a)} A", show(battery.continuous_current, "A")
        says.append(pieces.say("hours-too-strong", asks=asks, gives=gives))
    if power_w > gives_w:
        air = show(heat_c, "degC")
        gives = show(gives_w, "W")
        says.append(pieces.say("hours-too-weak", unit=unit.name, gives=gives, air=air))
    others = range(1, min(max(SHOWN, strings), battery.most_in_parallel) + 1)
    rows = [(series * each, lasts(guide, unit, battery, each, power_w, share)) for each in others]
    good = len(says) == 2  # what is more is what stands against it
    return Result(tuple(says), "good" if good else "bad", _picture(guide, battery, rows, sentence))


def _joined(guide: Guide, unit: InverterCharger, battery: Battery, count: float) -> tuple[int, int]:
    """Batteries in a row, and such rows side by side; a fault where the number does not go up."""
    pieces, volts = guide.wording.pieces, show(unit.dc_nominal, "V")
    if count != round(count):
        raise PieceError("count", pieces["hours-whole"])
    try:
        series = sizing.batteries_in_series(unit.dc_nominal, battery.nominal)
    except ValueError:
        series = 0
    if not 1 <= series <= battery.most_in_series:
        raise PieceError("battery", pieces.say("hours-no-series", volts=volts))
    strings, left = divmod(round(count), series)
    if left:
        raise PieceError("count", pieces.say("hours-in-rows", volts=volts, series=series))
    if strings > battery.most_in_parallel:
        most = battery.most_in_parallel
        told = pieces.say("hours-too-many", most=most, series=series, count=most * series)
        raise PieceError("count", told)
    return series, strings


def _picture(
    guide: Guide, battery: Battery, rows: list[tuple[int, Lasts]], sentence: str
) -> Picture:
    pieces = guide.wording.pieces

    def over(each: Lasts) -> bool:
        return each.each_a > battery.continuous_current

    def lasts_text(each: Lasts) -> str:
        text = pieces.count("hours-time", each.hours, 1)
        return pieces.say("hours-bar-over", text=text) if over(each) else text

    def each_text(each: Lasts) -> str:
        text = f"{plain(each.each_a)} A"
        return pieces.say("hours-row-over", text=text) if over(each) else text

    drawn = [Bar(f"{count} ×", each.hours, lasts_text(each)) for count, each in rows]
    canvas = Canvas("rig-svg-hours", WIDTH)
    most = max(each.hours for _, each in rows) * 1.2
    height = bars(canvas, drawn, most, pieces["hours-axis"])
    title = pieces["hours-picture"]
    table = Table(
        (pieces["hours-number"], pieces["hours-lasts"], pieces["hours-each"]),
        tuple(
            (f"{count} ×", pieces.count("hours-time", each.hours, 1), each_text(each))
            for count, each in rows
        ),
    )
    return Picture("hours", title, sentence, canvas.svg(height, title, sentence), table=table)


HOURS = Piece("hours", _fields, _work)
