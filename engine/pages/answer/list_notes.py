"""Where the visitor's own list of loads says something else than the other answers."""

from engine.advice.judge.runs import on_inverter
from engine.model.answers import LoadList
from engine.model.guide import Guide
from engine.model.result import Outcome


def list_notes(guide: Guide, outcome: Outcome) -> list[str]:
    """What of the usual appliances is not on the list, and whether it has as many as asked for.

    The list is the whole of what is planned for: what the short path would have put in is not.
    """
    answers, needs, page = outcome.answers, outcome.needs, guide.wording.page
    if not isinstance(answers.values.get("loads"), LoadList) or not needs.heavy_count:
        return []
    usual = needs.rig.heavy[answers.choice("biggest")][: needs.heavy_count]
    listed = {load.id for load in needs.loads}
    missing = [guide.appliance(each).name for each in dict.fromkeys(usual) if each not in listed]
    found = [page.say("list-counts", names=", ".join(missing))] if missing else []
    count = sum(load.count for load in needs.loads if on_inverter(load))
    if count < needs.heavy_count:
        found.append(page.say("list-short", asked=needs.heavy_count, listed=count))
    return found
