"""A shop in another currency or language: what it writes is shown, and what it lacks is told."""

import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from engine.answer_text import as_text
from engine.links import read_pairs
from engine.model.guide import Guide
from engine.model.result import Check
from engine.pages.print.exports import FILES, download
from engine.pages.words import margin_text
from engine.respond import respond
from engine.wording.sentences import Sentences
from engine.wording.tongue import all_of, money, one_of, plain, plural_form, speak
from guide.check_sentences import said_twice
from guide.content_folder import CONTENT
from guide.fault import ContentError
from guide.language import plural_rules
from guide.load import load_guide
from guide.sentences import Module, UnreadableKeyError, everywhere, in_template
from tests.guide.shops import demo
from tests.pseudo import LANGUAGE, add_pseudo

ANSWER = ("rig=van", "scope=some", "heavy=1", "biggest=cooking", "have=2x100Ah-12V-agm-3y")


def in_currency(folder: Path, code: str) -> Guide:
    """The demo with the same figures in another currency."""
    shutil.copytree(CONTENT, folder)
    for file in folder.rglob("*.yaml"):
        text = file.read_text(encoding="utf-8")
        file.write_text(re.sub(r"\bUSD\b(?!:)", code, text), encoding="utf-8")
    return load_guide(folder)


def shown(guide: Guide) -> str:
    """An answer as page, as text, and its parts list as each file that is handed out."""
    page = respond(guide, read_pairs(guide, ANSWER))
    advice = page.answer.advice
    assert advice
    files = "".join(download(guide, advice, name).text for name in FILES)
    return page.html + as_text(guide, page.answer) + files


@pytest.mark.parametrize(("code", "price"), [("EUR", r"€\d,\d{3}"), ("SEK", r"\d,\d{3} SEK")])
def test_every_price_is_in_the_currency_of_the_shop(tmp_path: Path, code: str, price: str) -> None:
    guide = in_currency(tmp_path / "content", code)
    text = shown(guide)
    assert len(re.findall(price, text)) > 10
    assert "$" not in text
    assert "USD" not in text
    assert f",{code}," in text, "the parts list as a file"
    speak(demo().wording.grammar, demo().shop.currency)


def test_two_guides_are_each_shown_in_their_own_currency(tmp_path: Path) -> None:
    euro = in_currency(tmp_path / "content", "EUR")
    for _ in range(2):
        assert "€" in shown(euro)
        assert "€" not in shown(demo())


def test_a_miss_is_written_with_the_point_of_the_language_that_is_spoken() -> None:
    english, nearly = demo().wording.grammar, Check("continuous-w", 101.5, 100.0, "W", True)
    speak(english, "USD")
    assert margin_text(nearly) == "1.5 %"
    speak(replace(english, decimal=","), "USD")
    assert margin_text(nearly) == "1,5 %"
    speak(english, "USD")


def test_a_grammar_writes_numbers_lists_and_prices() -> None:
    speak(demo().wording.grammar, "USD")
    assert (plain(1234.5, 1), money(1234.4), money(-3.0)) == ("1,234.5", "$1,234", "−$3")
    assert (all_of(("a", "b", "c")), one_of(("a", "b")), all_of(("a",)), all_of(())) == (
        "a, b and c",
        "a or b",
        "a",
        "",
    )


# Unicode CLDR plural rules, cardinal: English one for 1 without decimals; Russian one for 1, 21
# and few for 2 to 4, 22 to 24, but not 11 to 14; Polish other for decimals.
@pytest.mark.parametrize(
    ("language", "value", "digits", "form"),
    [
        ("en", 1.0, 0, "one"), ("en", 2.0, 0, "other"), ("en", 1.5, 1, "other"),
        ("en", 0.0, 0, "other"), ("en", 1.04, 1, "one"), ("en", 0.96, 0, "one"),
        ("ru", 21.0, 0, "one"), ("ru", 3.0, 0, "few"), ("ru", 11.0, 0, "many"),
        ("ru", 12.0, 0, "many"), ("ru", 2.5, 1, "other"), ("pl", 22.0, 0, "few"),
        ("fr", 1.5, 1, "one"), ("ja", 1.0, 0, "other"),
    ],
)  # fmt: skip
def test_a_number_takes_the_form_of_its_language(
    language: str, value: float, digits: int, form: str
) -> None:
    grammar = replace(demo().wording.grammar, plural=plural_rules(language))
    speak(grammar, "USD")
    assert plural_form(value, digits) == form
    speak(demo().wording.grammar, "USD")


