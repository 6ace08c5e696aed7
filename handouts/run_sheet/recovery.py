"""The recovery table of a run sheet: every minute in it comes from a new plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from classes.core.hours.advice.outcomes import LateWork, Outcome, starts_of
from classes.core.hours.advice.recovery import (
    EARLY_MIN,
    LATE_MIN,
    START_LATE_MIN,
    MixerOut,
    OvenOut,
    Recovery,
    RiseOff,
)
from classes.core.hours.drawing.spans import held_mass, who_is
from classes.core.hours.problem.values import MixerKind
from handouts.run_sheet.course import ClassCourse
from wording.durations import minutes
from wording.figures import NBSP
from wording.lists import listed

BAKE = "Bake"
# How much of a new plan is told; beyond that it is another plan, not a recovery.
MOST_MOVED = 3
MOST_LETTERS = 160
MOST_LOADS = 6
PLAN_AGAIN = "Nearly everybody moves: plan the hours again."


@dataclass(frozen=True, slots=True)
class RecoveryRow:
    """A problem and what to do; `ready` is when all is then ready, empty if nothing is.

    `loads` says what then goes into the ovens, `past` how long that is past the end of the class,
    `who` whose work moves, `caution` what breaks a rule. `is_ahead` if it is known before the
    class, when the hours can be planned again.
    """

    problem: str
    do: str
    ready: str
    past: str
    who: str
    caution: str
    loads: str = ""
    is_ahead: bool = False

    @property
    def brief(self) -> RecoveryRow:
        """Without the loads of a plan that is to be made again."""
        return replace(self, loads="") if PLAN_AGAIN in self.do else self


@dataclass(frozen=True, slots=True)
class RecoveryGroup:
    """Problems with one thing; `note` is what the plan says of it."""

    title: str
    note: str
    rows: tuple[RecoveryRow, ...]

    @property
    def brief(self) -> RecoveryGroup:
        """Without what is known before the class, and without dough that is slower still."""
        rows = (row.brief for row in self.rows if not (row.is_ahead or row.problem == SLOWEST))
        return replace(self, rows=tuple(rows))


@dataclass(frozen=True, slots=True)
class RecoveryNotes:
    """What to do when the class departs from its plan.

    `brake` is what room the refrigerator has, empty without a rise; `heats_sooner`: dough that is
    ready early would have to wait for an oven.
    """

    groups: tuple[RecoveryGroup, ...]
    brake: str
    heats_sooner: bool

    @property
    def brief(self) -> RecoveryNotes:
        """Only what happens during the class, and of slow dough only the first."""
        return replace(self, groups=tuple(group.brief for group in self.groups))


def recovery_notes(course: ClassCourse, recovery: Recovery) -> RecoveryNotes:
    """The answers of a recovery on the clock of a course."""
    say = _RecoveryWords(course)
    others = [
        *(row for oven in recovery.ovens for row in say.oven(oven)),
        *(say.mixer(mixer) for mixer in recovery.mixers),
        say.late_start(recovery.late_start),
    ]
    return RecoveryNotes(
        groups=(
            *(say.rise(rise) for rise in recovery.rises),
            RecoveryGroup("Ovens, mixers and people", "", tuple(others)),
        ),
        brake=say.brake(recovery.rises),
        heats_sooner=any(_waits_for_heat(rise) for rise in recovery.rises),
    )


@dataclass(frozen=True, slots=True)
class _RecoveryWords:
    course: ClassCourse

    def at(self, minute: int) -> str:
        return self.course.label(minute)

    def row(self, problem: str, do: Iterable[str], outcome: Outcome) -> RecoveryRow:
        """A row with the end of an outcome, and what breaks a rule before that."""
        said = " ".join(sentence for sentence in do if sentence)
        if outcome.ready is None:
            stuck = outcome.stuck
            what = f": {stuck.title.lower()}, {who_is(stuck.who)}" if stuck else ""
            return RecoveryRow(problem, f"No way was found{what}.", "", "does not fit", "", "")
        return RecoveryRow(
            problem=problem,
            do=said,
            ready=self.at(outcome.ready),
            past=_past(outcome.over_min),
            who=self._affected(outcome),
            caution=" ".join(self._broken(outcome)),
        )

    def _broken(self, outcome: Outcome) -> Iterator[str]:
        """What comes too late, the worst first, or has no room."""
        together: dict[tuple[str, int, int], list[LateWork]] = {}
        for baking in outcome.too_late:
            together.setdefault((baking.note.title, baking.latest, baking.start), []).append(baking)
        worst = sorted(together.items(), key=lambda item: item[0][1] - item[0][2])
        for (title, latest, start), ones in worst[:1]:
            late = minutes(start - latest)
            yield f"▲ {self._whose(title, ones)} {late} past {self.at(latest)}."
        if len(worst) > 1:
            yield f"▲ {len(worst) - 1} more, by less."
        for name, short in outcome.crowded:
            places = "place" if short == 1 else "places"
            yield f"▲ {name.removeprefix('the ').capitalize()} {short} {places} short."

    def _whose(self, title: str, ones: Iterable[LateWork]) -> str:
        found = list(ones)
        pieces = sum(baking.pieces for baking in found)
        who = self.course.everybody([who_is(baking.note.who) for baking in found])
        if not pieces:
            return f"{who}: {_title(title)}"
        return f"{who}, {pieces} oven {'place' if pieces == 1 else 'places'}"

    # Rises

    def rise(self, off: RiseOff) -> RecoveryGroup:
        slow = [
            self.row(_slow(late), self._goes_on(off, outcome), outcome)
            for late, outcome in off.late
        ]
        fast = self.row(f"{minutes(EARLY_MIN)} fast", self._goes_on(off, off.early), off.early)
        return RecoveryGroup(
            title=f"{off.title}, {self.course.recipes[off.recipe].title}",
            note=f"planned to {self.at(off.due)}, from {self.at(off.earliest)}, at the latest "
            f"{self.at(off.latest)}",
            rows=(*slow, fast),
        )

    def _goes_on(self, off: RiseOff, outcome: Outcome) -> Iterator[str]:
        if outcome.next_start is not None:
            yield f"{_title(off.follows).capitalize()} {self.at(outcome.next_start)}."

    def brake(self, rises: Iterable[RiseOff]) -> str:
        """Whether the refrigerator has room to slow dough down."""
        needs = listed([f"{self._rise_name(rise)} {rise.places}" for rise in rises])
        if not needs:
            return ""
        there = self.course.scheduled.work.room.refrigerator_places
        if not there:
            return "No places in a refrigerator are entered for this kitchen."
        return f"The refrigerator has {there} places to slow dough down. It takes: {needs}."

    def _rise_name(self, off: RiseOff) -> str:
        return f"{off.title.lower()} of {self.course.recipes[off.recipe].title}"

    # Machines, people

    def oven(self, out: OvenOut) -> Iterator[RecoveryRow]:
        title = f"{out.oven.name} fails"
        if out.due is None:
            yield RecoveryRow(title, "This plan does without it.", "", "", "", "")
        elif out.before is None or out.then is None:
            yield RecoveryRow(title, "No oven is left.", "", "does not fit", "", "")
        else:
            goes_on = self.at(out.due)
            before, then = self._anew("", out.before), self._anew("", out.then)
            if before == then:
                yield self._anew(f"{title}, until {goes_on}", out.then)
            else:
                ahead = self._anew(f"{title}, known before the class", out.before)
                yield replace(ahead, is_ahead=True)
                yield self._anew(f"{title}, found at {goes_on}", out.then)

    def _anew(self, problem: str, outcome: Outcome) -> RecoveryRow:
        row = self.row(problem, self._moves(outcome), outcome)
        return row if outcome.ready is None else replace(row, loads=self._loads(outcome))

    def mixer(self, out: MixerOut) -> RecoveryRow:
        held = held_mass(MixerKind(out.capacity_g, 1))
        left = f"{out.left} left" if out.left else "none left: mix by hand"
        problem = f"A {held} mixer fails before mixing, {left}"
        return self.row(problem, self._moves(out.outcome), out.outcome)

    def late_start(self, outcome: Outcome) -> RecoveryRow:
        problem = f"People come {minutes(START_LATE_MIN)} late"
        return self.row(problem, ["If everybody waits for them."], outcome)

    def _loads(self, outcome: Outcome) -> str:
        names = {oven.key: oven.name for oven in self.course.scheduled.work.ovens}
        starts: dict[int, list[str]] = {}
        for load in outcome.loads:
            starts.setdefault(load.start, []).append(f"{names[load.oven]}{NBSP}({load.filled})")
        said = [f"{self.at(start)} {listed(loads)}" for start, loads in sorted(starts.items())]
        if len(said) > MOST_LOADS:
            return f"Loads at {len(said)} times, the last at {self.at(max(starts))}."
        return f"Loads: {'; '.join(said)}." if said else ""

    def _moved(self, outcome: Outcome) -> dict[str, dict[str, list[tuple[int, str]]]]:
        """By whose dough it is and its bread, what starts at another time than planned."""
        scheduled = self.course.scheduled
        planned = starts_of(scheduled, self.course.plan)
        moved: dict[str, dict[str, list[tuple[int, str]]]] = {}
        for key, start in outcome.starts.items():
            if start != planned.get(key, start):
                note = scheduled.notes[key]
                breads = moved.setdefault(who_is(note.who), {})
                breads.setdefault(note.recipe, []).append((start, _title(note.title)))
        return moved

    def _affected(self, outcome: Outcome) -> str:
        moved = self._moved(outcome)
        return self.course.everybody(moved) if moved else "nobody"

    def _moves(self, outcome: Outcome) -> Iterator[str]:
        """What each dough does at other times than planned; whose it is, if not all the same."""
        alike: dict[str, list[str]] = {}
        for who, breads in self._moved(outcome).items():
            alike.setdefault("; ".join(self._steps(breads)), []).append(who)
        if not alike:
            yield "Go on as planned."
        elif len(alike) > MOST_MOVED or sum(map(len, alike)) > MOST_LETTERS:
            yield PLAN_AGAIN
        elif len(alike) == 1:
            yield f"{_upper(next(iter(alike)))}."
        else:
            for said, names in alike.items():
                yield f"{self.course.everybody(names)}: {said}."

    def _steps(self, breads: Mapping[str, list[tuple[int, str]]]) -> Iterator[str]:
        several = len(self.course.recipes) > 1
        for recipe, steps in breads.items():
            said = ", ".join(f"{title} {self.at(start)}" for start, title in sorted(steps))
            yield f"{self.course.recipes[recipe].title}: {said}" if several else said


def _slow(late_min: int) -> str:
    return f"{minutes(late_min)} slow"


SLOWEST = _slow(max(LATE_MIN))


def _waits_for_heat(off: RiseOff) -> bool:
    goes_on = off.early.next_start
    return off.follows == BAKE and goes_on is not None and goes_on > off.due - EARLY_MIN


def _title(title: str) -> str:
    return "into the oven" if title == BAKE else title.lower()


def _past(over_min: int) -> str:
    if over_min > 0:
        return f"{minutes(over_min)} late"
    return f"{minutes(-over_min)} early" if over_min else "just in time"


def _upper(words: str) -> str:
    return words[:1].upper() + words[1:]
