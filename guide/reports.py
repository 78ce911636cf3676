"""What `coverage` and `compare` found, as text, as JSON, and as HTML."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

import jinja2

from engine.kept import kept
from engine.model.guide import Guide
from guide.compare import Comparison, Move
from guide.coverage import Report
from guide.coverage_file import Finding

MOST_SHOWN = 10
TEMPLATES = Path(__file__).resolve().parent / "templates"
STYLE = """body{font:1rem/1.5 system-ui,sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem;
color-scheme:light dark}table{border-collapse:collapse}td,th{padding:.2rem .8rem;text-align:left;
border-bottom:1px solid}code{overflow-wrap:anywhere}"""


@kept("never", None)
def _templates() -> jinja2.Environment:
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def as_json(found: Report | Comparison) -> str:
    """A report as data."""
    data = _coverage_data(found) if isinstance(found, Report) else _compare_data(found)
    return json.dumps(data, ensure_ascii=False, indent=2)


def as_page(title: str, inner: str) -> str:
    """A report by itself in a file that opens anywhere."""
    return (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        f'<meta name="viewport" content="width=device-width"><style>{STYLE}</style></head>'
        f"<body>\n{inner}</body></html>\n"
    )


def coverage_text(report: Report) -> str:
    """The report of a walk over all states, for a terminal."""
    return "\n".join(_coverage_lines(report))


def _coverage_lines(report: Report) -> Iterator[str]:
    yield (
        f"Edition {report.edition} of {report.date}: {report.states} pages, {report.answers} of "
        f"them answers, after {report.depth_least} to {report.depth_most} questions"
    )
    yield f"{report.ways} ways through the short path, {report.tried} answers worked out"
    yield f"Pages that ask: {', '.join(f'{name} {count}' for name, count in report.asked)}"
    for note in report.notes:
        yield f"Note: {note}"
    for finding in report.faults:
        yield f"{finding.name}: {finding.what}"
        yield from (f"    {detail}" for detail in finding.details)
    accepted = len(report.findings) - len(report.faults)
    known = f"; {accepted} more are known and left" if accepted else ""
    yield f"{_count(len(report.faults), 'fault')}{known}"


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}{'' if number == 1 else 's'}"


def _coverage_data(report: Report) -> dict[str, Any]:
    return {**asdict(report), "faults": [each.name for each in report.faults]}


def coverage_html(guide: Guide, report: Report) -> str:
    """The report of a walk, to stand in a page."""
    accepted: dict[str, list[Finding]] = {}
    for finding in report.findings:
        if finding.accepted:
            accepted.setdefault(finding.accepted, []).append(finding)
    return (
        _templates()
        .get_template("coverage.html")
        .render(
            report=report,
            asks={name: guide.question(name).ask for name, _ in report.asked},
            accepted=list(accepted.items()),
        )
    )


def compare_text(found: Comparison) -> str:
    """The comparison of two editions, for a terminal."""
    return "\n".join(_compare_lines(found))


def _compare_lines(found: Comparison) -> Iterator[str]:
    yield f"From edition {found.old} to edition {found.new}"
    yield f"{found.changed} of {found.answers} answers change"
    for count, what in ((len(found.added), "new"), (len(found.gone), "gone")):
        if count:
            yield f"{_count(count, 'page')} {'is' if count == 1 else 'are'} {what}"
    for cause in found.causes:
        yield f"{cause.title}: moves {cause.count} of {found.answers} answers"
        yield from _moves(cause.moves)
    for edit in found.still:
        yield f"{edit.cause}: {edit.what}: changes no answer"


def _moves(moves: tuple[Move, ...]) -> Iterator[str]:
    for move in moves[:MOST_SHOWN]:
        change = f": from {move.before} to {move.now}" if move.before else ""
        yield f"    {move.count} × {move.what}{change} (such as {move.example})"
    rest = moves[MOST_SHOWN:]
    if rest:
        yield f"    {sum(move.count for move in rest)} more, in {len(rest)} ways (--json has all)"


def _compare_data(found: Comparison) -> dict[str, Any]:
    return {
        "old": found.old,
        "new": found.new,
        "answers": found.answers,
        "changed": found.changed,
        "added": list(found.added),
        "gone": list(found.gone),
        "moves": [asdict(move) for move in found.moves],
        "causes": [
            {
                "cause": cause.edit.cause if cause.edit else None,
                "what": cause.title,
                "count": cause.count,
                "moves": [asdict(move) for move in cause.moves],
            }
            for cause in found.causes
        ],
        "without_effect": [{"cause": edit.cause, "what": edit.what} for edit in found.still],
    }


def compare_html(found: Comparison) -> str:
    """The comparison of two editions, to stand in a page."""
    return _templates().get_template("compare.html").render(found=found)
