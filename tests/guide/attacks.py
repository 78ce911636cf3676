"""Attacks on a content folder: each puts something into a good one and names what must be told."""

import os
import shutil
import socket
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

Attack = Callable[[Path], None]
LOADS, RIGS, SHOP, PRIORITIES = "loads.yaml", "rigs.yaml", "shop.yaml", "priorities.yaml"
PAGE, FANS, FUSES = "words/en/page.yaml", "catalogue/fans.yaml", "catalogue/fuses.yaml"
CAUTION, EDITION = "cautions/x.yaml", "editions/2025-01-01-abcdefabcdef.json"
SAID = "\nrecommended: Recommended for you\n"
NINE = tuple(zip("abcdefgh", "bcdefghi", strict=True))
"""Eight names, each nine times the one before: 43 million of the first."""


@dataclass(frozen=True, slots=True)
class Tried:
    """One attack and a part of the fault that it must end in; "" where it does no harm."""

    do: Attack
    told: str


def text(name: str, data: str | bytes) -> Attack:
    """A file of this text or these bytes."""

    def attack(folder: Path) -> None:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data if isinstance(data, bytes) else data.encode())

    return attack


def instead(name: str, old: str, new: str) -> Attack:
    """A file with one edit."""

    def attack(folder: Path) -> None:
        path = folder / name
        before = path.read_text("utf-8")
        assert old in before
        path.write_text(before.replace(old, new, 1), "utf-8", "surrogatepass")

    return attack


def said(quoted: str) -> Attack:
    """A sentence of the pages in double quotes, where YAML has escapes."""
    return instead(PAGE, SAID, f'\nrecommended: "{quoted}"\n')


def folder_at(name: str) -> Attack:
    """A folder with the name of a file."""

    def attack(folder: Path) -> None:
        (folder / name).unlink(missing_ok=True)
        (folder / name).mkdir(parents=True)

    return attack


def link(name: str, target: str) -> Attack:
    """A symbolic link in the place of a file."""

    def attack(folder: Path) -> None:
        (folder / name).unlink(missing_ok=True)
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).symlink_to(target)

    return attack


def pipe(name: str) -> Attack:
    """A pipe into which nobody writes."""

    def attack(folder: Path) -> None:
        (folder / name).unlink(missing_ok=True)
        (folder / name).parent.mkdir(exist_ok=True)
        os.mkfifo(folder / name)

    return attack


def bound(folder: Path) -> None:
    """A socket in the place of a file; its path is short since the system takes no long one."""
    (folder / LOADS).unlink()
    before = Path.cwd()
    os.chdir(folder)
    try:
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(LOADS)
    finally:
        os.chdir(before)


def not_text(folder: Path) -> None:
    """A file whose name is bytes that are no text."""
    Path(os.fsdecode(os.fsencode(folder / "cautions") + b"/\xff\xfe.yaml")).write_text("[]\n")


def file_for_folder(folder: Path) -> None:
    """A file where a folder is read."""
    shutil.rmtree(folder / "catalogue")
    (folder / "catalogue").write_text("x")


def every_file(data: str) -> Attack:
    """The same text in every file but one, which names the folder as content."""

    def attack(folder: Path) -> None:
        for path in folder.rglob("*.yaml"):
            path.write_text(data)

    return attack


def nothing_but_the_shop(folder: Path) -> None:
    """One file alone."""
    for path in folder.rglob("*.yaml"):
        if path.name != SHOP:
            path.unlink()


def repeated(first: str, line: str) -> str:
    """A text in which each line says the one before nine times."""
    return first + "".join(line.format(new, ",".join([f"*{old}"] * 9)) for old, new in NINE)


def chained(links: int) -> str:
    """Mappings of which each takes over the one before, and all of it the last."""
    rows = "".join(f"k{at}: &a{at} {{<<: *a{at - 1}}}\n" for at in range(1, links))
    return f"k0: &a0 {{name: x}}\n{rows}<<: *a{links - 1}\n"


