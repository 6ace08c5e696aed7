"""What has changed since a paper was printed: its lines then and now.

The stored lines of a printed list name nobody: they have people's keys, and the names are read from
the roster, so that nothing about people remains once they are erased.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.contrib.auth.models import User

from classes.core.keys import PersonKey, TickKey, Work
from classes.core.preparation import PreparationTask, TaskGroup, preparation
from classes.models import ClassSession, Printed
from classes.plan import ClassPlan

PREPARATION = "preparation list"
BUY = "Buy"


@dataclass(frozen=True, slots=True)
class ListedLine:
    """A line of the list: the place, the person if any, the ingredient and the grams."""

    where: str
    who: str
    what: str
    amount: str

    @property
    def place(self) -> str:
        """Such as `Bench 1, Ada · Hearth loaf`."""
        return f"{self.where}, {self.who}" if self.who else self.where


Lines = dict[TickKey, ListedLine]


@dataclass(frozen=True, slots=True)
class ChangedLine:
    """One line that differs: grams as text, empty if the line was or is not there.

    `was_at` is where it was before, empty if it has not moved.
    """

    where: str
    what: str
    before: str
    now: str
    was_at: str = ""

    @property
    def word(self) -> str:
        if not self.before:
            return "new"
        if not self.now:
            return "gone"
        return "changed" if self.before != self.now else "moved"


def lines_of(plan: ClassPlan) -> Lines:
    """Every line of the preparation list, by a permanent key.

    If a variant is made ahead beside the usual dough, its lines keep the variant in their key.
    """
    found: Lines = {}
    for where, group in _groups(plan):
        for task in group.tasks:
            key = task.key.lasting
            found[task.key.of_any_amount if key in found else key] = _line(where, group, task)
    return found


def _groups(plan: ClassPlan) -> Iterator[tuple[str, TaskGroup]]:
    work = preparation(plan.amounts, plan.shopping)
    yield BUY, work.buying
    yield from ((group.title, group) for group in work.ahead)
    for station, groups in work.stations:
        yield from ((station, group) for group in groups)


def _line(where: str, group: TaskGroup, task: PreparationTask) -> ListedLine:
    who = group.title if group.title != where else ""
    amount = task.note if task.grams is None else grams(task.grams)
    return ListedLine(where, who, task.text, amount)


def grams(number: Decimal) -> str:
    """Such as `259 g`."""
    return f"{number.normalize():f} g"


def _kept(key: TickKey, line: ListedLine, names: dict[PersonKey, str]) -> list[str]:
    """A line as it is stored: place, recipe, ingredient and grams, without names."""
    name = names.get(key.person, "") if key.person else ""
    return [line.where, line.who.removeprefix(f"{name} · "), line.what, line.amount]


def note_printed(*, session: ClassSession, plan: ClassPlan, user: User, at: datetime) -> Printed:
    """Store the preparation list's lines as they were printed."""
    names = {person.key: person.name for person in plan.people}
    lines = {str(key): _kept(key, line, names) for key, line in lines_of(plan).items()}
    return Printed.objects.create(session=session, paper=PREPARATION, lines=lines, by=user, at=at)


def last_printed(session: ClassSession) -> Printed | None:
    """The newest printing of the preparation list."""
    return session.printed.filter(paper=PREPARATION).select_related("by").first()


def changes_since(printed: Printed, plan: ClassPlan) -> tuple[ChangedLine, ...]:
    """The lines that differ, in the order of the list as it is now, then those that are gone."""
    before = {TickKey.parse(key): ListedLine(*line) for key, line in printed.lines.items()}
    now = lines_of(plan)
    found = [
        _change(before.get(key), line)
        for key, line in now.items()
        if key not in before or _differs(before[key], line)
    ]
    gone = [
        ChangedLine(line.place, line.what, line.amount, "")
        for key, line in before.items()
        if key not in now
    ]
    return (*found, *gone)


def _differs(before: ListedLine, now: ListedLine) -> bool:
    return (before.where, before.what, before.amount) != (now.where, now.what, now.amount)


def _change(before: ListedLine | None, now: ListedLine) -> ChangedLine:
    if before is None:
        return ChangedLine(now.place, now.what, "", now.amount)
    was_at = before.where if before.where != now.where else ""
    return ChangedLine(now.place, now.what, before.amount, now.amount, was_at)


_PLACES = {
    Work.BUY: "Shopping",
    Work.AHEAD: "Made ahead",
    Work.WEIGH: "A tub of somebody no longer here",
}


def place_of(lines: Lines, ticked: TickKey) -> str:
    """The place of a line that was ticked off, even if the line is gone."""
    line = lines.get(ticked.lasting)
    return line.place if line else _PLACES[ticked.work]
