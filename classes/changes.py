"""What has changed since a paper was printed: its lines then against its lines now."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractUser

from classes.models import ClassSession, Printed
from classes.planning.preparation import preparation
from classes.selectors import ClassNumbers

PREPARATION = "preparation list"

Lines = dict[str, tuple[str, str, str]]


@dataclass(frozen=True, slots=True)
class Change:
    """One line that differs: grams as text, empty where the line was or is not there."""

    where: str
    what: str
    before: str
    now: str

    @property
    def word(self) -> str:
        if not self.before:
            return "new"
        return "gone" if not self.now else "changed"


def lines_of(numbers: ClassNumbers) -> Lines:
    """Every line of the preparation list as (place, what, grams), by a key that lasts."""
    work = preparation(numbers.amounts, numbers.shopping)
    groups = [("Buy", work.buying), *((group.title, group) for group in work.ahead)]
    groups += [
        (f"{station}, {group.title}", group)
        for station, station_groups in work.stations
        for group in station_groups
    ]
    found: Lines = {}
    for where, group in groups:
        for task in group.tasks:
            amount = task.note if task.grams is None else grams(task.grams)
            found[task.key.rpartition("|")[0]] = (where, task.text, amount)
    return found


def grams(number: Decimal) -> str:
    """Such as `259 g`."""
    return f"{number.normalize():f} g"


def note_printed(
    *, session: ClassSession, numbers: ClassNumbers, user: AbstractUser, at: datetime
) -> Printed:
    """Remember what the preparation list held when it was printed."""
    lines = {key: list(line) for key, line in lines_of(numbers).items()}
    return Printed.objects.create(session=session, paper=PREPARATION, lines=lines, by=user, at=at)


def last_printed(session: ClassSession) -> Printed | None:
    """The newest printing of the preparation list."""
    return session.printed.filter(paper=PREPARATION).select_related("by").first()


def changes_since(printed: Printed, numbers: ClassNumbers) -> tuple[Change, ...]:
    """The lines that differ, in the order of the list as it is now, then those that are gone."""
    before: Lines = {key: tuple(line) for key, line in printed.lines.items()}
    now = lines_of(numbers)
    found = [
        Change(where, what, before[key][2] if key in before else "", amount)
        for key, (where, what, amount) in now.items()
        if key not in before or before[key][2] != amount
    ]
    gone = [
        Change(where, what, amount, "")
        for key, (where, what, amount) in before.items()
        if key not in now
    ]
    return (*found, *gone)
