"""Sesame the night before: hearth loaf and seeded ring, eleven people, one must not eat sesame."""

from __future__ import annotations

from decimal import Decimal

from classes.core.preparation import preparation
from classes.models import ClassSession
from classes.selectors import class_plan
from recipes.models import Ingredient, Revision, Variant
from tests.classes.demo_class import demo_class
from tests.factories import EnrollmentFactory, TaughtRecipeFactory


def again(session) -> ClassSession:
    """The class read anew, with all that its pages need."""
    return ClassSession.objects.with_plan().get(pk=session.pk)


def sunflower_and_oats(ring: Revision) -> Variant:
    """S1 with sunflower 60 and oats 40: sesame 18 g becomes sunflower 6 g and oats 12 g."""
    variant = Variant.objects.create(revision=ring, name="S1 with oats")
    sesame, sunflower, oats = (
        Ingredient.objects.get(key=key)
        for key in ("sesame-seeds", "sunflower-seeds", "rolled-oats")
    )
    for position, (by, parts) in enumerate(((sunflower, 1), (oats, 2))):
        variant.swaps.create(
            position=position,
            component_name="Seed topping",
            replaced=sesame,
            by=by,
            parts=Decimal(parts),
        )
    return variant


def night_before() -> ClassSession:
    """Ten people, everything weighed and ticked; the ring is baked beside the demo's loaf."""
    session = demo_class()
    Ingredient.objects.filter(key="sunflower-seeds").update(may_contain="may contain sesame")
    ring = Revision.objects.get(title="Seeded ring")
    TaughtRecipeFactory(session=session, revision=ring, position=1, piece_g=ring.piece_g)
    for one in session.enrollments.all()[10:]:
        one.delete()
    session.enrollments.update(must_not_eat="", diet="nothing")
    ClassSession.objects.filter(pk=session.pk).update(count_empty_seats=False, taken=10)
    sunflower_and_oats(ring)
    tick_everything(session)
    return again(session)


def tick_everything(session) -> None:
    plan = class_plan(again(session))
    helper = session.assistants.get()
    for task in preparation(plan.amounts, plan.shopping).tasks():
        session.ticks.create(key=str(task.key), done_by=helper)


def somebody_books(session, **fields):
    return EnrollmentFactory(
        session=session, name="Nia Farrow", station=None, diet="told", **fields
    )