def test_what_is_counted_is_said_in_its_form() -> None:
    speak(demo().wording.grammar, "USD")
    found = Sentences({"days": "{count} days"}, {"days": {"one": "{count} day"}})
    assert [found.count("days", value, 1) for value in (1.0, 1.04, 2.5)] == [
        "1 day",
        "1 day",
        "2.5 days",
    ]


def messages(folder: Path) -> list[str]:
    """What `check` says about a content folder."""
    with pytest.raises(ContentError) as caught:
        load_guide(folder)
    return [str(fault) for fault in caught.value.faults]


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's content with a second language."""
    folder = tmp_path_factory.mktemp("both") / "content"
    shutil.copytree(CONTENT, folder)
    add_pseudo(folder)
    return folder


SLIPS = {
    "page.yaml": (r"^why-this: .*\n", "", "“why-this”: engine/pages/templates/recommended.html"),
    "numbers.yaml": (r"\{duty\}", "{dutie}", "nothing fills in “{dutie}” here"),
    "questions.yaml": (r"^  id: rig\n", "  id: rigs\n", "there is no “rigs” in questions"),
    "cautions.yaml": (r"\{short_ka\}", "{short}", "nothing fills in “{short}” here"),
    "sheets.yaml": (r"\{bank_v\}", "{bank_volts}", "nothing fills in “{bank_volts}” here"),
    "grammar.yaml": (r"^plural_of: en", "plural_of: qqq", "no plural rules are published"),
    "priorities.yaml": (r"id: idle", "id: idel", "there is no “idel” in priorities"),
}


@pytest.mark.parametrize("name", SLIPS)
def test_what_a_language_lacks_is_told_with_its_file(both: Path, tmp_path: Path, name: str) -> None:
    folder = shutil.copytree(both, tmp_path / "content")
    old, new, told = SLIPS[name]
    file = folder / "words" / LANGUAGE / name
    text = file.read_text(encoding="utf-8")
    changed = re.sub(old, new, text, count=1, flags=re.MULTILINE)
    assert changed != text
    file.write_text(changed, encoding="utf-8")
    found = messages(folder)
    assert any(each.startswith(f"words/{LANGUAGE}/{name}:") and told in each for each in found)


@pytest.mark.parametrize("name", ["cautions.yaml", "faults.yaml"])
def test_a_language_has_all_its_files(both: Path, tmp_path: Path, name: str) -> None:
    folder = shutil.copytree(both, tmp_path / "content")
    (folder / "words" / LANGUAGE / name).unlink()
    assert any(
        f"words/{LANGUAGE}/{name}:1:1: the file: it is missing" in m for m in messages(folder)
    )


def test_no_sentence_is_said_with_other_facts_elsewhere() -> None:
    assert said_twice(everywhere()) == []


def test_a_key_that_is_not_written_out_is_refused() -> None:
    with pytest.raises(UnreadableKeyError, match=r"page\.html:1: the key is not written out"):
        list(in_template("{{ page[name] }}", "page.html"))
    source = "def f(guide, name):\n    page = guide.wording.page\n    return page[f'x-{name}']\n"
    module = Module(source, "engine/pages/f.py")
    with pytest.raises(UnreadableKeyError, match=r"f\.py:3: the key is not written out"):
        list(module.said())


def test_a_module_declares_what_it_says() -> None:
    source = """
def row(key: str, text: str) -> str:
    return page[key] + text

def told(page: Sentences, count: float, more: bool) -> list[str]:
    facts = {"asks": 1, "gives": 2}
    return [
        page["a"], page.say("b" if more else "c", name=1), page.count("d", count),
        page.one_of("e-", "x", ("x", "y")), page.say("f", **facts), page.pattern("g", "total"),
    ]
"""
    said = {
        each.key: (set(each.must), set(each.may), each.counts)
        for each in Module(source, "engine/pages/f.py").said()
    }
    assert said == {
        "a": (set(), set(), False),
        "b": ({"name"}, set(), False),
        "c": ({"name"}, set(), False),
        "d": (set(), {"count"}, True),
        "e-x": (set(), set(), False),
        "e-y": (set(), set(), False),
        "f": (set(), {"asks", "gives"}, False),
        "g": ({"total"}, set(), False),
    }
