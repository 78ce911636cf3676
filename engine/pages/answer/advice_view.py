"""What the page of a recommendation shows beyond the common parts."""

import math
from dataclasses import dataclass
from functools import cached_property

from engine.advice.judge.binding import CONSTRAINTS, binding_of
from engine.advice.judge.checks import legs_of
from engine.advice.judge.lasting import heavy_hours
from engine.advice.judge.runs import runs_of
from engine.advice.plan.supply import unsoftened_va
from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.result import Check, Considered, Design, Outcome
from engine.pages import words
from engine.pages.answer.first_look import first_warnings, taken_for_granted
from engine.pages.answer.keeping import keeping_row
from engine.pages.answer.list_notes import notes_of_sides, notes_of_the_list
from engine.pages.answer.numbers import Section, sections_of
from engine.pages.answer.offers import absent_names
from engine.pages.answer.parts_view import LeftOut, PartsView
from engine.pages.answer.run_sentence import at_once_text
from engine.pages.answer.works_when import WorksView, works_view
from engine.pages.form import assumed_text
from engine.pages.view import Row
from engine.units import show

MOST_TOLD = 100


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A check as it is read."""

    name: str
    passed: bool
    accepted: bool
    value: str
    limit: str
    margin: str
    missed: str
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class WhyNot:
    """A setup that was considered and why it is not the recommendation.

    layout, units : its name in two, for where several of one layout stand together
    """

    name: str
    reasons: str
    layout: str
    units: str


class AdviceView:
    """The recommendation, its reasons and its numbers, as texts."""

    def __init__(self, guide: Guide, advice: Advice) -> None:
        self.guide = guide
        self.advice = advice
        self.needs = advice.outcome.needs
        self.candidate = advice.best.candidate
        if advice.best.design is None:
            raise ValueError("a recommendation has a design")
        self.design: Design = advice.best.design
        self.layout = guide.layout_words(self.candidate.layout)
        self.runs = runs_of(guide, self.needs, self.design)
        self.parts = PartsView(guide, self.design)

    @property
    def name(self) -> str:
        """Layout and units in one line."""
        return words.candidate_name(self.guide, self.candidate)

    @property
    def headline(self) -> str:
        """The recommendation in one sentence."""
        return words.units_name(self.candidate)

    @property
    def setup(self) -> str:
        """Units, bank and soft starters in one line."""
        page, count = self.guide.wording.page, self.starters
        units, bank = self.headline, words.batteries_name(self.guide, self.design)
        if count == 0:
            return page.say("setup-line", units=units, bank=bank)
        if count == 1:
            return page.say("setup-line-starter", units=units, bank=bank)
        return page.say("setup-line-starters", units=units, bank=bank, count=count)

    @property
    def bank(self) -> str:
        """The bank in one line."""
        return words.bank_name(self.guide, self.design)

    @property
    def starters(self) -> int:
        """Soft starters to fit."""
        return self.candidate.soft_starters

    @property
    def starter_title(self) -> str:
        """That soft starters are part of it."""
        page = self.guide.wording.page
        if self.starters == 1:
            return page["soft-starters-one"]
        return page.say("soft-starters-many", count=self.starters)

    @property
    def starter_why(self) -> str:
        """The start without and with soft starters, against what the unit gives."""
        supply, page = self.design.supply, self.guide.wording.page
        without_va = unsoftened_va(self.needs.running, self.candidate.legs)
        helps = without_va <= supply.surge_va
        return page.say(
            "soft-starter-helps" if helps else "soft-starter-why",
            start=show(without_va, "VA"),
            softened=show(max(leg.demand.worst_va for leg in supply.legs), "VA"),
            surge=show(supply.surge_va, "VA"),
        )

    def verdict(self) -> list[Row]:
        """The first look: battery, price, and what must be waited for."""
        page = self.guide.wording.page
        absent = absent_names(self.guide, self.design)
        waiting = [Row(page["fact-stock"], page.say("stock-some", names=", ".join(absent)))]
        return [
            Row(page["fact-battery"], self.bank),
            Row(page["fact-price"], self.parts.about),
            *(waiting if absent else []),
        ]

    def facts(self) -> list[Row]:
        """What a visitor reads first: how long it lasts, price, battery, what else it takes."""
        return [*self.first_facts(), *self.more_facts()]

    def first_facts(self) -> list[Row]:
        """How long a full bank lasts, and what it costs."""
        page = self.guide.wording.page
        _, *rest = self.verdict()
        return [Row(page["fact-lasts"], self.lasts), *rest]

    def more_facts(self) -> list[Row]:
        """Battery, cable and soft starters: on a screen the sentence of the setup names them."""
        page = self.guide.wording.page
        battery, *_ = self.verdict()
        starters = [Row(page["fact-starter"], self.starter_title)] if self.starters else []
        return [battery, Row(page["fact-cable"], self.cable_line), *starters]

    @property
    def lasts(self) -> str:
        """How long a full bank lasts with nothing to charge it, and the heavy load alone on it."""
        days = self.design.bank.lasting_days(self.needs.nights)
        numbers, page = self.guide.wording.numbers, self.guide.wording.page
        said = numbers.say("lasts-line", time=words.lasting(numbers, days))
        heavy = heavy_hours(self.needs, self.design)
        if heavy is None:
            return said
        name = words.lower_first(heavy.load.name.partition(",")[0])
        several = heavy.load.count > 1
        name = f"{heavy.load.count} × {name}" if several else page.say("runs-the", name=name)
        hours = numbers.count("count-hours", heavy.hours, 1)
        return page.say("lasts-heavy", lasts=said, hours=hours, name=name)

    @property
    def cable_line(self) -> str:
        """Battery cable with its length, and its fuse; of several units, those of each."""
        dc = self.design.dc
        cable = f"{words.cable_name(self.guide, self.design)}, {show(dc.cable_m, 'm')}"
        line = f"{cable}; {words.fuse_name(self.guide, dc.fuse)}"
        if self.design.candidate.units == 1:
            return line
        return self.guide.wording.page.say("each-unit", what=line)

    def left_out(self) -> list[LeftOut]:
        """What the parts list leaves out, each with the reason."""
        return self.parts.left_out(self.needs)

    def can_run(self) -> list[str]:
        """One at a time: every heavy load that may run, beside what is light."""
        return list(self.runs.alone)

    def together(self) -> list[str]:
        """What may run at the same time: what was asked for, then by the first of each pair."""
        page = self.guide.wording.page
        asked = [at_once_text(page, self.runs)] if len(self.runs.at_once) > 1 else []
        different = sum(first != second for first, second in self.runs.together)
        if different > 1 and different == math.comb(len(self.runs.alone), 2):
            twins = [f"2 × {first}" for first, second in self.runs.together if first == second]
            return [*asked, page.say("any-two-of", names=" · ".join(self.runs.alone)), *twins]
        partners: dict[str, list[str]] = {}
        for first, second in self.runs.together:
            name = page["a-second-one"] if first == second else second
            partners.setdefault(first, []).append(name)
        lines = [
            page.say("together-with", first=first, others=" · ".join(others))
            for first, others in partners.items()
        ]
        return [*asked, *lines]

    def of_the_list(self) -> list[str]:
        """Where the visitor's own list of loads says something else than the other answers."""
        return notes_of_the_list(self.guide, self.advice.outcome)

    def of_sides(self) -> list[str]:
        """What must be known where each side of the panel is fed by itself."""
        return notes_of_sides(self.guide, self.advice.outcome)

    @cached_property
    def works(self) -> WorksView:
        """The table of what works on which source."""
        return works_view(self.guide, self.needs, self.design)

    def reasons(self) -> list[str]:
        """Three reasons: what passes to the rig, the hardest check, what beats the next best."""
        found = [self.layout.shore, self._hardest()]
        beats = self._beats()
        if beats:
            found.append(beats)
        return found

    def _hardest(self) -> str:
        numeric = [
            check
            for check in self.advice.best.checks
            if check.id in ("continuous-w", "apparent-va", "surge-va")
        ]
        return words.check_text(self.guide, min(numeric, key=lambda check: check.margin))

    def _beats(self) -> str:
        """The priority that speaks most for it against the next best setup."""
        runner_up = self.advice.runner_up
        if runner_up is None:
            return ""
        name = words.considered_name(self.guide, runner_up)
        say = words.main_reason(self.advice.best, runner_up)
        return self.guide.wording.page.say("beats", other=name, say=say)

    def keeping(self) -> Row | None:
        """What becomes of the batteries that are there, and why."""
        return keeping_row(self.guide, self.advice)

    def first_warnings(self) -> list[Row]:
        """The warnings of the first look."""
        return first_warnings(self.advice)

    def taken_for_granted(self) -> list[Row]:
        """The assumptions of the first look."""
        return taken_for_granted(self.guide, self.advice)

    @cached_property
    def sections(self) -> tuple[Section, ...]:
        """The numbers, by subject, each with its cautions and workings."""
        return sections_of(self.guide, self.advice)

    def checks(self) -> list[CheckRow]:
        """Every check with value, limit and margin."""
        return [check_row(self.guide, check) for check in self.advice.best.checks]

    def assumed(self) -> list[tuple[str, str, str]]:
        """Question id, question and assumption for each detail that was not given."""
        return [
            (
                question.id,
                question.ask,
                assumed_text(self.guide, question, self.advice.outcome.answers),
            )
            for question in (self.guide.question(name) for name in self.needs.assumed)
        ]

    def why_not(self) -> list[WhyNot]:
        """The best of each other layout and unit, with the checks it fails or what beats it."""
        return why_not(self.guide, self.advice.outcome.considered[1:], self.advice.best)

    def why_not_together(self) -> list[tuple[str, str]]:
        """The same, with those of one reason named together, by layout; names and reason."""
        found: dict[str, dict[str, list[str]]] = {}
        for other in self.why_not():
            found.setdefault(other.reasons, {}).setdefault(other.layout, []).append(other.units)
        return [
            ("; ".join(f"{layout}: {', '.join(units)}" for layout, units in named.items()), reasons)
            for reasons, named in found.items()
        ]

    @property
    def other_count(self) -> int:
        """How many other units and layouts were considered."""
        return (
            len(
                {
                    (each.candidate.layout, each.candidate.inverter.id)
                    for each in self.advice.outcome.considered
                }
            )
            - 1
        )

    @property
    def untold_count(self) -> int:
        """How many of them are not named."""
        return max(0, self.other_count - MOST_TOLD)

    def nearest_miss(self) -> WhyNot | None:
        """What came nearest of all that fails; None where everything passes."""
        failed = (each for each in self.advice.outcome.considered if each.design is None)
        nearest = next(failed, None)
        return _failed(self.guide, nearest) if nearest else None

    @property
    def legs_passed(self) -> int:
        """Legs of the shore service that reach the panel."""
        return legs_of(self.candidate)


