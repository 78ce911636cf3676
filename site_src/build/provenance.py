"""Where each table of the engine comes from: document, edition, and whether anybody saw it."""

from dataclasses import dataclass
from typing import Literal

Seen = Literal["itself", "copies", "in part", "memory", "none"]

SEEN_WORDS: dict[Seen, str] = {
    "itself": "seen, in the text itself or a copy of it word for word",
    "copies": "seen in copies and trade pages (secondary)",
    "in part": "seen in copies in part, the rest from memory",
    "memory": "from memory",
    "none": "common practice, no source",
}


@dataclass(frozen=True, slots=True)
class Origin:
    """A document that a table rests on."""

    document: str
    edition: str
    seen: Seen


NEC = "2020 and 2023 numbering"
ORIGINS: dict[str, tuple[Origin, ...]] = {
    "services": (
        Origin("NEC 551.44, ratings of cords", NEC, "memory"),
        Origin("NEC 210.20(A), share for hours", NEC, "copies"),
        Origin("NEC 551.73(A), what a site is reckoned at", "2014 and 2017", "copies"),
    ),
    "locked_rotor": (
        Origin("NEC Table 430.7(B), code letters", NEC, "copies"),
        Origin("Unit-data table of an installation manual", "not dated", "copies"),
        Origin("Logged starts of an air conditioner", "trade column", "copies"),
    ),
    "appliances": (
        Origin("US Department of Energy, appliance energy use", "reprints", "copies"),
        Origin("Appliance lists for recreational vehicles", "several", "in part"),
    ),
    "ampacity_dc": (
        Origin("33 CFR 183.425 Table 5 with its notes", "2015 edition", "itself"),
        Origin("Air of the table, 30 °C", "boat builder’s guide", "copies"),
    ),
    "ampacity_ac": (
        Origin("NEC Table 310.16", NEC, "copies"),
        Origin("NEC Table 310.15(B)(1), warm air", "reprint in a state’s code", "itself"),
        Origin("NEC Table 310.15(C)(1), bundles", NEC, "copies"),
    ),
    "awg": (
        Origin("ASTM B258, gauges", "B258-02", "copies"),
        Origin("NEC chapter 9 table 8, resistance", NEC, "copies"),
    ),
    "cable_support": (Origin("ABYC E-11, supports of cables", "not named", "memory"),),
    "copper": (Origin("NBS Handbook 100, Copper Wire Tables", "1966", "copies"),),
    "metric_cable": (Origin("IEC 60228 class 5", "not named in the copies", "in part"),),
    "overcurrent": (
        Origin("NEC 240.6(A), 240.4(D), 210.20(A)", NEC, "copies"),
        Origin("33 CFR 183.455 and 183.460", "2015 edition", "itself"),
        Origin("ABYC E-11, a fuse for each battery", "July 2025", "copies"),
    ),
    "interrupt": (
        Origin("ABYC E-11 Table V-A, V-B and 11.10.1.2", "as quoted in the trade", "copies"),
        Origin("Families of fuses", "trade tables", "in part"),
    ),
    "grounding": (
        Origin("NEC Table 250.122", NEC, "copies"),
        Origin("NEC 551.20(C), bond to the frame", NEC, "copies"),
        Origin("ABYC A-31", "as quoted in the trade", "copies"),
    ),
    "ferrules": (
        Origin("DIN 46228-1, bare", "not named", "memory"),
        Origin("DIN 46228-4, with collar", "1990-09 and 2020-03", "in part"),
    ),
    "battery_chemistry": (
        Origin("Cell sheets and trade pages", "several", "in part"),
        Origin("Trade press, for the energy that comes out again", "several", "copies"),
        Origin("Age, and currents without a data sheet", "this guide", "none"),
    ),
    "charge_profiles": (
        Origin("Makers’ guidance for lithium", "several", "copies"),
        Origin("Voltages of lead-acid", "not named", "memory"),
        Origin("Instrumented test of lead-acid charging", "trade press", "copies"),
    ),
    "air": (Origin("United States climate normals, their shape", "not named", "memory"),),
    "clearness": (
        Origin("NREL solar radiation manual, its shape", "stations of 1961 to 1990", "memory"),
    ),
    "solar_constants": (
        Origin("Astronomical Almanac, low precision (Michalsky)", "1988", "memory"),
        Origin("Ineichen and Perez, clear sky", "2002", "memory"),
        Origin("Sandia model of cell temperature", "2004, in an open library", "itself"),
        Origin("PVWatts losses", "an open library’s documentation", "itself"),
        Origin("What a roof adds to them", "this guide", "none"),
    ),
    "atmosphere": (Origin("ISO 2533, Standard Atmosphere", "1975", "memory"),),
}
"""By the engine's file of tables."""
