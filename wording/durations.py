"""Minutes and hours."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from wording.figures import NBSP, ONE

IN_HOURS_FROM_MIN, IN_HOURS_ALONE_FROM_MIN = 120, 600


def minutes(value: int) -> str:
    """A duration: `80` is `1 h 20 min`."""
    hours, rest = divmod(int(value), 60)
    parts = [f"{hours}{NBSP}h"] if hours else []
    if rest or not hours:
        parts.append(f"{rest}{NBSP}min")
    return NBSP.join(parts)


def whole_minutes(value: Decimal) -> str:
    """Minutes to the nearest whole one: `134.04` is `2 h 14 min`."""
    return minutes(int(value.quantize(ONE, ROUND_HALF_UP)))


def total_minutes(value: Decimal) -> str:
    """A rise in minutes, from two hours up also in hours: `134 min (2 h 14 min)`.

    From ten hours up it is only in hours.
    """
    whole = int(value.quantize(ONE, ROUND_HALF_UP))
    if whole >= IN_HOURS_ALONE_FROM_MIN:
        return minutes(whole)
    text = f"{whole}{NBSP}min"
    return f"{text} ({minutes(whole)})" if whole >= IN_HOURS_FROM_MIN else text
