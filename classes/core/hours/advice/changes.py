"""Changes to a class that may make its hours fit, each as the work of the changed class.

The size of a change is counted in points: a point is about as much trouble as one more minute of
class. The points are our own default, and only sort the offers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from math import ceil

from classes.core.hours.checking.shortages import people_at, people_in
from classes.core.hours.problem.oven_time import as_rolls, baking_min
from classes.core.hours.problem.steps import in_class, steps_behind
from classes.core.hours.problem.values import (
    ClassWork,
    Group,
    MixerKind,
    Mixing,
    RisesIn,
    TimedRecipe,
)
from classes.core.keys import Stage

WARM_C = Decimal(28)
TUB_G = Decimal(3000)
ANOTHER_OVEN = "another-oven"
MOST_OVENS = 2


class RemedyKind(StrEnum):
    """What is changed."""

    START_EARLIER = "start-earlier"
    END_LATER = "end-later"
    LESS_WATCHING = "less-watching"
    MORE_BOWLS = "more-bowls"
    RISE_WARM = "rise-warm"
    RISE_ON_BENCH = "rise-on-bench"
    MIX_BY_HAND = "mix-by-hand"
    PREPARED = "prepared"
    ROLLS = "rolls"
    EVENING_BEFORE = "evening-before"
    ANOTHER_MIXER = "another-mixer"
    ANOTHER_OVEN = "another-oven"
    FEWER_PEOPLE = "fewer-people"


@dataclass(frozen=True, slots=True)
class ClassChange:
    """One change; what `amount` counts depends on its kind.

    Minutes earlier, later or less watched; more bowls; people left; °C; grams that a mixer holds;
    more ovens; minutes in the oven for rolls; tubs in the refrigerator. `recipes` are their titles,
    `stage` how far brought dough is, `thing` the oven that is copied.
    """

    kind: RemedyKind
    amount: int = 0
    recipes: tuple[str, ...] = ()
    stage: Stage | None = None
    thing: str = ""


@dataclass(frozen=True)
class Changed:
    """The work of the changed class, and how large the changes are."""

    changes: tuple[ClassChange, ...]
    work: ClassWork
    cost: int


Remake = Callable[[TimedRecipe], TimedRecipe]


def start_earlier(changed: Changed, minutes: int) -> Changed:
    """Start earlier by some minutes; a break keeps its time on the clock."""
    hours = changed.work.hours
    pause = None if hours.break_at is None else hours.break_at + minutes
    longer = replace(hours, minutes=hours.minutes + minutes, break_at=pause)
    work = replace(changed.work, hours=longer)
    return _also(changed, ClassChange(RemedyKind.START_EARLIER, minutes), minutes, work)


def end_later(changed: Changed, minutes: int) -> Changed:
    """End later by some minutes."""
    longer = replace(changed.work.hours, minutes=changed.work.hours.minutes + minutes)
    work = replace(changed.work, hours=longer)
    return _also(changed, ClassChange(RemedyKind.END_LATER, minutes), minutes, work)


def watch_less(changed: Changed, minutes: int) -> Changed:
    """Shorten each time that everybody watches by some minutes."""
    hours = replace(changed.work.hours, show_min=changed.work.hours.show_min - minutes)
    work = replace(changed.work, hours=hours)
    return _also(changed, ClassChange(RemedyKind.LESS_WATCHING, minutes), 5 + 2 * minutes, work)


def more_bowls(changed: Changed) -> Changed:
    """A bowl for every dough."""
    room = replace(changed.work.room, bowls=changed.work.doughs)
    missing = changed.work.doughs - changed.work.room.bowls
    work = replace(changed.work, room=room)
    return _also(changed, ClassChange(RemedyKind.MORE_BOWLS, missing), 5 + missing, work)


def fewer_people(changed: Changed, people: int) -> Changed:
    """Fewer people, taken from the fullest stations; empty stations are removed."""
    work, before = changed.work, people_in(changed.work)
    sizes = {station: people_at(work, station) for station in work.stations}
    for _ in range(before - people):
        fullest = max(sizes.values())
        station = next(size for size in reversed(sizes) if sizes[size] == fullest)
        sizes[station] -= 1
    recipes = tuple(
        replace(recipe, groups=tuple(_resized(recipe.groups, sizes))) for recipe in work.recipes
    )
    stations = tuple(station for station in work.stations if sizes[station])
    change = ClassChange(RemedyKind.FEWER_PEOPLE, people)
    fewer = replace(work, recipes=recipes, stations=stations)
    return _also(changed, change, 40 * (before - people), fewer)


def _resized(groups: tuple[Group, ...], sizes: dict[str, int]) -> Iterator[Group]:
    for group in groups:
        people = min(group.people, sizes[group.station])
        if people:
            pieces = group.pieces * people // group.people
            grams = group.dough_g * people / group.people
            yield replace(group, people=people, pieces=pieces, dough_g=grams)


def _also(changed: Changed, change: ClassChange, points: int, work: ClassWork) -> Changed:
    return Changed((*changed.changes, change), work, changed.cost + points)


def _other_places(start: Changed) -> Iterator[Changed]:
    """Dough that rises in the warm cabinet, or on the bench."""
    room = start.work.room
    in_cabinet = room.rises_in is RisesIn.CABINET
    if room.cabinet_places and not (in_cabinet and room.cabinet_c == WARM_C):
        warm = replace(room, rises_in=RisesIn.CABINET, cabinet_c=WARM_C)
        change = ClassChange(RemedyKind.RISE_WARM, int(WARM_C))
        yield _also(start, change, 10, replace(start.work, room=warm))
    if in_cabinet:
        bench = replace(room, rises_in=RisesIn.BENCH)
        change = ClassChange(RemedyKind.RISE_ON_BENCH)
        yield _also(start, change, 10, replace(start.work, room=bench))


def _mixed_by_hand(start: Changed) -> Iterator[Changed]:
    return _for_recipes(start, RemedyKind.MIX_BY_HAND, _by_hand, 20)


def _in_rolls(start: Changed) -> Iterator[Changed]:
    return _for_recipes(start, RemedyKind.ROLLS, as_rolls, 45)


def _for_recipes(
    start: Changed, kind: RemedyKind, remake: Remake, points: int
) -> Iterator[Changed]:
    """A change to each recipe that it changes, and then to all of them."""
    recipes = start.work.recipes
    able = [recipe for recipe in recipes if remake(recipe) != recipe]
    sets = [[recipe] for recipe in able] + ([able] if len(able) > 1 else [])
    for chosen in sets:
        titles = tuple(recipe.title for recipe in chosen)
        made = tuple(remake(recipe) if recipe in chosen else recipe for recipe in recipes)
        amount = (
            max(baking_min(remake(variant)) for variant in chosen)
            if kind is RemedyKind.ROLLS
            else 0
        )
        change = ClassChange(kind, amount, titles)
        yield _also(start, change, points * len(chosen), replace(start.work, recipes=made))


def _by_hand(recipe: TimedRecipe) -> TimedRecipe:
    return replace(recipe, mixing=Mixing.HAND)


def _evening_before(start: Changed) -> Iterator[Changed]:
    """Dough mixed the evening before and risen cold, if the refrigerator holds its tubs."""
    for changed in _brought_at(start, Stage.RISEN, 50):
        if _holds_tubs(changed):
            titles = changed.changes[-1].recipes
            tubs = tubs_of(changed.work, titles)
            change = ClassChange(RemedyKind.EVENING_BEFORE, tubs, titles, Stage.RISEN)
            yield replace(changed, changes=(*start.changes, change))


def _holds_tubs(changed: Changed) -> bool:
    tubs = tubs_of(changed.work, changed.changes[-1].recipes)
    return tubs <= changed.work.room.refrigerator_places


def _prepared(start: Changed) -> Iterator[Changed]:
    """Prepared dough for everybody, the earliest stage first; risen if no night's tubs fit."""
    yield from _brought_at(start, Stage.MIXED, 40)
    yield from (change for change in _brought_at(start, Stage.RISEN, 55) if not _holds_tubs(change))
    yield from _brought_at(start, Stage.SHAPED, 60)


