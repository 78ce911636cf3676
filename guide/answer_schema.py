"""JSON Schema of an answer's JSON, for those who read it with programs of their own."""

from typing import Any

from guide.answer_shape import ANSWER, Form
from guide.schema import DIALECT


def answer_schema() -> dict[str, Any]:
    """The schema of what `rig-guide answer … --json` prints."""
    return {"$schema": DIALECT, "title": "An answer of the guide", **_of(ANSWER)}


def _of(form: Any) -> dict[str, Any]:
    """The schema of one form of the shape."""
    if isinstance(form, Form):
        inner = {"description": form.means, **_of(form.of)}
        return {**inner, "type": ["object", "null"]} if form.nullable else inner
    if isinstance(form, list):
        return {"type": "array", "items": _of(form[0])}
    if isinstance(form, dict):
        if "*" in form:
            return {"type": "object", "additionalProperties": _of(form["*"])}
        return {
            "type": "object",
            "properties": {key: _of(each) for key, each in form.items()},
            "required": list(form),
            "additionalProperties": False,
        }
    kinds, _, means = form.partition(": ")
    names = [*kinds.rstrip("?").split("|"), *(["null"] if kinds.endswith("?") else [])]
    return {"type": names[0] if len(names) == 1 else names, "description": means}
