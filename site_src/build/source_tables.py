"""The published tables that the engine rests on, each with the source that stands in its file."""

import inspect
import re
from collections.abc import Iterable
from dataclasses import dataclass
from importlib import import_module
from types import ModuleType

from engine.standards import (
    air,
    ampacity_ac,
    ampacity_dc,
    appliances,
    awg,
    battery_chemistry,
    charge_profiles,
    clearness,
    copper,
    ferrules,
    grounding,
    interrupt,
    locked_rotor,
    metric_cable,
    overcurrent,
    services,
)
from engine.units import significant
from engine.wording.tongue import plain
from site_src.build.provenance import ORIGINS, SEEN_WORDS


@dataclass(frozen=True, slots=True)
class Table:
    """One table: what it is, where it comes from, and its rows."""

    title: str
    source: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def source_tables() -> list[Table]:
    """Every table in the order of the pages that use them."""
    return [
        _table(
            services,
            ("Service", "Volts a leg", "Amps", "Legs", "Source"),
            (
                (name, plain(each.volts), plain(each.amps), plain(each.legs), each.source)
                for name, each in services.SERVICES.items()
            ),
        ),
        _table(
            locked_rotor,
            ("Roof air conditioner", "Compressor runs, A", "Locked, A", "Fan runs, A", "Locked, A"),
            (
                (
                    name,
                    plain(each.compressor_rated_a, 1),
                    plain(each.compressor_locked_a, 1),
                    plain(each.fan_rated_a, 1),
                    plain(each.fan_locked_a, 1),
                )
                for name, each in locked_rotor.ROOFTOP_AIR_CONDITIONERS.items()
            ),
        ),
        _table(
            appliances,
            ("Appliance", "Draws, W", "On", "Source"),
            (
                (
                    name.replace("-", " "),
                    _range(each.low_w, each.high_w),
                    f"{each.volts} V",
                    each.source,
                )
                for name, each in appliances.DRAWS.items()
            ),
        ),
        _table(
            ampacity_dc,
            ("AWG", *(f"{insulation} °C, A" for insulation in ampacity_dc.INSULATIONS_C)),
            (
                (size, *(plain(ampacity_dc.column(c)[size]) for c in ampacity_dc.INSULATIONS_C))
                for size in awg.SIZES
                if size in ampacity_dc.column(ampacity_dc.INSULATIONS_C[0])
            ),
        ),
        _table(
            ampacity_ac,
            ("AWG", *(f"{insulation} °C, A" for insulation in ampacity_ac.INSULATIONS_C)),
            (
                (size, *(plain(ampacity_ac.AMPACITY_A[c][size]) for c in ampacity_ac.INSULATIONS_C))
                for size in ampacity_ac.SIZES
            ),
        ),
        _table(
            awg,
            ("AWG", "Ω a 1,000 ft at 75 °C, stranded", "Copper, mm²"),
            (
                (
                    size,
                    significant(awg.STRANDED_OHM_PER_1000_FT_75C[size]),
                    significant(awg.area_m2(size) * 1e6),
                )
                for size in awg.SIZES
            ),
        ),
        _table(
            copper,
            ("Constant of copper", "Value"),
            (
                ("Ω·mm²/m at 20 °C", significant(copper.RESISTIVITY_20C_OHM_M * 1e6, 5)),
                (
                    "Rise of resistance a degree, share of that at 20 °C",
                    significant(copper.TEMPERATURE_COEFFICIENT_20C_PER_K),
                ),
                ("Density, kg/m³", plain(copper.DENSITY_KG_PER_M3)),
            ),
        ),
        _table(
            metric_cable,
            ("mm²", "Ω/km at 20 °C, plain copper"),
            (
                (plain(area, 2), significant(ohm))
                for area, ohm in metric_cable.PLAIN_OHM_PER_KM_20C.items()
            ),
        ),
        _table(
            overcurrent,
            ("Standard ratings, A",),
            [(", ".join(plain(rating) for rating in overcurrent.STANDARD_RATINGS_A),)],
        ),
        _table(
            interrupt,
            ("Kind of fuse", "Stops, A", "Up to, V", "Source"),
            (
                (each.name, plain(each.interrupt_a), plain(each.volts), each.source)
                for each in interrupt.FUSE_FAMILIES
            ),
        ),
        _table(
            grounding,
            ("Breaker up to, A", "Ground, AWG copper"),
            ((plain(breaker_a), size) for breaker_a, size in grounding.EGC_AWG),
        ),
        _table(
            ferrules,
            ("mm²", "Bare, mm", "With collar, mm", "Collar"),
            (
                (
                    plain(area, 2),
                    _millimetres(ferrules.BARE_BARRELS_M[area]),
                    _millimetres(ferrules.INSULATED_BARRELS_M[area]),
                    ferrules.COLLAR_COLOR[area],
                )
                for area in ferrules.AREAS_MM2
            ),
        ),
        _table(
            battery_chemistry,
            (
                "Chemistry",
                "Share planned on, %",
                "Comes out again, %",
                "Charged from, °C",
                "to, °C",
                "Peukert exponent",
            ),
            (
                (
                    name,
                    plain(each.depth * 100),
                    plain(each.efficiency * 100),
                    plain(each.charge_c[0]),
                    plain(each.charge_c[1]),
                    " to ".join(plain(exponent, 2) for exponent in each.peukert),
                )
                for name, each in battery_chemistry.CHEMISTRIES.items()
            ),
        ),
        _table(
            charge_profiles,
            (
                "Chemistry",
                "Cell, V",
                "Charged to, V",
                "Then held at, V",
                "Usual current, share an hour",
            ),
            (
                (
                    name,
                    plain(each.profile.nominal_cell_v, 2),
                    plain(each.profile.absorption_cell_v, 2),
                    plain(each.profile.float_cell_v, 3),
                    plain(each.profile.usual_rate_per_h, 2),
                )
                for name, each in battery_chemistry.CHEMISTRIES.items()
            ),
        ),
        _table(
            clearness,
            ("Climate", *(str(month) for month in range(1, 13))),
            (
                (climate, *(plain(share, 2) for share in shares))
                for climate, shares in clearness.CLEARNESS.items()
            ),
        ),
        _table(
            air,
            ("Climate", *(f"{month}, °C" for month in range(1, 13)), "Afternoon above the mean, K"),
            (
                (
                    climate,
                    *(plain(mean_c, 1) for mean_c in each.mean_c),
                    plain(each.half_range_k, 1),
                )
                for climate, each in air.AIR.items()
            ),
        ),
    ]


