"""What happens in a plan, in order: both the drawing and the table show it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from classes.core.demand import DEMONSTRATION
from classes.core.hours.problem.keys import mixer_key
from classes.core.hours.problem.notes import Doing, Note, Scheduled, Wait
from classes.core.hours.problem.steps import cooling_steps
from classes.core.hours.problem.values import RISES, MixerKind, TimedRecipe
from classes.core.hours.problem.work import BakeKind, Baking, Load, Plan, Since, Task
from recipes.core.choices import StepKind, TemperatureOf

INSTRUCTOR = "Instructor"
AT_THE_BENCH = "bench"
RACK = "cooling rack"
PLACES = {"bench": "bench", "cabinet": "proof cabinet", "refrigerator": "refrigerator"}
GRAMS_A_KILO = Decimal(1000)


class ActivityKind(StrEnum):
    """The kind of an activity, in a word."""

    HANDS = "hands on"
    WATCH = "watching"
    BREAK = "break"
    HEAT = "preheating"
    RISE = "rising"
    REST = "resting"
    BAKE = "baking"
    COOL = "cooling"


@dataclass(frozen=True, slots=True)
class Between:
    """The minutes of the plan between which a rise or a rest may end, and the best one."""

    earliest: int
    best: int
    latest: int


@dataclass(frozen=True, slots=True)
class Activity:
    """Somebody or something busy with one thing from a minute of the plan to another.

    `who` is a station's name, `EVERYBODY`, `DEMONSTRATION`, or an oven's name where it heats up.
    `item` is the key of the task or baking; for a wait, that of what follows it. Pieces of a
    waiting dough go on from `first` to the end if they are baked in several loads.
    """

    starts: int
    ends: int
    kind: ActivityKind
    who: str
    what: str
    item: str = ""
    recipe: str = ""
    where: str = ""
    text: str = ""
    step: StepKind | None = None
    temperature_c: Decimal | None = None
    temperature_of: TemperatureOf | None = None
    between: Between | None = None
    first: int | None = None
    load: Load | None = None
    hands_min: int = 0


def spans_of(scheduled: Scheduled, plan: Plan) -> tuple[Activity, ...]:
    """Everything that happens, by its start: tasks, ovens that heat, waits, loads, cooling.

    A baking has a span in each load that contains some of it.
    """
    found = [
        *_tasks(scheduled, plan),
        *_waits(scheduled, plan),
        *_heats(scheduled, plan),
        *_bakings(scheduled, plan),
    ]
    kinds = list(ActivityKind)
    ovens = {oven.name: n for n, oven in enumerate(scheduled.problem.ovens)}
    return tuple(
        sorted(
            found,
            key=lambda activity: (
                activity.starts,
                kinds.index(activity.kind),
                ovens.get(activity.where, 0),
            ),
        )
    )


def who_is(who: str) -> str:
    """The station's name; the demonstration's dough belongs to the instructor."""
    return INSTRUCTOR if who == DEMONSTRATION else who


def mixers_of(scheduled: Scheduled, task: Task, plan: Plan) -> MixerKind | None:
    """The mixers from which a task takes one in the plan, if it takes any."""
    taken = {use.resource for use in task.ways[plan.slots[task.key].way].uses}
    kinds = scheduled.work.mixers
    return next((kind for kind in kinds if mixer_key(kind.capacity_g) in taken), None)


def held_mass(kind: MixerKind) -> str:
    """What a mixer holds: `2 kg`, `800 g`."""
    if kind.capacity_g < GRAMS_A_KILO:
        return f"{kind.capacity_g}\u00a0g"
    return f"{(kind.capacity_g / GRAMS_A_KILO).normalize():f}\u00a0kg"


_KINDS = {
    Doing.HANDS: ActivityKind.HANDS,
    Doing.WATCH: ActivityKind.WATCH,
    Doing.BREAK: ActivityKind.BREAK,
}


def _tasks(scheduled: Scheduled, plan: Plan) -> Iterator[Activity]:
    for task in scheduled.problem.tasks:
        note = scheduled.notes[task.key]
        if note.doing is Doing.MOMENT:
            continue
        start = plan.slots[task.key].start
        yield Activity(
            starts=start,
            ends=plan.end(scheduled.problem, task.key),
            kind=_KINDS[note.doing],
            who=note.who,
            what=note.title,
            item=task.key,
            recipe=note.recipe,
            where=_where(scheduled, task, plan),
            text=note.text,
            step=note.kind,
            temperature_c=note.temperature_c,
            temperature_of=note.temperature_of,
        )


def _where(scheduled: Scheduled, task: Task, plan: Plan) -> str:
    if scheduled.notes[task.key].doing is not Doing.HANDS:
        return ""
    mixers = mixers_of(scheduled, task, plan)
    return AT_THE_BENCH if mixers is None else f"mixer for {held_mass(mixers)}"


def _waits(scheduled: Scheduled, plan: Plan) -> Iterator[Activity]:
    problem = scheduled.problem
    recipes = {recipe.key: recipe for recipe in scheduled.work.recipes}
    for wait in scheduled.waits:
        rises = wait.kind in RISES
        yield Activity(
            starts=plan.end(problem, wait.after),
            ends=plan.last_start(problem, wait.until),
            kind=ActivityKind.RISE if rises else ActivityKind.REST,
            who=wait.who,
            what=wait.title,
            item=wait.until,
            recipe=wait.recipe,
            where=PLACES[wait.rise.place] if wait.rise else AT_THE_BENCH,
            text=_text(recipes[wait.recipe], wait.kind),
            step=wait.kind,
            temperature_c=wait.rise.temperature_c if wait.rise else None,
            between=_between(scheduled, plan, wait),
            first=plan.start(problem, wait.until),
        )


def _between(scheduled: Scheduled, plan: Plan, wait: Wait) -> Between:
    """The window of a wait, limited by the whole rise if it has a fold."""
    problem, window = scheduled.problem, wait.window
    sooner = wait.rise.window.target - wait.rise.window.earliest if wait.rise else 0
    since = plan.end(problem, wait.after)
    earliest, best, latest = (
        since + minutes for minutes in (window.earliest, window.target, window.latest)
    )
    for lag in problem.items[wait.until].after:
        is_own = lag.task != wait.after and scheduled.notes[lag.task].who == wait.who
        if is_own and lag.most is not None and lag.since is Since.END:
            ended = plan.end(problem, lag.task)
            earliest, best = max(earliest, ended + lag.least - sooner), max(best, ended + lag.least)
            latest = min(latest, ended + lag.most)
    return Between(earliest, max(earliest, min(best, latest)), latest)


def _text(recipe: TimedRecipe, kind: StepKind | None) -> str:
    """The text of the step in which dough waits, if it is clear which step that is."""
    texts = [step.text for step in recipe.steps if step.kind is kind and step.waiting_min]
    return texts[0] if len(texts) == 1 else ""


def _heats(scheduled: Scheduled, plan: Plan) -> Iterator[Activity]:
    """Ovens that heat up before their first load, or change their heat before a later one."""
    for oven in scheduled.problem.ovens:
        loads = sorted(
            (load for load in plan.loads if load.oven == oven.key), key=lambda load: load.start
        )
        before: BakeKind | None = None
        for load in loads:
            minutes = oven.preheat_min
            if before is not None:
                minutes = scheduled.problem.change_min(before, load.kind)
            if minutes:
                yield Activity(
                    starts=load.start - minutes,
                    ends=load.start,
                    kind=ActivityKind.HEAT,
                    who=oven.name,
                    what="Preheat" if before is None else "Change the heat",
                    item=oven.key,
                    where=oven.name,
                    temperature_c=load.celsius,
                )
            before = load.kind


def _bakings(scheduled: Scheduled, plan: Plan) -> Iterator[Activity]:
    ovens = {oven.key: oven for oven in scheduled.problem.ovens}
    recipes = {recipe.key: recipe for recipe in scheduled.work.recipes}
    for baking in scheduled.problem.bakings:
        note = scheduled.notes[baking.key]
        for load in plan.loads_of[baking.key]:
            yield _baked(baking, note, load, ovens[load.oven].name)
            if baking.then_min:
                yield _cooled(baking, note, load, recipes[note.recipe])


def _baked(baking: Baking, note: Note, load: Load, oven: str) -> Activity:
    return Activity(
        starts=load.start,
        ends=load.end,
        kind=ActivityKind.BAKE,
        who=note.who,
        what=note.title,
        item=baking.key,
        recipe=note.recipe,
        where=oven,
        text=note.text,
        step=StepKind.BAKE,
        temperature_c=note.temperature_c,
        load=load,
        hands_min=baking.hands_min if baking.hands else 0,
    )


def _cooled(baking: Baking, note: Note, load: Load, recipe: TimedRecipe) -> Activity:
    texts = [step.text for step in cooling_steps(recipe)]
    return Activity(
        starts=load.end,
        ends=load.end + baking.then_min,
        kind=ActivityKind.COOL,
        who=note.who,
        what="Cool",
        item=baking.key,
        recipe=note.recipe,
        where=RACK,
        text=" ".join(texts),
        step=StepKind.COOL,
        load=load,
    )
