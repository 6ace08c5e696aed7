"""A class as a scheduling problem: every dough of every station, step by step.

People of a station work together: one pair of hands. The demonstration's dough is in the hands of
the instructor, who is in one place at a time; what the instructor shows, everybody watches before
doing it. Weighing, mixing, folding, shaping and loading the oven need hands; rising does not, and
may go on for as long as its window says. Scoring belongs to the oven: it is hot before a loaf is
turned out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
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
from classes.planning.hours.steps import cooling_min, first_mix, in_class, steps_behind
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
    """Dough that waits between two tasks; `rise` is there where it ferments meanwhile.

    After the last fold of a rise `window` is that of the rest, and `rise` keeps that of the whole.
    """

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
    """Tasks, bakings, stays and waits of a class, gathered in the order of the work."""

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
            for n, group in enumerate(doughs_of(recipe)):
                self._dough(recipe, group, is_lead=n == 0)
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
        if not self.work.hours.weighing_min or first_mix(recipe) is None:
            return
        key = key_of("weigh", recipe, group)
        way = Way(self.work.hours.weighing_min, (Use(hands_key(group.station)),))
        note = Note("Weigh", group.station, Doing.HANDS, StepKind.PREPARE, recipe.key)
        self._add(Task(key, key, (way,), self._after_welcome()), note)

    def _show(self, chain: _Chain, step: TimedStep) -> bool:
        """Whether everybody watches before this step; what they do is shown once."""
        recipe, minutes = chain.recipe, self.work.hours.show_min
        shown = (recipe.key, step.kind)
        if step.kind not in SHOWN or not chain.is_lead or shown in self._shown:
            return False
        if not minutes or not recipe.demonstration:
            return False
        key = f"show|{step.kind}|{recipe.key}"
        lags = [Lag(one) for group in recipe.groups if (one := self._weighed(recipe, group))]
        if step.kind is not StepKind.MIX:
            lags = [Lag(chain.last)] if chain.last else []
        way = Way(minutes, self._all_hands)
        task = Task(key, chain.job, (way,), tuple(lags) or self._after_welcome())
        title = f"Watch: {_TITLES[step.kind].lower()}"
        note = Note(title, EVERYBODY, Doing.WATCH, step.kind, recipe.key)
        self._shown[shown] = self._add(task, note)
        return True

    def _weighed(self, recipe: TimedRecipe, group: Group) -> str | None:
        key = key_of("weigh", recipe, group)
        return key if key in self.notes else None

    def _dough(self, recipe: TimedRecipe, group: Group, *, is_lead: bool) -> None:
        steps = tuple(enumerate(in_class(recipe)))
        chain = _Chain(recipe, group, key_of("dough", recipe, group), is_lead, recipe.dough_c)
        if Stage.MIXED in recipe.brings:
            home = steps_behind(in_class(recipe), Stage.MIXED)
            own = _Chain(recipe, group, key_of("own", recipe, group), is_lead, recipe.dough_c)
            self._follow(own, steps[:home])
            steps = steps[home:]
            if Stage.RISEN not in recipe.brings:
                self._unpack(chain)
        self._follow(chain, steps)

    def _follow(self, chain: _Chain, steps: Iterable[tuple[int, TimedStep]]) -> None:
        for number, step in steps:
            if step.kind in (StepKind.BULK, StepKind.PROOF):
                self._rise(chain, number, step)
            elif step.kind is StepKind.BAKE:
                self._bake(chain, number, step)
            elif step.kind is not StepKind.COOL:
                self._work_on(chain, number, step)

    def _work_on(self, chain: _Chain, number: int, step: TimedStep) -> None:
        if step.hands_on_min:
            shown_now = self._show(chain, step)
            key = step_key(step, number, chain.recipe, chain.group)
            lags = [*self._lags(chain, key), *self._before(chain, step, shown_now)]
            note = Note(
                _TITLES[step.kind],
                chain.who,
                Doing.HANDS,
                step.kind,
                chain.recipe.key,
                step.text,
                step.temperature_c,
            )
            after = tuple(lags) or self._after_welcome()
            chain.last = self._add(Task(key, chain.job, self._ways(chain, step), after), note)
            chain.dough_c = self._worked(chain, step)
        if step.waiting_min and chain.last:
            self._wait(chain, rest_window(step.waiting_min), step)
            chain.dough_c = on_the_bench(chain.dough_c, self.work.room, step.waiting_min)

    def _worked(self, chain: _Chain, step: TimedStep) -> Decimal:
        """The dough's temperature after a step; mixing brings it to what the recipe wants."""
        if step.kind is StepKind.MIX:
            return chain.recipe.dough_c
        return on_the_bench(chain.dough_c, self.work.room, step.hands_on_min)

    def _before(self, chain: _Chain, step: TimedStep, shown_now: bool) -> Iterator[Lag]:
        if chain.last is None and (weighed := self._weighed(chain.recipe, chain.group)):
            yield Lag(weighed)
        if shown := self._shown.get((chain.recipe.key, step.kind)):
            yield Lag(shown, 0, WATCHED_MOST_MIN if shown_now else None)

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
        chain.extra = [_longer(lag, window) for lag in chain.extra]
        if rise or not chain.wait_title:
            chain.rise, chain.wait_title, chain.wait_kind = rise, _TITLES[step.kind], step.kind

    def _rise(self, chain: _Chain, number: int, step: TimedStep) -> None:
        stage = Stage.RISEN if step.kind is StepKind.BULK else Stage.SHAPED
        if stage in chain.recipe.brings:
            chain.waiting, chain.cut = (), True
            return
        if not chain.last:
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
        key = key_of("unpack", chain.recipe, chain.group)
        way = Way(UNPACK_MIN, (Use(hands_key(chain.who)),))
        note = Note("Take up the brought dough", chain.who, Doing.HANDS, None, chain.recipe.key)
        chain.last = self._add(Task(key, chain.job, (way,), self._after_welcome()), note)

    def _fold(self, chain: _Chain, number: int, step: TimedStep, rise: Rise) -> None:
        """A rise with work in its middle: the halves are waits, the whole keeps its window."""
        before, window, hands = chain.last, rise.window, step.hands_on_min
        assert before is not None  # noqa: S101
        least, most = _least(chain), sum(one.latest for one in chain.waiting)
        carried = [_longer(lag, window) for lag in chain.extra]
        half = max(0, (window.target - hands) // 2)
        rest = max(0, window.target - half - hands)
        first = Window(half, half, half + FOLD_GRACE_MIN)
        self._wait(chain, first, step, replace(rise, window=first))
        key = key_of(f"fold{number}", chain.recipe, chain.group)
        note = Note("Fold", chain.who, Doing.HANDS, step.kind, chain.recipe.key, step.text)
        way = Way(hands, (Use(hands_key(chain.who)),))
        self._add(Task(key, chain.job, (way,), tuple(self._lags(chain, key))), note)
        chain.last, chain.fold = key, key
        last = max(rest + window.latest - window.target, rest_window(0).latest)
        second = Window(max(0, rest - FOLD_GRACE_MIN), rest, last)
        self._wait(chain, second, step, rise)
        whole = Lag(before, least + window.target, most + half + hands + last)
        chain.extra = [*carried, whole]

    def _lags(self, chain: _Chain, key: str) -> Iterator[Lag]:
        """The lags of the next task, and what of the waiting before it is worth a note."""
        if chain.last is None:
            return
        yield from chain.extra
        if chain.waiting:
            yield Lag(chain.last, _least(chain), sum(one.latest for one in chain.waiting))
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
        key = step_key(step, number, chain.recipe, chain.group)
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
            then_min=cooling_min(chain.recipe),
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


SHOWN = frozenset({StepKind.MIX, StepKind.DIVIDE})

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


def key_of(what: str, recipe: TimedRecipe, group: Group) -> str:
    return f"{what}|{recipe.key}|{group.station}"


def step_key(step: TimedStep, number: int, recipe: TimedRecipe, group: Group) -> str:
    """The key of the task or baking that a step in class is, by its place among them."""
    return key_of(f"{step.kind}{number}", recipe, group)


def doughs_of(recipe: TimedRecipe) -> list[Group]:
    shown = [recipe.demonstration] if recipe.demonstration else []
    return [*shown, *recipe.groups]


def _least(chain: _Chain) -> int:
    """What has to pass since the last task; after a fold the whole rise decides, not its half."""
    if chain.fold == chain.last:
        return sum(window.earliest for window in chain.waiting)
    return sum(window.target for window in chain.waiting)


def _longer(lag: Lag, window: Window) -> Lag:
    """A lag with a limit, with some more waiting in it."""
    most = None if lag.most is None else lag.most + window.latest
    return Lag(lag.task, lag.least + window.target, most)


def _by_mixer(chain: _Chain) -> bool:
    mixing = chain.recipe.mixing
    return mixing is Mixing.MIXER or (mixing is Mixing.SHOWN and chain.who == DEMONSTRATION)
