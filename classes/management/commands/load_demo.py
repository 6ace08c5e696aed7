"""Load the demo scenario once, into a database without users."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import Group, User
from django.core.management.base import BaseCommand, CommandError
from django.db import transaction
from django.utils import timezone

from classes import demo
from classes.core.hours.problem.values import Mixing, RisesIn
from classes.enrollment.models import Enrollment
from classes.enrollment.services.seats import recount_seats
from classes.enrollment.services.telling import note_told
from classes.kitchens.services import save_kitchen
from classes.models import (
    ClassCost,
    ClassSession,
    Kitchen,
    Level,
    Mixer,
    Oven,
    Scale,
    Station,
    StockItem,
    TaughtRecipe,
)
from recipes.ingredients.table import load_ingredients
from recipes.models import Ingredient, Revision
from recipes.services import create_recipe, keep_revisions

WEEKS_AHEAD = 3
SATURDAY = 5


class Command(BaseCommand):
    help = "Load the demo: an invented hall, five recipes and a class three weeks ahead."

    def handle(self, **options: Any) -> None:
        if User.objects.exists():
            raise CommandError("There are users already, so nothing was loaded or changed.")
        load_demo(now=timezone.now())
        self.stdout.write("The demo is loaded.")


def _accounts() -> dict[str, User]:
    users = {}
    for name, password, role in demo.DEMO_ACCOUNTS:
        users[role] = User.objects.create_user(name, password=password)
        users[role].groups.add(Group.objects.get_or_create(name=role)[0])
    return users


def _kitchen(owner: User, ingredients: dict[str, Ingredient]) -> Kitchen:
    kitchen = Kitchen(
        owner=owner,
        name="Thistlewick Hall",
        place="The teaching kitchen of an invented village hall",
        access_facts=demo.ACCESS_FACTS,
        first_aid_place="on the wall beside the door",
        extinguisher_place="left of the ovens, blanket above",
        shutoff_place="gray cabinet in the hallway, key on top",
        meeting_point="the pear tree across the yard",
        emergency_number="112",
        time_zone="Europe/Dublin",
        currency="EUR",
        proof_places=16,
        refrigerator_places=8,
        bowls=14,
    )
    save_kitchen(kitchen=kitchen, contents=[])
    for n in range(1, 5):
        Station.objects.create(kitchen=kitchen, position=n, name=f"Bench {n}", places=4)
    for name, slots, fan in (("O1", 6, False), ("O2", 6, True), ("O3", 3, False)):
        Oven.objects.create(kitchen=kitchen, name=name, slots=slots, has_fan=fan)
    for n in (1, 2):
        Mixer.objects.create(kitchen=kitchen, name=f"Mixer {n}", capacity_g=2000, friction_c=11)
    Scale.objects.create(kitchen=kitchen, step_g=Scale.Step.ONE, count=4)
    Scale.objects.create(kitchen=kitchen, step_g=Scale.Step.TENTH, count=4)
    StockItem.objects.bulk_create(
        StockItem(
            kitchen=kitchen,
            ingredient=ingredients[key],
            on_hand_g=Decimal(on_hand),
            pack_g=Decimal(pack) if pack else None,
            pack_price_minor=price,
            price_currency=kitchen.currency,
        )
        for key, on_hand, pack, price in demo.DEMO_STOCK
    )
    return kitchen


def _saturday_ahead(now: datetime, kitchen: Kitchen) -> datetime:
    """10:00 on the first Saturday at least three weeks from now, in the kitchen's zone."""
    day = kitchen.moment(now).date + timedelta(weeks=WEEKS_AHEAD)
    day += timedelta(days=(SATURDAY - day.weekday()) % 7)
    return datetime.combine(day, time(10), tzinfo=kitchen.zone)


def _class(
    users: dict[str, User], kitchen: Kitchen, revision: Revision, now: datetime
) -> ClassSession:
    starts_at = _saturday_ahead(now, kitchen)
    session = ClassSession.objects.create(
        title="Saturday hearth loaf",
        instructor=users["instructor"],
        kitchen=kitchen,
        starts_at=starts_at,
        ends_at=starts_at + timedelta(hours=4),
        seats=12,
        handling_loss_percent=Decimal(3),
        rises_in=RisesIn.CABINET,
        is_open=True,
        level=Level.FIRST,
        about=demo.ABOUT,
        currency=kitchen.currency,
        price_minor=3800,
        least_people=8,
    )
    session.assistants.add(users["assistant"])
    session.stations.set(kitchen.stations.all()[:3])
    TaughtRecipe.objects.create(
        session=session,
        revision=revision,
        pieces_each=1,
        piece_g=revision.piece_g,
        demonstration_batches=1,
        dusting_g=Decimal(15),
        mixing=Mixing.SHOWN,
    )
    keep_revisions(revisions=[revision])
    per = {True: ClassCost.Per.PERSON, False: ClassCost.Per.CLASS}
    ClassCost.objects.bulk_create(
        ClassCost(session=session, name=name, amount_minor=amount, per=per[each])
        for name, amount, each in demo.DEMO_COSTS
    )
    people = [
        Enrollment(session=session, position=n, name=name, must_not_eat=must_not_eat)
        for n, (name, must_not_eat) in enumerate(demo.STUDENTS)
    ]
    for person in people:
        note_told(enrollment=person, at=now)
    Enrollment.objects.bulk_create(people)
    recount_seats(session=session)
    return session


@transaction.atomic
def load_demo(*, now: datetime) -> ClassSession:
    """Accounts, ingredients, kitchen, recipes and one class; `now` decides its date."""
    users = _accounts()
    load_ingredients()
    ingredients = {row.key: row for row in Ingredient.objects.filter(owner=None)}
    kitchen = _kitchen(users["instructor"], ingredients)
    revisions = [
        create_recipe(owner=users["instructor"], written=recipe) for recipe in demo.DEMO_RECIPES
    ]
    return _class(users, kitchen, revisions[0], now)
