"""The two shapes of a drawing, and where minutes and lanes are on each."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from functools import cached_property

from classes.core.hours.drawing.pieces import Lane, Strip, StripRole
from classes.core.hours.drawing.values import Rect, Stroke

ZERO = Decimal(0)
TENTH = Decimal("0.1")
MIDDLE_OF_TYPE = Decimal("0.35")
LEADING = Decimal("1.12")


@dataclass(frozen=True, slots=True)
class SheetSizes:
    """The sizes of an edition in its own units, under a name.

    `before` is the room for the names of rows, or for the clock where time runs down; `head` the
    room between the key and the plot, `after` and `foot` what is right of the plot and below. In a
    `tall` sheet `minute` is the height of a minute and lanes fill the width; else time fills it.
    `hands`, `dough` and `places` are the sizes of strips across time.
    """

    name: str
    tall: bool
    width: Decimal
    before: Decimal
    head: Decimal
    after: Decimal
    foot: Decimal
    minute: Decimal
    hands: Decimal
    dough: Decimal
    places: Decimal
    gap: Decimal
    pad: Decimal
    type: Decimal
    small: Decimal

    def size_of(self, strip: Strip) -> Decimal:
        """How much a strip takes across time."""
        sizes = {StripRole.DOUGH: self.dough, StripRole.PLACES: self.places}
        return sizes.get(strip.role, self.hands)

    def lane_size(self, lane: Lane) -> Decimal:
        """How much a lane takes across time, with the room around its strips."""
        between = self.gap * (len(lane.strips) - 1)
        return sum(map(self.size_of, lane.strips)) + between + 2 * self.pad


WIDE = SheetSizes(
    name="wide",
    tall=False,
    width=Decimal(700),
    before=Decimal(104),
    head=Decimal(38),
    after=Decimal(16),
    foot=Decimal(20),
    minute=ZERO,
    hands=Decimal(18),
    dough=Decimal(15),
    places=Decimal(32),
    gap=Decimal(1),
    pad=Decimal(4),
    type=Decimal(11),
    small=Decimal(11),
)
TALL = SheetSizes(
    name="tall",
    tall=True,
    width=Decimal(356),
    before=Decimal(36),
    head=Decimal(62),
    after=Decimal(2),
    foot=Decimal(18),
    minute=Decimal("2.6"),
    hands=Decimal(36),
    dough=Decimal(11),
    places=Decimal(32),
    gap=Decimal(1),
    pad=Decimal(1),
    type=Decimal(11),
    small=Decimal("10.5"),
)


@dataclass(frozen=True, slots=True)
class DrawnTimes:
    """What a drawing marks of its plan, in minutes; `round` are (minute, clock, whole hour)."""

    first: int
    last: int
    ends: int
    ready: int
    round: tuple[tuple[int, str, bool], ...]
    label: Callable[[int], str]


def tenth(length: Decimal) -> Decimal:
    """A coordinate to the tenth."""
    return length.quantize(TENTH, ROUND_HALF_UP)


@dataclass(frozen=True)
class SheetSpace:
    """Lanes laid out on a sheet; `top` is the height that the key takes above them."""

    lanes: tuple[Lane, ...]
    times: DrawnTimes
    sheet: SheetSizes
    top: Decimal

    @cached_property
    def plot(self) -> Rect:
        """Where the bars lie."""
        sheet, y = self.sheet, self.top + self.sheet.head
        deep = self.edges[-1][1] if self.edges else ZERO
        if sheet.tall:
            height = sheet.minute * (self.times.last - self.times.first)
            return Rect(sheet.before, y, deep, tenth(height))
        return Rect(sheet.before, y, sheet.width - sheet.before - sheet.after, deep)

    @cached_property
    def edges(self) -> tuple[tuple[Decimal, Decimal], ...]:
        """Where each lane is across time, from the edge of the plot."""
        sheet, sizes = self.sheet, [self.sheet.lane_size(lane) for lane in self.lanes]
        room = sheet.width - sheet.before - sheet.after - sum(sizes)
        more = max(ZERO, room) / len(sizes) if sheet.tall and sizes else ZERO
        found, at = [], ZERO
        for size in sizes:
            found.append((tenth(at), tenth(at + size + more)))
            at += size + more
        return tuple(found)

    def strips(self, n: int) -> Iterator[tuple[Strip, Decimal, Decimal]]:
        """The strips of a lane with their edges across time; the first takes the remaining room."""
        (low, high), lane, sheet = self.edges[n], self.lanes[n], self.sheet
        at, more = low + sheet.pad, high - low - sheet.lane_size(lane)
        for strip in lane.strips:
            size = sheet.size_of(strip) + more
            yield strip, at, at + size
            at, more = at + size + sheet.gap, ZERO

    def along(self, minute: int) -> Decimal:
        """The position of a minute along time."""
        plot, times = self.plot, self.times
        origin, length = (plot.y, plot.height) if self.sheet.tall else (plot.x, plot.width)
        return tenth(origin + length * (minute - times.first) / (times.last - times.first))

    def rect(self, starts: int, ends: int, low: Decimal, high: Decimal) -> Rect:
        """The rectangle for a time between two edges."""
        begin, stop, plot = self.along(starts), self.along(ends), self.plot
        if self.sheet.tall:
            return Rect(plot.x + low, begin, high - low, stop - begin)
        return Rect(begin, plot.y + low, stop - begin, high - low)

    def moment(self, minute: int, strong: bool) -> Stroke:
        """A line through all lanes at a minute."""
        at, plot = self.along(minute), self.plot
        if self.sheet.tall:
            return Stroke(plot.x, at, plot.right, at, strong)
        return Stroke(at, plot.y, at, plot.bottom, strong)

    def border(self, at: Decimal, strong: bool) -> Stroke:
        """A line along time, from beside the names of the lanes on."""
        plot = self.plot
        if self.sheet.tall:
            return Stroke(plot.x + at, self.top + 8, plot.x + at, plot.bottom, strong)
        return Stroke(ZERO, plot.y + at, plot.right, plot.y + at, strong)

    def level(self, at: Decimal) -> Stroke:
        """A line along time within the plot."""
        plot = self.plot
        if self.sheet.tall:
            return Stroke(plot.x + at, plot.y, plot.x + at, plot.bottom)
        return Stroke(plot.x, plot.y + at, plot.right, plot.y + at)
