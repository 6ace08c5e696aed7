"""Classes that need the same kitchen, or the same person, at the same time."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date

from django.contrib.auth.models import User
from django.db.models import Q

from classes.models import ClassSession, Kitchen
from wording.moments import Moment


@dataclass(frozen=True, slots=True)
class Overlap:
    """What another class has taken: the field of the class form to change, and why, in words."""

    field: str
    words: str


@dataclass(eq=False)
class ClassesClash(Exception):
    """A class needs what another class has at that time."""

    clashes: tuple[Overlap, ...]


def clashes_of(
    session: ClassSession, *, kitchen: Kitchen, assistants: Collection[User]
) -> tuple[Overlap, ...]:
    """What other classes have taken of the kitchen and people that a class needs.

    The class has its instructor and its times, and may be unsaved. An oven is never shared without
    its kitchen. A class may start in the minute in which another one ends.
    """
    people = {session.instructor, *assistants}
    others = (
        ClassSession.objects.overlapping(session.starts_at, session.ends_at)
        .exclude(pk=session.pk)
        .filter(Q(kitchen=kitchen) | Q(instructor__in=people) | Q(assistants__in=people))
        .distinct()
        .select_related("kitchen", "instructor")
        .prefetch_related("assistants")
    )
    return tuple(
        clash for other in others for clash in _clashes(session, kitchen, assistants, other)
    )


def _clashes(
    session: ClassSession,
    kitchen: Kitchen,
    assistants: Collection[User],
    other: ClassSession,
) -> Iterator[Overlap]:
    name, when = f"“{other.title}”", _when(session, kitchen, other)
    if other.kitchen == kitchen:
        yield Overlap("kitchen", f"{kitchen} is taken by {name} {when}.")
    if session.instructor == other.instructor:
        yield Overlap("starts", f"You teach {name} {when}.")
    elif session.instructor in other.assistants.all():
        yield Overlap("starts", f"You assist in {name} {when}.")
    for assistant in assistants:
        if assistant == other.instructor:
            yield Overlap("assistants", f"{assistant.get_username()} teaches {name} {when}.")
        elif assistant in other.assistants.all():
            yield Overlap("assistants", f"{assistant.get_username()} assists in {name} {when}.")


def _when(session: ClassSession, kitchen: Kitchen, other: ClassSession) -> str:
    """The hours of the other class on the clock of this one's kitchen."""
    day = kitchen.moment(session.starts_at).date
    start, end = kitchen.moment(other.starts_at), kitchen.moment(other.ends_at)
    if start.date == end.date == day:
        return f"from {start.clock} to {end.clock} that day"
    return f"from {_moment(start, day)} to {_moment(end, day)}"


def _moment(at: Moment, day: date) -> str:
    return at.clock if at.date == day else f"{at.clock} on {at.day_in_year}"
