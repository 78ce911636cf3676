"""Live piece: what a battery cable loses, by current, length, voltage and size; with its fuse."""

from engine.model.guide import Guide, Question
from engine.pages.drawings.chart_cable import Size, loaded, size_bars
from engine.pages.drawings.svg import Picture, Table
from engine.pages.pieces.form import Filled, Piece, Result, chosen, typed
from engine.sizing.protection import fuse_minimum_a, next_standard_rating_a
from engine.standards import awg
from engine.units import examples_of, read, show
from engine.wording.tongue import plain

BANKS = ("12V", "24V", "48V")
ONE_RUN = 1


def _fields(guide: Guide) -> tuple[Question, ...]:
    pieces, sizes = guide.wording.pieces, _sizes(guide)
    return (
        typed(
            "current", pieces["drop-current"],
            pieces.say("drop-current-hint", examples=examples_of("A")),
            unit="A", bare="A", low="1 A", high="600 A", default="100 A",
        ),
        typed(
            "length", pieces["drop-length"],
            pieces.say("drop-length-hint", examples=examples_of("m")),
            unit="m", bare="foot", low="6 in", high="100 ft", default="15 ft",
        ),
        chosen("bank", pieces["drop-bank"], ((each, _volts(each)) for each in BANKS), BANKS[0]),
        chosen(
            "size", pieces["drop-size"],
            ((each, f"{each} AWG") for each in sizes), sizes[len(sizes) // 2],
        ),
    )  # fmt: skip


def _sizes(guide: Guide) -> list[str]:
    shelf = {each.awg for each in guide.catalogue.cables if each.use == "dc"}
    return sorted(shelf, key=awg.rank)


def _volts(bank: str) -> str:
    return f"{plain(read(bank, 'V'))} V"


VERDICTS = ("good", "drop", "thin")


def _work(guide: Guide, filled: Filled) -> Result:
    pieces, limit = guide.wording.pieces, guide.planning.drop_limit
    current_a, length_m = filled.needed("current"), filled.needed("length")
    bank, wanted = filled.choice("bank"), filled.choice("size")
    volts = read(bank, "V")
    ambient_c = read(guide.question("ambient").default, "degC")
    fuse_a = next_standard_rating_a(fuse_minimum_a(current_a, guide.planning.fuse_factor))
    sizes = []
    for name in _sizes(guide):
        ampacity_a, drop_v = loaded(
            name, ONE_RUN, current_a, length_m, guide.planning.cable_insulation_c, ambient_c
        )
        drop = drop_v / volts
        verdict = "thin" if ampacity_a < fuse_a else "drop" if drop > limit else "good"
        sizes.append(Size(name, ampacity_a, drop, verdict))
    own = next(each for each in sizes if each.awg == wanted)
    first = next((each for each in sizes if each.verdict == "good"), None)
    mend = pieces.say("drop-mend", size=first.awg) if first else pieces["drop-none"]
    facts = {
        "size": wanted,
        "drop": f"{plain(own.drop * volts, 2)} V",
        "share": show(own.drop, "share"),
        "bank": _volts(bank),
        "length": show(length_m, "m"),
        "current": show(current_a, "A"),
        "limit": show(limit, "share"),
        "ampacity": f"{plain(own.ampacity_a)} A",
        "air": show(ambient_c, "degC"),
        "fuse": f"{plain(fuse_a)} A",
        "mend": mend,
    }
    says = (
        pieces.say("drop-says", **facts),
        pieces.one_of("drop-is-", own.verdict, VERDICTS, **facts),
    )
    good = own.verdict == "good"
    return Result(says, "good" if good else "bad", _picture(guide, sizes, wanted, volts, says[0]))


def _picture(guide: Guide, sizes: list[Size], wanted: str, volts: float, sentence: str) -> Picture:
    pieces, page = guide.wording.pieces, guide.wording.page
    title = pieces["drop-picture"]
    svg = size_bars(guide, sizes, wanted, ONE_RUN, "rig-svg-drop", title, sentence)
    table = Table(
        (page["chart-size"], pieces["drop-lost"], pieces["drop-carries"], pieces["drop-verdict"]),
        tuple(
            (
                f"{each.awg} AWG",
                f"{plain(each.drop * volts, 2)} V ({show(each.drop, 'share')})",
                f"{plain(each.ampacity_a)} A",
                pieces.one_of("drop-row-", each.verdict, VERDICTS),
            )
            for each in sizes
        ),
    )
    return Picture("drop", title, sentence, svg, table=table)


DROP = Piece("drop", _fields, _work)
