"""The hours of a class: its rows as values, and the plan that every page and paper shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from decimal import Decimal

from classes.core.demand import DEMONSTRATION, Person
from classes.core.hours.greedy.keeping import fingerprint, from_document
from classes.core.hours.greedy.placing import CannotPlace, plan_greedily
from classes.core.hours.problem import values as values
from classes.core.hours.problem.class_work import schedule_of
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.work import PlannedOven, Solved
from classes.models import ClassSession, Kitchen, Station, TaughtRecipe
from classes.moments import Moment
from classes.selectors import people_of
from recipes.core.choices import IngredientKind, StepKind, TemperatureOf, Worked
from recipes.core.formula import proportions
from recipes.models import Ingredient, Revision, Storage
from recipes.selectors import formula_value

A_PLACE_G = Decimal(500)
SMALL_BELOW_G = Decimal(250)
BUTTER = "butter"


@dataclass(frozen=True)
class ClassHours:
    """A class with the plan of its hours; without one, `obstacle` says what cannot be placed.

    `kept_at` is when the plan was looked for and kept; None for one that was made at once.
    """

    session: ClassSession
    scheduled: Scheduled
    solved: Solved | None
    obstacle: CannotPlace | None = None
    kept_at: datetime | None = None

    def at(self, minute: int) -> datetime:
        """The clock in the kitchen at a minute of the plan; elapsed time, whatever clocks do."""
        return clock(self.session, minute)

    def moment(self, minute: int) -> Moment:
        """The same, to be told in words."""
        return self.session.kitchen.moment(self.at(minute))

    def on_axis(self, minute: int) -> str:
        """The same as it stands on the axis of a drawing."""
        return self.moment(minute).on_axis(self.moment(0).date)

    @property
    def slack_min(self) -> int | None:
        """Minutes left between the last bread and the end of the class; negative when late."""
        return (
            None if self.solved is None else self.scheduled.work.hours.minutes - self.solved.ready
        )


def clock(session: ClassSession, minute: int) -> datetime:
    """So many elapsed minutes from the start of a class, on the clock of its kitchen."""
    starts_at = session.starts_at.astimezone(UTC)
    return (starts_at + timedelta(minutes=minute)).astimezone(session.kitchen.zone)


def minutes_between(start: datetime, end: datetime) -> int:
    """Elapsed whole minutes from one moment to another, whatever clocks do between them."""
    return int((end.astimezone(UTC) - start.astimezone(UTC)) // timedelta(minutes=1))


def class_hours(session: ClassSession) -> ClassHours:
    """The hours of a class fetched `with_plan`: the plan it keeps, or a greedy one.

    Raises NoGrowth where a dough does not rise at all.
    """
    return hours_of(session, class_work(session, people_of(session)))


def hours_of(session: ClassSession, work: values.ClassWork) -> ClassHours:
    """The plan of some work; that of the class itself is the kept one if it still fits."""
    scheduled = schedule_of(work)
    kept = getattr(session, "kept_plan", None)
    if kept is not None and kept.made_for == fingerprint(scheduled.problem):
        solved = from_document(kept.document)
        return ClassHours(session, scheduled, solved, kept_at=kept.made_at)
    try:
        return ClassHours(session, scheduled, plan_greedily(scheduled.problem))
    except CannotPlace as obstacle:
        return ClassHours(session, scheduled, None, obstacle)


def class_work(session: ClassSession, people: Iterable[Person]) -> values.ClassWork:
    """All that decides when things happen in a class fetched `with_plan`, for these people."""
    return work_of(
        session,
        people,
        stations=session.stations.all(),
        taught=session.taught.all(),
        assistants=len(session.assistants.all()),
    )


def work_of(
    session: ClassSession,
    people: Iterable[Person],
    *,
    stations: Iterable[Station],
    taught: Iterable[TaughtRecipe],
    assistants: int,
) -> values.ClassWork:
    """The same from rows that need not be saved yet."""
    at_stations: dict[str, int] = {}
    for person in people:
        at_stations[person.station] = at_stations.get(person.station, 0) + 1
    used = [one.name for one in stations if one.name in at_stations]
    return values.ClassWork(
        hours=_hours(session),
        room=room_of(session),
        recipes=tuple(
            timed_recipe(row, [(name, at_stations[name]) for name in used])
            for row in taught
            if at_stations or row.demonstration_batches
        ),
        stations=tuple(used),
        ovens=ovens_of(session.kitchen),
        mixers=mixers_of(session.kitchen),
        assistants=assistants,
    )


def _hours(session: ClassSession) -> values.Hours:
    pause = session.break_at
    return values.Hours(
        minutes=minutes_between(session.starts_at, session.ends_at),
        welcome_min=session.welcome_min,
        weighing_min=session.weighing_min,
        show_min=session.show_min,
        cleanup_min=session.cleanup_min,
        break_at=None if pause is None else minutes_between(session.starts_at, pause),
        break_min=session.break_min if pause else 0,
    )


def room_of(session: ClassSession) -> values.Room:
    """Temperatures, places and where dough rises."""
    kitchen = session.kitchen
    return values.Room(
        room_c=Decimal(kitchen.room_c),
        night_c=Decimal(kitchen.room_c if kitchen.night_c is None else kitchen.night_c),
        rises_in=values.RisesIn(session.rises_in),
        cabinet_c=kitchen.cabinet_c,
        cabinet_places=kitchen.proof_places,
        refrigerator_places=kitchen.refrigerator_places,
        bowls=kitchen.bowls,
    )


def ovens_of(kitchen: Kitchen) -> tuple[PlannedOven, ...]:
    """The ovens of a kitchen, by name."""
    return tuple(
        PlannedOven(
            key=f"oven-{oven.pk}",
            name=oven.name,
            slots=oven.slots,
            turnaround_min=oven.turnaround_min,
            preheat_min=oven.preheat_min,
            has_fan=oven.has_fan,
        )
        for oven in kitchen.ovens.all()
    )


def mixers_of(kitchen: Kitchen) -> tuple[values.MixerKind, ...]:
    """The mixers of a kitchen counted by what they hold, the largest first."""
    counts: dict[int, int] = {}
    for mixer in kitchen.mixers.all():
        counts[mixer.capacity_g] = counts.get(mixer.capacity_g, 0) + 1
    return tuple(values.MixerKind(grams, counts[grams]) for grams in sorted(counts, reverse=True))


def timed_recipe(
    row: TaughtRecipe, at_stations: Iterable[tuple[str, int]] = ()
) -> values.TimedRecipe:
    """A taught recipe as the plan reads it, with so many people who bake it at each station."""
    revision = row.revision
    dough_g = row.pieces_each * row.piece_g
    shown = row.demonstration_batches
    demonstration = values.Group(DEMONSTRATION, shown, shown * row.pieces_each, shown * dough_g)
    degrees = revision.dough_temperature_c
    return values.TimedRecipe(
        key=str(revision.pk),
        title=revision.title,
        steps=steps_of(revision),
        groups=tuple(
            values.Group(name, people, people * row.pieces_each, people * dough_g)
            for name, people in at_stations
        ),
        demonstration=demonstration if shown else None,
        mixing=values.Mixing(row.mixing),
        stiff=_is_stiff(revision),
        pieces_a_place=pieces_a_place(row),
        dough_c=values.USUAL_DOUGH_C if degrees is None else degrees,
        brings=frozenset(row.brings),
        softens_butter=_softens_butter(revision),
        chills=_chills(revision),
    )


def steps_of(revision: Revision) -> tuple[values.TimedStep, ...]:
    """The steps of a revision as the plan reads them."""
    return tuple(
        values.TimedStep(
            StepKind(step.kind),
            step.text,
            step.hands_on_min,
            step.waiting_min,
            step.temperature_c,
            TemperatureOf(step.temperature_of) if step.temperature_of else None,
            Worked(step.worked) if step.worked else None,
        )
        for step in revision.steps.all()
    )


def pieces_a_place(row: TaughtRecipe) -> int:
    """How many pieces share an oven place: as set, or a pan of the recipe, or 500 g of rolls."""
    if row.pieces_a_place:
        return row.pieces_a_place
    if row.revision.pan_shape:
        return row.revision.pieces
    return int(A_PLACE_G // row.piece_g) if row.piece_g < SMALL_BELOW_G else 1


def _is_stiff(revision: Revision) -> bool:
    hydration = proportions(formula_value(revision)).hydration_with_hidden_water
    return hydration < values.STIFF_BELOW_PERCENT


def _ingredients(revision: Revision) -> Iterator[Ingredient]:
    for part in revision.components.all():
        for line in part.lines.all():
            yield line.ingredient


def _softens_butter(revision: Revision) -> bool:
    return any(
        one.kind == IngredientKind.FAT and BUTTER in one.key for one in _ingredients(revision)
    )


def _chills(revision: Revision) -> bool:
    """Whether milk, egg or the like comes from the refrigerator; fat is another matter."""
    return any(
        one.storage == Storage.CHILLED and one.kind != IngredientKind.FAT
        for one in _ingredients(revision)
    )