def _brought_at(start: Changed, stage: Stage, points: int) -> Iterator[Changed]:
    """Recipes that reach the stage and have nothing brought yet."""

    def remake(recipe: TimedRecipe) -> TimedRecipe:
        if recipe.brings or not steps_behind(in_class(recipe), stage):
            return recipe
        return replace(recipe, brings=frozenset({stage}))

    for for_recipe in _for_recipes(start, RemedyKind.PREPARED, remake, points):
        change = replace(for_recipe.changes[-1], stage=stage)
        yield replace(for_recipe, changes=(*start.changes, change))


def tubs_of(work: ClassWork, titles: tuple[str, ...]) -> int:
    """Refrigerator places for dough of some recipes: a tub, or more of 3 kg, for each station.

    That a tub with room to rise holds 3 kg is our own default.
    """
    groups = [group for recipe in work.recipes if recipe.title in titles for group in recipe.doughs]
    return sum(ceil(group.dough_g / TUB_G) for group in groups)


def _more_mixers(start: Changed) -> Iterator[Changed]:
    """One more of each kind in the kitchen, if any dough is mixed by mixer."""
    kinds = start.work.mixers
    if all(recipe.mixing is Mixing.HAND for recipe in start.work.recipes):
        return
    for n, kind in enumerate(kinds):
        more = (*kinds[:n], MixerKind(kind.capacity_g, kind.count + 1), *kinds[n + 1 :])
        change = ClassChange(RemedyKind.ANOTHER_MIXER, kind.capacity_g)
        yield _also(start, change, 70, replace(start.work, mixers=more))


def _more_ovens(start: Changed) -> Iterator[Changed]:
    """One or two more like the largest one."""
    ovens = start.work.ovens
    if not ovens:
        return
    biggest = max(ovens, key=lambda oven: oven.slots)
    for count in range(1, MOST_OVENS + 1):
        name = f"{biggest.name}, again"
        ovens = (*ovens, replace(biggest, key=f"{ANOTHER_OVEN}-{count}", name=name))
        change = ClassChange(RemedyKind.ANOTHER_OVEN, count, thing=biggest.name)
        yield _also(start, change, 90 * count, replace(start.work, ovens=ovens))


# The variants of each kind of change; the first of a kind that fits is offered.
ALTERNATIVES: tuple[Callable[[Changed], Iterator[Changed]], ...] = (
    _other_places,
    _mixed_by_hand,
    _evening_before,
    _prepared,
    _in_rolls,
    _more_mixers,
    _more_ovens,
)
