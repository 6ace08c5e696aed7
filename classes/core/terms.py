"""What canceling means under a class's stated rule, decided by the clock of the kitchen.

A limit in days before the class falls on the class's own time of day, that many calendar days
earlier: "until Saturday 12 December, 10:00", whatever the clocks do in between. The last minute
counts as in time.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from classes.core.money import Money, nothing
from recipes.core.numbers import whole


@dataclass(frozen=True, slots=True)
class CancelTerms:
    """A full refund until `refund_days` before the class, a move until `transfer_days` before."""

    refund_days: int
    transfer_days: int

    def __post_init__(self) -> None:
        whole("refund_days", self.refund_days)
        whole("transfer_days", self.transfer_days)


@dataclass(frozen=True, slots=True)
class Canceling:
    """What canceling now leads to: money back, or a move to another class.

    `in_time` is whether the price is waived; later it is due, paid or not.
    """

    in_time: bool
    refund_due: Money
    may_move: bool
    refund_until: datetime
    move_until: datetime

    @property
    def is_refunded(self) -> bool:
        return self.refund_due.is_something


def days_before(starts_at: datetime, days: int, zone: ZoneInfo) -> datetime:
    """The class's time of day, so many calendar days earlier, on the clock of its kitchen.

    A time that the clock change skips is taken an hour later, one that comes twice the first time.
    """
    local = starts_at.astimezone(zone)
    earlier = (local.replace(tzinfo=None) - timedelta(days=days)).replace(tzinfo=zone)
    return datetime.fromtimestamp(earlier.timestamp(), zone)


def canceling(
    terms: CancelTerms, starts_at: datetime, zone: ZoneInfo, *, at: datetime, paid: Money
) -> Canceling:
    """What canceling at a moment leads to, given what was paid so far; aware datetimes.

    What was not paid is not refunded.
    """
    refund_until = days_before(starts_at, terms.refund_days, zone)
    move_until = days_before(starts_at, terms.transfer_days, zone)
    in_time = at <= refund_until
    return Canceling(
        in_time=in_time,
        refund_due=paid.at_least_nothing() if in_time else nothing(paid.currency),
        may_move=at <= move_until,
        refund_until=refund_until,
        move_until=move_until,
    )
