"""Short phrases about what was found, put together from the guide's wording and show()n numbers."""

from engine.answer import Answer
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.products import Clearances, Fuse
from engine.model.result import Candidate, Check, Considered, Design
from engine.model.sources import GeneratorPlan, ShorePlan
from engine.sizing.conductors import CableChoice
from engine.sizing.loads import HOURS_A_DAY
from engine.standards.interrupt import FUSE_FAMILIES
from engine.units import factor, show
from engine.wording.sentences import Sentences
from engine.wording.tongue import plain

FEW_DAYS = 2.0
"""Below that, people count in hours."""


def check_value(guide: Guide, value: float, unit: str, digits: int = 3) -> str:
    """A check's value or limit as it is read."""
    if unit == "yes":
        return guide.wording.page["compare-yes" if value else "compare-no"]
    if unit == "legs":
        return guide.wording.numbers.count("count-legs", value)
    return show(value, unit, digits)


def _check_values(guide: Guide, check: Check) -> tuple[str, str]:
    """A check's value and limit; with a figure more where a miss would look like none."""
    asked = (check.value, check.limit)
    value, limit = (check_value(guide, each, check.unit) for each in asked)
    if value == limit and not check.passed:
        value, limit = (check_value(guide, each, check.unit, 4) for each in asked)
    return value, limit


@kept("answer", 2048)  # most setups fail at the same values, whatever else is asked
def check_text(guide: Guide, check: Check) -> str:
    """What a check's result means, in the guide's words."""
    words = guide.check_words(check.id)
    value, limit = _check_values(guide, check)
    facts = {
        "value": value,
        "limit": limit,
        "margin": margin_text(check),
    }
    said = words.passes if check.kept else words.accepted if check.accepted else words.fails
    return said.format_map(facts)


def lasting(numbers: Sentences, days: float) -> str:
    """How long a full bank lasts, in the same form wherever it stands: hours, or days from two."""
    if days < FEW_DAYS:
        return numbers.count("count-hours", days * HOURS_A_DAY)
    return numbers.count("count-days", days, 1)


@kept("language", 2048)
def margin_text(check: Check) -> str:
    """The room left as a share of the limit; or how much more is needed, of what there is."""
    if check.unit == "yes":
        return ""
    if check.id == "fit":
        return show(abs(check.value), "m")
    if check.unit == "degC":
        kelvin = abs(check.limit - check.value)
        return f"{plain(kelvin * 9 / 5)} °F ({plain(kelvin)} °C)"
    if check.passed:
        return f"{plain(check.margin * 100)} %"
    if check.unit == "kg":  # a share of a small allowance says nothing
        return show(check.value - check.limit, "kg")
    return "" if check.short is None else f"{plain(check.short * 100, 1 if check.nearly else 0)} %"


@kept("answer", 2048)
def miss_text(guide: Guide, check: Check) -> str:
    """What a failed check means, and by how much it misses where that can be told."""
    return f"{check_text(guide, check)} {missed_by(guide, check)}".strip()


def missed_by(guide: Guide, check: Check) -> str:
    """By how much a check is missed, or just missed; "" where that cannot be told."""
    margin = margin_text(check)
    if not margin:
        return ""
    return guide.wording.page.say("just-misses-by" if check.nearly else "misses-by", margin=margin)


def units_name(candidate: Candidate) -> str:
    """The units without their layout: "1 × maker name"."""
    return f"{candidate.units} × {candidate.inverter.maker} {candidate.inverter.name}"


def candidate_name(guide: Guide, candidate: Candidate) -> str:
    """Layout and units: "Two-leg pass-through: 1 × maker name"."""
    text = f"{guide.layout_words(candidate.layout).name}: {units_name(candidate)}"
    if candidate.soft_starters:
        text += guide.wording.page.count("with-soft-starters", candidate.soft_starters)
    return text


def considered_name(guide: Guide, considered: Considered) -> str:
    """A setup by its layout and units."""
    return candidate_name(guide, considered.candidate)


def main_reason(better: Considered, worse: Considered) -> str:
    """What speaks most for the setup that ranks higher, as its priority says it."""
    pairs = zip(worse.contributions, better.contributions, strict=True)
    gains = [(theirs - ours, priority) for (priority, theirs), (_, ours) in pairs]
    return max(gains, key=lambda pair: pair[0])[1].say


MOST_WEIGHTS = 3


def weights(best: Considered) -> list[str]:
    """What counts most in the ranking of a setup, the most first, as its priorities say it."""
    counted = [(counts, priority.say) for priority, counts in best.contributions if counts > 0]
    return [say for _, say in sorted(counted, key=lambda pair: -pair[0])[:MOST_WEIGHTS]]


def setup_name(guide: Guide, best: Considered | None) -> str:
    """What is recommended, in one line, or that nothing fits."""
    if best is None or best.design is None:
        return guide.wording.page["nothing-fits-short"]
    return f"{considered_name(guide, best)}; {bank_name(guide, best.design)}"


VERDICTS = ("recommended", "recommended-usual", "none-fits", "none-fits-taken")


