"""A drawing's edition: the key, the lines, the names and clock, the bars and the marks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from classes.core.hours.drawing.bars import MARGIN, PLATE, bars_of, plaque_of
from classes.core.hours.drawing.pieces import Block, Lane, StripRole
from classes.core.hours.drawing.sheets import (
    LEADING,
    MIDDLE_OF_TYPE,
    DrawnTimes,
    SheetSizes,
    SheetSpace,
    tenth,
)
from classes.core.hours.drawing.values import (
    Anchor,
    DrawnEdition,
    Look,
    MomentLine,
    Rect,
    Sample,
    Stroke,
    Tone,
    Word,
)
from wording.lettering import cut, fitting, width_of
from wording.lists import listed

SWATCH = Decimal(22)
SWATCH_HEIGHT = Decimal(12)
KEY_LINE = Decimal(19)
BETWEEN = Decimal(16)
ABOVE = Decimal(20)
CLOCK_BELOW_FROM = Decimal(420)


@dataclass(frozen=True, slots=True)
class Key:
    """The fills that a drawing explains, and the letters of its breads with their titles."""

    looks: tuple[Look, ...] = ()
    breads: tuple[tuple[str, str], ...] = ()


def edition_of(
    lanes: Sequence[Lane], times: DrawnTimes, sheet: SheetSizes, key: Key
) -> DrawnEdition:
    """The lanes on a sheet, under a key of their fills and of the breads' letters."""
    samples = tuple(_samples(key, sheet))
    lowest = max((word.y for sample in samples for word in sample.words), default=Decimal(0))
    place = SheetSpace(tuple(lanes), times, sheet, lowest + MARGIN)
    foot = sheet.foot + (sheet.small + 3 if _clock_below(place) else 0)
    starts, ends, ready = _marks(place)
    return DrawnEdition(
        name=sheet.name,
        summary=_summary(place),
        width=place.plot.right + sheet.after,
        height=place.plot.bottom + foot,
        plot=place.plot,
        key=samples,
        bands=tuple(_bands(place)),
        grid=tuple(place.moment(minute, hour) for minute, _, hour in times.round),
        rules=tuple(_rules(place)),
        names=(*_clock(place), *_names(place), *_breaks(place, starts, ends)),
        bars=tuple(bars_of(place)),
        starts=starts,
        ends=ends,
        ready=ready,
    )


def _summary(place: SheetSpace) -> str:
    times, label = place.times, place.times.label
    return (
        f"From {label(0)} to {label(times.ends)}, the last bread ready at {label(times.ready)}: "
        f"{listed([lane.name for lane in place.lanes])}. The table says the same in words."
    )


def _samples(key: Key, sheet: SheetSizes) -> Iterator[Sample]:
    """Looks and then letters, in as many lines as they need."""
    size, x, y = sheet.small, MARGIN, MARGIN
    for look, letter, text in (
        *((look, "", look.word) for look in key.looks),
        *((None, letter, title) for letter, title in key.breads if letter),
    ):
        before = SWATCH if look else tenth(width_of(letter, size))
        said = cut(text, sheet.width - before - 3 * MARGIN, size)
        width = before + 2 * MARGIN + width_of("".join(said), size)
        if x + width > sheet.width and x > MARGIN:
            x, y = MARGIN, y + KEY_LINE
        base = y + Decimal("9.8")
        words = [Word(x + before + 2 * MARGIN, base, text, size) for text in said]
        if look is None:
            words.insert(0, Word(x, base, letter, size, tone=Tone.STRONG))
        rect = Rect(x, y, SWATCH, SWATCH_HEIGHT) if look else None
        yield Sample(tuple(words), rect, look)
        x = tenth(x + width + BETWEEN)


def _bands(place: SheetSpace) -> Iterator[Rect]:
    """Behind all people while everybody watches, behind all lanes in the break and overtime."""
    times, lowest = place.times, place.edges[-1][1]
    if times.ends < times.last:
        yield place.rect(times.ends, times.last, Decimal(0), lowest)
    first, people = place.lanes[0].strips[0], _people(place)
    if people and first.role is StripRole.ALL:
        for piece in first.pieces:
            high = lowest if piece.look is Look.BREAK else place.edges[people - 1][1]
            yield place.rect(piece.starts, piece.ends, Decimal(0), high)


