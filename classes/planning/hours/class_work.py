"""A class as a scheduling problem: every dough of every station, step by step.

People of a station work together: one pair of hands. The demonstration's dough is in the hands of
the instructor, who is in one place at a time; what the instructor shows, everybody watches before
doing it. Weighing, mixing, folding, shaping and loading the oven need hands; rising does not, and
may go on for as long as its window says. Scoring belongs to the oven: it is hot before a loaf is
turned out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from math import ceil

from classes.planning.demand import DEMONSTRATION
from classes.planning.hours.class_values import (
    ClassWork,
    Group,
    Mixing,
    Stage,
    StepKind,
    TimedRecipe,
    TimedStep,
)
from classes.planning.hours.rising import Rise, Window, on_the_bench, rest_window, rise_of
from classes.planning.hours.work import (
    Baking,
    Lag,
    Problem,
    Resource,
    Since,
    Stay,
    Task,
    Use,
    Way,
)

EVERYBODY = "Everybody"
INSTRUCTOR = "instructor"
CABINET = "cabinet"
REFRIGERATOR = "refrigerator"
IDLE_MOST_MIN = 30
WATCHED_MOST_MIN = 15
FOLD_GRACE_MIN = 15
UNPACK_MIN = 2
STIFF_SHARE = Decimal("0.9")


class Doing(StrEnum):
    """What a task is to those who do it."""

    HANDS = "hands on"
    WATCH = "watching"
    BAKE = "baking"
    BREAK = "break"


@dataclass(frozen=True, slots=True)
class Note:
    """What a task of the problem is in a class: `who` is a station's name or `EVERYBODY`."""

    title: str
    who: str
    doing: Doing
    kind: StepKind | None = None
    recipe: str = ""
    text: str = ""
    temperature_c: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Wait:
    """Dough that waits between two tasks; `rise` is there where it ferments meanwhile."""

    title: str
    who: str
    recipe: str
    after: str
    until: str
    window: Window
    rise: Rise | None = None
    kind: StepKind | None = None


@dataclass(frozen=True)
class Scheduled:
    """The problem of a class, and what its tasks and waits are."""

    work: ClassWork
    problem: Problem
    notes: Mapping[str, Note]
    waits: tuple[Wait, ...]


def schedule_of(work: ClassWork) -> Scheduled:
    """The scheduling problem of a class. Raises NoGrowth where dough does not rise."""
    builder = _Builder(work)
    builder.build()
    problem = Problem(
        tasks=tuple(builder.tasks),
        resources=tuple(_resources(work)),
        bakings=tuple(builder.bakings),
        ovens=work.ovens,
        stays=tuple(builder.stays),
    )
    return Scheduled(work, problem, builder.notes, tuple(builder.waits))


def hands_key(who: str) -> str:
    """The resource that the people of a station are; the demonstration is the instructor's."""
    return INSTRUCTOR if who == DEMONSTRATION else f"hands|{who}"


def mixer_key(capacity_g: int) -> str:
    """The resource of all mixers of a capacity in grams."""
    return f"mixers|{capacity_g}"


def _resources(work: ClassWork) -> Iterator[Resource]:
    yield Resource(INSTRUCTOR, "the instructor", 1)
    for station in work.stations:
        yield Resource(hands_key(station), station, 1)
    for kind in work.mixers:
        yield Resource(mixer_key(kind.capacity_g), "the mixers", kind.count)
    if work.room.cabinet_places:
        yield Resource(CABINET, "the proof cabinet", work.room.cabinet_places)
    if work.room.refrigerator_places:
        yield Resource(REFRIGERATOR, "the refrigerator", work.room.refrigerator_places)


def is_ahead(recipe: TimedRecipe, step: TimedStep) -> bool:
    """Whether a step is done before the class: it prepares something for the first mixing."""
    first = next((n for n, one in enumerate(recipe.steps) if one.kind is StepKind.MIX), None)
    at = next(n for n, one in enumerate(recipe.steps) if one is step)
    return step.kind is StepKind.PREPARE and first is not None and at < first


