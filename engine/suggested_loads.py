"""The words of a caller -> the appliances that they name, added to the loads."""

from engine.conversation import Conversation
from engine.load_rows import rows_of
from engine.load_rows_typed import beside_usual, usual_with, with_more
from engine.loads_said import as_load, counted, is_name, loads_in
from engine.model.answers import Answers, LoadList
from engine.model.guide import Question
from engine.needs import implied
from engine.suggestions import MOST_OFFERED, How, Ranked, Suggestion, with_answer
from engine.typed.answers import read_answer
from engine.typed.heard import heard, says_more, words_of
from engine.wording.sentences import Untold


def suggested_loads(
    conversation: Conversation, given: Answers, typed: str, words: tuple[str, ...]
) -> Ranked:
    """The appliances that people call so, each to be added to the loads; several are one line."""
    guide = conversation.guide
    question = next((each for each in guide.questions if each.kind == "loads"), None)
    if question is None or not says_more(words):
        return
    several = loads_in(guide, typed)
    if len(several) > 1:
        more = ",".join(several)
        names = ", ".join(guide.appliance(each.partition("*")[0]).name for each in several)
        yield (int(How.APPLIANCE), 0), more_loads(conversation, given, question, more, names)
    rig = next((each for each in guide.rigs if each.id == implied(guide, given).get("rig")), None)
    found = []
    for place, appliance in enumerate(guide.appliances):
        names_of_it = (appliance.id, appliance.name, *appliance.also)
        count, called = counted(words, names_of_it)
        exactly = is_name(called, names_of_it)
        if not exactly and all(heard(called, words_of(name)).lacks for name in names_of_it):
            continue
        how = How.APPLIANCE if exactly and not count else How.BEGINS_APPLIANCE
        rank = (how, not exactly, rig is None or appliance.id not in rig.carries, place)
        found.append((tuple(map(int, rank)), appliance, as_load(appliance.id, count)))
    found.sort(key=lambda each: each[0])
    for ranked, appliance, more in found[:MOST_OFFERED]:  # each takes a while to work out
        try:
            yield ranked, more_loads(conversation, given, question, more, appliance.name)
        except Untold:  # more of it than a list may have
            continue


def more_loads(
    conversation: Conversation, given: Answers, question: Question, more: str, name: str
) -> Suggestion:
    """More loads beside those that are listed or assumed."""
    guide = conversation.guide
    page = guide.wording.page
    if conversation.next_question(given) is None:
        before = {row.appliance for row in rows_of(guide, given) if row.in_use}
        read = read_answer(guide, question, with_more(guide, given, more))
        added = [each.name for each in guide.appliances if each.id == more and more in before]
        label = page.say("staff-again-load" if added else "staff-add-load", name=name)
        if read is None:  # nothing beside what is assumed
            return Suggestion(label, question.ask, given)
        return Suggestion(label, question.ask, with_answer(given, question, read))
    read_answer(guide, question, more)
    listed = given.text(question.id)
    text = f"{listed},{more}" if listed else usual_with(more)
    value = LoadList((), text, beside_usual(text))
    return Suggestion(
        page.say("staff-add-load", name=name), question.ask, with_answer(given, question, value)
    )
