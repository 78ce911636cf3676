"""What a sentence must tell its reader, where not all of its family tell the same facts."""

import re
from collections.abc import Iterator

import pytest

from engine.model.guide import Guide
from engine.wording.sentences import Sentences

FACT = re.compile(r"\{(\w+)\}")
FAMILIES = {
    "numbers": {
        r"(fits|adds|over)-shore": "amps limit",
        r"fault-(?!mixed|join-none|check).*": "has needs",
        r"end-.*": "size strip",
        r"ferrule-(?!collar).*": "barrel depth",
        r"ferrule-collar": "depth",
        r"starts-.*": "asks gives",
        r"starts-just-not": "missing",
        r"keep-joined": "added",
    },
    "page": {
        r"draw-to-of-.*": "name",
        r"draw-switch-(solar|dc48|house)": "amps",
        r"draw-fuse-(?!positive).+": "fuse",
        r"draw-cable-.+": "cable length",
        r"chart-from-.*": "start end",
        r"chip-(ambient|cable|nights)": "value",
    },
    "pieces": {
        r"drop-says": "size drop bank length current share",
        r"drop-is-good": "limit fuse ampacity air",
        r"drop-is-drop": "limit mend",
        r"drop-is-thin": "fuse ampacity air mend",
        r"start-says": "asks unit gives",
        r"start-is-good": "left",
        r"start-is-near": "missing share",
        r"start-(runs-on|too-weak)": "running lasting air",
        r"hours-says": "count battery power hours",
        r"hours-rest": "usable draw",
        r"hours-in-rows": "volts series",
    },
    "steps": {
        r"power\.only\.(locked_rotor|start)_va|power\.(legs|weather)\..*": "name",
        r"charging\.generator\.with_motor_start_va": "name",
        r"cable\.main\.run_ampacity_a": "runs size",
    },
}
"""By kind of words and name of a sentence: what it must tell. A verdict has both of its figures."""
WITHOUT_A_ONE = {"passed-line", "head-units", "head-batteries"}
"""Heads and lines that count only where there are several."""


def sentences(guide: Guide) -> Iterator[tuple[str, str, dict[str, str]]]:
    """Kind, name and forms of each sentence; one that counts nothing has the form for many."""
    for kind in ("parts", "page", "numbers", "pieces", "faults", "steps"):
        found: Sentences = getattr(guide.wording, kind)
        for key, text in found.items():
            yield kind, key, {**found.forms.get(key, {}), "other": text}


@pytest.mark.parametrize(
    ("kind", "name", "told"),
    [(kind, name, told) for kind, family in FAMILIES.items() for name, told in family.items()],
)
def test_each_sentence_of_a_family_tells_what_its_reader_needs(
    guide: Guide, kind: str, name: str, told: str
) -> None:
    found = {key: each for of, key, each in sentences(guide) if of == kind}
    meant = [each for key, each in found.items() if re.fullmatch(name, key)]
    assert meant
    for message in meant:
        for text in message.values():
            assert set(told.split()) <= {*FACT.findall(text)}, text


def test_what_is_counted_is_told_with_its_number(guide: Guide) -> None:
    counted = [(key, each) for _, key, each in sentences(guide) if len(each) > 1]
    assert len(counted) > 10
    for key, message in counted:
        for form, text in message.items():
            if form != "one" or key not in WITHOUT_A_ONE:
                assert "count" in FACT.findall(text), (key, form)


def test_a_sentence_in_forms_tells_the_same_beside_its_number(guide: Guide) -> None:
    for _, key, message in sentences(guide):
        others = {frozenset(FACT.findall(each)) - {"count"} for each in message.values()}
        assert len(others) == 1, key


def test_how_many_in_series_is_told_as_the_number_and_as_its_multiple(guide: Guide) -> None:
    assert FACT.findall(guide.wording.pieces["hours-in-rows"]).count("series") == 2
