"""The positions of a rise chart's lines, ticks and words in a box, for any template to draw.

Coordinates are in the box's own units, from its top left corner, to a tenth. Minutes run to the
right; the share of fermentation done runs upward, from zero to at least the whole.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from itertools import pairwise
from typing import NamedTuple

from recipes.core.errors import OutOfRange
from recipes.core.numbers import HUNDRED, ONE, ZERO, not_negative, positive, whole

TENTH = Decimal("0.1")
QUARTER = Decimal("0.25")
DAY_MIN = 24 * 60
MOST_TICKS = 7
_STEPS_MIN = (5, 10, 15, 30, 60, 120, 180, 240, 360, 720)

_LINE = Decimal(16)
_KEY_WIDTH = Decimal(24)
_KEY_MARGIN = Decimal(8)


class At(NamedTuple):
    """A point in the box."""

    x: Decimal
    y: Decimal


@dataclass(frozen=True, slots=True)
class Box:
    """The size of the drawing and the margins around the plot, which hold ticks and words."""

    width: Decimal = Decimal(480)
    height: Decimal = Decimal(240)
    left: Decimal = Decimal(48)
    right: Decimal = Decimal(16)
    top: Decimal = Decimal(24)
    bottom: Decimal = Decimal(32)

    def __post_init__(self) -> None:
        for field in ("left", "right", "top", "bottom"):
            not_negative(field, getattr(self, field))
        positive("width", self.width - self.left - self.right)
        positive("height", self.height - self.top - self.bottom)


@dataclass(frozen=True, slots=True)
class Curve:
    """A named line: pairs of minute and share done, in order of time; 1 is the whole."""

    label: str
    points: tuple[tuple[Decimal, Decimal], ...]


@dataclass(frozen=True, slots=True)
class Polyline:
    """A curve in the box, its sample in the key, and the point where it is done, if any."""

    label: str
    points: tuple[At, ...]
    key_from: At
    key_to: At
    label_at: At
    done_at: At | None
    done_label: str


@dataclass(frozen=True, slots=True)
class AxisTick:
    """A mark on an axis: its position in the box, and its label."""

    at: Decimal
    label: str


@dataclass(frozen=True, slots=True)
class RiseChart:
    """Everything to draw. The plot's corners are `origin`, bottom left, and `corner`, top right."""

    box: Box
    origin: At
    corner: At
    polylines: tuple[Polyline, ...]
    x_ticks: tuple[AxisTick, ...]
    y_ticks: tuple[AxisTick, ...]
    whole_y: Decimal


@dataclass(frozen=True, slots=True)
class _Scale:
    box: Box
    most_min: Decimal
    most_share: Decimal

    def x(self, minute: Decimal) -> Decimal:
        width = self.box.width - self.box.left - self.box.right
        return _tenth(self.box.left + width * minute / self.most_min)

    def y(self, share: Decimal) -> Decimal:
        height = self.box.height - self.box.top - self.box.bottom
        return _tenth(self.box.top + height * (ONE - share / self.most_share))

    def at(self, minute: Decimal, share: Decimal) -> At:
        return At(self.x(minute), self.y(share))


def _tenth(length: Decimal) -> Decimal:
    return length.quantize(TENTH, ROUND_HALF_UP)


def rise_chart(
    curves: Sequence[Curve], box: Box | None = None, *, starts_at_min: int | None = None
) -> RiseChart:
    """Lay the curves out in a box.

    `starts_at_min` is the minute of the day at which the curves begin; with it, ticks show the
    clock, else the elapsed time. Raises OutOfRange for no curve, an empty one or no time at all.
    """
    box = box or Box()
    if starts_at_min is not None:
        whole("starts_at_min", starts_at_min)
    if not curves or not all(curve.points for curve in curves):
        raise OutOfRange("points", ZERO, least=ONE)
    points = [point for curve in curves for point in curve.points]
    most_min = positive("minutes", max(minute for minute, _ in points))
    most_share = max(ONE, _up_to(max(share for _, share in points), QUARTER))
    scale = _Scale(box, most_min, most_share)
    return RiseChart(
        box=box,
        origin=scale.at(ZERO, ZERO),
        corner=scale.at(most_min, most_share),
        polylines=tuple(
            _polyline(curve, scale, len(curves) - n, starts_at_min)
            for n, curve in enumerate(curves)
        ),
        x_ticks=tuple(_x_ticks(scale, starts_at_min)),
        y_ticks=tuple(_y_ticks(scale)),
        whole_y=scale.y(ONE),
    )


def _up_to(value: Decimal, step: Decimal) -> Decimal:
    return (value / step).to_integral_value(ROUND_CEILING) * step


def _polyline(curve: Curve, scale: _Scale, line: int, starts_at_min: int | None) -> Polyline:
    """The curve, with its key on the given line up from the bottom right, where curves are low."""
    done = _done_minute(curve)
    key_y = scale.y(ZERO) - _KEY_MARGIN - (line - 1) * _LINE
    key_x = scale.x(scale.most_min) - _KEY_MARGIN
    return Polyline(
        label=curve.label,
        points=tuple(scale.at(minute, share) for minute, share in curve.points),
        key_from=At(key_x - _KEY_WIDTH, key_y),
        key_to=At(key_x, key_y),
        label_at=At(key_x - _KEY_WIDTH - _KEY_MARGIN, key_y),
        done_at=None if done is None else scale.at(done, ONE),
        done_label="" if done is None else _time_label(_up_to(done, ONE), starts_at_min),
    )


def _done_minute(curve: Curve) -> Decimal | None:
    """When the line first reaches the whole, by linear interpolation."""
    for (before, low), (minute, share) in pairwise((curve.points[0], *curve.points)):
        if share >= ONE:
            part = (ONE - low) / (share - low) if share > low else ZERO
            return before + (minute - before) * max(part, ZERO)
    return None


def _x_ticks(scale: _Scale, starts_at_min: int | None) -> Iterable[AxisTick]:
    """At most seven ticks, at round times if the clock is shown."""
    start = starts_at_min or 0
    fitting = (step for step in _STEPS_MIN if scale.most_min / step <= MOST_TICKS - 1)
    step = next(fitting, None) or int(_up_to(scale.most_min / (MOST_TICKS - 1), Decimal(DAY_MIN)))
    first = -start % step
    for minute in range(first, int(scale.most_min) + 1, step):
        at = Decimal(minute)
        yield AxisTick(scale.x(at), _time_label(at, starts_at_min))


def _y_ticks(scale: _Scale) -> Iterable[AxisTick]:
    """A tick for every quarter, or every half or whole if a curve goes far beyond."""
    step = next(by for by in (QUARTER, 2 * QUARTER, ONE) if by == ONE or scale.most_share / by <= 6)
    share = ZERO
    while share <= scale.most_share:
        yield AxisTick(scale.y(share), f"{share * HUNDRED:.0f} %")
        share += step


def _time_label(minute: Decimal, starts_at_min: int | None) -> str:
    """`12:50` on the clock, else `0`, `45 min`, `2 h`, `1 h 30 min` since the start."""
    if starts_at_min is not None:
        hours, minutes = divmod((starts_at_min + int(minute)) % DAY_MIN, 60)
        return f"{hours}:{minutes:02}"
    hours, minutes = divmod(int(minute), 60)
    parts = [f"{hours} h"] * bool(hours) + [f"{minutes} min"] * bool(minutes)
    return " ".join(parts) or "0"
