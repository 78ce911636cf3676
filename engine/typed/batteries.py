"""Batteries that are in a rig already, as people write them: "2x 100Ah 12V lifepo4 3y"."""

import re

from engine.model.answers import ExistingBank
from engine.standards.battery_chemistry import CHEMISTRIES
from engine.typed.amounts import LONGEST, in_figures, number_in_front, tidy
from engine.typed.words import BATTERY, CHEMISTRY_NAMES, SAYS_NOTHING
from engine.units import UnitError, read

MOST_AH = 5000
LEAST_V, MOST_V = 2, 60
MOST_YEARS = 50
MOST_OF_ONE = 20
ASSUMED_V = 12.0
"""Voltage of one battery where it was not said: nearly all in vans and RVs (common practice)."""
ASSUMED_CHEMISTRY = "agm"
"""Kind of battery where it was not said: it gives half and may take no lithium charge."""
_SEVERAL = re.compile(r"(.+?) ?(?:([x×*]) ?(?:of )?|(?= )) ?(?=[0-9])(.+)")
_SEVERAL_BEHIND = re.compile(r"(.+?) ?[x×*] ?([0-9]{1,3})")
_BATTERY_TOKEN = re.compile(
    r"[0-9]{1,6}(?:\.[0-9]{1,3})?[ -]?[a-z]+(?:[ -]hours?)?|[0-9.]+|[a-z][a-z0-9]*|\S"
)
_BATTERY_UNITS = ("Ah", "V", "year")
_COUNT_OF_KIND = re.compile(
    rf"([0-9]{{1,2}}) (?:x )?((?:{'|'.join((*BATTERY, *CHEMISTRY_NAMES, *CHEMISTRIES))})\b.+)"
)
"""A count before words for a kind, as in "2 agm batteries 100ah"."""
_VOLTAGES = (6, 8, 12, 24, 36, 48)
"""Counts that could as well be a voltage without its V, as in "12 100ah"."""
LEAST_AGE_YEARS = 1 / 12


def read_bank(text: str, accepts: str) -> ExistingBank:
    """Batteries that are there; voltage and kind are assumed where they are not said.

    Raises
    ------
    UnitError : if the text is not of the accepted form, which is then among the facts.

    >>> read_bank("2 100ah lithium", "").text, read_bank("2 x 100 Ah 12 V agm 3 y", "").text
    ('2x100Ah-lifepo4', '2x100Ah-12V-agm-3y')
    >>> read_bank("two hundred amp hours of lithium", "").text
    '1x200Ah-lifepo4'
    """
    tidied = in_figures(tidy(text).lower())
    if len(tidied) > LONGEST:
        raise UnitError("not-understood", text=text, accepts=accepts)
    count, each = _several(tidied)
    found: dict[str, float] = {}
    chemistries = []
    for token in _BATTERY_TOKEN.findall(each):
        chemistry = _chemistry(token)
        unit, value = ("", 0.0) if chemistry else _battery_figure(token)
        if chemistry:
            chemistries.append(chemistry)
        elif unit and unit not in found:
            found[unit] = value
        elif token not in (*BATTERY, *",;/_-") and token not in SAYS_NOTHING:
            raise UnitError("not-understood", text=token, accepts=accepts)
    if "Ah" not in found or len(chemistries) > 1 or not 1 <= count <= MOST_OF_ONE:
        raise UnitError("not-complete", text=text, accepts=accepts)
    volts, age = found.get("V", ASSUMED_V), found.get("year", 0.0)
    if not 1 <= found["Ah"] <= MOST_AH:
        raise UnitError("battery-capacity", text=text, low=1, high=MOST_AH)
    if not LEAST_V <= volts <= MOST_V:
        raise UnitError("battery-voltage", text=text, low=LEAST_V, high=MOST_V)
    if not 0 <= age <= MOST_YEARS:
        raise UnitError("battery-age", text=text, low=0, high=MOST_YEARS)
    chemistry = chemistries[0] if chemistries else ASSUMED_CHEMISTRY
    said = (
        f"{count}x{found['Ah']:g}Ah",
        f"{volts:g}V" if "V" in found else "",
        *chemistries,
        f"{age:g}y" if ("V" in found and chemistries) or age else "",
    )
    assumed = (*(() if "V" in found else ("voltage",)), *(() if chemistries else ("chemistry",)))
    short = "-".join(filter(None, said))
    return ExistingBank(count, found["Ah"], volts, chemistry, age, short, assumed)


def _several(text: str) -> tuple[int, str]:
    """How many, and what each is: "2x100ah agm", "2 100ah", "2 agm 100ah", "100ah x 2"."""
    if behind := _SEVERAL_BEHIND.fullmatch(text):
        return int(behind[2]), behind[1]
    if kind := _COUNT_OF_KIND.fullmatch(text):
        return int(kind[1]), kind[2]
    front = _SEVERAL.fullmatch(text)
    number = number_in_front(front[1]) if front else None
    if front is None or number is None or number.rest or number.value != int(number.value):
        return 1, text
    if not front[2] and number.value in _VOLTAGES:
        return 1, text
    return int(number.value), front[3]


def _chemistry(word: str) -> str:
    """The id of a kind of battery, from it or from another name; "" for other words."""
    known = CHEMISTRY_NAMES.get(word, word)
    return known if known in CHEMISTRIES else ""


def _battery_figure(token: str) -> tuple[str, float]:
    """Which figure of a battery a token is, and its value; no unit for any other word."""
    for unit in _BATTERY_UNITS:
        try:
            value = read(token, unit)
        except UnitError:
            continue
        # 20 h is the rate of a capacity, not an age
        return ("", 0.0) if unit == "year" and 0 < value < LEAST_AGE_YEARS else (unit, value)
    return "", 0.0
