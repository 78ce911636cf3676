"""Live pieces of the explanatory pages: a few fields, worked out by the engine, drawn as HTML.

The build draws each with its first values, so that it serves as a picture and on paper; in the
browser the same function draws it again with what was typed.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.model.guide import Choice, Guide, Question
from engine.pages.pieces.drop import DROP
from engine.pages.pieces.form import Filled, Piece, PieceError, Result
from engine.pages.pieces.hours import HOURS
from engine.pages.pieces.start import START
from engine.pages.render import environment
from engine.typed.answers import read_answer
from engine.typed.outside import one_line
from engine.wording.sentences import Untold
from engine.wording.tongue import speak

PIECES: dict[str, Piece] = {each.id: each for each in (DROP, START, HOURS)}
TITLES = tuple(f"{name}-title" for name in PIECES)


@dataclass(frozen=True, slots=True)
class PieceField:
    """One field as it is drawn; `fault` is the message at it, "" for none."""

    id: str
    ask: str
    hint: str
    value: str
    choices: tuple[Choice, ...]
    fault: str


def piece_html(
    guide: Guide, piece_id: str, typed: Mapping[str, str] | None = None, *, live: bool = False
) -> str:
    """One piece with what was typed into its fields; an empty field takes its first value.

    live: whether its fields may be used, for which a script is needed

    Raises
    ------
    ValueError : if there is no such piece.
    """
    piece = PIECES.get(piece_id)
    if piece is None:
        raise ValueError(f"a piece is one of {', '.join(PIECES)}")
    speak(guide.wording.grammar, guide.shop.currency)
    pieces = guide.wording.pieces
    questions = piece.fields(guide)
    texts = {each.id: one_line((typed or {}).get(each.id, "")) for each in questions}
    filled, faults = _read(guide, questions, texts)
    result: Result | None = None
    if not faults:
        try:
            result = piece.work(guide, filled)
        except PieceError as fault:
            faults[fault.field] = str(fault)
    fields = [_field(each, texts[each.id], faults.get(each.id, "")) for each in questions]
    template = environment().get_template("piece.html")
    return template.render(
        pieces=pieces,
        page=guide.wording.page,
        title=pieces.one_of("", f"{piece.id}-title", TITLES),
        fields=fields,
        result=result,
        live=live,
    )


def _read(
    guide: Guide, questions: tuple[Question, ...], texts: Mapping[str, str]
) -> tuple[Filled, dict[str, str]]:
    values, faults = {}, {}
    for question in questions:
        try:
            value = read_answer(guide, question, texts[question.id] or question.default)
        except Untold as fault:
            faults[question.id] = fault.told(guide.wording.faults)
        else:
            if value is not None:
                values[question.id] = value
    return Filled(values), faults


def _field(question: Question, typed: str, fault: str) -> PieceField:
    shown = typed or question.default
    if question.choices and shown not in {choice.id for choice in question.choices}:
        shown = question.default
    return PieceField(question.id, question.ask, question.accepts, shown, question.choices, fault)
