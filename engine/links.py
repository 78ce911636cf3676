"""Answers <-> text: one grammar, question=value, in paths, fragments, forms and command lines."""

import difflib
import re
from collections.abc import Collection, Iterable
from dataclasses import replace
from itertools import accumulate
from urllib.parse import quote, unquote_plus

from engine.load_rows_typed import beside_assumed, beside_usual
from engine.model.answers import Answers, Fault, LoadList, Value
from engine.model.guide import Guide, Question
from engine.typed.answers import LONGEST_TEXT, read_answer
from engine.typed.outside import lines, one_line
from engine.wording.sentences import Untold

INDEX, NUMBERS = "index.html", "numbers.html"
"""Files in a page's folder: itself, and the numbers of its answer; both stand for its answers."""
_SAFE_IN_FRAGMENT = "/:,*;.-_"
EDITION = "edition"
"""A name in a link that is no question: the edition that the link was made from."""
NOTE = "note"
"""Another one: a few words from whoever sent the link to whoever opens it."""
WAS = "was"
"""A third one: what was recommended when the link was made, for an answer with details."""
_WAS = re.compile(r"none|[\w.-]{1,60}(?::[\w.-]{1,60}){8}")
LONGEST_NOTE = 300
LONGEST_LINK = 20_000
"""Every question with its longest text, each sign of it written as bytes, is shorter."""
NO_QUESTIONS = (EDITION, NOTE, WAS)
"""The names in a link that are none of a question."""
MOST_PAIRS = 100
LONGEST_SHOWN = 80
"""Characters of something that cannot be used, where a message shows it."""
LONGEST_UNREAD = 300
BEGINNING = 20
"""Characters of it that are kept; each takes up to twelve in a link."""
_EDITION = re.compile(r"[0-9a-f]{12}")


def read_pairs(guide: Guide, pairs: Iterable[str]) -> Answers:
    """Read "question=value" texts; what cannot be used becomes a fault, the rest is kept.

    Names are read in capitals, too: some programs write a whole link in them.
    """
    known = {name.lower(): name for name in (*(each.id for each in guide.questions), EDITION, NOTE)}
    typed: dict[str, str] = {}
    faults: list[Fault] = []
    words = guide.wording.faults
    for at, pair in enumerate(pairs):
        if at == MOST_PAIRS:
            faults.append(Fault("", "", words.say("too-many-pairs", most=MOST_PAIRS)))
            break
        name, sign, value = pair.partition("=")
        name = one_line(name)
        name = known.get(name.lower(), name)
        if not sign:
            shown = one_line(pair[:LONGEST_SHOWN])
            faults.append(Fault("", "", words.say("not-a-pair", text=shown), name=shown))
        elif name in typed:
            told = words.say("answered-twice", name=name[:LONGEST_SHOWN])
            as_answer = "" if name in NO_QUESTIONS else name[:LONGEST_SHOWN]
            faults.append(Fault("", one_line(typed[name][:LONGEST_SHOWN]), told, name=as_answer))
            typed[name] = value
        else:
            typed[name] = value
    return read_fields(guide, typed, tuple(faults))


def read_fields(guide: Guide, typed: dict[str, str], faults: tuple[Fault, ...] = ()) -> Answers:
    """Read typed texts by question id, in the guide's order of questions."""
    found: dict[str, Value] = {}
    wrong, words = list(faults), guide.wording.faults
    known = [question.id for question in guide.questions]
    edition = one_line(typed.get(EDITION, "")).lower()
    if edition and not _EDITION.fullmatch(edition):
        shown = edition[:LONGEST_SHOWN]
        wrong.append(Fault("", shown, words.say("no-edition", text=shown)))
        edition = ""
    for name in typed:
        if name not in known and name not in NO_QUESTIONS:
            shown = one_line(name)[:LONGEST_SHOWN]
            near = difflib.get_close_matches(shown, known, n=1)
            hint = words.say("did-you-mean", word=near[0]) if near else ""
            told = words.say("no-question", name=shown, hint=hint)
            wrong.append(Fault("", one_line(typed[name][:LONGEST_SHOWN]), told, name=shown))
    note = one_line(typed.get(NOTE, ""))
    if len(note) > LONGEST_NOTE:
        note = note[:LONGEST_NOTE]
        wrong.append(Fault("", note[:LONGEST_SHOWN], words.say("note-cut", longest=LONGEST_NOTE)))
    for question in guide.questions:
        if question.id in typed:
            try:
                value = _read(guide, question, typed[question.id], found)
            except Untold as fault:
                shown = lines(typed[question.id][:LONGEST_TEXT])
                wrong.append(Fault(question.id, shown, fault.told(words)))
            else:
                if value is not None:
                    found[question.id] = value
    was = one_line(typed.get(WAS, ""))
    return Answers(found, tuple(wrong), edition, note, was if _WAS.fullmatch(was) else "")


