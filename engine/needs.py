"""Answers -> needs: implied answers and stated defaults are filled in, loads are listed."""

from dataclasses import replace

from engine.kept import kept
from engine.model.answers import (
    UNSURE,
    Answers,
    Bay,
    ExistingBank,
    LoadItem,
    LoadList,
    Quantity,
    Value,
)
from engine.model.buses import BUSES, LEG, LEGS
from engine.model.guide import Appliance, Guide, Question, Rig
from engine.model.needs import Load, Needs, Weather
from engine.shedding import carried
from engine.standards.services import LARGEST_HOUSEHOLD_A, SERVICES
from engine.typed.answers import read_answer
from engine.weather import in_weather, weather_of

# A post of 30 A or less has one leg; a rig with a cord for two gets both of its legs from that one,
# through an adapter. Source: NEC 551.44(A)–(C), from memory; adapters from trade pages (secondary).
ONE_LEG_POST_A = 30.0
FROM_THE_WEATHER = {"coldest": ("coldest_c", "degC")}
"""Questions whose default comes from climate and month: where it stands, and its unit."""


def applies(question: Question, values: dict[str, Value]) -> bool:
    """Whether the question has a meaning beside these answers."""
    if not question.only_with:
        return True
    return all(values.get(other) in accepted for other, accepted in question.only_with.items())


def may_apply(question: Question, values: dict[str, Value]) -> bool:
    """Whether it has a meaning beside these answers, or may get one by what is still open."""
    return all(
        other not in values or values[other] in accepted
        for other, accepted in question.only_with.items()
    )


def implied(guide: Guide, answers: Answers) -> dict[str, Value]:
    """The answers with those that they stand for, and without those that mean nothing here.

    A plug names its rig; a kind of space names its compartment unless the visitor gave its
    measures; a question whose condition is not met is dropped.
    """
    values = dict(answers.values)
    for (name, choice), meaning in _meanings(guide).items():
        if values.get(name) == choice and applies(guide.question(name), values):
            for other, value in meaning.items():
                if values.get(other, UNSURE) == UNSURE:
                    values[other] = value
    for question in guide.conditional:
        if question.id in values and not applies(question, values):
            del values[question.id]
    return values


def weather_for(guide: Guide, answers: Answers) -> Weather:
    """The weather that is planned on for these answers, whatever else is open."""
    values = implied(guide, answers)
    return weather_of({**_defaults(guide, _rig_of(guide, values)), **values})


def needs_of(guide: Guide, answers: Answers) -> Needs:
    """What these answers ask for.

    Every question of the short path must be answered with a choice (see `conversation`),
    or be without meaning here; the others may be open and take their stated default.

    Raises
    ------
    KeyError : if a question of the short path that is needed is open or "unsure".
    """
    values = implied(guide, answers)
    given = set(values)
    for question in guide.questions:
        if question.where != "path" and values.get(question.id, UNSURE) == UNSURE:
            values.pop(question.id, None)
            defaults = _defaults(guide, str(values["rig"]))
            if question.id in defaults:
                values[question.id] = defaults[question.id]
    return _needs(guide, answers, values, given)


def default_of(guide: Guide, question: Question, rig_id: str) -> str:
    """What is taken for a question that is not answered in this kind of rig; "" for nothing."""
    return guide.rig(rig_id).taken.get(question.id, question.default)


def default_here(guide: Guide, question: Question, answers: Answers) -> str:
    """The same beside these answers; the usual kind of rig where they name none."""
    return default_of(guide, question, _rig_of(guide, implied(guide, answers)))


def _rig_of(guide: Guide, values: dict[str, Value]) -> str:
    rig = values.get("rig", UNSURE)
    return guide.question("rig").usual if rig == UNSURE else str(rig)


@kept("guide", 16)
def _defaults(guide: Guide, rig_id: str) -> dict[str, Value]:
    """What is taken for each question without an answer; read once a guide and kind of rig."""
    found = {}
    for question in guide.questions:
        value = read_answer(guide, question, default_of(guide, question, rig_id))
        if value is not None:
            found[question.id] = value
    return found


