"""Writes about the hours of a class, each one transaction."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.db import transaction

from classes.core.hours.greedy.keeping import fingerprint, from_document, to_document
from classes.core.hours.problem.work import Solved
from classes.hours.plan import ClassHours
from classes.models import ClassSession, KeptPlan, TaughtRecipe

LOOK_AT_MOST_S = 8
HOURS_FIELDS = (
    "rises_in",
    "welcome_min",
    "weighing_min",
    "show_min",
    "cleanup_min",
    "break_at",
    "break_min",
)
TAUGHT_FIELDS = ("mixing", "pieces_a_place", "brings_mixed", "brings_risen", "brings_shaped")


@transaction.atomic
def save_hours(*, session: ClassSession, taught: Iterable[TaughtRecipe]) -> ClassSession:
    """Save what decides the hours of a class and of the recipes it teaches, and nothing else."""
    session.save(update_fields=HOURS_FIELDS)
    for row in taught:
        row.save(update_fields=TAUGHT_FIELDS)
    return session


def look_for_better(*, session: ClassSession, hours: ClassHours, at: datetime) -> Solved | None:
    """Look for a better plan, for some seconds; returns the plan then kept, if any.

    Better means ready earlier, or closer to being proved the earliest.
    """
    from classes.core.hours.exact.solving import improve

    present = hours.solved
    if present is None or present.proved:
        return None
    found = improve(hours.scheduled.problem, present, limit_s=LOOK_AT_MOST_S)
    if not is_better(found, present):
        return None
    made_for = fingerprint(hours.scheduled.problem)
    return keep_plan(session=session, made_for=made_for, solved=found, at=at)


@transaction.atomic
def keep_plan(*, session: ClassSession, made_for: str, solved: Solved, at: datetime) -> Solved:
    """Keep a plan for the state of a class that `made_for` names; returns the one kept.

    A plan for the same state that is already as good stays.
    """
    kept = KeptPlan.objects.select_for_update().filter(session=session).first()
    if kept is not None and kept.made_for == made_for:
        present = from_document(kept.document)
        if not is_better(solved, present):
            return present
    KeptPlan.objects.update_or_create(
        session=session,
        defaults={"made_for": made_for, "document": to_document(solved), "made_at": at},
    )
    return solved


def is_better(plan: Solved, other: Solved) -> bool:
    """Whether a plan is ready earlier than another, or as early and closer to being proved."""
    return (plan.ready, -plan.bound) < (other.ready, -other.bound)
