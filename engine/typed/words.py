"""The English words that typed answers may hold: numbers, about, months, kinds of battery."""

import re

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
MANY = {"hundred": 100, "thousand": 1000, "grand": 1000}
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
BATTERY = ("battery", "batteries", "old", "golf", "cart", "deep", "cycle", "house")
"""What says nothing of a battery's kind."""
LEAD_ACID = re.compile(r"\blead[- ]acid ?", re.IGNORECASE)
"""What leaves open whether they are AGM or flooded."""
COUNTED_BATTERIES = re.compile(r"\b[0-9]{1,2} (?:[^ ]+ ){0,5}batter(?:y|ies)\b")
"""Batteries with a number before them, in words and figures of one text."""
SAYS_NOTHING = frozenset(
    (
        *("a", "an", "the", "and", "or", "of", "for", "to", "with", "in", "on", "at", "is", "are"),
        *("i", "we", "it", "its", "they", "he", "she", "my", "our", "have", "has", "had", "got"),
        *("there", "that", "this", "need", "needs", "want", "wants", "run", "runs", "use", "uses"),
        *("about", "around", "roughly", "please", "just", "like", "be", "by", "from", "s", "ve"),
        *("actually", "maybe", "think", "guess", "probably", "sorry", "ok", "well", "um", "then"),
        *("said", "says", "told", "does", "thing", "things", "up", "them", "as", "but", "so"),
        *("also", "works", "same", "gets", "get"),
    )
)
"""What says nothing of which answer is meant, beside words that do."""
CORRECTIONS = re.compile(
    r"^(?:(?:no|oh|ah|sorry),? +)*"
    r"(?:wait|hold on|make (?:that|it)|change (?:that|it) to|i meant?|scratch that|correction)\b"
    r"[,:. ]*",
    re.IGNORECASE,
)
"""What stands before an answer that takes the place of another one."""
NOT_SURE = frozenset(
    ("unsure", "not sure", "no idea", "dont know", "do not know", "dunno", "no clue", "unknown")
)
"""What says that an answer is not known, without apostrophes."""
BEHIND_A_NUMBER = frozenset(("in", "by", "and", "or", "to", "a"))
"""What says nothing but behind a number: "15 in of cable", "20 by 20", "two and a half"."""
NEGATIONS = frozenset(("no", "not", "none", "never", "without", "nothing"))
"""What turns into its opposite what stands beside it; never the beginning of another word."""
YES = "yes"
SPOKEN = {"yeah": YES, "yep": YES, "yup": YES, "nope": "no", "nah": "no"}
"""Other words for yes and no."""
NOT_SO = ("dont think so", "do not think so", "not that i know of", "afraid not")
"""What says no in several words, without apostrophes."""
SPANS = {"a long weekend": "3 days", "long weekend": "3 days", "a weekend": "2 days"}
SPANS |= {"weekend": "2 days", "a week": "7 days", "a fortnight": "14 days", "overnight": "1 day"}
"""Days away that have a name, longer names first."""
EACH_DAY = re.compile(r" (?:a|per|each|every) day\b| daily\b", re.IGNORECASE)
"""What stands behind hours that are hours a day anyway."""
GRAND = "grand"
THOUSANDS = ("k", GRAND)
"""What stands behind a number of thousands."""
TOGETHER = re.compile(
    r"\b(?:at (?:the )?same time|at once|together|simultaneously)\b", re.IGNORECASE
)
"""What says that things run at the same time."""
BOTH = {"both": "2"}
"""Words for a count that are no number."""
SEVERAL = re.compile(r",(?![0-9])|;|&| and | plus | with ", re.IGNORECASE)
"""What stands between the things that somebody names in a row."""
