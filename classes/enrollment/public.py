"""What anybody may read about a class: facts for the public pages, nothing about its people."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404

from classes.core.terms import CancelTerms, days_before
from classes.enrollment.vacancy import Vacancy, vacancies
from classes.models import ClassSession, TaughtRecipe
from recipes.core.allergens import AllergensFound, found_in
from recipes.core.formula import FormulaIngredient
from recipes.selectors import formula_value, ingredient_value
from recipes.variants.selectors import varied
from wording.moments import Moment, Span


@dataclass(frozen=True)
class OpenClass:
    """A class as the public sees it; all its times are on the kitchen's clock."""

    session: ClassSession
    when: Span
    taught: tuple[TaughtRecipe, ...]
    allergens: AllergensFound
    refund_until: Moment
    move_until: Moment
    is_past: bool

    @property
    def refund_limit(self) -> str:
        """Until when everything that was paid is given back: `Saturday 27 April, 10:00`."""
        return self.refund_until.limit_beside(self.when.starts)

    @property
    def move_limit(self) -> str:
        """Until when a booking may move to another class."""
        return self.move_until.limit_beside(self.when.starts)


def open_sessions(at: datetime) -> QuerySet[ClassSession]:
    """The classes that take enrollments, the next one first."""
    return ClassSession.objects.filter(is_open=True, starts_at__gt=at).select_related("kitchen")


def open_session(code: str) -> ClassSession:
    """A class that is open to the public, with what it bakes; else 404."""
    return get_object_or_404(_with_recipes().filter(is_open=True), code=code)


def public_class(pk: int) -> ClassSession:
    """A class with what it bakes, open or not, for somebody who comes or wants to come."""
    return _with_recipes().get(pk=pk)


def _with_recipes() -> QuerySet[ClassSession]:
    """The rows for the public facts, without any people."""
    return ClassSession.objects.select_related("kitchen").prefetch_related(
        "taught__variant__swaps__replaced",
        "taught__variant__swaps__by",
        "taught__dusting_flour",
        "taught__revision__components__lines__ingredient",
    )


def listed_classes(at: datetime) -> list[tuple[ClassSession, Vacancy]]:
    """The classes that take enrollments, with their free seats, the next one first."""
    sessions = list(open_sessions(at))
    found = vacancies(sessions, at)
    return [(session, found[session.pk]) for session in sessions]


def open_row(code: str) -> ClassSession:
    """The row of a class that is open to the public, without related rows; else 404."""
    return get_object_or_404(ClassSession, is_open=True, code=code)


def terms_of(session: ClassSession) -> CancelTerms:
    """The class's rule on canceling."""
    return CancelTerms(session.refund_days, session.transfer_days)


def open_class(session: ClassSession, at: datetime) -> OpenClass:
    """The public facts of a class fetched by `open_session` or `public_class`."""
    taught = tuple(session.taught.all())
    return OpenClass(
        session=session,
        when=session.when,
        taught=taught,
        allergens=found_in(_ingredients(taught)),
        refund_until=_days_before(session, session.refund_days),
        move_until=_days_before(session, session.transfer_days),
        is_past=session.starts_at <= at,
    )


def _days_before(session: ClassSession, days: int) -> Moment:
    kitchen = session.kitchen
    return kitchen.moment(days_before(session.starts_at, days, kitchen.zone))


def _ingredients(taught: Iterable[TaughtRecipe]) -> Iterable[FormulaIngredient]:
    """All ingredients of the recipes as they are baked, including fillings, washes and dusting."""
    for row in taught:
        formula = formula_value(row.revision)
        if row.variant:
            formula = varied(formula, row.variant).formula
        for part in formula.components:
            yield from (line.ingredient for line in part.lines)
        if row.dusting_flour:
            yield ingredient_value(row.dusting_flour)
