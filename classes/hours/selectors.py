"""The hours of a class: its rows as the values that its plan is made from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

from classes.core.demand import DEMONSTRATION, Person
from classes.core.hours.problem import values as values
from classes.core.hours.problem.work import PlannedOven
from classes.models import ClassSession, Kitchen, Station, TaughtRecipe
from recipes.core.choices import IngredientKind, Storage
from recipes.core.formula import Formula, proportions
from recipes.models import Ingredient, Revision
from recipes.selectors import written_steps

A_PLACE_G = Decimal(500)
SMALL_BELOW_G = Decimal(250)
BUTTER = "butter"


def minutes_between(start: datetime, end: datetime) -> int:
    """Elapsed whole minutes between two moments, across clock changes."""
    return int((end.astimezone(UTC) - start.astimezone(UTC)) // timedelta(minutes=1))


def work_of(
    session: ClassSession,
    people: Iterable[Person],
    *,
    stations: Iterable[Station],
    taught: Iterable[tuple[TaughtRecipe, values.TimedRecipe]],
    assistants: int,
) -> values.ClassWork:
    """Everything that determines when things happen in a class, from rows that may be unsaved.

    Each taught row comes with the recipe made from it.
    """
    at_stations: dict[str, int] = {}
    for person in people:
        at_stations[person.station] = at_stations.get(person.station, 0) + 1
    used = [station.name for station in stations if station.name in at_stations]
    return values.ClassWork(
        hours=_hours(session),
        room=room_of(session),
        recipes=tuple(
            replace(recipe, groups=tuple(_group(row, name, at_stations[name]) for name in used))
            for row, recipe in taught
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
        writing=kitchen.writing,
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
            across=oven.across,
        )
        for oven in kitchen.ovens.all()
    )


def mixers_of(kitchen: Kitchen) -> tuple[values.MixerKind, ...]:
    """The mixers of a kitchen counted by what they hold, the largest first."""
    counts: dict[int, int] = {}
    for mixer in kitchen.mixers.all():
        counts[mixer.capacity_g] = counts.get(mixer.capacity_g, 0) + 1
    return tuple(values.MixerKind(grams, counts[grams]) for grams in sorted(counts, reverse=True))


def _group(row: TaughtRecipe, name: str, heads: int) -> values.Group:
    """A number of people at a station, or of demonstrations, that bake a recipe."""
    pieces = heads * row.pieces_each
    return values.Group(name, heads, pieces, pieces * row.piece_g)


def timed_recipe(row: TaughtRecipe, formula: Formula) -> values.TimedRecipe:
    """A taught recipe as the plan reads it, before anybody bakes it."""
    revision, shown = row.revision, row.demonstration_batches
    degrees = revision.dough_temperature_c
    return values.TimedRecipe(
        key=str(revision.pk),
        title=revision.title,
        steps=written_steps(revision),
        groups=(),
        demonstration=_group(row, DEMONSTRATION, shown) if shown else None,
        mixing=values.Mixing(row.mixing),
        stiff=_is_stiff(formula),
        pieces_a_place=pieces_a_place(row),
        dough_c=values.USUAL_DOUGH_C if degrees is None else degrees,
        brings=frozenset(row.brings),
        softens_butter=_softens_butter(revision),
        chills=_chills(revision),
        slug=revision.recipe.slug,
    )


def pieces_a_place(row: TaughtRecipe) -> int:
    """How many pieces share an oven place: as set, or a pan of the recipe, or 500 g of rolls."""
    if row.pieces_a_place:
        return row.pieces_a_place
    if row.revision.pan_shape:
        return row.revision.pieces
    return int(A_PLACE_G // row.piece_g) if row.piece_g < SMALL_BELOW_G else 1


def _is_stiff(formula: Formula) -> bool:
    """Whether it strains a mixer like a stiff dough; yes if that is unknown."""
    hydration = proportions(formula).hydration_with_hidden_water
    return hydration is None or hydration < values.STIFF_BELOW_PERCENT


def _ingredients(revision: Revision) -> Iterator[Ingredient]:
    for part in revision.components.all():
        for line in part.lines.all():
            yield line.ingredient


def _softens_butter(revision: Revision) -> bool:
    return any(
        ingredient.kind == IngredientKind.FAT and BUTTER in ingredient.key
        for ingredient in _ingredients(revision)
    )


def _chills(revision: Revision) -> bool:
    """Whether milk, egg or the like comes from the refrigerator.

    Fat does not count, and a starter is fed before it is used.
    """
    others = (IngredientKind.FAT, IngredientKind.STARTER)
    return any(
        ingredient.storage == Storage.CHILLED and ingredient.kind not in others
        for ingredient in _ingredients(revision)
    )
