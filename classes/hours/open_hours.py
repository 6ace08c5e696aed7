"""Coming classes of which nobody can say whether they fit, by what their recipes leave unsaid."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from classes.core.demand import DEMONSTRATION
from classes.core.hours.checking.unsaid import Unsaid, unsaid_in
from classes.core.hours.problem import values as values
from classes.hours.selectors import room_of, steps_of
from classes.hours.unsaid_words import unsaid_words
from classes.models import ClassSession, TaughtRecipe
from recipes.core.numbers import ZERO


@dataclass(frozen=True, slots=True)
class OpenHours:
    """A class, and what is missing in words."""

    session: ClassSession
    missing: tuple[str, ...]


def open_hours(sessions: Iterable[ClassSession]) -> list[OpenHours]:
    """Those of the classes, fetched with their kitchens, that leave something unsaid; in order.

    Nothing is planned for it, so that a gap which only a plan shows is told on the hours alone.
    """
    listed = list(sessions)
    rows = (
        TaughtRecipe.objects.filter(session__in=[session.pk for session in listed])
        .select_related("revision")
        .prefetch_related("revision__steps")
    )
    taught: dict[int, list[TaughtRecipe]] = {}
    for row in rows:
        taught.setdefault(row.session_id, []).append(row)
    found = [(session, _unsaid(session, taught.get(session.pk, []))) for session in listed]
    return [OpenHours(one, tuple(map(unsaid_words, unsaid))) for one, unsaid in found if unsaid]


def _unsaid(session: ClassSession, taught: list[TaughtRecipe]) -> tuple[Unsaid, ...]:
    recipes = tuple(map(_spoken, taught))
    return unsaid_in(values.ClassWork(values.Hours(0), room_of(session), recipes, ()))


def _spoken(row: TaughtRecipe) -> values.TimedRecipe:
    """What a recipe says of its steps, without anybody who bakes it."""
    revision, shown = row.revision, row.demonstration_batches
    degrees = revision.dough_temperature_c
    return values.TimedRecipe(
        key=str(revision.pk),
        title=revision.title,
        steps=steps_of(revision),
        groups=(),
        demonstration=values.Group(DEMONSTRATION, shown, shown, ZERO) if shown else None,
        mixing=values.Mixing(row.mixing),
        dough_c=values.USUAL_DOUGH_C if degrees is None else degrees,
    )
