"""Moments on a kitchen's clock: the one place that turns a time into words.

Pages, forms, letters, papers and files take their words from here, so that no part of the program
shows a class on another clock than its kitchen's. A wall time that comes twice, in the night when
clocks go back, has its offset.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from wording.figures import NBSP

NO_REGION = "Etc"
Day = date  # inside `Moment`, `date` is its own property


def day_words(day: date) -> str:
    """A day without its year, such as `Saturday 4 May`."""
    return f"{day:%A} {day.day} {day:%B}"


def day_before(day: date, of_class: date) -> str:
    """A day on or before that of a class: `Friday 3 May, the day before`."""
    days = (of_class - day).days
    if days <= 0:
        return day_words(day)
    return f"{day_words(day)}, {'the day' if days == 1 else f'{days} days'} before"


def offset_words(offset: timedelta) -> str:
    """An offset such as `UTC+1`, `UTC−5` or `UTC+5:45`; `UTC` for none."""
    minutes = round(offset / timedelta(minutes=1))
    if not minutes:
        return "UTC"
    hours, rest = divmod(abs(minutes), 60)
    return f"UTC{'+' if minutes > 0 else '−'}{hours}{f':{rest:02d}' if rest else ''}"


def instant(at: datetime) -> str:
    """A moment in UTC, in the form for PDF metadata."""
    return f"{at.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}"


@dataclass(frozen=True, slots=True)
class Moment:
    """An instant (an aware datetime), and the zone and kind of the clock that shows it."""

    instant: datetime
    zone: ZoneInfo
    twelve_hours: bool = False

    def __post_init__(self) -> None:
        if self.instant.utcoffset() is None:
            raise ValueError("a moment needs an aware datetime")

    def __str__(self) -> str:
        return self.words

    def plus(self, minutes: int) -> Moment:
        """The moment this many elapsed minutes later, across clock changes."""
        return replace(self, instant=self.instant.astimezone(UTC) + timedelta(minutes=minutes))

    @property
    def local(self) -> datetime:
        return self.instant.astimezone(UTC).astimezone(self.zone)

    @property
    def date(self) -> Day:
        """The day on the kitchen's calendar."""
        return self.local.date()

    @property
    def offset(self) -> str:
        """Such as `UTC+1`."""
        return offset_words(self.local.utcoffset() or timedelta())

    @property
    def zone_words(self) -> str:
        """Whose clock it is: `Dublin time, UTC+1`, or `UTC`."""
        region, _, place = self.zone.key.rpartition("/")
        if not region or region == NO_REGION:
            return self.offset
        return f"{place.replace('_', ' ')} time, {self.offset}"

    @property
    def _wall(self) -> str:
        local = self.local
        if self.twelve_hours:
            return f"{local.hour % 12 or 12}:{local:%M}{NBSP}{'pm' if local.hour >= 12 else 'am'}"
        return f"{local:%H:%M}"

    def on_axis(self, day: Day) -> str:
        """`10:30`, for an axis of time, where the order distinguishes repeated times."""
        return self._wall if self.date == day else f"{self.local:%a} {self._wall}"

    @property
    def comes_twice(self) -> bool:
        """Whether the clock shows this time twice, because it is set back."""
        first, second = (self.local.replace(fold=fold).utcoffset() for fold in (0, 1))
        return first is not None and second is not None and first > second

    @property
    def clock(self) -> str:
        """`10:30`, or `10:30 am`; a time that comes twice with its offset, `01:30 (UTC+1)`."""
        return self.exact_clock if self.comes_twice else self._wall

    @property
    def exact_clock(self) -> str:
        """`10:30 (UTC+1)`."""
        return f"{self._wall} ({self.offset})"

    @property
    def day(self) -> str:
        """`Saturday 4 May 2030`."""
        return f"{self.day_in_year} {self.local.year}"

    @property
    def day_in_year(self) -> str:
        """`Saturday 4 May`."""
        return day_words(self.date)

    @property
    def short_day(self) -> str:
        """`Sat 4 May`."""
        return f"{self.local:%a} {self.local.day} {self.local:%b}"

    @property
    def calendar_date(self) -> str:
        """`4 May 2030`."""
        return f"{self.local.day} {self.local:%B %Y}"

    @property
    def words(self) -> str:
        """`Saturday 4 May 2030, 10:00`."""
        return f"{self.day}, {self.clock}"

    @property
    def limit(self) -> str:
        """`Saturday 4 May, 10:00`, as something ends."""
        return f"{self.day_in_year}, {self.clock}"

    @property
    def short(self) -> str:
        """`Sat 4 May 2030, 10:00`."""
        return f"{self.short_day} {self.local.year}, {self.clock}"

    def limit_beside(self, other: Moment) -> str:
        """The same as `limit`, with its offset if that differs from the one beside it."""
        if self.offset == other.offset or self.comes_twice:
            return self.limit
        return f"{self.day_in_year}, {self.exact_clock}"

    @property
    def noted(self) -> str:
        """`4 May, 10:00`, as something was noted in a list."""
        return f"{self.short_date}, {self.clock}"

    @property
    def short_date(self) -> str:
        """`4 May`."""
        return f"{self.local.day} {self.local:%b}"

    @property
    def stamp(self) -> str:
        """`4 May 2030, 10:00, Europe/Dublin`, as on what is printed."""
        return f"{self.calendar_date}, {self.clock}, {self.zone.key}"

    @property
    def iso(self) -> str:
        """After ISO 8601 with the offset, for machines."""
        return self.local.isoformat()

    @property
    def iso_date(self) -> str:
        """After ISO 8601, for tables."""
        return self.date.isoformat()

    def beside(self, day: Day, *, short: bool = False) -> str:
        """The clock; with the day if that differs from the one beside it: `Sunday 00:15`."""
        if self.date == day:
            return self.clock
        return f"{self.local:%a} {self.clock}" if short else f"{self.local:%A} {self.clock}"


@dataclass(frozen=True, slots=True)
class Span:
    """From one moment to another on the same clock."""

    starts: Moment
    ends: Moment

    def __str__(self) -> str:
        return self.words

    @property
    def _clocks(self) -> tuple[str, str]:
        """Both ends, with their offsets if the clocks change in between."""
        if self.clock_change:
            return self.starts.exact_clock, self.ends.exact_clock
        return self.starts.clock, self.ends.clock

    @property
    def _later_day(self) -> str:
        same = self.starts.date == self.ends.date
        return "" if same else f" on {self.ends.day_in_year}"

    @property
    def hours(self) -> str:
        """`10:00–14:00`; an end on a later day is named."""
        return "–".join(self._clocks) + self._later_day

    @property
    def to_hours(self) -> str:
        """`10:00 to 14:00`; an end on a later day is named."""
        return " to ".join(self._clocks) + self._later_day

    @property
    def words(self) -> str:
        """`Saturday 4 May 2030, 10:00 to 14:00`."""
        return f"{self.starts.day}, {self.to_hours}"

    @property
    def zone_words(self) -> str:
        """Whose clock it is; the offset is that of the beginning."""
        return self.starts.zone_words

    @property
    def clock_change(self) -> str:
        """What the clocks do in between, as a sentence; empty if nothing."""
        before, after = self.starts.local.utcoffset(), self.ends.local.utcoffset()
        if before is None or after is None or before == after:
            return ""
        minutes = round(abs(after - before) / timedelta(minutes=1))
        way = "forward" if after > before else "back"
        length = "an hour" if minutes == 60 else f"{minutes} minutes"
        return f"The clocks go {way} by {length} in between."