def _people(place: SheetSpace) -> int:
    """How many lanes are people's; they come first."""
    return sum(1 for lane in place.lanes if lane.part is Block.PEOPLE)


def _rules(place: SheetSpace) -> Iterator[Stroke]:
    """A line between lanes, a strong one around blocks, and one at a store's capacity."""
    part: Block | None = None
    for lane, (low, _) in zip(place.lanes, place.edges, strict=True):
        yield place.border(low, lane.part is not part)
        part = lane.part
    yield place.border(place.edges[-1][1], True)
    for n, lane in enumerate(place.lanes):
        if lane.part is Block.STORES:
            _, low, high = next(place.strips(n))
            yield place.level(high if place.sheet.tall else low + PLATE)


def _clock_below(place: SheetSpace) -> bool:
    return not place.sheet.tall and place.plot.height > CLOCK_BELOW_FROM


def _clock(place: SheetSpace) -> Iterator[Word]:
    """The clock beside the plot; in a tall one with rows, below it as well."""
    sheet, plot, times = place.sheet, place.plot, place.times
    halves = any(not hour for _, _, hour in times.round)
    for minute, clock, hour in times.round:
        at, tone = place.along(minute), Tone.INK if hour or not halves else Tone.QUIET
        if not sheet.tall:
            yield Word(at, plot.y - 5, clock, sheet.small, Anchor.MIDDLE, tone)
            if _clock_below(place):
                low = plot.bottom + sheet.small + 2
                yield Word(at, low, clock, sheet.small, Anchor.MIDDLE, tone)
        elif not -sheet.small < at - place.along(times.ends) < 2 * sheet.small:
            down = tenth(at + sheet.small * MIDDLE_OF_TYPE)
            yield Word(plot.x - 4, down, clock, sheet.small, Anchor.END, tone)


def _breaks(place: SheetSpace, starts: MomentLine, ends: MomentLine) -> Iterator[Word]:
    """A word above each break where time runs to the right, clear of the other marks."""
    if place.sheet.tall:
        return
    size, half = place.sheet.small, width_of(Look.BREAK.word, place.sheet.small) / 2
    for piece in place.lanes[0].strips[0].pieces:
        at = (place.along(piece.starts) + place.along(piece.ends)) / 2
        first = max((word.x + _width(word) for word in starts.words), default=place.plot.x)
        last = min((word.x - _width(word) for word in ends.words), default=place.plot.right)
        if piece.look is Look.BREAK and first + MARGIN < at - half and at + half < last - MARGIN:
            up = place.plot.y - ABOVE
            yield Word(tenth(at), up, Look.BREAK.word, size, Anchor.MIDDLE, Tone.STRONG)


def _names(place: SheetSpace) -> Iterator[Word]:
    for n, lane in enumerate(place.lanes):
        yield from (_above if place.sheet.tall else _beside)(place, n, lane)


