"""The table of sentences: every key that code and templates say, with the facts that they give.

A sentence is declared where it is said, `numbers.say("service-line", amps=…, volts=…)` in Python,
`{{ page["start-over"] }}` in a template; nothing is listed a second time. This module reads those
calls. A key that it cannot read off the source is refused, so that the table is whole.
"""

import ast
import contextlib
import hashlib
import importlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import astuple, dataclass
from pathlib import Path

from jinja2 import Environment, nodes

from engine.advice.explain import STEPS
from engine.kept import kept
from guide.cache import CACHE, keep, read_kept
from guide.language import ROOMS
from guide.setup import ROOT

KEPT = CACHE / "sentences.json"
HOLDERS = {"Rows": "numbers"}
"""Classes that say the sentences of one file of words."""
HOLDING = ("self", "view", "rows", "labels")
"""Objects that hold sentences under the name of their file, such as view.page."""
SAYING = ("say", "count", "one_of", "pattern", "row")
MADE_LATER = {"ReadingError": "faults", "UnitError": "faults", "lacking": "parts"}
"""What keeps a key with its facts until a page words it, and in which file."""
CODE = ("engine", "site_src/build", "guide/trial.py")
EXPLAINED = "engine/advice/explain.py"
HANDS_ON = ROOT / "engine/wording/sentences.py"
"""Says what others have declared."""
TEMPLATES = (
    "engine/pages/templates/*.html",
    "site_src/docs/*.md",
    "site_src/docs/explained/*.md",
    "site_src/pictures/*.html",
)


@dataclass(frozen=True, slots=True)
class Said:
    """One place that says a sentence.

    must: the facts that it gives by name, each of which the words have; may: those that they may
        have, since several sentences get the same
    counts: whether the words may have a form for each number
    """

    room: str
    key: str
    must: frozenset[str]
    may: frozenset[str]
    counts: bool
    file: str
    line: int


class UnreadableKeyError(Exception):
    """A sentence is said by a key that stands nowhere in the source."""

    def __init__(self, file: str, line: int) -> None:
        super().__init__(
            f"{file}:{line}: the key is not written out; write it, or use one_of with all its ends"
        )


@kept("never", None)
def table() -> dict[tuple[str, str], Said]:
    """Every sentence by its file of words and key; of one that is said twice, the first place.

    It takes a second to read off the sources, so it is kept beside them until one of them changes.
    """
    digest = _digest()
    found = _read_kept(digest)
    if found is None:
        found = {}
        for said in everywhere():
            found.setdefault((said.room, said.key), said)
        _keep(digest, found)
    return found


def _digest() -> str:
    """Of everything that is read: sources, templates, and this module, which reads them."""
    digest = hashlib.sha256(repr(STEPS).encode())
    for file in (*_code(), *_templates(), Path(__file__)):
        digest.update(file.relative_to(ROOT).as_posix().encode() + b"\0" + file.read_bytes())
    return digest.hexdigest()


def _read_kept(digest: str) -> dict[tuple[str, str], Said] | None:
    with contextlib.suppress(ValueError, KeyError, TypeError):
        known = read_kept(KEPT)
        if known["digest"] == digest:
            rows = (
                Said(room, key, frozenset(must), frozenset(may), *rest)
                for room, key, must, may, *rest in known["said"]
            )
            return {(said.room, said.key): said for said in rows}
    return None


def _keep(digest: str, found: dict[tuple[str, str], Said]) -> None:
    rows = [
        [each.room, each.key, sorted(each.must), sorted(each.may), *astuple(each)[4:]]
        for each in found.values()
    ]
    keep(KEPT, {"digest": digest, "said": rows})


def _code() -> Iterator[Path]:
    for place in CODE:
        path = ROOT / place
        for file in [path] if path.is_file() else sorted(path.rglob("*.py")):
            if file != HANDS_ON:
                yield file


def _templates() -> Iterator[Path]:
    for pattern in TEMPLATES:
        yield from sorted(ROOT.glob(pattern))


def everywhere() -> Iterator[Said]:
    """Every place that says a sentence; titles of steps are declared as a table there."""
    for step, facts in STEPS.items():
        yield Said("steps", step, frozenset(), frozenset(facts), False, EXPLAINED, 1)
    for file in _code():
        name = file.relative_to(ROOT).as_posix()
        yield from Module(file.read_text("utf-8"), name).said()
    for file in _templates():
        yield from in_template(file.read_text("utf-8"), file.relative_to(ROOT).as_posix())


