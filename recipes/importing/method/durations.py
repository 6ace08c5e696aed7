"""ISO 8601 durations, such as `PT1H20M`, as minutes."""

from __future__ import annotations

import re
from decimal import ROUND_CEILING, Decimal

_DURATION = re.compile(
    r"P(?:(?P<weeks>[0-9.,]{1,9})W)?(?:(?P<days>[0-9.,]{1,9})D)?"
    r"(?:T(?:(?P<hours>[0-9.,]{1,9})H)?(?:(?P<minutes>[0-9.,]{1,9})M)?(?:(?P<seconds>[0-9.,]{1,9})S)?)?",
    re.IGNORECASE,
)
_MINUTES = {
    "weeks": Decimal(10080),
    "days": Decimal(1440),
    "hours": Decimal(60),
    "minutes": Decimal(1),
    "seconds": 1 / Decimal(60),
}
_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
MOST_MINUTES = 10_000_000


def minutes_of(text: str) -> int | None:
    """Whole minutes of a duration, rounded up; None for anything else.

    Years and months are refused: they have no fixed length.
    """
    found = _DURATION.fullmatch(text.strip()) if len(text) < 80 else None
    if found is None or not any(found.groups()):
        return None
    total = Decimal(0)
    for name, number in found.groupdict().items():
        if number is None:
            continue
        if not _NUMBER.fullmatch(number):
            return None
        total += Decimal(number.replace(",", ".")) * _MINUTES[name]
    minutes = int(total.quantize(Decimal("0.001")).to_integral_value(ROUND_CEILING))
    return minutes if minutes <= MOST_MINUTES else None


def duration(minutes: int) -> str:
    """Minutes as an ISO 8601 duration: `PT1H20M`, `PT0M`."""
    hours, rest = divmod(minutes, 60)
    return f"PT{f'{hours}H' if hours else ''}{f'{rest}M' if rest or not hours else ''}"
