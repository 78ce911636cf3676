"""The judge is judged: every kind of fault is made, put in, and found or not as it should be."""

import ast
import sys
from pathlib import Path
from types import ModuleType

import pytest

import guide.load
from engine.respond import conversation_of
from guide import paths_kept
from tests.mutation import apply as applying
from tests.mutation import words
from tests.mutation.apply import ROOT, note_blocks
from tests.mutation.faults import Fault, faults_of, with_fault
from tests.mutation.reach import Reach, Reached, order_of
from tests.mutation.same import SAME, why_same
from tests.mutation.trials import told
from tests.mutation.verdicts import Verdicts
from tests.mutation.words import facts_of, leave_out, without_fact

GUIDE = guide.load.load_guide()
SOURCE = '''"""Not changed: 1 + 1."""
LIMIT = 4
RATE = 0.5
NEAR = 1e-9


def kept(wrapped):
    def call(value: int = 3) -> int:
        return wrapped(value)

    call.__wrapped__ = wrapped
    return call


@kept
def price(count: int) -> float:
    if count < LIMIT and not count == 0:
        return max(count * RATE, 1.0)
    raise ValueError("1 + 1")


def doubled(value: int = 3, *, named: int = 2) -> int:
    return value * named


def rated(count: int, rate: float = RATE) -> float:
    return count * rate


class Box:
    @property
    def area(self) -> int:
        return 3 * -2
'''


def changes(source: str) -> list[str]:
    return [f"{fault.function}: {fault.change}" for fault in faults_of("m.py", source)]


def test_what_runs_is_changed_and_what_is_said_is_not() -> None:
    assert changes(SOURCE) == [
        ": 4 -> 5",
        ": 0.5 -> 0.55",
        f": 1e-09 -> {1e-9 * 1e6!r}",
        "kept.call: 3 -> 4",
        "price: And -> Or",
        "price: Lt -> LtE",
        "price: Not -> none",
        "price: Eq -> NotEq",
        "price: 0 -> 1",
        "price: max -> min",
        "price: Mult -> Div",
        "price: 1.0 -> 1.1",
        "doubled: 2 -> 3",
        "doubled: 3 -> 4",
        "doubled: Mult -> Div",
        "rated: Mult -> Div",
        "Box.area: Mult -> Div",
        "Box.area: 3 -> 4",
        "Box.area: USub -> none",
        "Box.area: 2 -> 3",
    ]


@pytest.mark.parametrize("place", range(20))
def test_each_fault_changes_one_place_of_the_text(place: int) -> None:
    fault = faults_of("m.py", SOURCE)[place]
    before, after = ast.unparse(ast.parse(SOURCE)), ast.unparse(with_fault(SOURCE, fault))
    pairs = zip(before.splitlines(), after.splitlines(), strict=True)
    assert sum(one != other for one, other in pairs) == 1


@pytest.fixture(autouse=True)
def _kept_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a fault lets go of is there again after the test."""
    monkeypatch.setattr(paths_kept, "FOLDER", paths_kept.FOLDER)


@pytest.fixture
def module(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> ModuleType:
    folder = tmp_path_factory.mktemp("faulty")
    (folder / "m.py").write_text(SOURCE)
    monkeypatch.setattr(applying, "ROOT", folder)
    made = ModuleType("m")
    made.__file__ = "m.py"
    exec(compile(SOURCE, "m.py", "exec"), vars(made))
    monkeypatch.setitem(sys.modules, "m", made)
    return made


def fault_of(function: str, change: str) -> Fault:
    return next(
        each
        for each in faults_of("m.py", SOURCE)
        if (each.function, each.change) == (function, change)
    )


def test_a_fault_reaches_a_function_that_is_wrapped(module: ModuleType) -> None:
    assert module.price(3) == 1.5
    applying.apply(fault_of("price", "Mult -> Div"))
    assert module.price(3) == 6.0


def test_a_fault_reaches_a_property(module: ModuleType) -> None:
    applying.apply(fault_of("Box.area", "3 -> 4"))
    assert module.Box().area == -8


def test_a_fault_reaches_what_is_taken_for_an_argument(module: ModuleType) -> None:
    assert module.doubled() == module.doubled(named=2) == 6
    applying.apply(fault_of("doubled", "3 -> 4"))
    assert module.doubled() == 8
    applying.apply(fault_of("doubled", "2 -> 3"))
    assert module.doubled() == 9


def test_a_fault_in_data_reaches_whoever_took_a_copy(
    module: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    user = ModuleType("user")
    vars(user)["RATE"] = module.RATE
    monkeypatch.setitem(sys.modules, "user", user)
    applying.apply(fault_of("", "0.5 -> 0.55"))
    assert module.RATE == vars(user)["RATE"] == 0.55
    assert module.price(3) == pytest.approx(1.65)
    assert module.rated(2) == pytest.approx(1.1)


def test_what_cannot_be_put_in_is_left_out(module: ModuleType) -> None:
    assert module.price
    assert applying.can_apply(fault_of("price", "0 -> 1"))
    assert not applying.can_apply(fault_of("kept.call", "3 -> 4"))


def reach(**tests: tuple[float, str]) -> Reach:
    """What tests reach, by the stem of each one's file."""
    return {
        f"tests/{name}.py::test": Reached(took, frozenset({place}))
        for name, (took, place) in tests.items()
    }


LOADS = "engine/sizing/loads.py"
DEMAND = f"{LOADS}:40"


def fault_at(block: int) -> Fault:
    return Fault(LOADS, 44, 8, (), "demand", block, "Mult -> Div", "return a * b")


