"""Everything that must be done ahead, planned backward from the plan of a class."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP

from classes.core.hours.ahead.diary import ASSISTANT, AheadTask, Chore, Diary, sentences, spelled
from classes.core.hours.ahead.kitchen import cabinet_on, ovens_changed, ovens_on, ovens_turned
from classes.core.hours.ahead.recipes import Need, class_needs, ready_for
from classes.core.hours.drawing.spans import INSTRUCTOR
from classes.core.hours.problem.doughs import UNPACK_MIN
from classes.core.hours.problem.keys import key_of, step_key
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.steps import in_class, steps_behind
from classes.core.hours.problem.values import RISES, TimedRecipe
from classes.core.hours.problem.work import Plan
from classes.core.keys import Stage
from recipes.core.choices import StepKind
from recipes.core.numbers import ZERO
from recipes.core.written import WrittenStep
from wording.lists import listed

COLD_FROM_MIN = 15
TAKEN_UP = {
    Stage.MIXED: "the class takes it up as if it had just mixed it",
    Stage.RISEN: "the class takes it up where its first rise ends",
    Stage.SHAPED: "the class takes it up where its proof ends",
}
_TITLES = {
    StepKind.MIX: "Mix",
    StepKind.BULK: "Fold",
    StepKind.DIVIDE: "Shape",
    StepKind.PROOF: "See to",
    StepKind.PREPARE: "Prepare",
    StepKind.REST: "Rest",
}


@dataclass(frozen=True, slots=True)
class _Part:
    """The work of a step, and the waiting after it; a rise with a fold is two of these."""

    number: int
    step: WrittenStep
    hands_min: int
    wait_min: int


@dataclass(frozen=True, slots=True)
class _Brought:
    """A recipe's dough brought at a stage, and when the class goes on with it."""

    recipe: TimedRecipe
    stage: Stage
    steps: tuple[WrittenStep, ...]
    at: int

    @property
    def purpose(self) -> str:
        return f"the {self.recipe.title} that you bring {self.stage}"

    @property
    def amount(self) -> str:
        """How much, and for whom."""
        doughs = self.recipe.doughs
        grams = sum((dough.dough_g for dough in doughs), ZERO).to_integral_value(ROUND_HALF_UP)
        pieces = self.recipe.pieces
        shares = listed([f"{dough.pieces} for {dough.station}" for dough in doughs])
        named = "1 piece" if pieces == 1 else f"{pieces} pieces"
        return f"{named}, {grams} g of dough without handling loss: {shares}."


def brought_doughs(scheduled: Scheduled, plan: Plan, diary: Diary) -> Iterator[AheadTask]:
    """What is done at home for every dough that is brought, and what its mixing needs."""
    for brought in _all_brought(scheduled, plan):
        mixings = []
        for step, task in _at_home(brought, diary):
            yield task
            if step.kind is StepKind.MIX:
                mixings.append(task.starts)
        if mixings:
            at, mark = min(mixings), f"{brought.stage}|"
            need = Need(brought.recipe, at, at, brought.purpose, mark, at_home=True)
            yield from ready_for(need, scheduled.work, diary)


def _all_brought(scheduled: Scheduled, plan: Plan) -> Iterator[_Brought]:
    for recipe in scheduled.work.recipes:
        steps = in_class(recipe)
        for stage in Stage:
            behind = steps_behind(steps, stage) if stage in recipe.brings else 0
            starts = list(_taken_up(scheduled, plan, recipe, stage)) if behind else []
            if starts:
                yield _Brought(recipe, stage, steps[:behind], min(starts))


def _taken_up(scheduled: Scheduled, plan: Plan, recipe: TimedRecipe, stage: Stage) -> Iterator[int]:
    """When each dough goes on in class from the stage at which it was brought."""
    steps = in_class(recipe)
    behind = steps_behind(steps, stage)
    for group in recipe.doughs:
        keys = [key_of("unpack", recipe, group)] if stage is Stage.MIXED else []
        keys += [step_key(steps[n], n, recipe, group) for n in range(behind, len(steps))]
        yield from [
            plan.start(scheduled.problem, key) for key in keys if key in scheduled.problem.items
        ][:1]


