"""Published figures typed once more for the re-check; nothing here comes from the engine."""

SIZES = ("18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0")

# 33 CFR 183.425 Table 5, 105 °C insulation, 30 °C around it [A]. Seen in the text of the law.
DC_105_A = dict(
    zip(SIZES, (20, 25, 35, 45, 60, 80, 120, 160, 180, 210, 245, 285, 330, 385, 445), strict=True)
)

# NEC chapter 9 table 8, stranded uncoated copper at 75 °C [Ω per 1000 ft]. Secondary copies agree.
_OHM = (
    7.95, 4.99, 3.14, 1.98, 1.24, 0.778, 0.491, 0.308, 0.245, 0.194, 0.154, 0.122, 0.0967, 0.0766,
    0.0608,
)  # fmt: skip
OHM_PER_KFT = dict(zip(SIZES, _OHM, strict=True))
ALPHA_20 = 0.00393  # copper, NBS Handbook 100 (secondary)

# NEC Table 310.16, copper, 60 °C and 90 °C columns [A]; secondary copies agree.
AC_60_A = {"14": 15, "12": 20, "10": 30, "8": 40, "6": 55, "4": 70, "3": 85, "2": 95, "1": 110}
AC_90_A = {"14": 25, "12": 30, "10": 40, "8": 55, "6": 75, "4": 95, "3": 110, "2": 130, "1": 150}
SMALL_A = {"14": 15, "12": 20, "10": 30}  # NEC 240.4(D)
# NEC Table 310.15(B)(1), 90 °C column, by the upper edge of each band [°C].
AC_FACTOR_90 = (
    (10, 1.15), (15, 1.12), (20, 1.08), (25, 1.04), (30, 1.00), (35, 0.96), (40, 0.91), (45, 0.87),
    (50, 0.82), (55, 0.76), (60, 0.71), (65, 0.65), (70, 0.58), (75, 0.50), (80, 0.41), (85, 0.29),
)  # fmt: skip
GROUND = ((15, "14"), (20, "12"), (60, "10"), (100, "8"), (200, "6"))  # NEC Table 250.122
STANDARD_A = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200)

FERRULE_MM = 18.0  # bare, common practice, no source
LOW_COPPER = "8"  # NEC 551.20(C), smallest bond of the case; 552.10(C)(4), of the battery
LITHIUM_CELL_V = (3.2, 3.65)  # nominal and most, trade tables
LEAD_CELL_V = (2.0, 2.45)  # nominal and absorption, from memory
EQUALIZE_CELL_V = 2.58  # flooded only, 15.5 V of a 12 V battery, from memory
COLDEST_CHARGED_C = 0.0  # common practice, no source
# Absorption by cell: LiFePO4 makers' guidance 14.2 … 14.6 V of four cells; lead-acid from memory.
ABSORPTION_CELL_V = {"lifepo4": (3.55, 3.65), "agm": (2.38, 2.45), "flooded": (2.40, 2.47)}
# Correction by cell and degree, −3 … −5 mV for lead-acid, from memory.
CORRECTION_CELL_V_PER_K = {
    "lifepo4": (0.0, 0.0), "agm": (-0.005, -0.003), "flooded": (-0.005, -0.003),
}  # fmt: skip
# Capacity in the cold: lithium sellers' claims; AGM a maker's FAQ; flooded and −20 °C from memory.
COLD = {
    "lifepo4": ((-20.0, 0.7), (0.0, 0.8), (25.0, 1.0)),
    "agm": ((-20.0, 0.5), (0.0, 0.84), (5.0, 0.88), (10.0, 0.90), (15.0, 0.94), (25.0, 1.0)),
    "flooded": ((-20.0, 0.5), (25.0, 1.0)),
}
# Generators: 3.5 % each 1,000 ft; 2 % each 10 °F above 85 °F, or 3 % each 5 °C above 40 °C, the
# larger (manuals, secondary).
LOSS_PER_1000_FT, LOSS_PER_10_F, HEAT_FROM_F = 0.035, 0.02, 85.0
LOSS_PER_5_C, HEAT_FROM_C = 0.03, 40.0
ALTERNATOR_SHARE = 0.5  # common practice, no source
HOUSEHOLD_A = 20.0  # NEC 551.44(A) and (B), from memory
# Standard atmosphere (US 1976): pressure at sea level, gas constant of dry air. Heat: from memory.
SEA_LEVEL_PA, GAS_J_PER_KG_K, AIR_J_PER_KG_K = 101_325.0, 287.05, 1005.0
OWN_FIGURE_UP_TO_A, LARGE_INTERRUPT_A = 10_000.0, 20_000.0  # ABYC E-11 11.10.1.2 (secondary)
LUGS_ON_A_STUD = 4  # ABYC E-11, from memory
STARTER_INTERRUPT_A = 3000.0  # ABYC E-11 Table V-A, main, up to 1,100 A cranking (secondary)
HOUSE_V = 12.0
CLAMP_EVERY_M = 0.4572  # 18 in, ABYC E-11, from memory
STRAIN_RELIEFS_A_UNIT = 4  # either end of a cable in and of one out; common practice, no source
MOST_OF_A_FUSE = 2.0  # times 1.25 times the current; a larger one is a slip; no source
SHORE_NIGHT_H = 14.0  # longest night on a hookup that is planned on; common practice, no source
SHEATHED_M, FROM_BATTERY_M = 40 * 0.0254, 72 * 0.0254  # 33 CFR 183.455(b)(2), 183.460(a)
STRINGS_UNFUSED = 1  # ABYC E-11, July 2025, above 500 Ah (secondary); common practice, no source
LITHIUM_SHORT_A_PER_AH = 3733.0 / 60.0 * 0.995  # forum calculation from a cell sheet, rounded down
INTERRUPT_MARGIN = 1.25  # common practice, no source


def rank(size: str) -> int:
    """Place of a gauge from thin to thick."""
    return SIZES.index(size)
