"""Trying out everything: whether a small class can be ready by a minute at all.

The search tries every start of every task, every way, and every manner of laying the pieces into
the ovens. It leaves out only what cannot end in time whatever else is chosen: starts outside the
windows that the lags leave, starts without room beside what is placed, and pieces for which the
ovens are too small even if full back to back.
"""

from dataclasses import dataclass, field
from itertools import pairwise

from classes.core.hours.problem.work import Baking, Lag, Load, Plan, Problem, Since, Slot, Task


class GaveUp(Exception):
    """More tries than allowed."""


@dataclass(frozen=True)
class Placed:
    """Where an item is: its first and last start, the minutes it takes, and the way or loads."""

    first: int
    last: int
    minutes: int
    way: int = 0
    loads: tuple[tuple[str, int, int], ...] = ()  # oven, start, pieces


@dataclass
class Search:
    """Tries everything that is ready by a minute.

    `alike` are the first tasks of jobs that differ in nothing but their names: they may as well
    begin in this order. With a `guide` only that plan is tried, to see that it is among all.
    """

    problem: Problem
    by: int
    alike: tuple[str, ...] = ()
    guide: Plan | None = None
    most_tries: int = 10**6
    placed: dict = field(default_factory=dict)
    tries: int = 0

    def __post_init__(self):
        problem = self.problem
        self.items = {one.key: one for one in (*problem.tasks, *problem.bakings)}
        self.lags = [(lag, key) for key, one in self.items.items() for lag in one.after]
        self.lags += [(Lag(one, since=Since.START), other) for one, other in pairwise(self.alike)]
        self.capacity = {one.key: one.capacity for one in problem.resources}
        self.taken = {one.key: [0] * (self.by + 1) for one in problem.resources}
        self.serving = {one.key: [0] * (self.by + 1) for one in problem.resources}

    def plan(self):
        """A plan that is ready in time, or None if there is none. Raises GaveUp."""
        windows = self.windows()
        if windows is None or self.too_many_pieces(windows):
            return None
        open_ = [key for key in self.items if key not in self.placed]
        if not open_:
            return self.told()
        key = min(open_, key=lambda one: windows[one][1] - windows[one][0])
        for one in self.choices(self.items[key], *windows[key]):
            if self.guide and one != guided(self.guide, self.items[key]):
                continue
            self.tries += 1
            if self.tries > self.most_tries:
                raise GaveUp
            self.placed[key] = one
            undo = self.hold(key, one)
            if undo is not None:
                found = self.plan() if self.lags_hold(key) else None
                if found is not None:
                    return found
                for line, minute, amount in undo:
                    line[minute] -= amount
            del self.placed[key]
        return None

    def windows(self):
        """Earliest and latest start of every item by its lags, from what is placed."""
        spans = {key: self.own_window(key) for key in self.items}
        moved = True
        while moved:
            moved = False
            for lag, key in self.lags:
                (low, high), (low_after, high_after) = spans[lag.task], spans[key]
                short, long = self.elapsed(lag)
                after = max(low_after, low + short + lag.least), high_after
                before = low, min(high, high_after - short - lag.least)
                if lag.most is not None:
                    after = after[0], min(high_after, high + long + lag.most)
                    if isinstance(self.items[lag.task], Task):
                        before = max(low, low_after - long - lag.most), before[1]
                if lag.task not in self.placed and before != spans[lag.task]:
                    spans[lag.task], moved = before, True
                if key not in self.placed and after != spans[key]:
                    spans[key], moved = after, True
                if before[0] > before[1] or after[0] > after[1]:
                    return None
        return spans

    def own_window(self, key):
        """From the first start to the last that there is room for beside what is placed."""
        item, placed = self.items[key], self.placed.get(key)
        if placed:
            return placed.first, placed.last
        low, high = getattr(item, "earliest", 0), self.by
        if getattr(item, "latest", None) is not None:
            high = min(high, item.latest)
        while low <= high and not self.fits(item, low):
            low += 1
        while low <= high and not self.fits(item, high):
            high -= 1
        return low, high

    def fits(self, item, start):
        if isinstance(item, Baking):
            end = start + item.minutes + item.then_min
            return end <= self.by and any(
                self.room(item, oven, start) for oven in self.problem.ovens
            )
        return any(self.way_fits(item, way, start) for way in item.ways)

    def way_fits(self, task, way, start):
        end = start + way.minutes
        return end + task.then_min <= self.by and all(
            not self.serving[use.resource][minute]
            and self.taken[use.resource][minute] + use.amount <= self.capacity[use.resource]
            for use in way.uses
            for minute in range(start, end)
        )

    def too_many_pieces(self, windows):
        """Whether more pieces are left than all ovens could take, were they full back to back."""
        bakings = self.problem.bakings
        left = [one for one in bakings if one.key not in self.placed]
        return any(
            sum(one.pieces for one in left if windows[one.key][0] >= since)
            > sum(self.places_from(oven, since) for oven in self.problem.ovens)
            for since in {windows[one.key][0] for one in left}
        )

    def places_from(self, oven, since):
        """Places that an oven has in loads from a minute on, less those that are taken."""
        shortest = min(one.minutes for one in self.problem.bakings)
        cool = min(one.then_min for one in self.problem.bakings)
        since = max(since, since if oven.hot_from is None else oven.hot_from)
        minutes = self.by - cool - since + oven.turnaround_min
        most = max(0, minutes // (shortest + oven.turnaround_min))
        placed = [load for one in self.placed.values() for load in one.loads]
        taken = sum(count for key, at, count in placed if key == oven.key and at >= since)
        return most * oven.slots - taken

    def lengths(self, item):
        return [item.minutes] if isinstance(item, Baking) else [one.minutes for one in item.ways]

    def elapsed(self, lag):
        """The least and most minutes from the last start of a task to where its lag begins."""
        if lag.since is Since.START:
            return 0, 0
        if lag.task in self.placed:
            return (self.placed[lag.task].minutes,) * 2
        lengths = self.lengths(self.items[lag.task])
        return min(lengths), max(lengths)

    def lags_hold(self, key):
        for lag, after in self.lags:
            if key in (lag.task, after) and lag.task in self.placed and after in self.placed:
                before, then = self.placed[lag.task], self.placed[after]
                since = before.last + self.elapsed(lag)[0]
                if then.first < since + lag.least:
                    return False
                if lag.most is not None and then.last > since + lag.most:
                    return False
        return True

    def choices(self, item, low, high):
        if isinstance(item, Baking):
            yield from self.bakings(item, low, high)
            return
        for start in range(low, high + 1):
            for n, way in enumerate(item.ways):
                if self.way_fits(item, way, start):
                    yield Placed(start, start, way.minutes, n)

    def bakings(self, baking, low, high):
        places = [(oven, start) for start in range(low, high + 1) for oven in self.problem.ovens]
        for loads in self.spread(baking, baking.pieces, places):
            starts = [start for _, start, _ in loads]
            yield Placed(min(starts), max(starts), baking.minutes, loads=tuple(sorted(loads)))

    def spread(self, baking, pieces, places):
        """Every manner of laying so many pieces into these places (oven and start)."""
        if pieces == 0:
            yield []
            return
        for n, (oven, start) in enumerate(places):
            room = self.room(baking, oven, start)
            for count in range(1, min(pieces, room) + 1):
                rest = [one for one in places[n + 1 :] if self.apart(baking, oven, start, *one)]
                for more in self.spread(baking, pieces - count, rest):
                    yield [(oven.key, start, count), *more]

    def room(self, baking, oven, start):
        """How many places are free in a load of this oven that begins now."""
        if oven.hot_from is not None and start < oven.hot_from:
            return 0
        free = oven.slots
        for key, placed in self.placed.items():
            for where, at, count in placed.loads:
                if where != oven.key:
                    continue
                other = self.items[key]
                same = (other.minutes, other.temperature_c) == (
                    baking.minutes,
                    baking.temperature_c,
                )
                if same and at == start:
                    free -= count
                elif not self.follow(oven, other, at, baking, start):
                    return 0
        return free

    def follow(self, oven, one, at, other, start):
        """Whether two loads of an oven leave it the time it needs between them."""
        degrees = abs(one.temperature_c - other.temperature_c)
        pause = max(oven.turnaround_min, -(-degrees // self.problem.degrees_a_minute))
        return at + one.minutes + pause <= start or start + other.minutes + pause <= at

    def apart(self, baking, oven, start, other, at):
        return oven.key != other.key or self.follow(oven, baking, start, baking, at)

    def hold(self, key, placed):
        """Take what an item takes: how to undo it, or None if there is not enough."""
        item, undo = self.items[key], []
        if isinstance(item, Baking):
            fits = self.load(item, placed, undo)
        else:
            fits = self.work(item, placed, undo)
        stays = [one for one in self.problem.stays if key in (one.after, one.until)]
        if fits and all(self.stand(stay, undo) for stay in stays):
            return undo
        for line, minute, amount in undo:
            line[minute] -= amount
        return None

    def take(self, resource, start, end, amount, undo):
        line = self.taken[resource]
        for minute in range(start, end):
            line[minute] += amount
            undo.append((line, minute, amount))
        return all(line[minute] <= self.capacity[resource] for minute in range(start, end))

    def work(self, task, placed, undo):
        end = placed.first + placed.minutes
        for use in task.ways[placed.way].uses:
            if not self.take(use.resource, placed.first, end, use.amount, undo):
                return False
        return True

    def load(self, baking, placed, undo):
        if baking.hands is None:
            return True
        line = self.serving[baking.hands]
        for _, start, _ in placed.loads:
            for minute in range(start, min(start + baking.hands_min, self.by)):
                if self.taken[baking.hands][minute]:
                    return False
                line[minute] += 1
                undo.append((line, minute, 1))
        return True

    def stand(self, stay, undo):
        if stay.after not in self.placed or stay.until not in self.placed:
            return True
        before, until = self.placed[stay.after], self.placed[stay.until].last
        return self.take(stay.resource, before.last + before.minutes, until, stay.amount, undo)

    def told(self):
        slots, laid = {}, {}
        for key, placed in self.placed.items():
            item = self.items[key]
            if isinstance(item, Task):
                slots[key] = Slot(placed.first, placed.way)
            for oven, start, count in placed.loads:
                kind = oven, start, item.minutes, item.temperature_c
                laid.setdefault(kind, []).append((key, count))
        return Plan(slots, tuple(Load(*kind, tuple(pieces)) for kind, pieces in laid.items()))


def guided(plan, item):
    """Where a plan places an item."""
    if isinstance(item, Task):
        slot = plan.slots[item.key]
        return Placed(slot.start, slot.start, item.ways[slot.way].minutes, slot.way)
    loads = sorted(
        (load.oven, load.start, count)
        for load in plan.loads
        for key, count in load.pieces
        if key == item.key
    )
    starts = [start for _, start, _ in loads]
    return Placed(min(starts), max(starts), item.minutes, loads=tuple(loads))
