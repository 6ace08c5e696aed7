"""What the assistant has in hand: ovens, mixers, places where dough waits, and each bench."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from classes.core.hours.ahead.kitchen import FAN_LESS_C
from classes.core.hours.checking.shortages import people_at
from classes.core.hours.drawing.spans import (
    AT_THE_BENCH,
    ActivityKind,
    held_mass,
    mixers_of,
    who_is,
)
from classes.core.hours.drawing.table import rows_of
from classes.core.hours.problem.notes import Doing
from classes.core.hours.problem.steps import in_class
from classes.core.hours.problem.work import Load, Task
from handouts.run_sheet.course import ClassCourse
from wording.lists import joined


@dataclass(frozen=True, slots=True)
class OvenTurn:
    """A load on the clock: in, out, °C (None if the recipe names none), and its contents.

    `turned` is when, and to how many °C, the oven is turned meanwhile.
    """

    into: str
    out: str
    temperature_c: Decimal | None
    turned: tuple[tuple[str, Decimal], ...]
    filled: int
    holds: str
    recipe: str


@dataclass(frozen=True, slots=True)
class OvenCard:
    """An oven that the plan uses: its loads, and when it can be turned off.

    `fan_less_c` is by how many °C an oven with a fan is set lower, 0 without a fan.
    """

    name: str
    slots: int
    fan_less_c: Decimal
    turns: tuple[OvenTurn, ...]
    off: str


@dataclass(frozen=True, slots=True)
class MixerTurn:
    """A dough in a mixer: when, whose, how many grams, and in how many turns."""

    clock: str
    until: str
    who: str
    recipe: str
    dough_g: Decimal
    turns: int
    held: str


@dataclass(frozen=True, slots=True)
class PlaceTurn:
    """Dough in the cabinet or the refrigerator."""

    clock: str
    until: str
    place: str
    temperature_c: Decimal | None
    who: str
    recipe: str
    what: str


@dataclass(frozen=True, slots=True)
class BenchStep:
    """One thing that a bench does."""

    clock: str
    what: str
    recipe: str = ""


@dataclass(frozen=True, slots=True)
class BenchCourse:
    """Benches that do the same at the same times."""

    names: str
    people: int
    steps: tuple[BenchStep, ...]


def oven_cards(course: ClassCourse) -> Iterator[OvenCard]:
    """Every oven with a load."""
    for oven in course.scheduled.work.ovens:
        loads = sorted(
            (load for load in course.plan.loads if load.oven == oven.key),
            key=lambda load: load.start,
        )
        if loads:
            yield OvenCard(
                oven.name,
                oven.slots,
                FAN_LESS_C if oven.has_fan else Decimal(0),
                tuple(_oven_turn(course, load) for load in loads),
                course.label(loads[-1].end),
            )


def _oven_turn(course: ClassCourse, load: Load) -> OvenTurn:
    notes = course.scheduled.notes
    held = ", ".join(f"{who_is(notes[key].who)}: {count}" for key, count in load.pieces)
    breads = [recipe.title for recipe in course.recipes_of(key for key, _ in load.pieces)]
    return OvenTurn(
        into=course.label(load.start),
        out=course.label(load.end),
        temperature_c=load.celsius,
        turned=tuple(
            (course.label(at), then_c) for at, then_c in load.turned if then_c is not None
        ),
        filled=load.filled,
        holds=held,
        recipe=" and ".join(breads),
    )


def mixer_turns(course: ClassCourse) -> Iterator[MixerTurn]:
    """Every dough that the plan mixes in a machine, by its start."""
    notes, slots = course.scheduled.notes, course.plan.slots
    in_turn = sorted(
        course.scheduled.problem.tasks,
        key=lambda task: (slots[task.key].start, who_is(notes[task.key].who)),
    )
    yield from filter(None, (_mixer_turn(course, task) for task in in_turn))


def _mixer_turn(course: ClassCourse, task: Task) -> MixerTurn | None:
    kind = mixers_of(course.scheduled, task, course.plan)
    if kind is None:
        return None
    note = course.scheduled.notes[task.key]
    recipe, slot = course.recipes[note.recipe], course.plan.slots[task.key]
    minutes = task.ways[slot.way].minutes
    once = [step.hands_on_min for step in in_class(recipe) if step.text == note.text]
    return MixerTurn(
        clock=course.label(slot.start),
        until=course.label(slot.start + minutes),
        who=who_is(note.who),
        recipe=recipe.title,
        dough_g=next(group.dough_g for group in recipe.doughs if group.station == note.who),
        turns=minutes // max([1, *once]),
        held=held_mass(kind),
    )


def place_turns(course: ClassCourse) -> Iterator[PlaceTurn]:
    """Everything that rises away from the benches."""
    for row in rows_of(course.scheduled, course.plan, course.label):
        if row.kind is ActivityKind.RISE and row.where != AT_THE_BENCH:
            yield PlaceTurn(
                row.from_label,
                row.to_label,
                row.where,
                row.temperature_c,
                course.everybody(row.who),
                row.recipe,
                row.what,
            )


def bench_courses(course: ClassCourse) -> Iterator[BenchCourse]:
    """What hands do at every bench; benches that do the same are grouped."""
    alike: dict[tuple[BenchStep, ...], list[str]] = {}
    for name in course.scheduled.work.stations:
        steps = tuple(step for _, step in sorted(_bench_steps(course, name), key=lambda at: at[0]))
        alike.setdefault(steps, []).append(name)
    for steps, names in alike.items():
        people = sum(people_at(course.scheduled.work, name) for name in names)
        yield BenchCourse(joined(names), people, steps)


def _bench_steps(course: ClassCourse, station: str) -> Iterator[tuple[int, BenchStep]]:
    """Minute and step, only for hands: what everybody watches is on the sheet itself."""
    problem, plan = course.scheduled.problem, course.plan
    for key, note in course.scheduled.notes.items():
        if note.who != station or note.doing is Doing.MOMENT:
            continue
        title = course.recipes[note.recipe].title if note.recipe else ""
        if note.doing is Doing.BAKE:
            for start in sorted({load.start for load in plan.loads_of[key]}):
                yield start, BenchStep(course.label(start), "Into the oven", title)
        else:
            start = plan.start(problem, key)
            yield start, BenchStep(course.label(start), note.title, title)
