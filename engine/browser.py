"""What the page's worker calls: one JSON text in, one JSON text out."""

import json
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from engine.answer import answer_of
from engine.conversation import Key
from engine.links import read_fields, read_link
from engine.load_rows_typed import FIELD, typed_loads
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.pages.drawings.diagram_symbols import Symbol, recall_symbols
from engine.pages.other_case import change_done
from engine.pages.pieces.pieces import piece_html
from engine.pages.print.exports import download
from engine.pages.request import request_html
from engine.pages.staff import staff
from engine.pages.staff.show import home_html
from engine.pages.staff.visits import Visit, visits_csv
from engine.respond import Page, conversation_of, respond
from engine.ways import Signature

KEPT_IN_BROWSER = 250  # outcomes of 0.15 MB each; a phone has little memory


def recall(guide: Guide, signatures: dict[Key, Signature], symbols: tuple[Symbol, ...]) -> None:
    """Take over what the build worked out and drew, so that the first reply need not."""
    recall_symbols(symbols)
    conversation = conversation_of(guide)
    conversation.keep = KEPT_IN_BROWSER
    conversation.remember(signatures)


def reply(request: str, guide: Guide) -> str:
    """Answer one request of a page, by its `kind`.

    Without a kind, an answer page is wanted: `{"id": 7, "path": "rig=van/…", "fragment":
    "cable=15ft", "form": null, "whole": true}`. `form` holds the typed text of every field by its
    question (of the loads, that of each field of their rows, as engine.load_rows_typed reads them),
    and then goes before the fragment; `whole` says whether that is wanted too which can come a
    moment later: what other answers would lead to, the code on paper, and what stands in the
    chapters whose titles' ids `later` lists;
    `since` is the fragment of the answer before, where the reply's `did` is to say what changed;
    `up` is where the guide's folder lies from the page that shows it, if that is not the answer's
    own. Reply: `{"id", "did", "title", "html", "path", "fragment", "status"}`, the HTML
    with the borders of `engine.pages.render.Drawn`.

    The other kinds are those of KINDS; a link is path and fragment as one text. A request that
    could not be answered has `{"id", "refused"}` as its reply: what went wrong, for the console.
    The page has words of its own for that, and keeps what it shows.

    Raises
    ------
    ValueError : if the request is no JSON object of such a form.
    """
    asked = json.loads(request)
    if not isinstance(asked, dict):
        raise ValueError("a request is an object")
    work = KINDS.get(str(asked.get("kind") or "page"))
    if work is None:
        raise ValueError(f"a request is of one of the kinds {', '.join(KINDS)}")
    try:
        found = work(guide, asked)
    except Exception as fault:  # one answer that fails must not end the engine for all others
        found = {"refused": f"{type(fault).__name__}: {fault}"}
    return json.dumps({"id": asked.get("id"), **found}, ensure_ascii=False)


def _page(guide: Guide, asked: dict[str, Any]) -> dict[str, str]:
    if not isinstance(asked.get("path"), str):
        raise ValueError("a request for a page has path, fragment, form and whole")
    whole, up = bool(asked.get("whole", True)), asked.get("up")
    later = () if whole else asked.get("later") or ()
    answers = _answers(guide, asked)
    page = respond(guide, answers, changes=whole, takeaway=whole, up=up, later=later)
    since = asked.get("since")
    did = _did(guide, asked["path"], since, page) if whole and isinstance(since, str) else ""
    return {
        "did": did,
        "title": page.title,
        "html": page.bordered,
        "path": page.path,
        "fragment": page.fragment,
        "status": page.answer.status,
    }


def _did(guide: Guide, path: str, since: str, page: Page) -> str:
    """What became of the answer by the last change of its details."""
    before = answer_of(conversation_of(guide), read_link(guide, path, since), changes=False)
    return change_done(guide, before.outcome, page.answer.outcome)


def _text(asked: dict[str, Any], name: str) -> str:
    return str(asked.get(name) or "")


def _complete(guide: Guide, asked: dict[str, Any]) -> dict[str, str]:
    link, text = _text(asked, "link"), _text(asked, "text")
    return {"html": staff.options_html(conversation_of(guide), link, text)}


