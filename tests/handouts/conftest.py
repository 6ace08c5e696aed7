"""The demo class, a two-day class for nine, their papers, and clients of those who may print."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import cache

import pytest
from django.db import transaction
from django.test import Client

from classes.home_kitchen.selectors import shelf_of
from classes.home_kitchen.values import HomeKitchen
from classes.management.commands.load_demo import load_demo
from classes.models import ClassSession
from classes.selectors import class_plan
from handouts.kinds.at_home import at_home
from handouts.kinds.handout import handouts
from handouts.kinds.preparation import preparation_list
from handouts.kinds.station_cards import station_cards
from handouts.press.render import PageSize, to_pdf
from handouts.safety.hazards import hazards_of
from recipes.models import Revision
from tests.factories import ClassSessionFactory, EnrollmentFactory, TaughtRecipeFactory
from tests.handouts.pdfs import nothing_said
from tests.worlds import made_once

NOW = datetime(2030, 4, 11, 8, 30, tzinfo=UTC)
KINDS = ("handouts", "preparation", "station_cards")


def planned(session):
    return ClassSession.objects.with_plan().get(pk=session.pk)


def plan_of(session):
    return class_plan(planned(session))


def another_class(demo, *titles, students, demonstration_batches=1, **fields):
    session = ClassSessionFactory(
        instructor=demo.instructor,
        kitchen=demo.kitchen,
        seats=fields.pop("seats", students),
        handling_loss_percent=0,
        stations=demo.stations.all(),
        **fields,
    )
    for position, title in enumerate(titles):
        revision = Revision.objects.get(title=title)
        TaughtRecipeFactory(
            session=session,
            revision=revision,
            position=position,
            pieces_each=revision.pieces,
            demonstration_batches=demonstration_batches,
        )
    for _ in range(students):
        EnrollmentFactory(session=session, station=None)
    return session


def two_day_class(demo):
    """Nine bakers of the two-day batard, no demonstration, no loss."""
    return another_class(demo, "Two-day rye batard", students=9, demonstration_batches=0)


def papers_of(plan):
    """All papers of a class by kind; they are values, so they outlive the rows."""
    return {
        "handouts": handouts(plan, plan.students, NOW),
        "preparation": (preparation_list(plan, NOW),),
        "station_cards": station_cards(plan, NOW),
    }


class Printed:
    """Papers that are made into a PDF once, without a warning, however many tests read it."""

    def __init__(self, plan):
        self.plan = plan.amounts
        self.code = plan.code
        self.names = [one.name for one in plan.students]
        self.hazards = hazards_of(plan)
        self.papers = papers_of(plan)
        self.pdf = cache(self._pdf)

    def _pdf(self, kind, page_size=PageSize.A4):
        with nothing_said():
            return to_pdf(self.papers[kind][:3], page_size)

    @property
    def all_papers(self):
        return [paper for papers in self.papers.values() for paper in papers]


@pytest.fixture(scope="session")
def _printed(django_db_setup, django_db_blocker):
    """The classes of these tests; its users ask for `db`, or no database is made."""
    with django_db_blocker.unblock(), transaction.atomic():
        demo = load_demo(now=NOW)
        others = {
            title: another_class(demo, title, students=4)
            for title in ("Pillow rolls", "Seeded ring")
        }
        classes = {"demo": demo, "two-day": two_day_class(demo), **others}
        made = {name: Printed(plan_of(session)) for name, session in classes.items()}
        transaction.set_rollback(True)
    return made


@pytest.fixture
def printed(db, _printed):
    return _printed["demo"]


@pytest.fixture
def printed_two_day(db, _printed):
    return _printed["two-day"]


@pytest.fixture
def printed_rolls(db, _printed):
    return _printed["Pillow rolls"]


@pytest.fixture
def printed_all(db, _printed):
    return _printed


@pytest.fixture
def silent():
    """WeasyPrint has nothing to say about what the test prints."""
    with nothing_said():
        yield


demo_made_once = made_once(lambda: load_demo(now=NOW))


@pytest.fixture
def demo(db):
    return load_demo(now=NOW)


@pytest.fixture
def plan(demo):
    return plan_of(demo)


@pytest.fixture
def two_day(demo):
    return plan_of(two_day_class(demo))


@pytest.fixture
def teacher(demo) -> Client:
    client = Client()
    client.force_login(demo.instructor)
    return client


@pytest.fixture
def helper(demo) -> Client:
    client = Client()
    client.force_login(demo.assistants.get())
    return client


def at_home_for(plan, kept):
    """The paper for home of the first student, whose kitchen is as it was kept."""
    student = plan.students[0]
    (handout,) = handouts(plan, [student], NOW)
    return at_home(plan, student, HomeKitchen.of(kept), handout, shelf_of(plan))
