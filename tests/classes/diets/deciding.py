"""A class of the seeded ring in which somebody must not eat sesame, and forms that decide it."""

from __future__ import annotations

from decimal import Decimal

from django.urls import reverse

from classes.core.diets.conflicts import Conflict
from classes.models import ClassSession
from classes.selectors import class_plan
from recipes.models import Ingredient, Revision, Variant
from tests.classes.diets.sesame_class import again, night_before, somebody_books


def oats_alone() -> Variant:
    """The ring with oats for all of its seeds."""
    ring = Revision.objects.get(title="Seeded ring")
    variant = Variant.objects.create(revision=ring, name="Oats alone")
    oats = Ingredient.objects.get(key="rolled-oats")
    for position, key in enumerate(("sesame-seeds", "sunflower-seeds")):
        replaced = Ingredient.objects.get(key=key)
        variant.swaps.create(position=position, replaced=replaced, by=oats, parts=Decimal(1))
    return variant


def sesame_told() -> ClassSession:
    """Hearth loaf and seeded ring for eleven; Nia Farrow, at the third bench, told sesame."""
    session = night_before()
    session.ticks.all().delete()
    oats_alone()
    somebody_books(session, allergens=["sesame"])
    return again(session)


def conflicts_of(session) -> list[Conflict]:
    return [one for person in class_plan(again(session)).concerns for one in person.conflicts]


def conflict_of(session, title="Seeded ring", name="Nia Farrow") -> Conflict:
    (found,) = [
        one for one in conflicts_of(session) if (one.title, one.eater.name) == (title, name)
    ]
    return found


def said(conflict, way="talked-over", **more) -> dict[str, str]:
    """What the form of a conflict posts."""
    return {
        "person": conflict.person.student_pk,
        "revision": conflict.revision,
        "seen": conflict.mark,
        "way": way,
        **more,
    }


def decide(client, session, way, conflict=None, **more):
    """Decide as the page does; the answer after the redirect."""
    address = reverse("classes:diet_decide", args=[session.code])
    return client.post(address, said(conflict or conflict_of(session), way, **more), follow=True)


def decision_said(session) -> dict[str, str]:
    """The form for the first person of a class, who wants to say something in private."""
    first = session.enrollments.first()
    session.enrollments.filter(pk=first.pk).update(diet="private")
    return said(next(one for one in conflicts_of(session) if one.eater.name == first.name))
