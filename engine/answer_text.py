"""An answer as data (JSON) and as plain text for a terminal."""

import json
from typing import Any

from engine.advice.judge.binding import binding_of
from engine.advice.judge.runs import runs_of
from engine.advice.judge.works_when import works_when
from engine.answer import Advice, Answer
from engine.answer_sources import charging_data, existing_data, week_data
from engine.editions import notice
from engine.model.answers import UNSURE, Answers, Fault
from engine.model.guide import Guide, Question
from engine.model.parts import OrderLine
from engine.model.products import OpenBox
from engine.model.result import (
    Branch,
    Change,
    Check,
    Considered,
    DcConductor,
    Design,
    Holds,
    HouseSide,
    Outcome,
    Working,
)
from engine.pages import words
from engine.pages.answer.advice_view import AdviceView, reason_of, why_not
from engine.pages.answer.list_notes import list_notes
from engine.pages.answer.parts_view import PartsView
from engine.pages.answer.run_sentence import runs_sentence
from engine.pages.answer.workings import workings_of
from engine.pages.answer.works_when import lasts_data, loads_data, works_data, works_lines
from engine.pages.form import assumed_text
from engine.pages.other_case import (
    change_label,
    difference,
    holds_text,
    price_difference,
    taken_cases,
)
from engine.pages.other_setups import design_of, hours_of, less_of, setups_of
from engine.pages.rests import Marks, marks_of
from engine.pages.unread import assumed_for, line_of, told_of
from engine.respond import conversation_of


def as_json(guide: Guide, answer: Answer) -> str:
    """The answer as a JSON text; its keys are part of this project's interface."""
    return json.dumps(as_data(guide, answer), ensure_ascii=False, indent=2, allow_nan=False)


def as_data(guide: Guide, answer: Answer) -> dict[str, Any]:
    """The answer as plain lists, mappings, texts and numbers."""
    outcome, advice = answer.outcome, answer.advice
    best = outcome.best if outcome else None
    return {
        "edition": guide.edition,
        "link": conversation_of(guide).link(answer.answers),
        "status": answer.status,
        "notice": notice(conversation_of(guide), answer.answers),
        "next_question": _question(answer.next_question),
        "recommendation": _recommendation(best),
        "runner_up": _recommendation(advice.runner_up if advice else None),
        "checks": [_check(check) for check in best.checks] if best else [],
        "stopped_by": _stopped_by(answer),
        "considered": [_considered(each) for each in (outcome.considered if outcome else ())],
        "taken": _taken(guide, answer),
        "holds_for": _holds(answer.holds),
        "what_changes_it": [
            _change(guide, outcome, change) for change in answer.changes or () if outcome
        ],
        "alternatives": _alternatives(guide, answer),
        "give_up": _give_up(guide, answer),
        "verdict": words.verdict(guide, answer),
        "faults": [_fault(guide, answer.answers, fault) for fault in answer.answers.faults],
        "rests_on_assumption": _resting(guide, answer),
        **_details(guide, advice),
    }


def _fault(guide: Guide, answers: Answers, fault: Fault) -> dict[str, Any]:
    return {
        "question": fault.question,
        "name": fault.given_as,
        "typed": fault.typed,
        "message": fault.message,
        "assumed": assumed_for(guide, answers, fault) or None,
        "says": line_of(guide, answers, fault),
    }


def _resting(guide: Guide, answer: Answer) -> list[dict[str, str]]:
    """The figures, as the page shows them, that rest on what was assumed for a fault."""
    if answer.advice is None:
        return []
    marks = marks_of(conversation_of(guide), answer.advice, answer.answers)
    view = AdviceView(guide, answer.advice)
    rows = [(row.label, row.text) for row in view.facts()]
    rows += [(each.label, each.text) for part in view.sections for each in part.numbers]
    return [{"label": label, "text": text} for label, text in rows if marks.on(label + text)]


def _question(question: Question | None) -> dict[str, Any] | None:
    if question is None:
        return None
    return {
        "id": question.id,
        "ask": question.ask,
        "choices": [choice.id for choice in question.choices],
    }


def _considered(each: Considered) -> dict[str, Any]:
    return {
        "layout": each.candidate.layout,
        "inverter": each.candidate.inverter.id,
        "count": each.candidate.units,
        "soft_starters": each.candidate.soft_starters,
        "passes": each.design is not None,
        "score": each.score if each.design else None,
        "failed": [_check(check) for check in each.failed],
    }


def _stopped_by(answer: Answer) -> dict[str, Any] | None:
    """The constraint that binds where nothing fits."""
    if answer.status != "none-fits" or answer.outcome is None:
        return None
    name, _, check = binding_of(answer.outcome.considered)
    return {"constraint": name, "check": _check(check)}