def _parts(steps: Sequence[WrittenStep]) -> Iterator[_Part]:
    for number, step in enumerate(steps):
        hands, waiting = step.hands_on_min, step.waiting_min
        if step.kind in RISES and hands:
            yield _Part(number, step, 0, waiting // 2)
            yield _Part(number, step, hands, waiting - waiting // 2)
        else:
            yield _Part(number, step, hands, waiting)


def _at_home(brought: _Brought, diary: Diary) -> Iterator[tuple[WrittenStep, AheadTask]]:
    """Its steps, the last first."""
    at, waits = brought.at, 0
    for part in reversed(list(_parts(brought.steps))):
        at, waits = at - part.wait_min, waits + part.wait_min
        if not part.hands_min:
            continue
        ends = at if part.step.kind in RISES else min(at, 0)
        task = _task(brought, part, ends - part.hands_min, at)
        task = diary.enter(task, at_home=task.starts < 0)
        early = at - task.starts - task.hands_min
        if early:
            cold = f"Then keep it cold for {spelled(early)}."
            task = replace(task, text=sentences(task.text, cold))
        yield part.step, task
        if early >= COLD_FROM_MIN and waits:
            out = _out_of_the_cold(brought, part.number, at, waits)
            yield part.step, diary.enter(out, at_home=at < 0)
        at, waits = task.starts, 0


def _task(brought: _Brought, part: _Part, starts: int, ready_by: int) -> AheadTask:
    step = part.step
    is_fold = step.kind in RISES
    return AheadTask(
        key=f"{brought.stage}|{step.kind}{part.number}|{brought.recipe.key}",
        title=f"{_TITLES.get(step.kind, 'Work on')} {brought.purpose}",
        why=f"Brought {brought.stage}: {TAKEN_UP[brought.stage]}. The times are the recipe's own.",
        recipe=brought.recipe.key,
        starts=starts,
        hands_min=part.hands_min,
        ready_by=ready_by,
        text=sentences(step.text, "" if is_fold else brought.amount),
        temperature_c=step.temperature_c,
        temperature_of=step.temperature_of,
    )


def _out_of_the_cold(brought: _Brought, number: int, at: int, waits: int) -> AheadTask:
    return AheadTask(
        key=f"{brought.stage}|out{number}|{brought.recipe.key}",
        title=f"Take {brought.purpose} out of the cold",
        why=f"It has {spelled(waits)} to go by the recipe.",
        recipe=brought.recipe.key,
        starts=at - UNPACK_MIN,
        hands_min=UNPACK_MIN,
        ready_by=at,
        text="Cold dough is slow to start: judge it by its looks and not by the clock.",
        chore=Chore.TAKE_OUT,
    )


__all__ = ["ASSISTANT", "INSTRUCTOR", "AheadTask", "ahead_of"]


def ahead_of(scheduled: Scheduled, plan: Plan) -> tuple[AheadTask, ...]:
    """Preferments, roux, butter, brought doughs, ovens and the cabinet, by when they start.

    What can move least is entered first, so that nobody does two things at once.
    """
    diary = Diary(scheduled, plan)
    tasks = [
        *ovens_changed(scheduled, plan, diary),
        *ovens_turned(scheduled, plan, diary),
        *ovens_on(scheduled, plan, diary),
        *cabinet_on(scheduled, plan, diary),
    ]
    for need in class_needs(scheduled, plan):
        tasks += ready_for(need, scheduled.work, diary)
    tasks += brought_doughs(scheduled, plan, diary)
    return tuple(sorted(tasks, key=lambda task: (task.starts, task.key)))
