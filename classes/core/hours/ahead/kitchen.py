"""Ovens and the warm cabinet: when each is turned on or set to another temperature.

An oven is turned on its preheating time before its first load, the cabinet half an hour before
its first dough: common practice, as is a fan oven at about 20 °C less.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from itertools import pairwise

from classes.core.hours.ahead.diary import (
    MOMENT_MIN,
    AheadTask,
    Chore,
    Diary,
    degrees,
    spelled,
)
from classes.core.hours.problem.keys import CABINET
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.work import Load, Plan, PlannedOven
from wording.figures import NBSP
from wording.lists import listed

CABINET_WARMS_MIN = 30
FAN_LESS_C = Decimal(20)


def ovens_on(scheduled: Scheduled, plan: Plan, diary: Diary) -> Iterator[AheadTask]:
    """Every oven that bakes, grouped by when it is turned on."""
    together: dict[tuple[int, int, Decimal | None], list[tuple[PlannedOven, Load]]] = {}
    for oven, loads in _loaded(scheduled, plan):
        first = loads[0]
        alike = (first.start, oven.preheat_min, first.celsius)
        together.setdefault(alike, []).append((oven, first))
    for (start, preheat_min, temperature_c), members in together.items():
        ovens = [oven for oven, _ in members]
        wanted = _titles(scheduled, [load for _, load in members])
        task = AheadTask(
            key="|".join(["on", *(oven.key for oven in ovens)]),
            title=f"Turn on {listed([oven.name for oven in ovens])}",
            why=f"Hot for the first load: {wanted}. Preheating takes {spelled(preheat_min)}.",
            recipe="",
            starts=start - max(preheat_min, MOMENT_MIN),
            hands_min=MOMENT_MIN,
            ready_by=start,
            text=f"Look inside first and take out what stands there.{_with_fan(scheduled, ovens)} "
            "It is hot from now on: say so, and keep dry mitts beside it.",
            temperature_c=temperature_c,
            chore=Chore.SWITCH_ON,
        )
        yield diary.enter(task)


def _with_fan(scheduled: Scheduled, ovens: Iterable[PlannedOven]) -> str:
    fans = [oven.name for oven in ovens if oven.has_fan]
    less = scheduled.work.room.writing.difference(FAN_LESS_C).replace(NBSP, " ")
    return f" {listed(fans)}: about {less} less, for the fan." if fans else ""


def ovens_changed(scheduled: Scheduled, plan: Plan, diary: Diary) -> Iterator[AheadTask]:
    """Every change of temperature between two loads, as soon as the first of them is out."""
    for oven, loads in _loaded(scheduled, plan):
        for number, (before, after) in enumerate(pairwise(loads)):
            left_c, needed_c = before.kind.ends_c, after.temperature_c
            if left_c == needed_c or left_c is None or needed_c is None:
                continue
            minutes = scheduled.problem.change_min(before.kind, after.kind)
            task = AheadTask(
                key=f"turn{number}|{oven.key}",
                title=f"Turn {oven.name} {'up' if needed_c > left_c else 'down'}",
                why=f"For the next load: {_titles(scheduled, [after])}. "
                f"It takes about {spelled(minutes)} to change.",
                recipe="",
                starts=before.end,
                hands_min=MOMENT_MIN,
                ready_by=after.start,
                text=f"As soon as the load before is out.{_with_fan(scheduled, [oven])}",
                temperature_c=after.celsius,
                chore=Chore.TURN,
            )
            yield diary.enter_between(task, max(before.end, after.start - minutes))


def ovens_turned(scheduled: Scheduled, plan: Plan, diary: Diary) -> Iterator[AheadTask]:
    """Every change of temperature within a load, by the minute."""
    for oven, loads in _loaded(scheduled, plan):
        for load in loads:
            before_c = load.celsius
            for number, (minute, celsius) in enumerate(load.turned):
                task = AheadTask(
                    key=f"stage{number}|{oven.key}|{load.start}",
                    title=f"Turn {oven.name} {_way(before_c, celsius)}",
                    why=f"What is in it bakes on at another temperature: "
                    f"{_titles(scheduled, [load])}.",
                    recipe="",
                    starts=minute,
                    hands_min=MOMENT_MIN,
                    ready_by=minute,
                    text=f"The bread stays in.{_with_fan(scheduled, [oven])}",
                    temperature_c=celsius,
                    chore=Chore.TURN,
                )
                before_c = celsius
                yield diary.enter_between(task, minute)


def _way(before_c: Decimal | None, after_c: Decimal | None) -> str:
    if before_c is None or after_c is None:
        return "to the next temperature"
    return "up" if after_c > before_c else "down"


def _loaded(scheduled: Scheduled, plan: Plan) -> Iterator[tuple[PlannedOven, list[Load]]]:
    for oven in scheduled.problem.ovens:
        loads = [load for load in plan.loads if load.oven == oven.key]
        if loads:
            yield oven, sorted(loads, key=lambda load: load.start)


def _titles(scheduled: Scheduled, loads: Iterable[Load]) -> str:
    """The recipes that bake in the loads."""
    keys = {scheduled.notes[key].recipe for load in loads for key, _ in load.pieces}
    return listed([recipe.title for recipe in scheduled.work.recipes if recipe.key in keys])


def cabinet_on(scheduled: Scheduled, plan: Plan, diary: Diary) -> Iterator[AheadTask]:
    """The warm cabinet, if dough rises in it."""
    stays = sorted(
        (plan.end(scheduled.problem, wait.after), wait.rise.temperature_c)
        for wait in scheduled.waits
        if wait.rise is not None and wait.rise.place == CABINET
    )
    if not stays:
        return
    first, first_c = stays[0]
    later = sorted({celsius for _, celsius in stays} - {first_c})
    degrees_wanted = [degrees(celsius, scheduled.work.room) for celsius in later]
    wanted = f" Later dough wants {listed(degrees_wanted)}." if later else ""
    yield diary.enter(
        AheadTask(
            key="cabinet",
            title="Turn on the proof cabinet",
            why=f"Warm for the first dough. About {CABINET_WARMS_MIN} min, common practice.",
            recipe="",
            starts=first - CABINET_WARMS_MIN,
            hands_min=MOMENT_MIN,
            ready_by=first,
            text=f"A bowl of warm water in it keeps the dough from drying.{wanted}",
            temperature_c=first_c,
            chore=Chore.SWITCH_ON,
        )
    )