def _taken(guide: Guide, answer: Answer) -> list[dict[str, Any]]:
    return [
        {"question": each.question.id, "choice": each.choice.id, "look": shown.look}
        for each, shown in zip(answer.taken, taken_cases(guide, answer), strict=True)
    ]


def _holds(holds: Holds | None) -> dict[str, int] | None:
    return {"same": holds.same, "cases": holds.cases} if holds else None


def _change(guide: Guide, now: Outcome, change: Change) -> dict[str, Any]:
    return {
        "question": change.question.id,
        "choice": change.choice.id,
        "link": conversation_of(guide).link(change.answers),
        "recommendation": _recommendation(change.best),
        "price_difference": price_difference(now.best, change.best),
    }


def _alternatives(guide: Guide, answer: Answer) -> list[dict[str, Any]]:
    """The setups to choose from, the recommended one among them, the cheapest first."""
    outcome, setups = answer.outcome, setups_of(guide, answer)
    if outcome is None or not setups:
        return []
    return [
        {
            "aim": each.aim or None,
            "also": list(each.also),
            "chosen": each.chosen,
            "link": conversation_of(guide).link(each.answers),
            **_setup(design_of(each.best)),
            "hours_on_battery": hours_of(outcome.needs, design_of(each.best)),
            "gives_up": setup.gives_up,
        }
        for each, setup in zip(answer.alternatives or (), setups, strict=True)
    ]


def _give_up(guide: Guide, answer: Answer) -> dict[str, Any] | None:
    """The one thing whose absence saves most."""
    found, less = answer.give_up, less_of(guide, answer)
    if found is None or less is None:
        return None
    return {
        "question": found.question,
        "load": found.name or None,
        "link": conversation_of(guide).link(found.answers),
        "saves": found.saves,
        "says": less.text,
        **_setup(design_of(found.best)),
    }


def _setup(design: Design) -> dict[str, Any]:
    """A setup in short: unit, bank, price and weight."""
    candidate, bank = design.candidate, design.bank
    return {
        "layout": candidate.layout,
        "inverter": {"id": candidate.inverter.id, "count": candidate.units},
        "soft_starters": candidate.soft_starters,
        "battery": {
            "id": bank.battery.id,
            "series": bank.series,
            "parallel": bank.parallel,
        },
        "parts_price": design.parts_price,
        "mass_kg": design.mass_kg,
    }


def _details(guide: Guide, advice: Advice | None) -> dict[str, Any]:
    if advice is None or advice.best.design is None:
        return {
            "assumed": [],
            "runs": None,
            "loads": [],
            "lasts": None,
            "works_when": None,
            "parts": [],
            "not_included": [],
            "cautions": [],
            "workings": [],
            "existing_bank": None,
            "charging": None,
            "simulation": None,
        }
    listed, given = PartsView(guide, advice.best.design), advice.outcome.answers
    return {
        "assumed": [
            {"question": name, "assumed": assumed_text(guide, guide.question(name), given)}
            for name in advice.outcome.needs.assumed
        ],
        "runs": _runs(guide, advice.outcome, advice.best.design),
        "loads": loads_data(advice.outcome.needs),
        "lasts": lasts_data(advice.outcome.needs, advice.best.design),
        "works_when": works_data(works_when(guide, advice.outcome.needs, advice.best.design)),
        "parts": [_part(guide, order) for order in listed.orders()],
        "not_included": [
            {"what": each.what, "why": each.why} for each in listed.left_out(advice.outcome.needs)
        ],
        "cautions": [
            {"id": note.caution.id, "text": note.text, "do": note.do} for note in advice.cautions
        ],
        "workings": [_working(step) for step in workings_of(guide, advice)],
        "existing_bank": existing_data(advice.outcome),
        "charging": charging_data(advice.charging),
        "simulation": {
            **week_data(advice.charging.away),
            "hooked_up": week_data(advice.charging.hooked_up),
        },
    }


def _runs(guide: Guide, outcome: Outcome, design: Design) -> dict[str, Any]:
    """Names of what runs on battery: at once as asked, alone, in pairs, never, dead on 240 V."""
    found = runs_of(guide, outcome.needs, design)
    return {
        "at_once": list(found.at_once),
        "one_at_a_time": list(found.alone),
        "pairs": [list(pair) for pair in found.together],
        "never": list(found.never),
        "dead": list(found.dead),
        "notes": list_notes(guide, outcome),
    }


def _part(guide: Guide, order: OrderLine) -> dict[str, Any]:
    return {
        "product": order.product or None,
        "name": order.name,
        "quantity": order.quantity,
        "unit": order.unit or "each",
        "pack": order.pack,
        "price": order.price,
        "have": order.have,
        "uses": [{"group": use.group, "quantity": use.quantity} for use in order.uses],
        **_offer(guide, order.product),
    }