class Module:
    """The sentences that one module says."""

    def __init__(self, source: str, file: str) -> None:
        self.file = file
        self.tree = ast.parse(source)
        self.handed_on: dict[str, str] = {}
        """Functions that say the key which they are called with, and their file of words."""
        self.around: dict[ast.FunctionDef, list[ast.FunctionDef]] = {}
        """Every function, with itself and those around it, from outside in."""
        for each in self._functions():
            for within in ast.walk(each):
                if isinstance(within, ast.FunctionDef):
                    self.around.setdefault(within, []).append(each)

    def said(self) -> Iterator[Said]:
        for function in (None, *self._functions()):
            yield from self._in(function)
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                room = self.handed_on.get(node.func.id) or MADE_LATER.get(node.func.id)
                if room and node.args:
                    yield from self._of(room, node.args[0], node, _named(node), ())

    def _functions(self) -> Iterator[ast.FunctionDef]:
        yield from (each for each in ast.walk(self.tree) if isinstance(each, ast.FunctionDef))

    def _in(self, function: ast.FunctionDef | None) -> Iterator[Said]:
        """What stands in one function, or outside of all, and not in a function within."""
        known = _bound(self.tree) if function is None else self._known_in(function)
        for node in _own(function or self.tree):
            if isinstance(node, ast.Subscript):
                room = _room_of(node.value, known)
                if room and not isinstance(node.slice, ast.Slice):
                    yield from self._label(room, node, function)
            elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
                room = _room_of(node.func.value, known)
                if room and node.func.attr in SAYING and node.args:
                    yield from self._call(room, node, function)

    def _known_in(self, function: ast.FunctionDef) -> dict[str, str]:
        """The names by which a function has sentences, those of functions around it too."""
        return {name: room for each in self.around[function] for name, room in _bound(each).items()}

    def _label(
        self, room: str, node: ast.Subscript, function: ast.FunctionDef | None
    ) -> Iterator[Said]:
        if function and isinstance(node.slice, ast.Name) and node.slice.id in _parameters(function):
            self.handed_on[function.name] = room
        else:
            yield from self._of(room, node.slice, node, (), ())

    def _call(self, room: str, node: ast.Call, function: ast.FunctionDef | None) -> Iterator[Said]:
        attribute = node.func
        assert isinstance(attribute, ast.Attribute)
        must, may = _named(node), self._spread(node, function)
        if attribute.attr == "one_of":
            for key in self._ends(node):
                yield self._one(room, key, node, (), (*must, *may))
        elif attribute.attr == "pattern":
            facts = [each for arg in node.args[1:] for each in _texts(arg)]
            yield from self._of(room, node.args[0], node, facts, ())
        else:
            counts = attribute.attr == "count"
            more = ("count",) if counts else ()
            yield from self._of(room, node.args[0], node, must, (*may, *more), counts)

    def _of(
        self,
        room: str,
        key: ast.expr,
        node: ast.expr,
        must: Iterable[str],
        may: Iterable[str],
        counts: bool = False,
    ) -> Iterator[Said]:
        keys = _texts(key)
        if not keys:
            raise UnreadableKeyError(self.file, node.lineno)
        for each in keys:
            yield self._one(room, each, node, must, may, counts)

    def _one(
        self,
        room: str,
        key: str,
        node: ast.expr,
        must: Iterable[str],
        may: Iterable[str],
        counts: bool = False,
    ) -> Said:
        return Said(room, key, frozenset(must), frozenset(may), counts, self.file, node.lineno)

    def _ends(self, node: ast.Call) -> Iterator[str]:
        """The keys of `one_of(start, end, ends)`; the ends stand there, or in a named constant."""
        start, _, ends = node.args
        if not isinstance(start, ast.Constant):
            raise UnreadableKeyError(self.file, node.lineno)
        if isinstance(ends, ast.Tuple):
            found: Sequence[str] = [text for each in ends.elts for text in _texts(each)]
        elif isinstance(ends, ast.Name):
            module = importlib.import_module(self.file.removesuffix(".py").replace("/", "."))
            found = getattr(module, ends.id)
        else:
            raise UnreadableKeyError(self.file, node.lineno)
        yield from (str(start.value) + end for end in found)

    def _spread(self, node: ast.Call, function: ast.FunctionDef | None) -> list[str]:
        """The names of `**facts`, where those are a mapping that stands in the same function."""
        spread = [each.value for each in node.keywords if each.arg is None]
        names = {each.id for each in spread if isinstance(each, ast.Name)}
        return [
            key
            for each in _own(function or self.tree)
            if isinstance(each, ast.Assign)
            and any(isinstance(target, ast.Name) and target.id in names for target in each.targets)
            for key in _keys_of(each.value)
        ]


def _own(function: ast.AST) -> Iterator[ast.AST]:
    """The nodes of a function without those of functions within it."""
    waiting = list(ast.iter_child_nodes(function))
    while waiting:
        node = waiting.pop()
        yield node
        if not isinstance(node, ast.FunctionDef):
            waiting += ast.iter_child_nodes(node)


def _parameters(function: ast.FunctionDef) -> set[str]:
    return {each.arg for each in function.args.args}


