"""The ovens while a plan is being made: which loads there are, and where more pieces could go."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from classes.core.hours.greedy.timelines import BEFORE_ALL, Timeline
from classes.core.hours.problem.work import BakeKind, Baking, Load, PlannedOven, Problem

UNLIMITED = 10**6


@dataclass(slots=True)
class _Batch:
    """A load that is still being filled."""

    oven: PlannedOven
    start: int
    baking: Baking
    pieces: dict[str, int]

    @property
    def end(self) -> int:
        return self.start + self.baking.minutes

    @property
    def free(self) -> int:
        return self.oven.slots - sum(self.pieces.values())


@dataclass(frozen=True, slots=True)
class LoadShare:
    """A number of pieces for an existing load or a new one."""

    oven: PlannedOven
    start: int
    count: int
    batch: _Batch | None = None


@dataclass(frozen=True, slots=True)
class Loading:
    """Where all pieces of a baking would go."""

    baking: Baking
    shares: tuple[LoadShare, ...]

    @property
    def first(self) -> int:
        return min(share.start for share in self.shares)

    @property
    def last(self) -> int:
        return max(share.start for share in self.shares)

    @property
    def end(self) -> int:
        return self.last + self.baking.minutes


class Ovens:
    """All loads so far; `lines` are the timelines of the resources, including hands."""

    def __init__(self, problem: Problem, lines: Mapping[str, Timeline]) -> None:
        self._problem = problem
        self._lines = lines
        self._batches: list[_Batch] = []
        hands = {baking.hands for baking in problem.bakings if baking.hands}
        self._serving = {key: Timeline(UNLIMITED) for key in hands}

    def loads(self) -> tuple[Load, ...]:
        """The loads as they are now, in time."""
        found = [
            Load(
                batch.oven.key,
                batch.start,
                batch.baking.minutes,
                batch.baking.temperature_c,
                tuple(batch.pieces.items()),
                batch.baking.stages,
            )
            for batch in self._batches
        ]
        return tuple(sorted(found, key=lambda load: (load.start, load.oven)))

    def hands_free(self, resource: str, start: int, minutes: int) -> int:
        """The first minute from `start` on at which those hands load no oven for some time."""
        serving = self._serving.get(resource)
        return serving.next_room(start, minutes, UNLIMITED) if serving else start

    def offer(self, baking: Baking, earliest: int) -> Loading:
        """The loads that have all pieces out earliest; of equal ones, the tidiest.

        Raises ValueError without ovens.
        """
        left, shares = baking.pieces, list[LoadShare]()
        while left:
            options = [*self._open_loads(baking, earliest, shares)]
            options += self._new_loads(baking, earliest, shares)
            if not options:
                raise ValueError("no ovens")
            soonest = min(option.start for option in options)
            now = [option for option in options if option.start == soonest]
            chosen = min(now, key=lambda option: _untidy(option, left))
            count = min(left, chosen.count)
            shares.append(LoadShare(chosen.oven, chosen.start, count, chosen.batch))
            left -= count
        return Loading(baking, tuple(shares))

    def _open_loads(
        self, baking: Baking, earliest: int, shares: list[LoadShare]
    ) -> list[LoadShare]:
        used = {id(share.batch) for share in shares if share.batch}
        return [
            LoadShare(batch.oven, batch.start, batch.free, batch)
            for batch in self._batches
            if batch.start >= earliest
            and batch.free
            and batch.baking.kind == baking.kind
            and id(batch) not in used
            and self._hands_from(baking, batch.start) == batch.start
        ]

    def _new_loads(self, baking: Baking, earliest: int, shares: list[LoadShare]) -> list[LoadShare]:
        found = []
        for oven in self._problem.ovens:
            own = [share for share in shares if share.oven.key == oven.key]
            start = self._free_from(oven, baking, earliest, own)
            found.append(LoadShare(oven, start, oven.slots))
        return found

    def _free_from(
        self, oven: PlannedOven, baking: Baking, start: int, own: list[LoadShare]
    ) -> int:
        """When the oven can take another load, with the gaps to its neighbors."""
        taken = [
            (batch.start, batch.end, batch.baking.kind)
            for batch in self._batches
            if batch.oven.key == oven.key
        ]
        taken += [
            (share.start, share.start + baking.minutes, baking.kind)
            for share in own
            if share.batch is None
        ]
        kind = baking.kind
        start = max(start, BEFORE_ALL if oven.hot_from is None else oven.hot_from)
        while True:
            moved = self._hands_from(baking, start)
            for other_start, other_end, other in sorted(taken, key=lambda load: load[:2]):
                after, before = self._gap(oven, other, kind), self._gap(oven, kind, other)
                if moved < other_end + after and other_start < moved + baking.minutes + before:
                    moved = other_end + after
            if moved == start:
                return start
            start = moved

    def _gap(self, oven: PlannedOven, first: BakeKind, second: BakeKind) -> int:
        """Minutes between two loads: to turn around, or to change the temperature."""
        change = self._problem.change_min(first, second)
        return max(oven.turnaround_min, change)

    def _hands_from(self, baking: Baking, start: int) -> int:
        if baking.hands is None:
            return start
        line = self._lines[baking.hands]
        return line.next_room(start, baking.hands_min, line.capacity)

    def load(self, loading: Loading) -> Callable[[], None]:
        """Put the pieces in; calling the result takes them out again."""
        undos = [self._put(loading.baking, share) for share in loading.shares]

        def lift() -> None:
            for undo in reversed(undos):
                undo()

        return lift

    def _put(self, baking: Baking, share: LoadShare) -> Callable[[], None]:
        batch = share.batch
        if batch is None:
            batch = _Batch(share.oven, share.start, baking, {})
            self._batches.append(batch)
        batch.pieces[baking.key] = batch.pieces.get(baking.key, 0) + share.count
        self._serve(baking, share.start, 1)

        def lift() -> None:
            self._serve(baking, share.start, -1)
            del batch.pieces[baking.key]
            if not batch.pieces:
                self._batches = [one for one in self._batches if one is not batch]

        return lift

    def _serve(self, baking: Baking, start: int, amount: int) -> None:
        if baking.hands is not None:
            self._serving[baking.hands].add(start, start + baking.hands_min, amount)


def _untidy(option: LoadShare, left: int) -> tuple[bool, bool, int]:
    """Least for a load that takes all remaining pieces, then for one that is already hot."""
    takes_all = option.count >= left
    spare = option.count - left if takes_all else -option.count
    return not takes_all, option.batch is None, spare