def _working(step: Working) -> dict[str, Any]:
    return {
        "id": step.id,
        "subject": step.subject,
        "name": step.name,
        "formula": step.formula,
        "numbers": step.numbers,
        "value": step.value,
        "unit": step.unit,
        "source": step.source,
    }


def _offer(guide: Guide, article_id: str) -> dict[str, Any]:
    article = guide.article(article_id)
    opened: tuple[OpenBox, ...] = getattr(article, "open_box", ())
    return {
        "stock": article.stock if article else None,
        "delivery": (article.delivery if article else "") or None,
        "open_box": [
            {"condition": each.condition, "price": each.price, "count": each.count}
            for each in opened
        ],
    }


def _recommendation(considered: Considered | None) -> dict[str, Any] | None:
    if considered is None or considered.design is None:
        return None
    candidate, design = considered.candidate, considered.design
    return {
        "layout": candidate.layout,
        "inverter": {
            "id": candidate.inverter.id,
            "count": candidate.units,
            "terminals": candidate.inverter.terminals.kind,
        },
        "soft_starters": candidate.soft_starters,
        "battery": {
            "id": design.bank.battery.id,
            "series": design.bank.series,
            "parallel": design.bank.parallel,
            "kept": design.bank.kept,
        },
        "dc_cable": {
            "awg": design.dc.cable.size,
            "runs": design.dc.cable.runs,
            "length_m": design.dc.cable_m,
        },
        "dc_fuse": {
            "rating_a": design.dc.fuse.rating,
            "class": design.dc.fuse.family,
            "interrupt_a": design.dc.fuse.interrupt,
        },
        "house": _house(design.house),
        "dc_branches": [_branch(branch) for branch in design.dc.branches],
        "dc_pieces": [_piece(each) for each in design.dc.conductors],
        **_ac(design),
        "parts_price": design.parts_price,
        "mass_kg": design.mass_kg,
        "score": considered.score,
    }


def _house(house: HouseSide | None) -> dict[str, Any] | None:
    """The rig's own 12 V system: what hangs on it, and what stays beside another bank."""
    if house is None:
        return None
    return {
        "hangs": list(house.hangs),
        "motor_a": house.motor_a,
        "battery": house.battery.id if house.battery else None,
        "batteries": house.batteries,
        "charger": house.charger.id if house.charger else None,
        "charge_a": house.charge_a,
        "isolator": house.isolator,
        "there": house.there,
    }


def _branch(branch: Branch) -> dict[str, Any]:
    return {
        "id": branch.id,
        "current_a": branch.current_a,
        "length_m": branch.length_m,
        "awg": branch.cable.size if branch.cable else None,
        "runs": branch.cable.runs if branch.cable else None,
        "fuse_a": branch.fuse.rating if branch.fuse else None,
        "class": branch.fuse.family if branch.fuse else None,
        "interrupt_a": branch.fuse.interrupt if branch.fuse else None,
        "kept_fuse_a": branch.kept_fuse.rating if branch.kept_fuse else None,
    }


def _piece(each: DcConductor) -> dict[str, Any]:
    return {
        "group": each.group,
        "label": each.label,
        "count": each.quantity,
        "awg": each.size,
        "length_m": each.length_m,
        "sheathed": each.sheathed,
    }


def _ac(design: Design) -> dict[str, Any]:
    ac = design.ac
    return {
        "ac_in": {
            "main_breaker_a": ac.main_a,
            "breaker_a": ac.input_a,
            "poles": ac.poles,
            "breakers": ac.breakers,
            "breaker_poles": ac.breaker_poles,
            "awg": ac.input_awg,
            "ground_awg": ac.ground_awg,
        },
        "ac_out": {
            "breaker_a": ac.output_a,
            "poles": ac.poles,
            "breakers": ac.breakers,
            "breaker_poles": ac.breaker_poles,
            "awg": ac.output_awg,
            "ground_awg": ac.ground_awg,
            "legs": design.candidate.legs,
            "joint_breaker_a": ac.joint_a,
        },
    }


def _check(check: Check) -> dict[str, Any]:
    return {
        "id": check.id,
        "passed": check.passed,
        "value": check.value,
        "limit": check.limit,
        "unit": check.unit,
        "margin": check.margin,
        "accepted": check.accepted,
    }