def origins() -> list[tuple[str, str, str, str]]:
    """Every document behind a table: the table, document, edition, and whether it was seen."""
    return [
        (title_of(name), each.document, each.edition, SEEN_WORDS[each.seen])
        for name, found in ORIGINS.items()
        for each in found
    ]


def title_of(name: str) -> str:
    """The title of a file of tables: the first line of its own text."""
    module = import_module(f"engine.standards.{name}")
    return (inspect.getdoc(module) or "").partition("\n")[0].rstrip(".")


def _range(low: float, high: float) -> str:
    return plain(low) if low == high else f"{plain(low)} to {plain(high)}"


def _table(module: ModuleType, head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> Table:
    text = inspect.getdoc(module) or ""
    title = text.partition("\n")[0].rstrip(".")
    return Table(title, sources_of(module), head, tuple(rows))


def sources_of(module: ModuleType) -> str:
    """What a file of tables says about where its figures come from.

    That is the rest of its own text, the comments that name a source, and the lines that do so
    below a table.
    """
    _, _, rest = (inspect.getdoc(module) or "").partition("\n\n")
    code = inspect.getsource(module)
    noted = [
        re.sub(r"\n\s*# ?", " ", block).removeprefix("# ")
        for block in re.findall(r"# Sources?[:,] (?:.*)(?:\n\s*# ?.+)*", code)
    ]
    below = re.findall(r'^Source: (.+?)"""', code, re.MULTILINE | re.DOTALL)
    found = [rest, *noted, *(f"Source: {text}" for text in below if text not in rest)]
    return " ".join(" ".join(found).split())


def _millimetres(lengths_m: tuple[float, ...]) -> str:
    return ", ".join(plain(length * 1000) for length in lengths_m)
