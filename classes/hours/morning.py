"""What is done before a class, by the clock: for the page and the paper of whoever prepares it.

Times come from the plan of the hours and grams from the amounts; nothing is planned or weighed
here. Without a plan the same work is listed without times, with what is missing for them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from classes.core.demand import TaughtAmounts, brought_in_words, heads_in_words
from classes.core.hours.ahead.diary import Chore
from classes.core.hours.ahead.everything import ASSISTANT, INSTRUCTOR, AheadTask, ahead_of
from classes.core.hours.ahead.recipes import class_needs
from classes.core.hours.ahead.starters import feedings_unsaid
from classes.core.hours.ahead.undated import undated
from classes.core.hours.problem.steps import is_ahead
from classes.core.keys import Stage
from classes.hours.answers import Answer, class_answer
from classes.hours.plan import ClassHours
from classes.hours.unsaid_words import unsaid_words
from classes.hours.words import obstacle_words
from classes.plan import ClassPlan
from recipes.core.allergen_trace import StepText, steps_naming
from recipes.core.scaling import ComponentAmounts, Division
from wording.masses import grams
from wording.moments import day_before

NO_STEP = "Cannot say when: no step before the mixing names it."
LABELED = "Station, recipe and what goes in, before anything is weighed."
FEEDING_UNKNOWN = "Cannot say when to feed the starters without a plan of the hours."
BY = (Chore.LABEL, Chore.WEIGH)
_ORDER = (Chore.MAKE, Chore.TAKE_OUT, *BY, Chore.SWITCH_ON)


Timed = tuple[int | None, AheadTask]
"""Something to do with its minute of the class, None if that is unknown."""


@dataclass(frozen=True, slots=True)
class MadeTub:
    """A part made for everybody in one tub, and how the tub is divided.

    `revision` is the key of what is taught. It `is_shared` if it is made at several times, for
    what is brought and for the class.
    """

    revision: str
    recipe: str
    amounts: ComponentAmounts
    division: Division
    is_shared: bool = False


@dataclass(frozen=True, slots=True)
class MorningRow:
    """Something to do: `task` with its day and clock, both empty if its time is unknown.

    `is_by` marks a clock by which it must be done. `tubs` have what is weighed for it.
    """

    task: AheadTask
    day: str = ""
    clock: str = ""
    is_by: bool = False
    ready_by: str = ""
    tubs: tuple[MadeTub, ...] = ()


@dataclass(frozen=True, slots=True)
class MorningDay:
    """The rows of a day in the order of the clock; its name is empty for those of unknown time."""

    name: str
    rows: tuple[MorningRow, ...]


@dataclass(frozen=True, slots=True)
class Morning:
    """What is done before a class; `missing` is what keeps it from having its time."""

    days: tuple[MorningDay, ...]
    missing: tuple[str, ...] = ()

    @property
    def rows(self) -> tuple[MorningRow, ...]:
        return tuple(row for day in self.days for row in day.rows)


def morning_of(plan: ClassPlan) -> Morning:
    """What is done before a class. Raises NobodyBakes."""
    answer = class_answer(plan)
    hours = answer.hours if answer.plan else None
    tasks = _by_the_clock(plan, hours) if hours else _in_order(plan)
    made = _made(plan, [task for _, task in tasks])
    rows = [_row(hours, at, task, made.pop(task.key, ())) for at, task in tasks]
    rows += [_row(None, None, _unmade(tub), (tub,)) for tubs in made.values() for tub in tubs]
    days = groupby(sorted(rows, key=lambda row: not row.clock), key=lambda row: row.day)
    return Morning(
        tuple(MorningDay(name, tuple(found)) for name, found in days),
        tuple(dict.fromkeys(_missing(plan, answer))),
    )


def tubs_of(recipe: TaughtAmounts) -> Iterator[MadeTub]:
    """What is made of a recipe in one tub for everybody."""
    bulk = (part for part in recipe.amounts.pooled.components if part.kind.made_in_bulk)
    for part, division in zip(bulk, recipe.amounts.divisions, strict=True):
        yield MadeTub(recipe.taught.revision, recipe.taught.label, part, division)


def _missing(plan: ClassPlan, answer: Answer) -> Iterator[str]:
    """What keeps the work from having its time, in sentences."""
    for lack in answer.lacks:
        yield f"{lack.title} {lack.reason}"
    if answer.verdict:
        writing = plan.kitchen.writing
        yield from (unsaid_words(lack, writing) for lack in answer.verdict.unsaid)
        if answer.verdict.obstacle:
            yield obstacle_words(answer.verdict.obstacle)
    if answer.hours:
        yield from feedings_unsaid(answer.hours.scheduled.work)
    if plan.feedings and not answer.plan:
        yield FEEDING_UNKNOWN


def _row(
    hours: ClassHours | None, at: int | None, task: AheadTask, tubs: tuple[MadeTub, ...]
) -> MorningRow:
    if hours is None or at is None:
        return MorningRow(task, tubs=tubs)
    starts, of_class = hours.moment(at), hours.moment(0).date
    is_by = task.chore in BY
    return MorningRow(
        task,
        day=day_before(starts.date, of_class),
        clock=starts.clock,
        is_by=is_by,
        ready_by="" if is_by else hours.moment(task.ready_by).beside(starts.date, short=True),
        tubs=tubs,
    )


# What is done, and when


def _by_the_clock(plan: ClassPlan, hours: ClassHours) -> list[Timed]:
    """What is done ahead and weighed, each at its minute of the class, None if that is unknown."""
    assert hours.solved is not None  # noqa: S101
    solved = hours.solved.plan
    ahead = [task for task in ahead_of(hours.scheduled, solved) if task.chore is not Chore.TURN]
    due = {_for(task): task.starts for task in reversed(ahead) if task.chore is Chore.MAKE}
    needs = class_needs(hours.scheduled, solved)
    due |= {("", need.recipe.key): need.weighed_at for need in needs}
    timed: list[Timed] = [(task.starts, task) for task in ahead]
    timed += [(due.get(_for(task)), task) for task in _set_out(plan)]
    first = min(
        (at for at, task in timed if task.chore is Chore.WEIGH and at is not None), default=None
    )
    timed = [(first if task.chore is Chore.LABEL else at, task) for at, task in timed]
    return sorted(timed, key=lambda one: _place(*one))


def _for(task: AheadTask) -> tuple[str, str]:
    """What a task is for: the stage of what is brought, empty in class, and the recipe."""
    mark = task.key.partition("|")[0]
    return mark if mark in set(Stage) else "", task.recipe


def _place(at: int | None, task: AheadTask) -> tuple[bool, int, bool, int, str]:
    return at is None, at or 0, task.chore not in BY, _ORDER.index(task.chore), task.key


def _in_order(plan: ClassPlan) -> list[Timed]:
    """The same without a plan, in the order of work."""
    tasks = [*undated(replace(plan.work, feedings=plan.feedings)), *_set_out(plan)]
    return [(None, task) for task in sorted(tasks, key=lambda task: _ORDER.index(task.chore))]


def _set_out(plan: ClassPlan) -> Iterator[AheadTask]:
    """Labeling and weighing, by the assistant if there is one."""
    who = ASSISTANT if plan.work.assistants else INSTRUCTOR
    task = AheadTask("", "", "", "", 0, 0, 0, who)
    yield replace(task, key="label", title="Label the tubs", text=LABELED, chore=Chore.LABEL)
    for recipe in plan.amounts.recipes:
        for mark, what, heads in _weighed(recipe):
            yield replace(
                task,
                key=f"{mark}|weigh|{recipe.taught.key}",
                title=f"Weigh {what} into its tubs",
                recipe=recipe.taught.revision,
                who=INSTRUCTOR if mark else who,
                text=heads,
                chore=Chore.WEIGH,
            )


def _weighed(recipe: TaughtAmounts) -> Iterator[tuple[str, str, str]]:
    """What is weighed of a recipe at a time, with its stage if it is brought, and for whom."""
    amounts, label = recipe.amounts, recipe.taught.label
    for dough in amounts.brought:
        sum_g = grams(dough.sheet.weighed_dough_g)
        yield str(dough.baker.brought), label, f"{brought_in_words(recipe, dough)}, {sum_g} g."
    heads = heads_in_words(recipe, brought=False)
    if heads and not amounts.brought:
        heads += f", {grams(amounts.pooled.weighed_dough_g)} g in all"
    if heads:
        yield "", label, f"{heads}."


# What is made in tubs


def _made(plan: ClassPlan, tasks: Sequence[AheadTask]) -> dict[str, tuple[MadeTub, ...]]:
    """The tubs by the key of the task that makes them, and by nothing those that none does."""
    made: dict[str, list[MadeTub]] = {}
    for recipe in plan.amounts.recipes:
        own = [task for task in tasks if task.recipe == recipe.taught.revision]
        for tub in tubs_of(recipe):
            steps = _steps(plan, tub)
            keys = [task.key for task in own if task.step in steps and task.step is not None]
            shared = replace(tub, is_shared=len(keys) > 1)
            for key in keys or [""]:
                made.setdefault(key, []).append(shared)
    return {key: tuple(tubs) for key, tubs in made.items()}


def _steps(plan: ClassPlan, tub: MadeTub) -> set[int]:
    """The steps that make a tub: those before the mixing that name it, or the only one."""
    timed = plan.revisions[tub.revision].timed
    ahead = [n for n, step in enumerate(timed.steps) if is_ahead(timed, step)]
    texts = [StepText(timed.steps[n].kind, timed.steps[n].text) for n in ahead]
    named = {ahead[found.number - 1] for found in steps_naming([tub.amounts.name], texts)}
    return named or (set(ahead) if len(ahead) == 1 else set())


def _unmade(tub: MadeTub) -> AheadTask:
    """A tub that no step makes."""
    return AheadTask("", f"{tub.amounts.name} for {tub.recipe}", NO_STEP, "", 0, 0, 0)