REACH = reach(
    slow=(9.0, DEMAND),
    test_loads=(3.0, DEMAND),
    quick=(0.4, DEMAND),
    elsewhere=(0.1, f"{LOADS}:50"),
)


def test_tests_that_are_quick_or_near_come_first() -> None:
    found = ["tests/test_loads.py::test", "tests/quick.py::test", "tests/slow.py::test"]
    assert order_of(fault_at(40), REACH) == found
    assert order_of(fault_at(60), REACH) == []


def test_a_modules_own_data_are_looked_at_by_all_that_reach_the_module() -> None:
    assert len(order_of(fault_at(0), REACH)) == len(REACH)


def test_what_the_tests_of_a_file_keep_may_have_reached_the_place_for_others() -> None:
    other = {"tests/slow.py::other": Reached(9.0, frozenset())}
    assert order_of(fault_at(40), {**other, **REACH})[-1] == "tests/slow.py::other"


def test_blocks_note_that_they_are_run(module: ModuleType) -> None:
    run = note_blocks(["m.py"])
    with pytest.raises(ValueError, match="1"):
        module.price(9)
    assert run == {"m.py:17"}
    assert module.price(3) == 1.5
    assert run == {"m.py:17", "m.py:18"}
    assert module.Box().area == -6
    assert run == {"m.py:17", "m.py:18", "m.py:33"}


def test_a_fault_knows_the_block_that_a_test_must_reach_to_find_it() -> None:
    blocks = {(each.function, each.change): each.block for each in faults_of("m.py", SOURCE)}
    assert blocks["", "4 -> 5"] == 0
    assert blocks["price", "Lt -> LtE"] == 17
    assert blocks["price", "max -> min"] == 18
    assert blocks["doubled", "3 -> 4"] == blocks["doubled", "Mult -> Div"] == 23


def test_a_run_goes_on_where_another_was_cut(tmp_path: Path) -> None:
    file, left = tmp_path / "kept.txt", faults_of("m.py", SOURCE)
    first = Verdicts(str(file))
    first.note(left[0], "tests/quick.py::test")
    first.note(left[1], "")
    second = Verdicts(str(file))
    quick = {"tests/quick.py::test"}
    assert second.to_try(left[:3], quick, again=False) == [left[2]]
    assert second.to_try(left[:3], quick, again=True) == [left[1], left[2]]
    assert second.to_try(left[:3], {"tests/new.py::test"}, again=False) == [left[0], left[2]]
    assert second.finder(left[0]) == "tests/quick.py::test"
    second.note(left[1], "tests/slow.py::test")
    assert Verdicts(str(file)).finder(left[1]) == "tests/slow.py::test"


def test_two_faults_of_a_line_are_told_apart() -> None:
    found = faults_of("m.py", "def f(a: int) -> int:\n    return 2 * a + 2 * a\n")
    assert len({told(each) for each in found}) == len(found)


DOCUMENTED = '''def current_a(power_w: float) -> float:
    """The current.

    I = P / U + I_0
    """
    return power_w / 12.0
'''


def test_a_displayed_equation_gets_one_other_sign() -> None:
    fault = faults_of("m.py", DOCUMENTED)[0]
    assert (fault.function, fault.change) == ("current_a", "another equation")
    assert "I = P · U + I_0" in ast.unparse(with_fault(DOCUMENTED, fault))


def test_a_fault_in_an_equation_reaches_whoever_reads_the_docstring(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(applying, "ROOT", tmp_path)
    (tmp_path / "m.py").write_text(DOCUMENTED)
    made = ModuleType("m")
    made.__file__ = "m.py"
    exec(compile(DOCUMENTED, "m.py", "exec"), vars(made))
    monkeypatch.setitem(sys.modules, "m", made)
    applying.apply(faults_of("m.py", DOCUMENTED)[0])
    assert "I = P · U + I_0" in (made.current_a.__doc__ or "")
    assert made.current_a(24.0) == 2.0


def test_a_sentence_is_left_without_one_of_its_facts() -> None:
    text = '# {no} words\nload: "{watts}, {watts} a day"\n'
    first, second = facts_of("words.yaml", text)
    assert without_fact(text, first) == '# {no} words\nload: ", {watts} a day"\n'
    assert without_fact(text, second) == '# {no} words\nload: "{watts},  a day"\n'


def test_a_fault_in_words_reaches_whoever_reads_the_content(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    loading = vars(guide.load)
    monkeypatch.setitem(loading, "compose", loading["compose"])  # put back afterwards
    name = "words/en/numbers.yaml"
    text = (ROOT / words.FOLDER / "numbers.yaml").read_text("utf-8")
    fault = next(iter(facts_of(f"guide/content/{name}", text)))
    whole = loading["compose"](name, text)
    leave_out(fault)
    assert repr(loading["compose"](name, text)) != repr(whole)
    assert repr(loading["compose"]("other.yaml", text)) == repr(whole)


def test_what_was_kept_of_the_engine_without_the_fault_is_let_go(module: ModuleType) -> None:
    assert module.price(3) == 1.5
    before = conversation_of(GUIDE)
    assert conversation_of(GUIDE) is before
    applying.apply(fault_of("price", "Mult -> Div"))
    assert not paths_kept.FOLDER.exists()
    assert conversation_of(GUIDE) is not before


def test_what_is_listed_as_changing_nothing_is_in_the_code_as_it_stands() -> None:
    for file, text, change in SAME:
        found = faults_of(file, (ROOT / file).read_text("utf-8"))
        assert any((each.text, each.change) == (text, change) for each in found), (file, text)
        assert all(why_same(each) for each in found if (each.text, each.change) == (text, change))
