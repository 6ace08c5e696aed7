"""The tasks of a dough, step by step, and its waits between them.

Weighing, mixing, folding, shaping and loading the oven need hands; rising does not, and may go on
for as long as its window says. Everybody watches what the instructor shows before doing it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal
from math import ceil

from classes.core.hours.problem.chain import Chain, ProblemDraft, halves
from classes.core.hours.problem.keys import (
    CABINET,
    REFRIGERATOR,
    hands_key,
    key_of,
    mixer_key,
    show_key,
    step_key,
)
from classes.core.hours.problem.notes import EVERYBODY, MOMENTS, Doing, Note, Unclear
from classes.core.hours.problem.rising import (
    RiseWindow,
    Window,
    can_rise,
    is_told_apart,
    on_the_bench,
    rest_window,
    rise_of,
)
from classes.core.hours.problem.steps import (
    cooling_min,
    cooling_steps,
    dough_mixing,
    goes_into_mixer,
    in_class,
    stages_of,
    steps_behind,
)
from classes.core.hours.problem.values import RISES, USUAL_DOUGH_C, Group, TimedRecipe
from classes.core.hours.problem.work import (
    Baking,
    Lag,
    Stay,
    Task,
    TaskOption,
    Use,
    whole_degrees,
)
from classes.core.keys import Stage
from recipes.core.choices import StepKind, Worked
from recipes.core.numbers import ONE
from recipes.core.written import WrittenStep

WATCHED_MOST_MIN = 15
UNPACK_MIN = 2
STIFF_SHARE = Decimal("0.9")
SHOWN = frozenset({StepKind.MIX, StepKind.DIVIDE})


def add_dough(draft: ProblemDraft, recipe: TimedRecipe, group: Group, *, is_lead: bool) -> None:
    """Add the tasks of a station's dough; the instructor shows the steps of the leading dough.

    If the instructor brings dough, the station's own is only mixed, and the class goes on with what
    was brought. Raises NoGrowth if it does not rise.
    """
    steps = tuple(enumerate(in_class(recipe)))
    dough = _Dough(draft, _chain("dough", recipe, group, is_lead=is_lead))
    if Stage.MIXED in recipe.brings:
        behind = steps_behind(in_class(recipe), Stage.MIXED)
        own = _Dough(draft, _chain("own", recipe, group, is_lead=is_lead))
        own.follow(steps[:behind])
        own.end()
        steps = steps[behind:]
        if Stage.RISEN not in recipe.brings:
            dough.unpack()
    dough.follow(steps)
    dough.end()


def _chain(what: str, recipe: TimedRecipe, group: Group, *, is_lead: bool) -> Chain:
    dough_c = mixed_c(recipe)
    return Chain(recipe, group, key_of(what, recipe, group), is_lead, dough_c, dough_c)


def mixed_c(recipe: TimedRecipe) -> Decimal:
    """The mixed dough's temperature in °C; the usual one if the recipe gives none for dough."""
    return recipe.dough_c if can_rise(recipe.dough_c) else USUAL_DOUGH_C


