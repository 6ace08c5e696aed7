"""The lanes of a drawing, in minutes: people, ovens, mixers and stores, and what is in each.

A lane of people has a strip for their hands and a strip for each of their doughs. Nothing in a
strip overlaps. Stations that do the same at the same times can share a lane.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from string import ascii_uppercase

from classes.core.demand import DEMONSTRATION
from classes.core.hours.drawing.pieces import (
    LOOKS,
    Block,
    Lane,
    Piece,
    Strip,
    StripRole,
    in_turn,
    left_free,
    once,
    union,
    words_of,
)
from classes.core.hours.drawing.spans import (
    Activity,
    ActivityKind,
    held_mass,
    mixers_of,
    spans_of,
    who_is,
)
from classes.core.hours.drawing.values import Look
from classes.core.hours.problem.keys import CABINET, REFRIGERATOR
from classes.core.hours.problem.notes import EVERYBODY, Scheduled
from classes.core.hours.problem.work import Load, Plan, PlannedOven
from wording.figures import NBSP
from wording.lists import joined, listed, numbers_of
from wording.writing import Writing

DEMO = "Demo"
STORES = ((CABINET, "Proof cabinet", "Proof"), (REFRIGERATOR, "Refrigerator", "Fridge"))


def recipe_marks(scheduled: Scheduled) -> Mapping[str, str]:
    """A letter for each recipe by its key, if the class has several; else none."""
    recipes = scheduled.work.recipes
    if len(recipes) < 2:
        return {recipe.key: "" for recipe in recipes}
    numbers = (str(number) for number in range(len(ascii_uppercase) + 1, len(recipes) + 1))
    return dict(zip((recipe.key for recipe in recipes), (*ascii_uppercase, *numbers), strict=False))


@dataclass(frozen=True)
class Lanes:
    """The lanes of a plan; `label` gives the clock at a minute of the class."""

    scheduled: Scheduled
    plan: Plan
    label: Callable[[int], str]

    def all(self, *, join: bool) -> tuple[Lane, ...]:
        """From top to bottom; with `join`, stations that do the same share a lane."""
        return (*self._people(join), *self._ovens(), *self._mixers(), *self._stores())

    @cached_property
    def spans(self) -> tuple[Activity, ...]:
        return spans_of(self.scheduled, self.plan)

    @cached_property
    def titles(self) -> Mapping[str, str]:
        return {recipe.key: recipe.title for recipe in self.scheduled.work.recipes}

    @cached_property
    def marks(self) -> Mapping[str, str]:
        return recipe_marks(self.scheduled)

    @property
    def writing(self) -> Writing:
        return self.scheduled.work.room.writing

    def _title(self, starts: int, ends: int, who: str, *told: str | None) -> str:
        said = ", ".join(activity for activity in told if activity)
        return f"{self.label(starts)} to {self.label(ends)}, {who}: {said}"

    def _piece(self, span: Activity, who: str) -> Piece:
        celsius = span.temperature_c
        degrees = "" if celsius is None else self.writing.one_scale(celsius)
        told = (span.what, span.kind, self.titles.get(span.recipe), span.where, degrees)
        mark = self.marks.get(span.recipe, "")
        title = self._title(span.starts, span.ends, who, *told)
        words = words_of(span, mark, degrees)
        last = mark if span.kind is ActivityKind.HANDS else ""
        return Piece(span.starts, span.ends, LOOKS[span.kind], words, title, last, mark)

    # People

    def _people(self, join: bool) -> Iterator[Lane]:
        by_who: dict[str, list[Activity]] = {}
        for span in self.spans:
            by_who.setdefault(span.who, []).append(span)
        if together := by_who.get(EVERYBODY):
            strip = Strip(StripRole.ALL, tuple(self._piece(span, EVERYBODY) for span in together))
            yield Lane(Block.PEOPLE, EVERYBODY, "", (strip,), "All")
        if shown := by_who.get(DEMONSTRATION):
            yield self._lane([DEMONSTRATION], shown, "demonstration")
        groups: dict[object, list[str]] = {}
        for station in self.scheduled.work.stations:
            seen = self._lane([station], by_who.get(station, []))
            key = tuple(strip.seen for strip in seen.strips) if join else station
            groups.setdefault(key, []).append(station)
        for names in groups.values():
            spans = [span for name in names for span in by_who.get(name, [])]
            yield self._lane(names, spans, f"{len(names)} stations" if len(names) > 1 else "")

    def _lane(self, names: list[str], spans: list[Activity], note: str = "") -> Lane:
        who = joined(who_is(name) for name in names)
        strips = [Strip(StripRole.HANDS, tuple(self._hands(spans, who)))]
        for recipe in self.scheduled.work.recipes:
            own = [span for span in spans if span.recipe == recipe.key]
            if pieces := tuple(self._dough(own, who)):
                strips.append(Strip(StripRole.DOUGH, pieces, self.marks[recipe.key]))
        return Lane(Block.PEOPLE, who, note, tuple(strips))

    def _hands(self, spans: list[Activity], who: str) -> Iterator[Piece]:
        """Tasks and loading of ovens; shown once for stations that do the same."""
        found: dict[int, Piece] = {}
        for span in spans:
            if span.kind is ActivityKind.HANDS:
                found[span.starts] = self._piece(span, who)
        loading = union(
            (span.starts, span.starts + span.hands_min) for span in spans if span.hands_min
        )
        for starts, ends in loading:
            title = self._title(starts, ends, who, "Load the oven", ActivityKind.HANDS)
            found[starts] = Piece(starts, ends, Look.HANDS, ("Load",), title)
        yield from (found[starts] for starts in sorted(found))

    def _dough(self, spans: list[Activity], who: str) -> Iterator[Piece]:
        """Baking, then waits and cooling in the remaining times."""
        waiting = (ActivityKind.RISE, ActivityKind.REST)
        layers = [
            [span for span in spans if span.kind is ActivityKind.BAKE],
            [span for span in spans if span.kind in waiting],
            [span for span in spans if span.kind is ActivityKind.COOL],
        ]
        found: list[Piece] = []
        for layer in layers:
            taken = union((piece.starts, piece.ends) for piece in found)
            for starts, ends in union((span.starts, span.ends) for span in layer):
                for begins, stops in left_free(starts, ends, taken):
                    told = [bar for bar in layer if bar.starts < stops and begins < bar.ends]
                    where = listed(self._in_order({activity.where for activity in told}))
                    span = replace(told[0], starts=begins, ends=stops, where=where)
                    found.append(self._piece(span, who))
        yield from sorted(found, key=lambda piece: piece.starts)

    def _in_order(self, places: set[str]) -> list[str]:
        """The names of the ovens, in order; any other kind of place exists only once."""
        known = [oven.name for oven in self.scheduled.problem.ovens if oven.name in places]
        return known or sorted(places)

    # Machines

    def _ovens(self) -> Iterator[Lane]:
        for oven in self.scheduled.problem.ovens:
            heats = [
                span
                for span in self.spans
                if span.kind is ActivityKind.HEAT and span.item == oven.key
            ]
            pieces = [
                *(self._load(load, oven) for load in self.plan.loads if load.oven == oven.key),
                *(self._piece(span, oven.name) for span in heats),
            ]
            strip = Strip(StripRole.PLACES, tuple(sorted(pieces, key=lambda piece: piece.starts)))
            yield Lane(Block.OVENS, oven.name, f"oven, {oven.slots} places", (strip,))

    def _load(self, load: Load, oven: PlannedOven) -> Piece:
        notes = self.scheduled.notes
        recipes = list(dict.fromkeys(notes[key].recipe for key, _ in load.pieces))
        held = f"{load.filled}{NBSP}of{NBSP}{oven.slots}"
        breads = listed([self.titles[recipe] for recipe in recipes])
        letters = " ".join(self.marks[recipe] for recipe in recipes)
        heats = [stage.temperature_c for stage in load.stages] or [load.celsius]
        degrees = ", then ".join(
            "heat not stated" if celsius is None else self.writing.one_scale(celsius)
            for celsius in heats
        )
        texts = (f"{held} {breads}, {degrees}", f"{held} {breads}")
        whose = ", ".join(f"{who_is(notes[key].who)} {count}" for key, count in load.pieces)
        return Piece(
            load.start,
            load.end,
            Look.BAKE,
            once(*texts, f"{held} {letters}", held, f"{load.filled}/{oven.slots}"),
            self._title(
                *(load.start, load.end, oven.name, ActivityKind.BAKE, breads, degrees),
                f"{held} places taken: {whose}",
            ),
            share=(load.filled, oven.slots),
        )

    def _mixers(self) -> Iterator[Lane]:
        """The mixers in use, each with the doughs that it mixes one after the other."""
        number = 0
        for kind in self.scheduled.work.mixers:
            taken = {
                task.key
                for task in self.scheduled.problem.tasks
                if mixers_of(self.scheduled, task, self.plan) is kind
            }
            used = [
                span
                for span in self.spans
                if span.kind is ActivityKind.HANDS and span.item in taken
            ]
            for turns in in_turn(used):
                number += 1
                name = f"Mixer {number}, {held_mass(kind)}"
                strip = Strip(StripRole.TURNS, tuple(self._turn(span, name) for span in turns))
                yield Lane(Block.MIXERS, name, "", (strip,))

    @cached_property
    def _numbers(self) -> Mapping[str, str]:
        """Stations by the number in their names, if only that distinguishes them."""
        return numbers_of(self.scheduled.work.stations)

    def _turn(self, span: Activity, mixer: str) -> Piece:
        who, mark = who_is(span.who), self.marks[span.recipe]
        told = (span.what, who, self.titles[span.recipe])
        return Piece(
            span.starts,
            span.ends,
            Look.HANDS,
            once(f"{who} {mark}", who),
            self._title(span.starts, span.ends, mixer, *told),
            last=DEMO if span.who == DEMONSTRATION else self._numbers.get(span.who, ""),
        )

    def _stores(self) -> Iterator[Lane]:
        """The cabinet and the refrigerator, if anything stands there."""
        capacity = self.scheduled.problem.capacity
        for key, name, short in STORES:
            if pieces := tuple(self._stays(key, name)):
                note = f"{capacity[key]} places"
                yield Lane(Block.STORES, name, note, (Strip(StripRole.PLACES, pieces),), short)

    def _stays(self, resource: str, name: str) -> Iterator[Piece]:
        """How many places are taken, from one change to the next."""
        problem = self.scheduled.problem
        changes: dict[int, int] = {}
        for stay in problem.stays:
            if stay.resource == resource:
                begins = self.plan.end(problem, stay.after)
                leaves = self.plan.last_start(problem, stay.until)
                changes[begins] = changes.get(begins, 0) + stay.amount
                changes[leaves] = changes.get(leaves, 0) - stay.amount
        times = sorted(minute for minute, change in changes.items() if change)
        taken, places = 0, problem.capacity.get(resource, 0)
        for starts, ends in pairwise(times):
            taken += changes[starts]
            if taken:
                held = f"{taken}{NBSP}of{NBSP}{places}"
                title = self._title(starts, ends, name, f"{held} places taken")
                words = (held, str(taken))
                yield Piece(starts, ends, Look.WAIT, words, title, share=(taken, places))