UNSEEN = "cannot be seen"
DEEP = "lie too deep in each other"
REPEATED = "it repeats other entries too often or too deep"
TRIED: dict[str, Tried] = {
    # bytes and signs
    "no bytes": Tried(text(LOADS, ""), "the file is empty"),
    "NUL": Tried(text(LOADS, b"- id: a\0b\n"), "loads.yaml:1:8: this file: the sign U+0000"),
    "escape sequence": Tried(text(LOADS, "- id: a\x1b[31mred\n"), "the sign U+001B"),
    "C1 control": Tried(text(LOADS, "- id: a\x9bb\n"), "the sign U+009B"),
    "delete": Tried(text(LOADS, "- id: a\x7fb\n"), "the sign U+007F"),
    "turned direction": Tried(instead(PAGE, SAID, "\nrecommended: a\u202eb\n"), "U+202E"),
    "no width in a key": Tried(text(PRIORITIES, "li\u200bst: []\n"), "the sign U+200B"),
    "tag characters": Tried(instead(SHOP, "name: ", "name: \U000e0041"), "the sign U+E0041"),
    "escaped bell": Tried(said(r"a\a\e[31m"), "the sign U+0007"),
    "escaped direction": Tried(said(r"a\u202eb"), "the sign U+202E"),
    "escaped NUL": Tried(said(r"a\0"), "the sign U+0000"),
    "escaped half of a sign": Tried(said(r"a\ud800"), "this is not YAML"),
    "escaped number beyond all signs": Tried(said(r"a\UFFFFFFFF"), "this is not YAML"),
    "half of a sign": Tried(text(LOADS, b"- id: \xed\xa0\x80\n"), "not written in UTF-8"),
    "UTF-16": Tried(text(LOADS, "- id: a\n".encode("utf-16")), "not written in UTF-8"),
    "Latin-1": Tried(text(LOADS, "- id: café\n".encode("latin-1")), "not written in UTF-8"),
    "byte order mark": Tried(instead(SHOP, "# yaml", "\ufeff# yaml"), ""),
    "returns without line feeds": Tried(text(LOADS, b"- id: a\r- id: b\r"), "loads.yaml:1:3"),
    # shapes of YAML
    "takes over itself": Tried(text(RIGS, "- &a\n  id: x\n  <<: *a\n"), "this key is missing"),
    "takes over a number": Tried(text(RIGS, "- id: a\n  <<: 5\n"), "it takes over what holds no"),
    "takes over numbers": Tried(text(RIGS, "- id: a\n  <<: [1, [2]]\n"), "it takes over what"),
    "takes over nine times nine": Tried(
        text(RIGS, repeated("- &a {id: x}\n", "- &{0} {{<<: [{1}]}}\n")), "this key is missing"
    ),
    "takes over in a long chain": Tried(text(SHOP, chained(3000)), REPEATED),
    "holds itself": Tried(text(RIGS, "&a\n- *a\n"), "it must hold keys with values"),
    "is its own value": Tried(text(SHOP, "&a\nname: *a\n"), "it must be a single value"),
    "says itself nine times nine": Tried(
        text(PRIORITIES, repeated("a: &a [x]\n", "{0}: &{0} [{1}]\n")), "not known here"
    ),
    "two hundred times two thousand": Tried(
        instead(
            RIGS,
            "- id: van\n",
            f"- &l [{', '.join(['kettle'] * 2000)}]\n"
            f"- {{id: x, heavy: {{{', '.join(f'k{at}: *l' for at in range(200))}}}}}\n- id: van\n",
        ),
        REPEATED,
    ),
    "lists in lists": Tried(text(LOADS, "[" * 5000 + "]" * 5000), DEEP),
    "lists without an end": Tried(text(LOADS, "[" * 5000), DEEP),
    "mappings in mappings": Tried(text(LOADS, "{a: " * 3000 + "b" + "}" * 3000), DEEP),
    "indents in indents": Tried(text(LOADS, "".join(" " * i + "a:\n" for i in range(1200))), DEEP),
    "dashes in a line": Tried(text(LOADS, "- " * 4000 + "a\n"), DEEP),
    "a key twice, fifty times": Tried(text(SHOP, "name: a\n" * 50), "this key stands here twice"),
    "a list for a key": Tried(text(SHOP, "? [a, b]\n: c\n"), "this key is not known here"),
    "no key": Tried(text(SHOP, "? \n: c\n"), "this key is not known here"),
    "an unknown name": Tried(text(RIGS, "- *nobody\n"), "this is not YAML"),
    "two documents": Tried(text(RIGS, "- id: a\n---\n- id: b\n"), "this is not YAML"),
    "another version": Tried(text(RIGS, "%YAML 9.9\n---\n- id: a\n"), "rigs.yaml:"),
    "an order to Python": Tried(text(RIGS, "- !!python/object/apply:os.abort []\n"), "must hold"),
    "a broken tag": Tried(text(RIGS, "- !<%zz> a\n"), "this is not YAML"),
    "a mapping for a list": Tried(text(RIGS, "a: b\n"), "it must be a list"),
    "a list for a mapping": Tried(text(SHOP, "- a\n"), "it must hold keys with values"),
    "one key": Tried(text(PAGE, "start-over: Start over\n"), "it has no words"),
    "no rigs": Tried(text(RIGS, "[]\n"), "it lists nothing"),
    # lengths
    "three million bytes": Tried(text(LOADS, "- id: " + "a" * 3_000_000), "it is longer than"),
    "half a million in a line": Tried(text(LOADS, "- id: " + "a" * 500_000), "this key is missing"),
    "thousands of entries": Tried(text(LOADS, "- id: a\n" * 5000), "more; mend these first."),
    "a number of six thousand digits": Tried(
        instead(FANS, "price: 16 USD", f"price: {'9' * 6000} USD"), "is not understood"
    ),
    "a power of a power": Tried(
        instead(FANS, "price: 16 USD", "price: 1 m^9^9^9^9"), "is no unit known here"
    ),
    "braces only": Tried(said("{" * 9001), "a brace stands in it alone"),
    "a field as wide as the sea": Tried(said("{ask:>999999999}"), "nothing fills in “{ask}”"),
    "what lies behind a word": Tried(said("{page.__class__}"), "nothing fills in"),
    # what lies in the folder
    "folder for file": Tried(folder_at(LOADS), "loads.yaml:1:1: the file: it cannot be read"),
    "folder for caution": Tried(folder_at(CAUTION), "cautions/x.yaml:1:1: the file: it cannot"),
    "folder for edition": Tried(folder_at(EDITION), "the file: it cannot be read"),
    "file for folder": Tried(file_for_folder, "catalogue/fans.yaml:1:1: the file: it is missing"),
    "pipe": Tried(pipe(LOADS), "it is no file but a pipe or a device"),
    "pipe for caution": Tried(pipe(CAUTION), "it is no file but a pipe or a device"),
    "pipe for edition": Tried(pipe(EDITION), "it is no file but a pipe or a device"),
    "socket": Tried(bound, "the file: it cannot be read"),
    "link to itself": Tried(link(LOADS, LOADS), "the file: it cannot be read"),
    "link to nowhere": Tried(link(LOADS, "nowhere"), "the file: it cannot be read"),
    "link to zeros without end": Tried(link(LOADS, "/dev/zero"), "a pipe or a device"),
    "link to memory": Tried(link(LOADS, "/proc/self/mem"), "the file: it cannot be read"),
    "edition that links to zeros": Tried(link(EDITION, "/dev/zero"), "a pipe or a device"),
    "folder that links to its parent": Tried(link("cautions/again", ".."), ""),
    "name with escape sequence": Tried(text("cautions/a\x1b[31m.yaml", "[]\n"), "the file's name"),
    "name of two lines": Tried(text("cautions/a\nb.yaml", "[]\n"), "the file's name"),
    "name that is no text": Tried(not_text, "the file's name"),
    "language in two directions": Tried(text("words/e\u202en/page.yaml", "{}\n"), "file's name"),
    "file that nobody reads": Tried(text("words/page.yaml", "a: b\n"), "it is read nowhere"),
    "edition too deep": Tried(text(EDITION, "[" * 100_000), "this edition cannot be read"),
    "edition with no number": Tried(text(EDITION, '{"id": NaN}'), "this edition cannot be read"),
    "edition of bytes": Tried(text(EDITION, b"\xff\xfe"), "this edition cannot be read"),
    "id that climbs": Tried(instead(FUSES, "id: fuse-t-80", "id: ../x"), "ids stand in links"),
    "id that is markup": Tried(instead(FUSES, "id: fuse-t-80", "id: <b>"), "ids stand in links"),
    "choice that is two": Tried(
        instead("questions/answer-page.yaml", "- id: crimper", "- id: a/b=c"), "ids stand in links"
    ),
    "language that climbs": Tried(
        instead(SHOP, "currency: ", "language: ../x\ncurrency: "), "../x"
    ),
    "language without rules": Tried(
        instead("words/en/grammar.yaml", "plural_of: en", "plural_of: __import__"), "__import__"
    ),
    "nothing but the shop": Tried(nothing_but_the_shop, "it is missing"),
    "all empty": Tried(every_file(""), "the file is empty"),
    "all without keys": Tried(every_file("{}\n"), "this key is missing"),
    "all without entries": Tried(every_file("[]\n"), "it must hold keys with values"),
    "all without values": Tried(every_file("- ~\n- \n"), "it must hold keys with values"),
}
"""Every attack by its name."""
