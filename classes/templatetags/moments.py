"""Filters that show a moment on the clock of a kitchen: `{{ letter.sent_at|noted:kitchen }}`."""

from __future__ import annotations

from datetime import date, datetime

from django import template

from classes.models import Kitchen
from wording.moments import day_words

register = template.Library()


def _filter(name: str, words: str) -> None:
    def shown(at: datetime | None, kitchen: Kitchen) -> str:
        return getattr(kitchen.moment(at), words) if at else ""

    register.filter(name, shown)


_filter("moment", "words")
_filter("limit", "limit")
_filter("noted", "noted")
_filter("short", "short")
_filter("clock", "clock")
_filter("day", "day")
_filter("short_day", "short_day")
_filter("short_date", "short_date")
_filter("calendar_date", "calendar_date")


@register.filter
def weekday(day: date) -> str:
    """A day of the calendar, which has no clock: `Saturday 4 May`."""
    return day_words(day)
