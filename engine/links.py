"""Answers <-> text: one grammar, question=value, in paths, fragments, forms and command lines."""

import difflib
import re
from collections.abc import Iterable
from urllib.parse import quote, unquote_plus

from engine.model.answers import Answers, Fault, Value
from engine.model.guide import Guide
from engine.typed.answers import LONGEST_TEXT, read_answer
from engine.typed.outside import lines, one_line
from engine.wording.sentences import Untold

_SAFE_IN_FRAGMENT = "/:,*;.-_"
EDITION = "edition"
"""A name in a link that is no question: the edition that the link was made from."""
NOTE = "note"
"""Another one: a few words from whoever sent the link to whoever opens it."""
LONGEST_NOTE = 300
LONGEST_LINK = 20_000
"""Every question with its longest text, each sign of it written as bytes, is shorter."""
MOST_PAIRS = 100
LONGEST_SHOWN = 80
"""Characters of something that cannot be used, where a message shows it."""
_EDITION = re.compile(r"[0-9a-f]{12}")


def read_pairs(guide: Guide, pairs: Iterable[str]) -> Answers:
    """Read "question=value" texts; what cannot be used becomes a fault, the rest is kept."""
    typed: dict[str, str] = {}
    faults: list[Fault] = []
    words = guide.wording.faults
    for at, pair in enumerate(pairs):
        if at == MOST_PAIRS:
            faults.append(Fault("", "", words.say("too-many-pairs", most=MOST_PAIRS)))
            break
        name, sign, value = pair.partition("=")
        name = one_line(name)
        if not sign:
            shown = one_line(pair[:LONGEST_SHOWN])
            faults.append(Fault("", shown, words.say("not-a-pair", text=shown)))
        elif name in typed:
            told = words.say("answered-twice", name=name[:LONGEST_SHOWN])
            faults.append(Fault(name, one_line(value[:LONGEST_SHOWN]), told))
            typed[name] = value
        else:
            typed[name] = value
    return read_fields(guide, typed, tuple(faults))


def read_fields(guide: Guide, typed: dict[str, str], faults: tuple[Fault, ...] = ()) -> Answers:
    """Read typed texts by question id, in the guide's order of questions."""
    found: dict[str, Value] = {}
    wrong, words = list(faults), guide.wording.faults
    known = [question.id for question in guide.questions]
    edition = one_line(typed.get(EDITION, ""))
    if edition and not _EDITION.fullmatch(edition):
        shown = edition[:LONGEST_SHOWN]
        wrong.append(Fault("", shown, words.say("no-edition", text=shown)))
        edition = ""
    for name in typed:
        if name not in known and name not in (EDITION, NOTE):
            shown = one_line(name)[:LONGEST_SHOWN]
            near = difflib.get_close_matches(shown, known, n=1)
            hint = words.say("did-you-mean", word=near[0]) if near else ""
            wrong.append(Fault("", shown, words.say("no-question", name=shown, hint=hint)))
    note = one_line(typed.get(NOTE, ""))
    if len(note) > LONGEST_NOTE:
        note = note[:LONGEST_NOTE]
        wrong.append(Fault("", note[:LONGEST_SHOWN], words.say("note-cut", longest=LONGEST_NOTE)))
    for question in guide.questions:
        if question.id in typed:
            try:
                value = read_answer(guide, question, typed[question.id])
            except Untold as fault:
                shown = lines(typed[question.id][:LONGEST_TEXT])
                wrong.append(Fault(question.id, shown, fault.told(words)))
            else:
                if value is not None:
                    found[question.id] = value
    return Answers(found, tuple(wrong), edition, note)


def read_link(guide: Guide, path: str, fragment: str = "") -> Answers:
    """Read a page's path below the guide and the fragment after "#"."""
    if len(path) + len(fragment) > LONGEST_LINK:
        told = guide.wording.faults.say("link-too-long", longest=LONGEST_LINK)
        return Answers(faults=(Fault("", one_line(path[:LONGEST_SHOWN]), told),))
    pairs = [unquote_plus(part) for part in path.split("/") if part and part != "index.html"]
    pairs += [unquote_plus(part) for part in fragment.lstrip("#").split("&") if part]
    return read_pairs(guide, pairs)


def path_of(guide: Guide, walked: Answers) -> str:
    """These answers as a path: "rig=coach-50/scope=whole/"; "" where there is none."""
    return "".join(f"{name}={walked.text(name)}/" for name in _in_order(guide, walked))


def fragment_of(guide: Guide, rest: Answers) -> str:
    """These answers as a fragment: "cable=15ft&bank=24V", a note last; "" where there is none."""
    pairs = [(name, rest.text(name)) for name in _in_order(guide, rest)]
    if rest.note:
        pairs.append((NOTE, rest.note))
    return "&".join(f"{name}={quote(text, safe=_SAFE_IN_FRAGMENT)}" for name, text in pairs)


def stamped(fragment: str, edition: str) -> str:
    """A fragment that also names an edition."""
    return "&".join(filter(None, (fragment, f"{EDITION}={edition}")))


def public_link(guide: Guide, path: str, fragment: str = "") -> str:
    """The whole address to hand on, stamped with the edition that it was made from."""
    return f"https://{guide.shop.site}/guide/{path}#{stamped(fragment, guide.edition)}"


def _in_order(guide: Guide, answers: Answers) -> list[str]:
    return [question.id for question in guide.questions if question.id in answers.values]
