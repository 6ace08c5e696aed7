"""One drawing of a plan for pages and papers: who and what is busy when, from start to end."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from classes.core.hours.drawing.layout import Key, edition_of
from classes.core.hours.drawing.pieces import Block, Lane
from classes.core.hours.drawing.rows import Lanes
from classes.core.hours.drawing.sheets import TALL, WIDE, DrawnTimes
from classes.core.hours.drawing.values import Drawing, DrawnEdition, Look
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.work import Plan

MOST_PEOPLE = 8
HALF_HOURS_UP_TO_MIN = 6 * 60
ALL_HOURS_UP_TO_MIN = 14 * 60
HALF = 30
_CLOCK = re.compile(r"([0-9]+)[:.]([0-9]{2})")


def drawing_of(
    scheduled: Scheduled, plan: Plan, *, label: Callable[[int], str], ends: int
) -> Drawing:
    """The drawing of a plan.

    `label` gives the clock at a minute of the class, such as `10:30`; `ends` is the minute at which
    the class ends. With more than eight rows of people, stations that do the same at the same times
    share one; when time runs down they always do.
    """
    lanes = Lanes(scheduled, plan, label)
    columns = lanes.all(join=True)
    rows = lanes.all(join=False)
    if sum(1 for lane in rows if lane.part is Block.PEOPLE) > MOST_PEOPLE:
        rows = columns
    times = _times(rows, plan.ready(scheduled.problem), ends, label)
    looks = {piece.look for lane in rows for strip in lane.strips for piece in strip.pieces}
    breads = tuple((lanes.marks[key], title) for key, title in lanes.titles.items())
    key = Key(tuple(look for look in Look if look in looks), breads)
    return Drawing(edition_of(rows, times, WIDE, key), tuple(_columns(columns, times, key)))


def _columns(lanes: Sequence[Lane], times: DrawnTimes, key: Key) -> Iterator[DrawnEdition]:
    """All lanes side by side, or machines below people if that is too wide."""
    room = TALL.width - TALL.before - TALL.after
    people = [lane for lane in lanes if lane.part is Block.PEOPLE]
    machines = [lane for lane in lanes if lane.part is not Block.PEOPLE]
    if not people or not machines or sum(map(TALL.lane_size, lanes)) <= room:
        yield edition_of(lanes, times, TALL, key)
    else:
        yield edition_of(people, times, replace(TALL, name="tall-people"), key)
        yield edition_of(machines, times, replace(TALL, name="tall-machines"), Key())


def _times(lanes: Sequence[Lane], ready: int, ends: int, label: Callable[[int], str]) -> DrawnTimes:
    pieces = [piece for lane in lanes for strip in lane.strips for piece in strip.pieces]
    first = min([0, *(piece.starts for piece in pieces)])
    last = max([ends, ready, 1, *(piece.ends for piece in pieces)])
    return DrawnTimes(first, last, ends, ready, tuple(_round_times(first, last, label)), label)


def _round_times(
    first: int, last: int, label: Callable[[int], str]
) -> Iterator[tuple[int, str, bool]]:
    """Full hours, half hours if there are few, fewer hours if there are many."""
    halves = last - first <= HALF_HOURS_UP_TO_MIN
    every = 1 + (last - first) // ALL_HOURS_UP_TO_MIN
    for minute in range(first, last + 1):
        clock = label(minute)
        found = _CLOCK.search(clock)
        hour, past = (int(found[1]), int(found[2])) if found else divmod(minute, 60)
        if past == 0 and hour % every == 0:
            yield minute, clock, True
        elif past == HALF and halves:
            yield minute, clock, False
