"""The recovery notes of a run sheet, in words: every minute in them comes from a new plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from classes.core.hours.advice.outcomes import LateWork, Outcome, starts_of
from classes.core.hours.advice.recovery import (
    EARLY_MIN,
    START_LATE_MIN,
    MixerOut,
    OvenOut,
    Recovery,
    RiseOff,
)
from classes.core.hours.drawing.spans import held_mass, who_is
from classes.core.hours.problem.notes import Note
from classes.core.hours.problem.values import MixerKind
from handouts.run_sheet.course import ClassCourse
from wording.durations import minutes
from wording.figures import NBSP
from wording.lists import listed

BAKE = "Bake"
# How much of a new plan is told; beyond that it is another plan, not a recovery.
MOST_MOVED = 3
MOST_LOADS = 6
MOST_TOO_LATE = 2


@dataclass(frozen=True, slots=True)
class RiseNote:
    """A rise that is slow or fast: what then happens, by how many minutes it is off.

    `planned` is when its first dough goes on, on the clock like `earliest` and `latest`.
    """

    rise: str
    recipe: str
    planned: str
    earliest: str
    latest: str
    late: tuple[tuple[int, str], ...]
    early_min: int
    early: str


@dataclass(frozen=True, slots=True)
class Case:
    """Something that can fail, and what to do: each answer with when it is known."""

    title: str
    answers: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class RecoveryNotes:
    """What to do when the class departs from its plan.

    `heats_sooner`: dough that is ready early would have to wait for an oven.
    """

    rises: tuple[RiseNote, ...]
    brake: str
    heats_sooner: bool
    cases: tuple[Case, ...]


def recovery_notes(course: ClassCourse, recovery: Recovery) -> RecoveryNotes:
    """The answers of a recovery on the clock of a course."""
    say = _RecoveryWords(course)
    return RecoveryNotes(
        rises=tuple(say.rise(rise) for rise in recovery.rises),
        brake=say.brake(recovery.rises),
        heats_sooner=any(_waits_for_heat(rise) for rise in recovery.rises),
        cases=(
            *(say.oven(oven) for oven in recovery.ovens),
            *(say.mixer(mixer) for mixer in recovery.mixers),
            Case(
                f"People come {minutes(START_LATE_MIN)} late",
                (("If everybody waits for them", say.end(recovery.late_start)),),
            ),
        ),
    )


@dataclass(frozen=True, slots=True)
class _RecoveryWords:
    course: ClassCourse

    def at(self, minute: int) -> str:
        return self.course.label(minute)

    def end(self, outcome: Outcome) -> str:
        """When all is ready, and what breaks a rule before that."""
        if outcome.ready is None:
            stuck = outcome.stuck
            what = f": {stuck.title.lower()}, {who_is(stuck.who)}" if stuck else ""
            return f"Does not fit: no way was found{what}."
        said = f"Ready {self.at(outcome.ready)}, {_past(outcome.over_min)}."
        return " ".join([said, *self.broken(outcome)])

    def broken(self, outcome: Outcome) -> Iterator[str]:
        """What comes too late, the worst first, or has no room."""
        together: dict[tuple[str, int, int], list[LateWork]] = {}
        for baking in outcome.too_late:
            together.setdefault((baking.note.title, baking.latest, baking.start), []).append(baking)
        worst = sorted(together.items(), key=lambda item: item[0][1] - item[0][2])
        for (title, latest, start), ones in worst[:MOST_TOO_LATE]:
            past = f"{minutes(start - latest)} past the latest, {self.at(latest)}"
            yield f"▲ {self._whose(ones)}: {_title(title)} {past}."
        if more := worst[MOST_TOO_LATE:]:
            times = "time" if len(more) == 1 else "times"
            yield f"▲ {len(more)}{NBSP}{times} more it is too late, by less."
        for name, short in outcome.crowded:
            places = "place" if short == 1 else "places"
            yield f"▲ {name.capitalize()} is {short} {places} short: the rest rises on the bench."

    def _whose(self, ones: Iterable[LateWork]) -> str:
        found = list(ones)
        pieces = sum(baking.pieces for baking in found)
        who = self.course.everybody([who_is(baking.note.who) for baking in found])
        if not pieces:
            return who
        return f"{who}, {pieces} oven {'place' if pieces == 1 else 'places'}"

    # Rises

    def rise(self, off: RiseOff) -> RiseNote:
        return RiseNote(
            rise=off.title,
            recipe=self.course.recipes[off.recipe].title,
            planned=self.at(off.due),
            earliest=self.at(off.earliest),
            latest=self.at(off.latest),
            late=tuple((late, self._goes_on(off, outcome)) for late, outcome in off.late),
            early_min=EARLY_MIN,
            early=self._goes_on(off, off.early),
        )

    def _goes_on(self, off: RiseOff, outcome: Outcome) -> str:
        if outcome.next_start is None:
            return self.end(outcome)
        return (
            f"{_title(off.follows).capitalize()} {self.at(outcome.next_start)}. {self.end(outcome)}"
        )

    def brake(self, rises: Iterable[RiseOff]) -> str:
        """Whether the refrigerator has room to slow dough down."""
        there = self.course.scheduled.work.room.refrigerator_places
        if not there:
            return "No places in a refrigerator are entered for this kitchen."
        needs = listed([f"{self._rise_name(rise)} {rise.places}" for rise in rises])
        return f"The refrigerator has {there} places to slow dough down. It takes: {needs}."

    def _rise_name(self, off: RiseOff) -> str:
        return f"{off.title.lower()} of {self.course.recipes[off.recipe].title}"

    # Machines

    def oven(self, out: OvenOut) -> Case:
        title = f"{out.oven.name} fails"
        if out.due is None:
            return Case(title, (("At any time", "This plan does without it."),))
        if out.before is None or out.then is None:
            return Case(title, (("At any time", "Does not fit: no oven is left."),))
        before, then = self._anew(out.before), self._anew(out.then)
        goes_on = f"{self.at(out.due)}, when it is to go on"
        if before == then:
            return Case(title, ((f"Until {goes_on}", then),))
        return Case(title, (("Known before the class", before), (f"Found at {goes_on}", then)))

    def _anew(self, outcome: Outcome) -> str:
        said = [*self._moved(outcome), self._loads(outcome), self.end(outcome)]
        return " ".join(sentence for sentence in said if sentence)

    def _loads(self, outcome: Outcome) -> str:
        names = {oven.key: oven.name for oven in self.course.scheduled.work.ovens}
        starts: dict[int, list[str]] = {}
        for load in outcome.loads:
            starts.setdefault(load.start, []).append(f"{names[load.oven]}{NBSP}({load.filled})")
        said = [f"{self.at(start)} {listed(loads)}" for start, loads in sorted(starts.items())]
        if len(said) > MOST_LOADS:
            return f"Loads at {len(said)} times, the last at {self.at(max(starts))}."
        return f"Loads: {'; '.join(said)}." if said else ""

    def _step(self, note: Note) -> str:
        """A step, with its bread where the class bakes several."""
        title = _title(note.title)
        several = len(self.course.recipes) > 1
        return f"{title} ({self.course.recipes[note.recipe].title})" if several else title

    def _moved(self, outcome: Outcome) -> Iterator[str]:
        """What each dough does at other times than planned."""
        scheduled = self.course.scheduled
        planned = starts_of(scheduled, self.course.plan)
        moved: dict[str, list[tuple[int, str]]] = {}
        for key, start in outcome.starts.items():
            if start != planned.get(key, start):
                note = scheduled.notes[key]
                moved.setdefault(note.who, []).append((start, self._step(note)))
        alike: dict[tuple[str, ...], list[str]] = {}
        for who, steps in moved.items():
            said = tuple(f"{title} {self.at(start)}" for start, title in sorted(steps))
            alike.setdefault(said, []).append(who_is(who))
        if len(alike) > MOST_MOVED:
            yield "Nearly everybody moves: plan the hours again."
            return
        for said, names in alike.items():
            yield f"{self.course.everybody(names)}: {', '.join(said)}."

    def mixer(self, out: MixerOut) -> Case:
        held = held_mass(MixerKind(out.capacity_g, 1))
        left = f"{out.left} left" if out.left else "none left: mix by hand"
        said = " ".join([*self._moved(out.outcome), self.end(out.outcome)])
        return Case(f"A mixer for {held} fails", ((f"Known before mixing, {left}", said),))


def _waits_for_heat(off: RiseOff) -> bool:
    goes_on = off.early.next_start
    return off.follows == BAKE and goes_on is not None and goes_on > off.due - EARLY_MIN


def _title(title: str) -> str:
    return "into the oven" if title == BAKE else title.lower()


def _past(over_min: int) -> str:
    if over_min > 0:
        return f"{minutes(over_min)} past the end"
    return f"{minutes(-over_min)} before the end" if over_min else "just at the end"