def as_text(guide: Guide, answer: Answer) -> str:
    """The answer in plain lines, with the words of the page."""
    page = guide.wording.page
    lines = notice(conversation_of(guide), answer.answers)
    told = told_of(guide, answer.answers)
    if told:
        lines += [told.title, *(f"  {line}" for line in told.lines)]
        lines += [told.marked] if told.marked else []
    verdict = words.verdict(guide, answer)
    if answer.next_question:
        question = answer.next_question
        lines += [question.ask, question.why]
        lines += [f"  {question.id}={each.id}  {each.label}" for each in question.choices]
        lines.append(f"  {question.id}={UNSURE}  {page['not-sure']}")
    elif answer.status == "none-fits" and answer.outcome:
        title = page["none-fits-usual" if answer.taken else "none-fits-title"]
        lines += [verdict, title] if told else [title]
        lines += [reason_of(guide, answer.outcome), *_taken_lines(guide, answer)]
        lines += _mend_lines(guide, answer, answer.outcome)
        lines += [
            f"  {other.name}: {other.reasons}"
            for other in why_not(guide, answer.outcome.considered, None)
        ]
    elif answer.advice:
        marks = marks_of(conversation_of(guide), answer.advice, answer.answers)
        lines += _advice_lines(guide, answer, answer.advice, verdict, marks)
    lines.append(page["planning-only"])
    if guide.shop.invented:
        lines.append(page["invented"])
    return "\n".join(lines)


def _taken_lines(guide: Guide, answer: Answer) -> list[str]:
    """What was taken for "not sure", what it holds for, and what other choices lead to."""
    page = guide.wording.page
    if not answer.taken:
        return []
    lines = [
        f"{page['taken']}:",
        *filter(None, [holds_text(guide, answer.holds, fits=answer.advice is not None)]),
    ]
    for each in taken_cases(guide, answer):
        lines += [f"  {each.ask}", f"    {page['taken-took']}: {each.took}"]
        lines += [f"    {other.label}: {other.text}" for other in each.others or ()]
        if each.indifferent:
            none = answer.status == "none-fits"
            lines.append(f"    {page['taken-same-none' if none else 'taken-same']}")
        else:
            lines.append(f"    {page['taken-look']}: {each.look}")
    return lines


def _setup_lines(guide: Guide, answer: Answer) -> list[str]:
    """The setups to choose from, with what one gives up for each."""
    setups, less = setups_of(guide, answer), less_of(guide, answer)
    lines = [f"{guide.wording.page['setups']}:"] if setups else []
    for each in setups or ():
        figures = ", ".join((each.price, each.lasts, each.weight))
        lines.append(f"  {each.name}: {figures}. {each.gives_up}".rstrip())
    return [*lines, *([less.text] if less else [])]


def _mend_lines(guide: Guide, answer: Answer, now: Outcome) -> list[str]:
    """The single changes that make it fit, beside those of what is not sure."""
    page = guide.wording.page
    if answer.changes is None:
        return []
    taken = [each.question.id for each in answer.taken]
    lines = [
        f"  {each.question.ask} {change_label(guide, each)}: "
        + difference(guide, now.best, each.best)
        for each in answer.changes
        if each.question.id not in taken
    ]
    if not answer.changes:
        lines = [f"  {page['mends-none']}"]
    return [f"{page['mends']}:", *lines] if lines else []


def _advice_lines(
    guide: Guide, answer: Answer, advice: Advice, verdict: str, marks: Marks
) -> list[str]:
    view = AdviceView(guide, advice)
    page = guide.wording.page

    def marked(line: str, text: str) -> str:
        return f"{line} ({marks.says})" if marks.on(text) else line

    lines = [f"{verdict}: {view.headline}", f"{view.layout.name}. {view.layout.battery}"]
    keeping = view.keeping()
    if keeping:
        lines.append(f"{keeping.label}. {keeping.text}")
    if view.starters:
        lines.append(f"{view.starter_title}. {view.starter_why}")
    facts = view.facts()
    lines += [marked(f"  {row.label}: {row.text}", row.label + row.text) for row in facts]
    runs = f"{page['can-run']}: {runs_sentence(page, view.needs, view.runs)}"
    lines += [marked(runs, runs), *view.of_the_list(), *view.of_sides()]
    lines += _taken_lines(guide, answer)
    lines += works_lines(guide, view.needs, view.design)
    lines += _setup_lines(guide, answer)
    lines.append(f"{page['parts']}:")
    for part in view.parts.rows():
        number = f" ({part.article})" if part.article else ""
        line = f"  {part.quantity}  {part.name}{number}  {part.price}"
        lines.append(marked(line, part.quantity + part.name + part.price))
        lines += [f"    {use.text}" for use in part.uses]
    lines.append(marked(f"  {page['total']}: {view.parts.total}", view.parts.total))
    lines.append(marked(f"  {view.parts.range}", view.parts.range))
    lines.append(f"{page['not-included']}:")
    lines += [f"  {each.what}: {each.why}" for each in view.left_out()]
    lines.append(f"{page['checks']}:")
    lines += [marked(f"  {check.name}: {check.text}", check.text) for check in view.checks()]
    lines.append(f"{page['cautions']}:")
    lines += [f"  {note.caution.title}: {note.do} {note.text}" for note in advice.cautions]
    return lines