@kept("guide", 8)
def _meanings(guide: Guide) -> dict[tuple[str, str], dict[str, Value]]:
    """What each choice stands for, by question and choice; read once a guide."""
    return {
        (question.id, choice.id): {
            name: value
            for name, text in choice.means.items()
            if (value := read_answer(guide, guide.question(name), text)) is not None
        }
        for question in guide.questions
        for choice in question.choices
        if choice.means
    }


def _needs(guide: Guide, answers: Answers, values: dict[str, Value], given: set[str]) -> Needs:
    rig = guide.rig(str(values["rig"]))
    service_id = rig.cords.get(str(values.get("cord", "")), rig.service)
    service = SERVICES[service_id]
    shore_a = min(_number(values, "shore") or service.amps, service.amps)
    heavy_count = int(str(values["heavy"]))
    weather = weather_of(values)
    listed = _loads(guide, rig, values, heavy_count)
    loads = tuple(in_weather(load, weather) for load in listed)
    whole = values["scope"] == "whole"
    running = running_of(loads, heavy_count)
    waits: tuple[Load, ...] = ()
    if whole and service.amps > LARGEST_HOUSEHOLD_A:
        running, waits = carried(running, service)
    bay, existing = values.get("bay"), values.get("have")
    return Needs(
        rig=rig,
        service_id=service_id,
        service=service,
        whole=whole,
        heavy_count=heavy_count,
        loads=loads,
        listed=listed,
        weather=weather,
        running=running,
        waits=waits,
        soft_start_fitted=values.get("softstart") == "yes",
        tools=str(values.get("tools", "")),
        bay=bay if isinstance(bay, Bay) else None,
        gap_m=_number(values, "gap"),
        mount=str(values["mount"]),
        nights=_number(values, "nights") or 0.0,
        cable_m=_number(values, "cable") or 0.0,
        bank_v=_volts(values, "bank"),
        chemistry=str(values["chemistry"]),
        house_v=_volts(values, "house") or 0.0,
        existing=existing if isinstance(existing, ExistingBank) else None,
        ambient_c=_number(values, "ambient") or 0.0,
        shore_a=shore_a,
        shore_legs=1 if shore_a <= ONE_LEG_POST_A else service.legs,
        generator_w=_number(values, "gen") or 0.0,
        altitude_m=_number(values, "altitude") or 0.0,
        alternator_a=_number(values, "alt") or 0.0,
        drive_h=_number(values, "drive") or 0.0,
        solar_w=_number(values, "solar") or 0.0,
        latitude_deg=_number(values, "lat") or 0.0,
        month=int(_number(values, "month") or 6),
        payload_kg=_number(values, "payload"),
        budget=_number(values, "budget"),
        aim=str(values.get("aim", "")),
        reserve=1.0,
        assumed=tuple(
            [
                question.id
                for question in _assumable(guide, rig.id)
                if (question.id not in given or answers.choice(question.id) == UNSURE)
                and applies(question, values)
            ]
        ),
    )


@kept("guide", 16)
def _assumable(guide: Guide, rig_id: str) -> tuple[Question, ...]:
    """The questions beside the short path for which something is taken in this kind of rig."""
    return tuple(
        question
        for question in guide.questions
        if question.where != "path"
        and (default_of(guide, question, rig_id) or question.id in FROM_THE_WEATHER)
    )


def _loads(guide: Guide, rig: Rig, values: dict[str, Value], heavy_count: int) -> tuple[Load, ...]:
    """All that is used in a day: what was listed, else what such a rig usually has."""
    listed = values.get("loads")
    if isinstance(listed, LoadList):
        loads = tuple(load_listed(guide, item) for item in listed.items)
    else:
        counts = usual_counts(rig, str(values.get("biggest", "")), heavy_count)
        loads = tuple(load_of(guide.appliance(name), count) for name, count in counts.items())
    if values.get("v240") == "yes" and not any(load.bus is LEGS for load in loads):
        loads += (load_of(guide.appliance(guide.planning.appliance_240), 1),)
    return loads


def _volts(values: dict[str, Value], name: str) -> float | None:
    """Volts of a choice such as 24V; None for one without, or without an answer."""
    text = str(values.get(name, ""))
    return float(text.removesuffix("V")) if text.endswith("V") else None


