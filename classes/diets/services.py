"""Deciding what to do if a recipe contains what somebody must not eat."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime

from django.contrib.auth.models import User
from django.db import transaction

from classes.core.diets.conflicts import Conflict, Way
from classes.diets.selectors import basis_in, conflict_in
from classes.enrollment.models import BakedVariant, DietDecision
from classes.models import ClassSession
from classes.plan import ClassPlan
from classes.selectors import class_plan
from recipes.models import Variant


class ChangedMeanwhile(Exception):
    """The decision, or what it is about, has changed since it was seen."""


@transaction.atomic
def decide_diet(
    *,
    session: ClassSession,
    conflict: Conflict,
    way: Way,
    variant: Variant | None,
    note: str,
    user: User,
    at: datetime,
) -> Conflict | None:
    """Save a decision about a conflict as it was seen; returns the conflict afterward.

    With a variant, the person bakes it from now on. Raises ChangedMeanwhile.
    """
    person, revision = conflict.person, conflict.revision
    ClassSession.objects.select_for_update().get(pk=session.pk)
    now = conflict_in(_anew(session), person, revision)
    if now is None or now.mark != conflict.mark:
        raise ChangedMeanwhile
    if way is Way.VARIANT and variant is not None:
        _bake(person.student_pk, variant)
    basis = basis_in(_anew(session), person, revision)
    if basis is None:
        raise ChangedMeanwhile
    DietDecision.objects.update_or_create(
        enrollment_id=person.student_pk,
        revision_id=int(revision),
        defaults={
            "way": way,
            "note": note,
            "basis": asdict(basis),
            "decided_by": user,
            "decided_at": at,
        },
    )
    return conflict_in(_anew(session), person, revision)


def take_back_decision(*, conflict: Conflict) -> None:
    """Delete a decision; the conflict is open again. A variant stays on the roster."""
    person, revision = conflict.person.student_pk, int(conflict.revision)
    DietDecision.objects.filter(enrollment=person, revision=revision).delete()


def _anew(session: ClassSession) -> ClassPlan:
    return class_plan(ClassSession.objects.with_plan().get(pk=session.pk))


def _bake(person: int, variant: Variant) -> None:
    """Let somebody bake a variant instead of any other of the same revision."""
    baked = BakedVariant.objects.filter(enrollment=person, variant__revision=variant.revision_id)
    baked.exclude(variant=variant).delete()
    BakedVariant.objects.get_or_create(enrollment_id=person, variant=variant)