def _beside(place: SheetSpace, n: int, lane: Lane) -> Iterator[Word]:
    """The name left of its row, a note beneath it, and the letters of doughs."""
    sheet, plot = place.sheet, place.plot
    low, high = (plot.y + edge for edge in place.edges[n])
    width = sheet.before - (20 if any(strip.mark for strip in lane.strips) else 6)
    most = int((high - low - 1) // (sheet.type * LEADING))
    name = cut(lane.name, width, sheet.type, max(1, most))
    note = cut(lane.note, width, sheet.small) if len(name) < most else ()
    lines = _Lines(name, note, sheet.type, sheet.small)
    yield from lines.around(Decimal(0), (low + high) / 2, Anchor.START)
    for strip, begin, end in place.strips(n):
        down = plot.y + (begin + end) / 2 + sheet.small * MIDDLE_OF_TYPE
        if strip.mark:
            yield Word(plot.x - 4, tenth(down), strip.mark, sheet.small, Anchor.END, Tone.STRONG)


def _above(place: SheetSpace, n: int, lane: Lane) -> Iterator[Word]:
    """The name above its column in short lines, a note beneath it, and letters of doughs."""
    sheet, plot = place.sheet, place.plot
    low, high = (plot.x + edge for edge in place.edges[n])
    lettered = any(strip.mark for other in place.lanes for strip in other.strips)
    bottom, most = (plot.y - 16, 3) if lettered else (plot.y - 4, 4)
    name = cut(lane.short or lane.name, high - low - 1, sheet.small, most)
    texts = [lane.note] if lane.note and len(name) < most else []
    note = fitting(texts, high - low - 1, sheet.small, most - len(name)) or ()
    lines = _Lines(name, note, sheet.small, sheet.small)
    yield from lines.around((low + high) / 2, bottom - lines.height / 2, Anchor.MIDDLE)
    for strip, begin, end in place.strips(n):
        if strip.mark:
            at = tenth(plot.x + (begin + end) / 2)
            yield Word(at, plot.y - 4, strip.mark, sheet.small, Anchor.MIDDLE, Tone.STRONG)


@dataclass(frozen=True, slots=True)
class _Lines:
    """A name in lines, with a note in quieter ones beneath it."""

    name: tuple[str, ...]
    note: tuple[str, ...]
    type: Decimal
    small: Decimal

    @property
    def height(self) -> Decimal:
        return self.type * LEADING * (len(self.name) + len(self.note))

    def around(self, x: Decimal, middle: Decimal, anchor: Anchor) -> Iterator[Word]:
        lead, down = self.type * LEADING, middle - self.height / 2
        for n, text in enumerate((*self.name, *self.note)):
            is_name = n < len(self.name)
            size, tone = (self.type, Tone.STRONG) if is_name else (self.small, Tone.QUIET)
            base = down + lead * n + lead / 2 + size * MIDDLE_OF_TYPE
            yield Word(tenth(x), tenth(base), text, size, anchor, tone)


def _marks(place: SheetSpace) -> tuple[MomentLine, MomentLine, MomentLine]:
    """When the class starts and ends, and when the last bread is ready."""
    times = place.times
    starts, ends, ready = (place.moment(minute, True) for minute in (0, times.ends, times.ready))
    if place.sheet.tall:
        at_the_side = tuple(_end_at_the_side(place, ends))
        return MomentLine(starts, ()), MomentLine(ends, at_the_side), _ready_above(place, ready)
    size, plot = place.sheet.small, place.plot
    top, low = plot.y - ABOVE, plot.bottom + size + 2
    low += size + 3 if _clock_below(place) else 0
    said = [
        Word(starts.x1, top, f"starts {times.label(0)}", size, Anchor.START, Tone.STRONG),
        Word(ends.x1, top, f"ends {times.label(times.ends)}", size, Anchor.END, Tone.STRONG),
        Word(ready.x1, low, f"ready {times.label(times.ready)}", size, Anchor.END, Tone.STRONG),
    ]
    clear = starts.x1 + _width(said[0]) + MARGIN < ends.x1 - _width(said[1])
    first = MomentLine(starts, (said[0],) if clear else ())
    return first, MomentLine(ends, (said[1],)), MomentLine(ready, (said[2],))


def _width(word: Word) -> Decimal:
    return width_of(word.text, word.size)


def _end_at_the_side(place: SheetSpace, line: Stroke) -> Iterator[Word]:
    """The clock and a word to the left of the line at the end of the class."""
    x, size = place.plot.x - 4, place.sheet.small
    down = tenth(line.y1 + size * MIDDLE_OF_TYPE)
    clock = place.times.label(place.times.ends)
    yield Word(x, down, clock, size, Anchor.END, Tone.STRONG)
    yield Word(x, down + size + 1, "ends", size, Anchor.END, Tone.STRONG)


def _ready_above(place: SheetSpace, line: Stroke) -> MomentLine:
    """A word on a plaque above the line at which the last bread is ready, at its right end."""
    text, size = f"ready {place.times.label(place.times.ready)}", place.sheet.small
    x = place.plot.right - width_of(text, size) / 2 - MARGIN
    middle = line.y1 - size * LEADING / 2 - 2
    plaque = plaque_of([text], x, middle, size)
    word = Word(
        tenth(x), tenth(middle + size * MIDDLE_OF_TYPE), text, size, Anchor.MIDDLE, Tone.STRONG
    )
    return MomentLine(line, (word,), plaque)