def _read(guide: Guide, question: Question, text: str, found: dict[str, Value]) -> Value | None:
    """One answer; a list of loads beside the usual things becomes the whole list."""
    more = beside_usual(text) if question.kind == "loads" else ""
    if not more:
        return read_answer(guide, question, text, _carried(guide, found))
    listed = read_answer(guide, question, beside_assumed(guide, Answers(found), more))
    return replace(listed, beside=more) if isinstance(listed, LoadList) else listed


def _carried(guide: Guide, found: dict[str, Value]) -> Collection[str]:
    """Ids of the appliances that the rig of these answers has; none while that is open."""
    return next((rig.carries for rig in guide.rigs if rig.id == found.get("rig")), {})


def read_link(guide: Guide, path: str, fragment: str = "") -> Answers:
    """Read a page's path below the guide and the fragment after "#"."""
    if len(path) + len(fragment) > LONGEST_LINK:
        told = guide.wording.faults.say("link-too-long", longest=LONGEST_LINK)
        return Answers(faults=(Fault("", one_line(path[:LONGEST_SHOWN]), told),))
    pairs = [
        unquote_plus(part) for part in path.split("/") if part and part not in (INDEX, NUMBERS)
    ]
    pairs += [unquote_plus(part) for part in fragment.lstrip("#").split("&") if part]
    return read_pairs(guide, pairs)


def path_of(guide: Guide, walked: Answers) -> str:
    """These answers as a path: "rig=coach-50/scope=whole/"; "" where there is none."""
    return "".join(f"{name}={walked.text(name)}/" for name in _in_order(guide, walked))


def fragment_of(guide: Guide, rest: Answers) -> str:
    """These answers as a fragment: "cable=15ft&bank=24V", a note last; "" where there is none.

    What could not be read stays in it as it was typed: whoever opens it again is told again.
    """
    pairs = [(name, rest.text(name)) for name in _in_order(guide, rest)]
    if rest.note:
        pairs.append((NOTE, rest.note))
    return "&".join([*_still_unread(rest), *(_quoted(name, text) for name, text in pairs)])


def _still_unread(rest: Answers) -> list[str]:
    """What was given and could not be read, where nothing took its place; each name once.

    Of what would make a link too long for a code to scan, only the beginning is kept.
    """
    found = {fault.given_as: fault.typed for fault in rest.unread}
    parts = [
        _kept(name, found[name])
        for name in sorted(found)
        if found[name] and name not in rest.values
    ]
    lengths = accumulate(map(len, parts))
    return [part for part, length in zip(parts, lengths, strict=True) if length <= LONGEST_UNREAD]


def _kept(name: str, text: str) -> str:
    """Such a text; of a long one so much that whoever opens it again is told again."""
    whole = _quoted(name, text)
    return whole if len(whole) <= LONGEST_UNREAD else _quoted(name, f"{text[:BEGINNING]}…")


def _quoted(name: str, text: str) -> str:
    return f"{quote(name, safe=_SAFE_IN_FRAGMENT)}={quote(text, safe=_SAFE_IN_FRAGMENT)}"


def stamped(fragment: str, edition: str, was: str = "") -> str:
    """A fragment that also names an edition, and what was recommended then."""
    said = f"{WAS}={was}" if was else ""
    return "&".join(filter(None, (fragment, said, f"{EDITION}={edition}")))


def public_link(guide: Guide, path: str, fragment: str = "", was: str = "") -> str:
    """The whole address to hand on, stamped with the edition that it was made from.

    was: what is recommended for it, where that hangs on details; see engine.past
    """
    return f"https://{guide.shop.site}/guide/{path}#{stamped(fragment, guide.edition, was)}"


def _in_order(guide: Guide, answers: Answers) -> list[str]:
    return [question.id for question in guide.questions if question.id in answers.values]