def _number(values: dict[str, Value], name: str) -> float | None:
    value = values.get(name)
    return value.value if isinstance(value, Quantity) else None


def load_of(appliance: Appliance, count: int) -> Load:
    """An appliance of the guide as a load, with its usual hours."""
    return Load(
        id=appliance.id,
        name=appliance.name,
        count=count,
        bus=appliance.bus,
        running_w=appliance.running,
        power_factor=appliance.power_factor,
        hours=appliance.hours,
        duty=appliance.duty,
        heavy=appliance.heavy,
        at_once=appliance.at_once,
        locked_rotor_a=appliance.locked_rotor,
        start_s=appliance.start_time,
        soft_startable=appliance.soft_startable,
        hour_of_day=appliance.hour_of_day,
        caution=appliance.caution,
        follows=appliance.follows,
    )


def usual_counts(rig: Rig, biggest: str, heavy_count: int) -> dict[str, int]:
    """What such a rig usually has, by appliance: the heavy loads that were asked for come last."""
    counts = dict(rig.carries)
    for appliance_id in rig.heavy[biggest][:heavy_count] if heavy_count else ():
        counts[appliance_id] = counts.get(appliance_id, 0) + 1
    return counts


def load_listed(guide: Guide, item: LoadItem) -> Load:
    """One entry of the visitor's list as a load."""
    if item.appliance:
        load = load_of(guide.appliance(item.appliance), item.count)
    else:
        # Nothing is known of it but its watts: taken as a plain resistive load, on 120 V unless its
        # bus was said.
        load = Load(
            "",
            item.name,
            item.count,
            BUSES[item.bus] if item.bus else LEG,
            0.0,
            1.0,
            1.0,
            1.0,
            False,
            True,
            0.0,
            0.0,
            False,
            18,
            "",
        )
    if item.watts is not None:
        heavy = item.watts.value >= guide.planning.heavy_from
        ratio = item.watts.value / load.running_w if load.running_w else 1.0
        load = replace(
            load,
            running_w=item.watts.value,
            heavy=heavy,
            at_once=not heavy,
            locked_rotor_a=load.locked_rotor_a * ratio,
        )
    if item.hours is not None:
        load = replace(load, hours=item.hours.value)
    if item.at_once is not None:
        load = replace(load, said=item.at_once, at_once=item.at_once and not load.heavy)
    return load


def _start_va(load: Load) -> float:
    """What it asks as it starts, or as it runs where it has no motor [VA]."""
    return max(load.locked_rotor_a * load.volts, load.running_w / load.power_factor)


def running_of(loads: tuple[Load, ...], heavy_count: int) -> tuple[Load, ...]:
    """What runs at once: all that runs along, and N of what is heavy on 120 V.

    Of these the hardest to start is the first, and the largest come after it. Where the list says
    of heavy loads that they run together, they do, however many, beside the hardest; what it says
    to run alone is not counted among the N.

    Whatever is on 240 V runs, and so does what is heavy on DC: the answer to "how many at once"
    is about the inverter, which that never passes.
    """
    single = [_one_of(load) for load in loads for _ in range(load.count)]
    along = [load for load in single if load.at_once and not load.heavy and load.bus is not LEGS]
    heavy = [load for load in single if load.heavy and load.bus is LEG]
    heavy.sort(key=lambda load: -load.running_w)  # stable: equal loads keep the order of the list
    hardest = max(heavy, key=_start_va, default=None)
    heavy.sort(key=lambda load: load is not hardest)
    on_dc = [load for load in single if load.heavy and not load.bus.legs]
    on_legs = [load for load in single if load.bus is LEGS]
    return tuple(along + _together(heavy, heavy_count) + on_dc + on_legs)


def _one_of(load: Load) -> Load:
    return load if load.count == 1 else replace(load, count=1)


def _together(heavy: list[Load], count: int) -> list[Load]:
    """Which of the heavy loads run at the same time; of these the first one always does.

    A heavy load that is listed runs some time, even where "none at once" was answered.
    """
    first, rest = heavy[:1], heavy[1:]
    if any(load.said for load in heavy):
        return first + [load for load in rest if load.said]
    return first + [load for load in rest if load.said is not False][: max(count, 1) - 1]
