"""The columns of each family: one for each field of a product, with its unit, choices and note."""

from dataclasses import MISSING, dataclass, fields, is_dataclass
from types import UnionType
from typing import Annotated, Any, Literal, get_args, get_origin, get_type_hints

from engine.kept import kept
from engine.model.fields import Named, Points, Unit
from engine.model.products import OpenBox
from guide.load import CATALOGUE_FILES, kind_of_file
from guide.quantities import MONEY, examples, first_example
from guide.spreadsheet.opened import EXAMPLE

Path = tuple[str, ...]
Kind = Literal["quantity", "number", "flag", "choice", "text", "list", "curve", "offers"]
LIST, CURVE = ", ", "; "
"""What stands between the members of a list, and between the points of a curve."""
OFFERS: Kind = "offers"
"""A column of opened units, see `guide.spreadsheet.opened`."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    path: the keys under which its value stands in an entry
    unit: the unit in which the program holds it; "" for none
    choices: what may stand in it; () for anything
    """

    path: Path
    kind: Kind
    unit: str = ""
    choices: tuple[str, ...] = ()
    needed: bool = True
    note: str = ""

    @property
    def key(self) -> str:
        """Its name in the header, without its unit."""
        return ".".join(self.path)


WANTED = "needed"
"""The heading of a column that says what a row is to be; an import leaves it alone."""
FAMILIES = tuple(CATALOGUE_FILES)
"""The families of products, as the content names them; each has a sheet."""


@kept("never", None)
def columns_of(family: str) -> tuple[Column, ...]:
    """The columns of a family, in the order in which an entry is read."""
    found = kind_of_file(CATALOGUE_FILES[family])
    if found is None:
        raise KeyError(family)
    return tuple(_columns(found[0], (), needed=True))


def _columns(kind: Any, above: Path, *, needed: bool) -> list[Column]:
    hints = get_type_hints(kind, include_extras=True)
    found: list[Column] = []
    for each in fields(kind):
        hint, path = hints[each.name], (*above, each.name)
        must = needed and each.default is MISSING and each.default_factory is MISSING
        if is_dataclass(hint):
            found += _columns(hint, path, needed=must)
        elif get_args(hint)[:1] == (OpenBox,):
            note = f"Opened units, a line for each offer, such as {EXAMPLE}."
            found.append(Column(path, OFFERS, needed=False, note=note))
        else:
            found.append(_column(path, hint, must))
    return sorted(found, key=lambda each: ORDER.get(each.key, len(ORDER)))


ORDER = {name: place for place, name in enumerate(("id", "name", "maker", "price", "stock"))}


def _column(path: Path, hint: Any, needed: bool) -> Column:
    if get_origin(hint) is Annotated:
        return _marked(path, get_args(hint)[1], needed)
    if get_origin(hint) is tuple:
        choices = tuple(map(str, get_args(get_args(hint)[0])))
        return Column(
            path, "list", choices=choices, needed=needed, note=f"Any of: {LIST.join(choices)}."
        )
    if get_origin(hint) is Literal:
        return Column(path, "choice", choices=tuple(map(str, get_args(hint))), needed=needed)
    if hint is bool:
        return Column(path, "flag", choices=("true", "false"), needed=needed)
    if hint in (int, float) or isinstance(hint, UnionType):
        return Column(path, "number", needed=needed)
    note = "Gauge or cross-section, such as 2/0 or 70 mm2." if path[-1].endswith("awg") else ""
    return Column(path, "text", needed=needed, note=note)


def _marked(path: Path, marker: object, needed: bool) -> Column:
    """The column of a field that says its unit, its table or its points."""
    if isinstance(marker, Unit):
        note = "" if MONEY in marker.symbol else f"Such as {examples(marker.symbol)}."
        return Column(path, "quantity", marker.symbol, needed=needed, note=note)
    if isinstance(marker, Named):
        return Column(path, "choice", choices=tuple(marker.table), needed=needed)
    if isinstance(marker, Points):
        point = f"{first_example(marker.value)} at {first_example(marker.where)}"
        return Column(path, "curve", needed=needed, note=f"Points, such as {point}{CURVE}…")
    raise TypeError(marker)
