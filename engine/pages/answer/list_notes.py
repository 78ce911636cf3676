"""What must be known beside the sentence of what runs: of the own list, and of the two sides."""

from engine.advice.judge.runs import on_inverter
from engine.model.answers import LoadList
from engine.model.buses import LEG
from engine.model.guide import Guide
from engine.model.result import Outcome


def list_notes(guide: Guide, outcome: Outcome) -> list[str]:
    """What of the usual appliances is not on the list, and whether it has as many as asked for.

    The list is the whole of what is planned for: what the short path would have put in is not.
    Where each side of the panel is fed by itself, what runs at once holds for one way to share it.
    """
    return [*notes_of_sides(guide, outcome), *notes_of_the_list(guide, outcome)]


def notes_of_sides(guide: Guide, outcome: Outcome) -> list[str]:
    """Where the legs share what runs at once, how that was planned."""
    heavy_w = guide.planning.heavy_from
    running = outcome.needs.running
    on_one = [load for load in running if load.bus is LEG and load.running_w >= heavy_w]
    best = outcome.best
    shared = best is not None and best.candidate.legs > 1 and len(on_one) > 1
    return [guide.wording.page["runs-sides"]] if shared else []


def notes_of_the_list(guide: Guide, outcome: Outcome) -> list[str]:
    """Where the visitor's own list of loads says something else than the other answers."""
    answers, needs, page = outcome.answers, outcome.needs, guide.wording.page
    if not isinstance(answers.values.get("loads"), LoadList):
        return []
    heavy = needs.rig.heavy[answers.choice("biggest")] if needs.heavy_count else ()
    usual = (*heavy[: needs.heavy_count], *needs.rig.carries)
    listed = {load.id for load in needs.loads}
    missing = [guide.appliance(each).name for each in dict.fromkeys(usual) if each not in listed]
    found = [page.say("list-counts", names=", ".join(missing))] if missing else []
    count = sum(load.count for load in needs.loads if on_inverter(load))
    if count < needs.heavy_count:
        found.append(page.say("list-short", asked=needs.heavy_count, listed=count))
    return found