def check_row(guide: Guide, check: Check) -> CheckRow:
    """A check as it is read."""
    found = guide.check_words(check.id)
    return CheckRow(
        name=found.name,
        passed=check.passed,
        accepted=check.accepted,
        value=words.check_value(guide, check.value, check.unit),
        limit=words.check_value(guide, check.limit, check.unit),
        margin="" if check.accepted else words.margin_text(check),
        missed="" if check.passed else words.missed_by(guide, check),
        text=words.check_text(guide, check),
        source=found.source,
    )


def reason_of(guide: Guide, outcome: Outcome) -> str:
    """Where nothing fits: the one constraint that binds, and how far the nearest setup misses."""
    name, nearest, check = binding_of(outcome.considered)
    page = guide.wording.page
    return page.say(
        "none-fits-reason",
        why=page.one_of("binding-", name, CONSTRAINTS),
        setup=words.candidate_name(guide, nearest.candidate),
        text=words.miss_text(guide, check),
    )


def why_not(
    guide: Guide, considered: tuple[Considered, ...], best: Considered | None
) -> list[WhyNot]:
    """Each other unit and layout once, nearest first, as many as somebody may want to read."""
    found: list[WhyNot] = []
    seen: set[tuple[str, str]] = set()
    if best is not None:
        seen.add((best.candidate.layout, best.candidate.inverter.id))
    for each in considered:
        key = (each.candidate.layout, each.candidate.inverter.id)
        if key in seen:
            continue
        if len(found) == MOST_TOLD:
            break
        seen.add(key)
        if each.design is not None and best is not None:
            say = words.main_reason(best, each)
            found.append(_why(guide, each, guide.wording.page.say("fits-but", say=say)))
        else:
            found.append(_failed(guide, each))
    return found


def _failed(guide: Guide, considered: Considered) -> WhyNot:
    """What fails, each check with value and limit and by how much it misses."""
    missed = " ".join([words.miss_text(guide, check) for check in considered.failed])
    return _why(guide, considered, missed)


def _why(guide: Guide, considered: Considered, reasons: str) -> WhyNot:
    candidate = considered.candidate
    return WhyNot(
        words.candidate_name(guide, candidate),
        reasons,
        guide.layout_words(candidate.layout).name,
        f"{candidate.units} × {candidate.inverter.name}",
    )