def verdict(guide: Guide, answer: Answer) -> str:
    """What kind of answer it is, and whether all that a link asks for was read; "" while asking."""
    if answer.status == "ask":
        return ""
    page = guide.wording.page
    of_usual = {"recommended": "recommended-usual", "none-fits": "none-fits-taken"}
    said = page.one_of("", of_usual[answer.status] if answer.taken else answer.status, VERDICTS)
    return _as_read(guide, answer, said)


def standing(guide: Guide, answer: Answer) -> str:
    """The answer in one line, whatever it is."""
    said = _standing(guide, answer)
    return _as_read(guide, answer, said)


def units_alone(guide: Guide, answer: Answer) -> str:
    """The same by its units alone, where the whole of it stands beside."""
    if answer.advice is None:
        return standing(guide, answer)
    candidate = answer.advice.best.candidate
    return _as_read(guide, answer, f"{candidate.units} × {candidate.inverter.name}")


def _as_read(guide: Guide, answer: Answer, said: str) -> str:
    """The same, with a word about what could not be read, where something could not."""
    unread, page = answer.answers.unread, guide.wording.page
    if not unread:
        return said
    typed = all(fault.in_form for fault in unread)
    return page.say("as-typed", said=said) if typed else page.say("as-read", said=said)


def _standing(guide: Guide, answer: Answer) -> str:
    page = guide.wording.page
    if answer.status == "ask" and answer.next_question is not None:
        return page.say("staff-open", ask=answer.next_question.ask)
    if answer.advice is None:
        return page["none-fits"]
    return considered_name(guide, answer.advice.best)


def bank_name(guide: Guide, design: Design) -> str:
    """The bank in one line: "3 × battery (3 in parallel)"."""
    page = guide.wording.page
    bank = design.bank
    arrangement = []
    if bank.series > 1:
        arrangement.append(page.say("in-series", count=bank.series))
    if bank.parallel > 1:
        arrangement.append(page.say("in-parallel", count=bank.parallel))
    joined = f" ({' × '.join(arrangement)})" if arrangement else ""
    return f"{_batteries(design)}{joined}{_kept(guide, design)}"


def batteries_name(guide: Guide, design: Design) -> str:
    """The same without how they are connected: "3 × battery"."""
    return f"{_batteries(design)}{_kept(guide, design)}"


def _batteries(design: Design) -> str:
    battery = design.bank.battery
    return f"{design.bank.count} × {f'{battery.maker} {battery.name}'.strip()}"


def _kept(guide: Guide, design: Design) -> str:
    bank = design.bank
    if not 0 < bank.kept < bank.count:
        return ""
    return guide.wording.page.say("bank-yours", count=bank.kept)


def cable_name(guide: Guide, design: Design) -> str:
    """The DC cable in words: "2/0 AWG" or "2 × 4/0 AWG in parallel"."""
    cable = design.dc.cable
    name = runs_name(cable)
    return guide.wording.page.say("cables-in-parallel", cables=name) if cable.runs > 1 else name


def _key_of(family: str) -> str:
    return family.lower().replace(" ", "-")


FAMILIES = tuple(dict.fromkeys(_key_of(each.name) for each in FUSE_FAMILIES))


def family_name(guide: Guide, family: str) -> str:
    """A family of fuses, as the trade calls it."""
    return guide.wording.numbers.one_of("family-", _key_of(family), FAMILIES)


def fuse_name(guide: Guide, fuse: Fuse) -> str:
    """A fuse by its rating and family: "175 A Class T"."""
    return f"{plain(fuse.rating, 1)} A {family_name(guide, fuse.family)}"


def runs_name(cable: CableChoice) -> str:
    """A cable by its size, and how many in parallel: "6 AWG", "2 × 1/0 AWG"."""
    return _counted(cable.runs, cable.size)


def frame_name(design: Design) -> str:
    """The joint of the battery's negative and the frame, as runs_name names a cable."""
    return _counted(design.dc.trunk.runs, design.dc.frame_awg)


def _counted(runs: int, size: str) -> str:
    return f"{runs} × {size} AWG" if runs > 1 else f"{size} AWG"


def limit_text(guide: Guide, design: Design, plan: ShorePlan | GeneratorPlan) -> str:
    """The input limit of each leg as it is set: on each unit, or each leg, that shares one."""
    setting, page = show(plan.setting_a, "A"), guide.wording.page
    if plan.setting_a == plan.input_limit_a:
        return setting
    total = show(plan.input_limit_a, "A")
    if design.candidate.units > 1:
        return page.say("limit-units", amps=setting, total=total)
    return page.say("limit-legs", amps=setting, total=total)


def clearance_text(guide: Guide, asked: Clearances) -> str:
    """The free space that a maker asks for around a unit."""
    return guide.wording.page.say(
        "clearances",
        above=show(asked.top, "m"),
        below=show(asked.bottom, "m"),
        sides=show(asked.sides, "m"),
    )


def vent_text(area_m2: float) -> str:
    """The open area of a vent: "48 sq in (310 cm²)"."""
    return (
        f"{plain(area_m2 * factor('m^2', 'in^2'))} sq in "
        f"({plain(area_m2 * factor('m^2', 'cm^2'))} cm²)"
    )


def lower_first(text: str) -> str:
    """A name inside a sentence, unless it starts with an abbreviation or a figure."""
    return text[:1].lower() + text[1:] if text[1:2].islower() else text
