"""How much of a resource is taken, minute by minute, as steps that can be added and removed."""

from __future__ import annotations

from bisect import bisect_right

BEFORE_ALL = -(10**9)


class Timeline:
    """Amounts over time for one resource with a capacity; a negative amount takes one back."""

    def __init__(self, capacity: int) -> None:
        self.capacity = capacity
        self._times = [BEFORE_ALL]
        self._levels = [0]

    def add(self, start: int, end: int, amount: int) -> None:
        """Take `amount` from `start` up to `end`."""
        if start >= end:
            return
        first, last = self._cut(start), self._cut(end)
        for at in range(first, last):
            self._levels[at] += amount
        self._join(first, last)

    def _cut(self, time: int) -> int:
        """The index of the step that begins at `time`, created if there is none."""
        at = bisect_right(self._times, time) - 1
        if self._times[at] == time:
            return at
        self._times.insert(at + 1, time)
        self._levels.insert(at + 1, self._levels[at])
        return at + 1

    def _join(self, first: int, last: int) -> None:
        for at in range(min(last, len(self._levels) - 1), max(first, 1) - 1, -1):
            if self._levels[at] == self._levels[at - 1]:
                del self._times[at], self._levels[at]

    def next_room(self, start: int, minutes: int, amount: int) -> int:
        """The first minute from `start` on at which `amount` is free for `minutes`.

        Raises ValueError for more than the capacity.
        """
        most = self.capacity - amount
        if most < 0:
            raise ValueError(f"{amount} of {self.capacity}")
        if minutes <= 0:
            return start
        times, levels = self._times, self._levels
        at = bisect_right(times, start) - 1
        while True:
            if levels[at] > most:
                at += 1
                start = times[at]
                continue
            after = at + 1
            while after < len(times) and times[after] < start + minutes and levels[after] <= most:
                after += 1
            if after == len(times) or times[after] >= start + minutes:
                return start
            at = after