def _bound(function: ast.AST) -> dict[str, str]:
    """Names that stand for the sentences of one file: parameters, and `page = ….wording.page`."""
    found: dict[str, str] = {}
    if isinstance(function, ast.FunctionDef):
        for each in function.args.args:
            kind = ast.unparse(each.annotation) if each.annotation else ""
            if kind == "Sentences" or kind in HOLDERS:
                found[each.arg] = HOLDERS.get(kind, each.arg)
    for node in _own(function):
        if isinstance(node, ast.Assign):
            target, value = node.targets[0], node.value
            pairs = [(target, value)]
            if isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
                pairs = list(zip(target.elts, value.elts, strict=True))
            for name, held in pairs:
                room = _room_of(held, {})
                if isinstance(name, ast.Name) and room:
                    found[name.id] = room
    return found


def _room_of(node: ast.expr, known: dict[str, str]) -> str | None:
    """The file of words that an expression stands for."""
    if isinstance(node, ast.Name):
        return known.get(node.id)
    if isinstance(node, ast.Attribute) and node.attr in ROOMS and node.attr != "steps":
        if isinstance(node.value, ast.Attribute) and node.value.attr == "wording":
            return node.attr
        owner = node.value.id if isinstance(node.value, ast.Name) else ""
        return node.attr if owner in HOLDING else None
    return None


def _named(node: ast.Call) -> list[str]:
    return [each.arg for each in node.keywords if each.arg is not None]


def _texts(node: ast.expr) -> list[str]:
    """The texts that an expression can be; none where that is not written out."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return [node.value]
    if isinstance(node, ast.IfExp):
        either, other = _texts(node.body), _texts(node.orelse)
        return either + other if either and other else []
    return []


def _keys_of(node: ast.expr) -> list[str]:
    if isinstance(node, ast.Dict):
        return [text for key in node.keys if key is not None for text in _texts(key)]
    return []


def in_template(source: str, file: str) -> Iterator[Said]:
    """The sentences that a template, or a page with filled-in parts, says."""
    for node in Environment(autoescape=True).parse(source).find_all((nodes.Getitem, nodes.Call)):
        if isinstance(node, nodes.Getitem):
            room, key, facts = _said_of(node.node), node.arg, ()
        elif isinstance(node, nodes.Call) and isinstance(node.node, nodes.Getattr) and node.args:
            room = _said_of(node.node.node) if node.node.attr in SAYING else None
            named = [each.key for each in node.kwargs]
            pattern = [each.value for each in node.args[1:] if isinstance(each, nodes.Const)]
            key, facts = node.args[0], (*named, *pattern)
        else:
            continue
        if room is None:
            continue
        keys = _consts(key)
        if not keys:
            raise UnreadableKeyError(file, node.lineno)
        for each in keys:
            yield Said(room, each, frozenset(facts), frozenset(), False, file, node.lineno)


def _said_of(node: nodes.Node) -> str | None:
    """The file of words that a template reads by the name of that file."""
    name = getattr(node, "name" if isinstance(node, nodes.Name) else "attr", "")
    return name if name in ROOMS else None


def _consts(node: nodes.Node) -> list[str]:
    if isinstance(node, nodes.Const) and isinstance(node.value, str):
        return [node.value]
    if isinstance(node, nodes.CondExpr) and node.expr2 is not None:
        return _consts(node.expr1) + _consts(node.expr2)
    return []


@kept("never", None)
def facts_of_rules() -> dict[str, tuple[str, ...]]:
    """What a caution's text may have filled in, by its rule: the facts that the rule gives."""
    tree = ast.parse((ROOT / "engine/advice/judge/cautions.py").read_text(encoding="utf-8"))
    functions = {each.name: each for each in tree.body if isinstance(each, ast.FunctionDef)}
    rules = next(
        each.value
        for each in tree.body
        if isinstance(each, ast.AnnAssign) and ast.unparse(each.target) == "RULES"
    )
    assert isinstance(rules, ast.Dict)
    found = {}
    for key, value in zip(rules.keys, rules.values, strict=True):
        rule = functions[value.id] if isinstance(value, ast.Name) else value
        found[ast.literal_eval(key)] = tuple(dict.fromkeys(_given(rule)))  # type: ignore[arg-type]
    return found


def _given(rule: ast.AST) -> Iterator[str]:
    for node in ast.walk(rule):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "_when":
            yield from _named(node)
        elif isinstance(node, ast.Return) and node.value is not None:
            yield from _keys_of(node.value)


@kept("never", None)
def facts_of(file: str, function: str) -> tuple[str, ...]:
    """The facts that a function gathers in a mapping: those of its longest one."""
    tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
    found = next(
        each
        for each in ast.walk(tree)
        if isinstance(each, ast.FunctionDef) and each.name == function
    )
    gathered = [tuple(_keys_of(each)) for each in ast.walk(found) if isinstance(each, ast.Dict)]
    return max(gathered, key=len)


def check_facts() -> tuple[str, ...]:
    """What the words of a check may have filled in."""
    return facts_of("engine/pages/words.py", "check_text")


def sheet_facts() -> tuple[str, ...]:
    """What a line's "planned" may have filled in."""
    return facts_of("engine/pages/print/sheets.py", "_facts")
