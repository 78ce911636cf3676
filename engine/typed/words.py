"""The English words that typed answers may hold: numbers, about, months, kinds of battery."""

ABOUT = ("about", "approx", "approximately", "around", "roughly", "circa", "ca", "some")
ONES = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven")
TEENS = (
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
)
TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
MANY = {"hundred": 100, "thousand": 1000}
ARTICLES, HALF, AND_A_HALF = ("a", "an"), ("half a", "half an", "half"), "and a half"
MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
HEMISPHERES = {"": 1.0, "n": 1.0, "north": 1.0, "s": -1.0, "south": -1.0}
CHEMISTRY_NAMES = {
    "lithium": "lifepo4",
    "lfp": "lifepo4",
    "li": "lifepo4",
    "wet": "flooded",
}
BATTERY = ("battery", "batteries", "old")
