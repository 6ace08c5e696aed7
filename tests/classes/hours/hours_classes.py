"""A small class whose hours can be planned: a loaf, two benches, an oven, a cabinet, a mixer."""

from __future__ import annotations

from decimal import Decimal

from classes.models import ClassSession
from tests.factories import (
    ClassSessionFactory,
    EnrollmentFactory,
    KitchenFactory,
    RevisionFactory,
    TaughtRecipeFactory,
)

STEPS = (
    {"kind": "mix", "hands_on_min": 20, "worked": "machine"},
    {
        "kind": "bulk",
        "text": "Let it rise.",
        "waiting_min": 60,
        "temperature_c": 25,
        "temperature_of": "dough",
    },
    {"kind": "divide", "text": "Round it.", "hands_on_min": 15},
    {
        "kind": "proof",
        "text": "Let it proof.",
        "waiting_min": 40,
        "temperature_c": 26,
        "temperature_of": "dough",
    },
    {
        "kind": "bake",
        "text": "Bake it.",
        "hands_on_min": 3,
        "waiting_min": 30,
        "temperature_c": 230,
        "temperature_of": "oven",
    },
    {"kind": "cool", "text": "Let it cool.", "waiting_min": 15},
)


def equipped_kitchen(**fields) -> KitchenFactory:
    """Two benches of four, an oven of six places, a cabinet of eight, a mixer, at 25 °C."""
    usual = {"stations": 2, "room_c": Decimal(25), "proof_places": 8, "time_zone": "Europe/Dublin"}
    kitchen = KitchenFactory(**usual | fields)
    kitchen.ovens.create(name="Deck", slots=6)
    kitchen.mixers.create(name="Mixer 1", capacity_g=2000)
    return kitchen


def loaf(owner, **fields) -> RevisionFactory:
    """A loaf with a step of each kind that a class has."""
    return RevisionFactory(recipe__owner=owner, **{"title": "Hearth loaf", "steps": STEPS} | fields)


def baking_class(instructor, *, students: int = 4, revision=None, **fields) -> ClassSession:
    """A class of four hours from 11:00 in Dublin; four seats, and so many on the roster."""
    kitchen = fields.pop("kitchen", None) or equipped_kitchen(owner=instructor)
    usual = {"instructor": instructor, "kitchen": kitchen, "seats": max(4, students)}
    session = ClassSessionFactory(**usual | fields)
    TaughtRecipeFactory(session=session, revision=revision or loaf(instructor, in_use=True))
    benches = list(session.stations.all())
    for n in range(students):
        EnrollmentFactory(session=session, station=benches[n % len(benches)])
    return ClassSession.objects.with_plan().get(pk=session.pk)


def contested_class(instructor) -> ClassSession:
    """Two bakers, two breads, one mixer, one small oven: the plan made at once is not the best."""
    kitchen = equipped_kitchen(owner=instructor)
    kitchen.ovens.update(slots=2)
    session = baking_class(
        instructor, students=2, seats=2, count_empty_seats=False, kitchen=kitchen
    )
    short = {"bulk": {"waiting_min": 45}, "bake": {"waiting_min": 20, "temperature_c": 190}}
    steps = [step | short.get(step["kind"], {}) for step in STEPS]
    ring = loaf(instructor, title="Seeded ring", steps=steps, in_use=True)
    TaughtRecipeFactory(session=session, revision=ring, position=1)
    session.taught.update(mixing="mixer")
    return ClassSession.objects.with_plan().get(pk=session.pk)