def _message(guide: Guide, asked: dict[str, Any]) -> dict[str, str]:
    note = None if asked.get("note") is None else _text(asked, "note")
    return {"html": staff.message_html(conversation_of(guide), _text(asked, "link"), note)}


def _asks(guide: Guide, asked: dict[str, Any]) -> dict[str, str]:
    waiting = asked.get("asks")
    asks = map(str, waiting if isinstance(waiting, list) else [])
    return {"html": staff.asks_html(conversation_of(guide), _text(asked, "link"), asks)}


def _compare(guide: Guide, asked: dict[str, Any]) -> dict[str, str]:
    links = (_text(asked, "kept"), _text(asked, "link"))
    return {"html": staff.compare_html(conversation_of(guide), links)}


def _home(guide: Guide, asked: dict[str, Any]) -> dict[str, str]:
    return {"html": home_html(conversation_of(guide), _text(asked, "link"))}


def _request(guide: Guide, asked: dict[str, Any]) -> dict[str, str]:
    return {"html": request_html(conversation_of(guide), _text(asked, "link"))}


def _visits(guide: Guide, asked: dict[str, Any]) -> dict[str, str]:
    kept = asked.get("visits")
    visits = [
        Visit(_text(each, "link"), _text(each, "when"), _text(each, "contact"))
        for each in (kept if isinstance(kept, list) else [])
        if isinstance(each, dict)
    ]
    return {"text": visits_csv(conversation_of(guide), visits)}


def _piece(guide: Guide, asked: dict[str, Any]) -> dict[str, str]:
    given = asked.get("fields")
    fields = given.items() if isinstance(given, dict) else ()
    typed = {str(name): str(text) for name, text in fields}
    return {"html": piece_html(guide, _text(asked, "piece"), typed, live=True)}


def _file(guide: Guide, asked: dict[str, Any]) -> dict[str, str]:
    path, _, fragment = _text(asked, "link").partition("#")
    advice = answer_of(
        conversation_of(guide), read_link(guide, path, fragment), changes=False
    ).advice
    if advice is None:
        raise ValueError("only a recommendation has a parts list")
    file = download(guide, advice, _text(asked, "name"))
    return {"name": file.name, "type": file.kind, "text": file.text}


KINDS: dict[str, Callable[[Guide, dict[str, Any]], dict[str, str]]] = {
    "page": _page,
    "complete": _complete,
    "asks": _asks,
    "message": _message,
    "compare": _compare,
    "home": _home,
    "request": _request,
    "visits": _visits,
    "piece": _piece,
    "file": _file,
}
"""What can be asked for, by kind: `complete` takes link and text; `asks` link and the
replacements that wait, as fragments; `message` link and note, null for that of the link;
`compare` kept and link; `home` and `request` link;
`visits` a list of link, when and contact; `piece` the name
of a live piece and its fields; `file` the link of a recommendation and the name of its file."""


def _answers(guide: Guide, asked: dict[str, Any]) -> Answers:
    form = asked.get("form")
    whole = read_link(guide, asked["path"], _text(asked, "fragment"))
    if not isinstance(form, dict):
        return whole
    beneath = whole if asked.get("beneath") else read_link(guide, asked["path"])
    fields = {str(name): str(text) for name, text in form.items()}
    typed = _with_loads(guide, whole, fields)
    in_form = read_fields(guide, typed)
    mended = {*typed, *in_form.values}
    still = tuple(fault for fault in whole.faults if fault.given_as not in mended)
    kept = {name: value for name, value in beneath.values.items() if typed.get(name) != ""}
    faults = tuple(replace(fault, in_form=True) for fault in in_form.faults)
    return Answers({**kept, **in_form.values}, still + faults, note=whole.note)


def _with_loads(guide: Guide, whole: Answers, typed: dict[str, str]) -> dict[str, str]:
    """What was typed, with the rows of the loads as the one list that they make."""
    listed = typed_loads(guide, whole, typed)
    rest = {name: text for name, text in typed.items() if not name.startswith(FIELD)}
    return rest if listed is None else {**rest, "loads": listed}
