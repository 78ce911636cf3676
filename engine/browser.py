"""What the page's worker calls: one JSON text in, one JSON text out."""

import json
from typing import Any

from engine.links import read_fields, read_link
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.respond import respond


def reply(request: str, guide: Guide) -> str:
    """Answer one request of the page.

    Request: `{"id": 7, "path": "rig=van/…", "fragment": "cable=15ft", "form": null, "changes":
    true}`. `form` holds the typed text of every field by its question, and then goes before the
    fragment; `changes` says whether what other answers would lead to is wanted too.

    Reply: `{"id", "title", "html", "path", "fragment", "status"}`.

    Raises
    ------
    ValueError : if the request is no JSON object of this form.
    """
    asked = json.loads(request)
    if not isinstance(asked, dict) or not isinstance(asked.get("path"), str):
        raise ValueError("a request is an object with id, path, fragment, form and changes")
    page = respond(guide, _answers(guide, asked), changes=bool(asked.get("changes", True)))
    return json.dumps(
        {
            "id": asked.get("id"),
            "title": page.title,
            "html": page.html,
            "path": page.path,
            "fragment": page.fragment,
            "status": page.answer.status,
        },
        ensure_ascii=False,
    )


def _answers(guide: Guide, asked: dict[str, Any]) -> Answers:
    form = asked.get("form")
    if not isinstance(form, dict):
        return read_link(guide, asked["path"], str(asked.get("fragment") or ""))
    on_path = read_link(guide, asked["path"])
    typed = {str(name): str(text) for name, text in form.items()}
    in_form = read_fields(guide, typed)
    return Answers({**on_path.values, **in_form.values}, on_path.faults + in_form.faults)