@dataclass
class _Chain:
    """One dough on its way: the last task, and the waiting that has gathered since."""

    recipe: TimedRecipe
    group: Group
    job: str
    is_lead: bool
    dough_c: Decimal
    last: str | None = None
    waiting: tuple[Window, ...] = ()
    rise: Rise | None = None
    wait_title: str = ""
    wait_kind: StepKind | None = None
    fold: str | None = None
    extra: list[Lag] = field(default_factory=list)
    cut: bool = False

    @property
    def who(self) -> str:
        return self.group.station

    @property
    def places(self) -> int:
        """Oven and cabinet places that its pieces take."""
        return -(-self.group.pieces // self.recipe.pieces_a_place)


class _Builder:
    def __init__(self, work: ClassWork) -> None:
        self.work = work
        self.tasks: list[Task] = []
        self.bakings: list[Baking] = []
        self.stays: list[Stay] = []
        self.notes: dict[str, Note] = {}
        self.waits: list[Wait] = []
        self._rises: dict[tuple[TimedStep, Decimal], Rise] = {}
        self._shown: dict[tuple[str, StepKind], str] = {}
        self._all_hands = (
            Use(INSTRUCTOR),
            *(Use(hands_key(station)) for station in work.stations),
        )

    def build(self) -> None:
        self._fixed_points()
        for recipe in self.work.recipes:
            for group in recipe.groups:
                self._weighing(recipe, group)
        for recipe in self.work.recipes:
            lead, *others = _doughs(recipe)
            self._dough(recipe, lead, is_lead=True)
            for group in others:
                self._dough(recipe, group, is_lead=False)
        for station in self.work.stations:
            self._cleaning(station)

    def _fixed_points(self) -> None:
        hours = self.work.hours
        if hours.welcome_min:
            welcome = Task("welcome", "class", (Way(hours.welcome_min, self._all_hands),), latest=0)
            self._add(welcome, Note("Welcome and cautions", EVERYBODY, Doing.WATCH))
        if hours.break_at is not None and hours.break_min:
            way = Way(hours.break_min, self._all_hands)
            pause = Task("break", "class", (way,), (), hours.break_at, hours.break_at)
            self._add(pause, Note("Break", EVERYBODY, Doing.BREAK))

    def _add(self, task: Task, note: Note) -> str:
        self.tasks.append(task)
        self.notes[task.key] = note
        return task.key

    def _after_welcome(self) -> tuple[Lag, ...]:
        return (Lag("welcome"),) if self.work.hours.welcome_min else ()

    def _weighing(self, recipe: TimedRecipe, group: Group) -> None:
        if not self.work.hours.weighing_min or _first_mix(recipe) is None:
            return
        key = _key("weigh", recipe, group)
        way = Way(self.work.hours.weighing_min, (Use(hands_key(group.station)),))
        note = Note("Weigh", group.station, Doing.HANDS, StepKind.PREPARE, recipe.key)
        self._add(Task(key, key, (way,), self._after_welcome()), note)

    def _show(self, chain: _Chain, step: TimedStep) -> None:
        """What everybody watches before a step, shown once by the instructor."""
        recipe, minutes = chain.recipe, self.work.hours.show_min
        shown = (recipe.key, step.kind)
        if not minutes or not recipe.demonstration or shown in self._shown:
            return
        key = f"show|{step.kind}|{recipe.key}"
        lags = [Lag(one) for group in recipe.groups if (one := self._weighed(recipe, group))]
        if step.kind is not StepKind.MIX:
            lags = [Lag(chain.last)] if chain.last else []
        job = key if self._is_own(chain, step) else chain.job
        task = Task(
            key, job, (Way(minutes, self._all_hands),), tuple(lags) or self._after_welcome()
        )
        self._shown[shown] = self._add(
            task,
            Note(
                f"Watch: {_TITLES[step.kind].lower()}",
                EVERYBODY,
                Doing.WATCH,
                step.kind,
                recipe.key,
            ),
        )

    def _weighed(self, recipe: TimedRecipe, group: Group) -> str | None:
        key = _key("weigh", recipe, group)
        return key if key in self.notes else None

    def _dough(self, recipe: TimedRecipe, group: Group, *, is_lead: bool) -> None:
        chain = _Chain(recipe, group, _key("dough", recipe, group), is_lead, recipe.dough_c)
        for number, step in enumerate(_in_class(recipe)):
            if step.kind in (StepKind.BULK, StepKind.PROOF):
                self._rise(chain, number, step)
            elif step.kind is StepKind.BAKE:
                self._bake(chain, number, step)
            elif step.kind is not StepKind.COOL:
                self._work_on(chain, number, step)

    def _work_on(self, chain: _Chain, number: int, step: TimedStep) -> None:
        if step.hands_on_min:
            if step.kind in (StepKind.MIX, StepKind.DIVIDE) and chain.is_lead:
                self._show(chain, step)
            key = _key(f"{step.kind}{number}", chain.recipe, chain.group)
            lags = [*self._lags(chain, key), *self._before(chain, step)]
            ways = self._ways(chain, step)
            job = key if self._is_own(chain, step) else chain.job
            note = Note(
                _TITLES[step.kind],
                chain.who,
                Doing.HANDS,
                step.kind,
                chain.recipe.key,
                step.text,
                step.temperature_c,
            )
            self._add(Task(key, job, ways, tuple(lags) or self._after_welcome()), note)
            chain.dough_c = on_the_bench(chain.dough_c, self.work.room, step.hands_on_min)
            if job == chain.job:
                chain.last = key
        if step.waiting_min and chain.last:
            self._wait(chain, rest_window(step.waiting_min), step)

    def _is_own(self, chain: _Chain, step: TimedStep) -> bool:
        """Whether it is the mixing of a dough that goes home, beside one that was brought."""
        return step.kind is StepKind.MIX and Stage.MIXED in chain.recipe.brings

    def _before(self, chain: _Chain, step: TimedStep) -> Iterator[Lag]:
        if chain.last is None and (weighed := self._weighed(chain.recipe, chain.group)):
            yield Lag(weighed)
        shown = self._shown.get((chain.recipe.key, step.kind))
        if shown:
            tied = chain.is_lead and not self._is_own(chain, step)
            yield Lag(shown, 0, WATCHED_MOST_MIN if tied else None)

    def _ways(self, chain: _Chain, step: TimedStep) -> tuple[Way, ...]:
        hands = Use(hands_key(chain.who))
        by_hand = Way(step.hands_on_min, (hands,))
        if step.kind is not StepKind.MIX or not _by_mixer(chain) or not self.work.mixers:
            return (by_hand,)
        share = STIFF_SHARE if chain.recipe.stiff else Decimal(1)
        ways = []
        for kind in self.work.mixers:
            turns = ceil(chain.group.dough_g / (kind.capacity_g * share))
            uses = (hands, Use(mixer_key(kind.capacity_g)))
            ways.append(Way(turns * step.hands_on_min, uses))
        return tuple(ways)

    def _wait(
        self, chain: _Chain, window: Window, step: TimedStep, rise: Rise | None = None
    ) -> None:
        chain.waiting += (window,)
        if rise or not chain.wait_title:
            chain.rise, chain.wait_title, chain.wait_kind = rise, _TITLES[step.kind], step.kind

    def _rise(self, chain: _Chain, number: int, step: TimedStep) -> None:
        stage = Stage.RISEN if step.kind is StepKind.BULK else Stage.SHAPED
        if stage in chain.recipe.brings:
            chain.waiting, chain.cut = (), True
            return
        if step.kind is StepKind.BULK and Stage.MIXED in chain.recipe.brings and not chain.last:
            self._unpack(chain)
        rise = self._rise_of(step, chain.dough_c)
        chain.dough_c = rise.dough_c
        if step.hands_on_min and chain.last:
            self._fold(chain, number, step, rise)
        else:
            self._wait(chain, rise.window, step, rise)

    def _rise_of(self, step: TimedStep, dough_c: Decimal) -> Rise:
        known = (step, dough_c)
        if known not in self._rises:
            self._rises[known] = rise_of(step, self.work.room, dough_c)
        return self._rises[known]

    def _unpack(self, chain: _Chain) -> None:
        key = _key("unpack", chain.recipe, chain.group)
        way = Way(UNPACK_MIN, (Use(hands_key(chain.who)),))
        note = Note("Take up the brought dough", chain.who, Doing.HANDS, None, chain.recipe.key)
        chain.last = self._add(Task(key, chain.job, (way,), self._after_welcome()), note)

    def _fold(self, chain: _Chain, number: int, step: TimedStep, rise: Rise) -> None:
        """A rise with work in its middle: the halves are waits, the whole keeps its window."""
        before, window = chain.last, rise.window
        half = (window.target - step.hands_on_min) // 2
        first = Window(half, half, half + FOLD_GRACE_MIN)
        self._wait(chain, first, step, replace(rise, window=first))
        key = _key(f"fold{number}", chain.recipe, chain.group)
        note = Note("Fold", chain.who, Doing.HANDS, step.kind, chain.recipe.key, step.text)
        way = Way(step.hands_on_min, (Use(hands_key(chain.who)),))
        self._add(Task(key, chain.job, (way,), tuple(self._lags(chain, key))), note)
        assert before is not None  # noqa: S101
        rest = window.target - half - step.hands_on_min
        second = Window(max(0, rest - FOLD_GRACE_MIN), rest, rest + window.latest - window.target)
        chain.extra = [Lag(before, window.target, window.latest)]
        chain.last, chain.fold = key, key
        self._wait(chain, second, step, replace(rise, window=second))

    def _lags(self, chain: _Chain, key: str) -> Iterator[Lag]:
        """The lags of the next task, and what of the waiting before it is worth a note."""
        if chain.last is None:
            return
        yield from chain.extra
        least = sum(window.target for window in chain.waiting)
        most = sum(window.latest for window in chain.waiting)
        if chain.fold == chain.last:
            least = sum(window.earliest for window in chain.waiting)
        if chain.waiting:
            yield Lag(chain.last, least, most)
            self._stand(chain, key)
        else:
            yield Lag(chain.last, 0, None if chain.cut else IDLE_MOST_MIN)
        chain.waiting, chain.rise, chain.wait_title, chain.cut = (), None, "", False
        chain.extra, chain.fold = [], None

    def _stand(self, chain: _Chain, until: str) -> None:
        assert chain.last is not None  # noqa: S101
        window = Window(
            sum(one.earliest for one in chain.waiting),
            sum(one.target for one in chain.waiting),
            sum(one.latest for one in chain.waiting),
        )
        wait = Wait(
            chain.wait_title,
            chain.who,
            chain.recipe.key,
            chain.last,
            until,
            window,
            chain.rise,
            chain.wait_kind,
        )
        self.waits.append(wait)
        place = chain.rise.place if chain.rise else ""
        room = self.work.room
        capacity = {CABINET: room.cabinet_places, REFRIGERATOR: room.refrigerator_places}
        if capacity.get(place):
            is_bulk = chain.wait_kind is StepKind.BULK
            amount = chain.group.people if is_bulk else chain.places
            self.stays.append(Stay(place, amount, chain.last, until))

    def _bake(self, chain: _Chain, number: int, step: TimedStep) -> None:
        key = _key(f"bake{number}", chain.recipe, chain.group)
        degrees = step.temperature_c or Decimal(0)
        baking = Baking(
            key=key,
            job=chain.job,
            pieces=chain.places,
            minutes=step.hands_on_min + step.waiting_min,
            temperature_c=int(degrees.to_integral_value(ROUND_HALF_UP)),
            after=tuple(self._lags(chain, key)) or self._after_welcome(),
            hands=hands_key(chain.who),
            hands_min=step.hands_on_min,
            then_min=_cooling(chain.recipe),
        )
        self.bakings.append(baking)
        self.notes[key] = Note(
            "Bake",
            chain.who,
            Doing.BAKE,
            StepKind.BAKE,
            chain.recipe.key,
            step.text,
            step.temperature_c,
        )
        chain.last = key

    def _cleaning(self, station: str) -> None:
        minutes = self.work.hours.cleanup_min
        if not minutes:
            return
        loaded = [
            Lag(one.key, one.hands_min, since=Since.START)
            for one in self.bakings
            if one.hands == hands_key(station)
        ]
        done = [Lag(task.key) for task in self.tasks if self.notes[task.key].who == station]
        key = f"clean|{station}"
        way = Way(minutes, (Use(hands_key(station)),))
        self._add(
            Task(key, key, (way,), (*loaded, *done) or self._after_welcome()),
            Note("Clean up", station, Doing.HANDS),
        )


_TITLES = {
    StepKind.PREPARE: "Prepare",
    StepKind.MIX: "Mix",
    StepKind.BULK: "Bulk fermentation",
    StepKind.DIVIDE: "Divide and shape",
    StepKind.REST: "Bench rest",
    StepKind.PROOF: "Proof",
    StepKind.SCORE: "Score",
    StepKind.BAKE: "Bake",
    StepKind.COOL: "Cool",
}


def _key(what: str, recipe: TimedRecipe, group: Group) -> str:
    return f"{what}|{recipe.key}|{group.station}"


def _doughs(recipe: TimedRecipe) -> list[Group]:
    shown = [recipe.demonstration] if recipe.demonstration else []
    return [*shown, *recipe.groups]


def _first_mix(recipe: TimedRecipe) -> TimedStep | None:
    return next((step for step in recipe.steps if step.kind is StepKind.MIX), None)


def _by_mixer(chain: _Chain) -> bool:
    mixing = chain.recipe.mixing
    return mixing is Mixing.MIXER or (mixing is Mixing.SHOWN and chain.who == DEMONSTRATION)


def _in_class(recipe: TimedRecipe) -> list[TimedStep]:
    """The steps of a recipe in class, with scoring and all of baking as one step."""
    found: list[TimedStep] = []
    for step in recipe.steps:
        if is_ahead(recipe, step):
            continue
        if step.kind in (StepKind.SCORE, StepKind.BAKE):
            step = replace(step, kind=StepKind.BAKE)
            if found and found[-1].kind is StepKind.BAKE:
                found[-1] = _together(found[-1], step)
                continue
        found.append(step)
    return found


def _together(first: TimedStep, second: TimedStep) -> TimedStep:
    """Two steps at the oven as one; hands are needed until the first waiting begins."""
    hands, waiting = first.hands_on_min, first.waiting_min + second.waiting_min
    if first.waiting_min:
        waiting += second.hands_on_min
    else:
        hands += second.hands_on_min
    degrees = first.temperature_c if first.temperature_c is not None else second.temperature_c
    return TimedStep(StepKind.BAKE, f"{first.text} {second.text}", hands, waiting, degrees)


def _cooling(recipe: TimedRecipe) -> int:
    return sum(
        step.hands_on_min + step.waiting_min for step in recipe.steps if step.kind is StepKind.COOL
    )
