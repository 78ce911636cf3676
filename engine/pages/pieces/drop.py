"""Live piece: what a battery cable loses, by current, length, voltage and size; with its fuse."""

from engine.model.guide import Guide, Question
from engine.pages.drawings.chart_cable import Size, loaded, size_bars
from engine.pages.drawings.svg import Picture, Table
from engine.pages.pieces.form import Filled, Piece, Result, chosen, typed
from engine.sizing.protection import fuse_minimum_a, next_standard_rating_a
from engine.standards import awg
from engine.units import plain, read, show

BANKS = ("12V", "24V", "48V")
ONE_RUN = 1


def _fields(guide: Guide) -> tuple[Question, ...]:
    sizes = _sizes(guide)
    return (
        typed(
            guide, "current", "drop-current",
            unit="A", bare="A", low="1 A", high="600 A", default="100 A",
        ),
        typed(
            guide, "length", "drop-length",
            unit="m", bare="foot", low="6 in", high="100 ft", default="15 ft",
        ),
        chosen(guide, "bank", "drop-bank", ((each, _volts(each)) for each in BANKS), BANKS[0]),
        chosen(
            guide, "size", "drop-size",
            ((each, f"{each} AWG") for each in sizes), sizes[len(sizes) // 2],
        ),
    )  # fmt: skip


def _sizes(guide: Guide) -> list[str]:
    shelf = {each.awg for each in guide.catalogue.cables if each.use == "dc"}
    return sorted(shelf, key=awg.rank)


def _volts(bank: str) -> str:
    return f"{plain(read(bank, 'V'))} V"


def _work(guide: Guide, filled: Filled) -> Result:
    words, limit = guide.wording.pieces, guide.planning.drop_limit
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
    mend = words["drop-mend"].format(size=first.awg) if first else words["drop-none"]
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
    says = tuple(words[key].format(**facts) for key in ("drop-says", f"drop-is-{own.verdict}"))
    good = own.verdict == "good"
    return Result(says, "good" if good else "bad", _picture(guide, sizes, wanted, volts, says[0]))


def _picture(guide: Guide, sizes: list[Size], wanted: str, volts: float, sentence: str) -> Picture:
    words, page = guide.wording.pieces, guide.wording.page
    title = words["drop-picture"]
    svg = size_bars(guide, sizes, wanted, ONE_RUN, "rig-svg-drop", title, sentence)
    table = Table(
        (page["chart-size"], words["drop-lost"], words["drop-carries"], words["drop-verdict"]),
        tuple(
            (
                f"{each.awg} AWG",
                f"{plain(each.drop * volts, 2)} V ({show(each.drop, 'share')})",
                f"{plain(each.ampacity_a)} A",
                words[f"drop-row-{each.verdict}"],
            )
            for each in sizes
        ),
    )
    return Picture("drop", title, sentence, svg, table=table)


DROP = Piece("drop", _fields, _work)
