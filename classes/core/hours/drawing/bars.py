"""The bars of a drawing, with the words that fit into them or beside them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import zip_longest

from classes.core.hours.drawing.pieces import Piece, Strip, StripRole
from classes.core.hours.drawing.sheets import LEADING, MIDDLE_OF_TYPE, SheetSpace, tenth
from classes.core.hours.drawing.values import Anchor, Bar, Look, Rect, Tone, Word
from wording.lettering import fitting, width_of

MARGIN = Decimal(3)
PLATE = Decimal(15)
TIGHT = Decimal(2)
SHOWN = Decimal(8)
FRAME = Decimal("0.4")
MOST_BESIDE = 3
MOST_OF_A_PATTERN = Decimal("0.7")
PLAIN = (Look.HANDS, Look.BREAK, Look.HEAT)


def bars_of(place: SheetSpace) -> Iterator[Bar]:
    """Every piece of every lane as a bar, lane by lane."""
    for n in range(len(place.lanes)):
        yield from _Lettering(place, n).bars()


def centered(
    lines: Sequence[str], x: Decimal, middle: Decimal, size: Decimal, tone: Tone
) -> tuple[Word, ...]:
    """Lines of text stacked around a point."""
    lead = size * LEADING
    first = middle - lead * (len(lines) - 1) / 2 + size * MIDDLE_OF_TYPE
    return tuple(
        Word(tenth(x), tenth(first + lead * n), text, size, Anchor.MIDDLE, tone)
        for n, text in enumerate(lines)
    )


def plaque_of(lines: Sequence[str], x: Decimal, middle: Decimal, size: Decimal) -> Rect:
    """A plain background for lines of text around a point."""
    width = tenth(max(width_of(text, size) for text in lines) + MARGIN)
    height = tenth(size * LEADING * len(lines))
    return Rect(tenth(x - width / 2), tenth(middle - height / 2), width, height)


@dataclass(frozen=True)
class _Lettering:
    place: SheetSpace
    n: int

    def bars(self) -> Iterator[Bar]:
        strips = list(self.place.strips(self.n))
        beside: list[tuple[Decimal, Decimal]] = []
        for strip, low, high in strips:
            since = self.place.plot.x
            for piece, follower in zip_longest(strip.pieces, strip.pieces[1:]):
                bar = self._bar(piece, low, high)
                lettered = self._inside(bar, piece, piece.words)
                if lettered is bar and not self.place.sheet.tall and not _is_told_apart(piece):
                    lettered = self._at_a_side(bar, piece, since, follower)
                elif lettered is bar and strip.role is StripRole.DOUGH:
                    lettered = self._left_of(bar, piece, strips[0], beside)
                if lettered is bar and piece.last:
                    lettered = self._inside(bar, piece, (piece.last,))
                since = _right_end(lettered)
                yield lettered

    def _bar(self, piece: Piece, low: Decimal, high: Decimal) -> Bar:
        """The bar without words; for places, the share taken is filled."""
        whole = self.place.rect(piece.starts, piece.ends, low, high)
        if piece.share is None:
            return Bar(whole, piece.look, piece.title)
        taken, places = piece.share
        if self.place.sheet.tall:
            level = tenth(whole.width * taken / places)
            rect = replace(whole, width=level)
        else:
            level = tenth((whole.height - PLATE) * taken / places)
            rect = Rect(whole.x, whole.bottom - level, whole.width, level)
        return Bar(rect, piece.look, piece.title, whole=whole, framed=piece.look is Look.BAKE)

    def _inside(self, bar: Bar, piece: Piece, texts: Sequence[str]) -> Bar:
        """Words in the middle of a bar, on a plaque over a pattern; the bar itself if none fit."""
        room, size = bar.whole or bar.rect, self._type(piece)
        is_plain = bar.look in PLAIN
        if bar.whole and not self.place.sheet.tall:
            room, is_plain = replace(room, height=PLATE), True
        is_low = room.height < 2 * size
        height = room.height if is_plain or is_low else room.height * MOST_OF_A_PATTERN
        most = int((height + 1) // (size * LEADING))
        tight = TIGHT if is_plain else MARGIN
        width = room.width - (tight if is_plain or self.place.sheet.tall else SHOWN)
        lines = fitting(texts, width, size, most) if most else None
        if not lines:
            return bar
        x, middle = room.x + room.width / 2, room.y + room.height / 2
        tone = Tone.LIGHT if bar.look is Look.HANDS else Tone.INK
        plaque = None if is_plain else plaque_of(lines, x, middle, size)
        if plaque and is_low:
            plaque = replace(plaque, y=room.y + FRAME, height=room.height - 2 * FRAME)
        return replace(bar, words=centered(lines, x, middle, size, tone), plaque=plaque)

    def _type(self, piece: Piece) -> Decimal:
        sheet = self.place.sheet
        return sheet.type if piece.look is Look.HANDS else sheet.small

    def _at_a_side(self, bar: Bar, piece: Piece, since: Decimal, follower: Piece | None) -> Bar:
        """Words in the free space after the bar in its strip, else before it."""
        place, rect, size = self.place, bar.whole or bar.rect, self._type(piece)
        end = place.along(follower.starts) if follower else place.plot.right
        base = tenth(rect.y + rect.height / 2 + size * MIDDLE_OF_TYPE)
        if lines := fitting(piece.words, end - rect.right - 2 * MARGIN, size):
            return replace(bar, words=(Word(rect.right + MARGIN, base, lines[0], size),))
        if lines := fitting(piece.words, rect.x - since - 2 * MARGIN, size):
            word = Word(rect.x - MARGIN, base, lines[0], size, Anchor.END)
            return replace(bar, words=(word,))
        return bar

    def _left_of(
        self,
        bar: Bar,
        piece: Piece,
        hands: tuple[Strip, Decimal, Decimal],
        taken: list[tuple[Decimal, Decimal]],
    ) -> Bar:
        """Words beside a narrow strip of dough, where the hands of the lane are free."""
        place, size = self.place, self.place.sheet.small
        busy, low, high = hands
        times = [(place.along(piece.starts), place.along(piece.ends)) for piece in busy.pieces]
        room = _largest(bar.rect.y, bar.rect.bottom, sorted([*times, *taken]))
        most = min(MOST_BESIDE, int((room[1] - room[0]) // (size * LEADING)))
        texts = [f"{piece.mark} {text}".strip() for text in piece.words]
        lines = fitting(texts, high - low - 1, size, most) if most > 0 else None
        if not lines:
            return bar
        half, middle = size * LEADING * len(lines) / 2, (room[0] + room[1]) / 2
        taken.append((middle - half, middle + half))
        x = place.plot.x + (low + high) / 2
        return replace(bar, words=centered(lines, x, middle, size, Tone.INK))


def _is_told_apart(piece: Piece) -> bool:
    """Whether a piece needs no words beside it: breaks are named above, places are counted."""
    return piece.look is Look.BREAK or (piece.look is Look.WAIT and piece.share is not None)


def _right_end(bar: Bar) -> Decimal:
    """Where a bar ends with the word at its right side, if it has one there."""
    ends = [
        word.x + width_of(word.text, word.size) for word in bar.words if word.anchor is Anchor.START
    ]
    return max([(bar.whole or bar.rect).right, *ends])


def _largest(
    low: Decimal, high: Decimal, taken: Iterable[tuple[Decimal, Decimal]]
) -> tuple[Decimal, Decimal]:
    """The longest free interval between two points; the first of equal ones."""
    best, at = (low, low), low
    for begins, stops in (*taken, (high, high)):
        begins = min(begins, high)
        if begins - at > best[1] - best[0]:
            best = (at, begins)
        at = max(at, stops)
    return best
