"""End sleeves (ferrules) for stranded conductors.

Sources: DIN 46228-1 (bare) barrel lengths, from memory; DIN 46228-4 (with plastic collar)
colors as printed in two public tables, 35 and 50 mm² in one; part 4 barrels as transcribed in
a public technical note and from memory where marked. Overall lengths are left out: the
transcriptions differ, and only the metal barrel matters to a clamp. Other color codes exist,
so the printed size counts, not the color.
"""

from typing import Final

AREAS_MM2: Final = (0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0)
"""Cross-sections that DIN 46228 covers [mm²]."""

BARE_BARRELS_M: Final = {
    0.5: (0.006, 0.008, 0.010),
    0.75: (0.006, 0.008, 0.010),
    1.0: (0.006, 0.008, 0.010),
    1.5: (0.007, 0.010, 0.012, 0.018),
    2.5: (0.007, 0.010, 0.012, 0.018),
    4.0: (0.009, 0.012, 0.015, 0.018),
    6.0: (0.010, 0.012, 0.015, 0.018),
    10.0: (0.012, 0.015, 0.018),
    16.0: (0.012, 0.015, 0.018),
    25.0: (0.015, 0.018, 0.025),
    35.0: (0.018, 0.025),
    50.0: (0.022, 0.025),
}
"""DIN 46228-1: lengths of bare ferrules by cross-section [mm²] [m]; from memory."""

INSULATED_BARRELS_M: Final = {
    0.5: (0.008, 0.010),
    0.75: (0.008, 0.010, 0.012),
    1.0: (0.008, 0.010, 0.012),
    1.5: (0.008, 0.010, 0.018),
    2.5: (0.008, 0.012, 0.018),
    4.0: (0.010, 0.012, 0.018),
    6.0: (0.012, 0.018),
    10.0: (0.012, 0.018),
    16.0: (0.012, 0.018),
    25.0: (0.016, 0.018, 0.022),
    35.0: (0.016, 0.025),
    50.0: (0.020, 0.025),
}
"""DIN 46228-4: lengths of the metal barrel by cross-section [mm²] [m].

Seen in a public note: 8 mm up to 2.5 mm², 10 mm for 4, 12 mm for 6 and 10, 18 mm for 16 and
22 mm for 25 mm². The others are from memory.
"""

COLLAR_COLOR: Final = {
    0.5: "white",
    0.75: "gray",
    1.0: "red",
    1.5: "black",
    2.5: "blue",
    4.0: "gray",
    6.0: "yellow",
    10.0: "red",
    16.0: "blue",
    25.0: "yellow",
    35.0: "red",
    50.0: "blue",
}
"""DIN 46228-4: color of the collar by cross-section [mm²]."""

AREA_FOR_AWG_MM2: Final = {
    "18": 1.0, "16": 1.5, "14": 2.5, "12": 4.0, "10": 6.0, "8": 10.0, "6": 16.0, "4": 25.0,
    "3": 35.0, "2": 35.0, "1": 50.0, "1/0": 50.0,
}  # fmt: skip
"""Cross-section that takes a gauge [mm²]; pairing of public ferrule tables.

The next one that is not smaller than the copper, so 1.0 and not 0.75 mm² for the 0.82 mm² of
18 AWG. 1/0 AWG (53.5 mm²) goes into 50 mm², the largest of the standard, as those tables pair
them. 3 and 1 AWG are by the same rule; those tables leave them out.
"""