class _Dough:
    """Puts the steps of one dough into a draft."""

    def __init__(self, draft: ProblemDraft, chain: Chain) -> None:
        self.draft = draft
        self.chain = chain
        self.hands = Use(hands_key(chain.who))

    def follow(self, steps: Iterable[tuple[int, WrittenStep]]) -> None:
        """Do the steps one after the other; the cooling at the end belongs to the bake."""
        recipe = self.chain.recipe
        last = len(in_class(recipe)) - len(cooling_steps(recipe)) - 1
        for number, step in steps:
            if step.kind in RISES:
                self._rise(number, step)
            elif step.kind is StepKind.BAKE:
                self._bake(number, step, cooling_min(recipe) if number == last else 0)
            elif number <= last:
                self._work_on(number, step)

    def end(self) -> None:
        """Dough that still waits does so until a moment of its own, or the wait would not show."""
        if self.chain.waiting and self.chain.last:
            self._moment("end")

    def _begin(self) -> None:
        """A moment at which dough that nobody has worked on yet begins to wait."""
        self._moment("begin", StepKind.MIX)

    def _moment(self, what: str, kind: StepKind | None = None) -> None:
        chain = self.chain
        key = key_of(f"{what}|{chain.job.partition('|')[0]}", chain.recipe, chain.group)
        after = self._lags(key) or self._first_lags()
        note = Note(MOMENTS[what], chain.who, Doing.MOMENT, kind, chain.recipe.key)
        chain.last = self.draft.add(Task(key, chain.job, (TaskOption(0),), after), note)

    def _first_lags(self) -> tuple[Lag, ...]:
        weighed = self.draft.weighed(self.chain.recipe, self.chain.group)
        return weighed or self.draft.after_welcome()

    def unpack(self) -> None:
        key = key_of("unpack", self.chain.recipe, self.chain.group)
        way = TaskOption(UNPACK_MIN, (self.hands,))
        task = Task(key, self.chain.job, (way,), self.draft.after_welcome())
        who, recipe = self.chain.who, self.chain.recipe.key
        note = Note("Take up the brought dough", who, Doing.HANDS, None, recipe)
        self.chain.last = self.draft.add(task, note)

    def _work_on(self, number: int, step: WrittenStep) -> None:
        chain, room = self.chain, self.draft.work.room
        if step.hands_on_min:
            shown_now = self._show(step)
            key = step_key(step, number, chain.recipe, chain.group)
            before = tuple(self._before(step, shown_now=shown_now))
            after = (*self._lags(key), *before) or self.draft.after_welcome()
            task = Task(key, chain.job, self._ways(step), after)
            chain.last = self.draft.add(task, self._note(Doing.HANDS, step, step.hands_on_min))
            self._warm(step)
        if step.waiting_min:
            if not chain.last:
                self._begin()
            chain.wait(rest_window(step.waiting_min), step, written_min=step.waiting_min)
            chain.dough_c = on_the_bench(chain.dough_c, room, step.waiting_min)

    def _show(self, step: WrittenStep) -> bool:
        """Whether everybody watches before this step; each kind of work is shown once."""
        chain, minutes = self.chain, self.draft.work.hours.show_min
        key = show_key(step.kind, chain.recipe)
        if step.kind not in SHOWN or not chain.is_lead or key in self.draft.notes:
            return False
        if not minutes or not chain.recipe.demonstration:
            return False
        way = TaskOption(minutes, self.draft.all_hands)
        after = tuple(self._before_showing(step)) or self.draft.after_welcome()
        title = f"Watch: {step.kind.label.lower()}"
        note = Note(title, EVERYBODY, Doing.WATCH, step.kind, chain.recipe.key)
        self.draft.add(Task(key, chain.job, (way,), after), note)
        return True

    def _before_showing(self, step: WrittenStep) -> Iterator[Lag]:
        recipe = self.chain.recipe
        if step.kind is StepKind.MIX:
            for group in recipe.groups:
                yield from self.draft.weighed(recipe, group)
        elif self.chain.last:
            yield Lag(self.chain.last)

    def _before(self, step: WrittenStep, *, shown_now: bool) -> Iterator[Lag]:
        chain = self.chain
        if chain.last is None:
            yield from self.draft.weighed(chain.recipe, chain.group)
        shown = show_key(step.kind, chain.recipe)
        if shown in self.draft.notes:
            yield Lag(shown, 0, WATCHED_MOST_MIN if shown_now else None)

    def _ways(self, step: WrittenStep) -> tuple[TaskOption, ...]:
        mixers, chain = self.draft.work.mixers, self.chain
        if not goes_into_mixer(chain.recipe, step, chain.who, has_mixers=bool(mixers)):
            return (TaskOption(step.hands_on_min, (self.hands,)),)
        share = STIFF_SHARE if chain.recipe.stiff else ONE
        ways = []
        for kind in mixers:
            turns = ceil(chain.group.dough_g / (kind.capacity_g * share))
            uses = (self.hands, Use(mixer_key(kind.capacity_g)))
            ways.append(TaskOption(turns * step.hands_on_min, uses))
        return tuple(ways)

    def _warm(self, step: WrittenStep) -> None:
        """The dough after a step; mixing brings it to the recipe's temperature."""
        chain = self.chain
        if step.kind is StepKind.MIX and step.worked is not Worked.PAN:
            chain.dough_c = chain.own_c = mixed_c(chain.recipe)
        else:
            chain.dough_c = on_the_bench(chain.dough_c, self.draft.work.room, step.hands_on_min)

    def _rise(self, number: int, step: WrittenStep) -> None:
        chain = self.chain
        stage = Stage.RISEN if step.kind is StepKind.BULK else Stage.SHAPED
        if stage in chain.recipe.brings:
            self.draft.bring(chain.recipe, chain.group, chain.wait_min + step.minutes)
            chain.cut_off()
            return
        if not chain.last:
            self.unpack()
        if is_told_apart(step, self.draft.work.room, chain.dough_c, chain.own_c):
            self.draft.unclear[Unclear(chain.recipe.key, step)] = None
        rise = rise_of(step, self.draft.work.room, chain.dough_c, chain.own_c)
        if rise:
            chain.dough_c, chain.own_c = rise.dough_c, rise.own_c
        window = rise.window if rise else rest_window(step.minutes)
        if step.hands_on_min:
            self._fold(number, step, window, rise)
        else:
            chain.wait(window, step, rise, written_min=step.waiting_min)

    def _fold(
        self, number: int, step: WrittenStep, window: Window, rise: RiseWindow | None
    ) -> None:
        """A rise with work in its middle: its halves are waits, the whole keeps its window."""
        chain, hands_min = self.chain, step.hands_on_min
        first, second = halves(window, hands_min)
        most_min = first.target + hands_min + second.latest
        over = chain.lags_over_fold(window, most_min)
        chain.wait(first, step, rise and replace(rise, window=first), written_min=0)
        key = key_of(f"fold{number}", chain.recipe, chain.group)
        note = Note(
            *("Fold", chain.who, Doing.HANDS, step.kind, chain.recipe.key, step.text),
            written_min=hands_min,
        )
        task = Task(key, chain.job, (TaskOption(hands_min, (self.hands,)),), self._lags(key))
        chain.last = chain.fold = self.draft.add(task, note)
        chain.wait(second, step, rise, written_min=step.waiting_min)
        chain.extra = over

    def _lags(self, key: str) -> tuple[Lag, ...]:
        """The lags of the next task; the waiting before it is noted."""
        if wait := self.chain.wait_until(key):
            self.draft.waits.append(wait)
            self._stay(wait.after, key)
        return self.chain.take_lags()

    def _stay(self, after: str, until: str) -> None:
        """Take places where they are counted: one for each person's bulk, or the pieces' own."""
        chain, room = self.chain, self.draft.work.room
        place = chain.rise.place if chain.rise else ""
        capacity = {CABINET: room.cabinet_places, REFRIGERATOR: room.refrigerator_places}
        if capacity.get(place):
            is_bulk = chain.wait_kind is StepKind.BULK
            amount = chain.group.people if is_bulk else chain.places
            self.draft.stays.append(Stay(place, amount, after, until))

    def _bake(self, number: int, step: WrittenStep, then_min: int) -> None:
        chain = self.chain
        key = step_key(step, number, chain.recipe, chain.group)
        baking = Baking(
            key=key,
            job=chain.job,
            pieces=chain.places,
            minutes=step.minutes,
            temperature_c=whole_degrees(step.oven_c),
            after=self._lags(key) or self.draft.after_welcome(),
            hands=self.hands.resource,
            hands_min=step.hands_on_min,
            then_min=then_min,
            stages=stages_of(step),
        )
        note = self._note(Doing.BAKE, step, step.minutes + then_min)
        chain.last = self.draft.add_baking(baking, note)

    def _note(self, doing: Doing, step: WrittenStep, written_min: int) -> Note:
        recipe = self.chain.recipe
        return Note(
            *(step.kind.label, self.chain.who, doing, step.kind, recipe.key, step.text),
            temperature_c=step.oven_c if doing is Doing.BAKE else step.temperature_c,
            temperature_of=step.temperature_of,
            written_min=written_min,
            mixes_dough=step is dough_mixing(recipe),
        )
