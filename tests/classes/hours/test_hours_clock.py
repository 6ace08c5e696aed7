"""Nights in which clocks change: a proof keeps its elapsed minutes, and the clock shows them.

Clocks in Dublin go forward on 28 March 2027 at 1:00 and back on 31 October 2027 at 2:00. What is
expected is worked out in Coordinated Universal Time, apart from the program.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from classes.core.hours.ahead.everything import ahead_of
from classes.hours.plan import ClassHours
from classes.hours.selectors import minutes_between
from classes.models import ClassSession
from classes.selectors import class_plan
from tests.factories import (
    ClassSessionFactory,
    EnrollmentFactory,
    KitchenFactory,
    RevisionFactory,
    TaughtRecipeFactory,
)
from wording.moments import Moment

pytestmark = pytest.mark.django_db

DUBLIN = ZoneInfo("Europe/Dublin")
TWO_DAYS = (
    {"kind": "prepare", "hands_on_min": 5, "waiting_min": 720, "temperature_c": 20},
    {"kind": "mix", "hands_on_min": 20},
    {"kind": "bulk", "waiting_min": 60, "temperature_c": 25},
    {"kind": "divide", "hands_on_min": 15},
    {"kind": "proof", "waiting_min": 40, "temperature_c": 26},
    {"kind": "bake", "hands_on_min": 3, "waiting_min": 27, "temperature_c": 230},
)
SPRING = datetime(2027, 3, 28, 10, tzinfo=DUBLIN)
AUTUMN = datetime(2027, 10, 31, 10, tzinfo=DUBLIN)
SUMMER = datetime(2027, 7, 4, 10, tzinfo=DUBLIN)


def class_at(starts_at, *, hours=4, night_c=20, **fields):
    """A class whose first dough is mixed half an hour after it starts."""
    kitchen = KitchenFactory(time_zone="Europe/Dublin", night_c=night_c, room_c=21)
    kitchen.ovens.create(name="O1", slots=6)
    values = {"welcome_min": 5, "weighing_min": 20, "show_min": 5, "rises_in": "cabinet"}
    start = starts_at.astimezone(UTC)
    session = ClassSessionFactory(
        instructor=kitchen.owner,
        kitchen=kitchen,
        starts_at=start,
        ends_at=start + timedelta(hours=hours),
        **(values | fields),
    )
    EnrollmentFactory(session=session)
    TaughtRecipeFactory(
        session=session, revision=RevisionFactory(steps=TWO_DAYS, recipe__owner=kitchen.owner)
    )
    return ClassSession.objects.with_plan().get(pk=session.pk)


def poolish_of(session):
    """When the poolish is stirred and when it is ripe, on the clock of the kitchen."""
    hours = class_plan(session).hours
    [task] = [
        one for one in ahead_of(hours.scheduled, hours.solved.plan) if one.key.startswith("prepare")
    ]
    return hours.at(task.starts), hours.at(task.ready_by)


# By the clock, 12 h before 10:30 are 22:30; an hour that is missing or doubled moves that.
NIGHTS = {
    "spring": (SPRING, "2027-03-27 21:30 GMT"),
    "autumn": (AUTUMN, "2027-10-30 23:30 IST"),
    "summer": (SUMMER, "2027-07-03 22:30 IST"),
}


@pytest.mark.parametrize(("starts_at", "shown"), NIGHTS.values(), ids=NIGHTS)
def test_a_poolish_of_twelve_hours_starts_by_the_clock_of_that_night(starts_at, shown):
    stirred, ripe = poolish_of(class_at(starts_at))
    assert f"{stirred:%Y-%m-%d %H:%M %Z}" == shown
    assert f"{ripe:%H:%M}" == "10:30"


@pytest.mark.parametrize("starts_at", [SPRING, AUTUMN, SUMMER], ids=NIGHTS)
@pytest.mark.parametrize(("night_c", "elapsed"), [(20, 720), (16, 967)])
def test_a_night_of_another_length_takes_nothing_from_the_poolish(starts_at, night_c, elapsed):
    stirred, ripe = poolish_of(class_at(starts_at, night_c=night_c))
    assert ripe.astimezone(UTC) - stirred.astimezone(UTC) == timedelta(minutes=elapsed)
    expected = (starts_at.astimezone(UTC) + timedelta(minutes=30 - elapsed)).astimezone(DUBLIN)
    assert (stirred, stirred.utcoffset()) == (expected, expected.utcoffset())


# A class through the night of the change; by hand, at every half hour.
THROUGH = {
    "spring": (
        datetime(2027, 3, 28, 0, tzinfo=DUBLIN),
        ["00:00 GMT", "00:30 GMT", "02:00 IST", "02:30 IST", "03:00 IST"],
    ),
    "autumn": (
        datetime(2027, 10, 31, 0, 30, tzinfo=DUBLIN),
        ["00:30 IST", "01:00 IST", "01:30 IST", "01:00 GMT", "01:30 GMT", "02:00 GMT"],
    ),
}


@pytest.mark.parametrize(("starts_at", "shown"), THROUGH.values(), ids=THROUGH)
def test_minutes_run_on_while_clocks_change(starts_at, shown):
    session = class_at(starts_at)
    hours = class_plan(session).hours
    times = [hours.at(30 * n) for n in range(len(shown))]
    assert [f"{at:%H:%M %Z}" for at in times] == shown


@pytest.mark.parametrize(
    ("starts_at", "ends_at", "minutes"),
    [
        ((2027, 3, 27, 23), (2027, 3, 28, 3), 180),
        ((2027, 10, 30, 23), (2027, 10, 31, 3), 300),
        ((2027, 7, 3, 23), (2027, 7, 4, 3), 240),
    ],
    ids=["spring", "autumn", "summer"],
)
def test_a_class_is_as_long_as_the_time_that_passes(starts_at, ends_at, minutes):
    start, end = datetime(*starts_at, tzinfo=DUBLIN), datetime(*ends_at, tzinfo=DUBLIN)
    assert minutes_between(start, end) == minutes
    assert minutes_between(start.astimezone(UTC), end.astimezone(UTC)) == minutes


def test_a_class_that_is_not_read_back_yet_counts_elapsed_minutes_too():
    starts = Moment(datetime(2027, 3, 28, 0, 30, tzinfo=DUBLIN), DUBLIN)
    hours = ClassHours(starts, scheduled=None, solved=None)
    assert f"{hours.at(30):%H:%M}" == "02:00"


def test_a_break_keeps_its_place_by_the_clock_of_the_night():
    """By hand: from 0:00 to 2:30 by the clock of that night are 90 minutes."""
    pause = datetime(2027, 3, 28, 2, 30, tzinfo=DUBLIN).astimezone(UTC)
    session = class_at(datetime(2027, 3, 28, 0, tzinfo=DUBLIN), break_at=pause, break_min=10)
    hours = class_plan(session).hours
    assert hours.scheduled.work.hours.break_at == 90
    assert hours.at(hours.solved.plan.slots["break"].start) == pause


def test_bread_is_ready_after_the_minutes_of_the_plan_in_a_night_of_change():
    """By hand: 30 + 20 + 60 + 15 + 40 + 30 min are 195, and 3:15 is 4:15 by the new clock."""
    hours = class_plan(class_at(datetime(2027, 3, 28, 0, tzinfo=DUBLIN))).hours
    assert hours.solved.ready == 195
    assert f"{hours.at(195):%H:%M %Z}" == "04:15 IST"
    assert hours.slack_min == 45


def test_a_kitchen_elsewhere_shows_its_own_clock():
    session = class_at(SUMMER)
    session.kitchen.time_zone = "America/Chicago"
    hours = class_plan(session).hours
    assert f"{hours.at(0):%Y-%m-%d %H:%M}" == "2027-07-04 04:00"


def test_a_temperature_of_the_night_that_is_not_set_is_that_of_the_room():
    stirred, ripe = poolish_of(class_at(SUMMER, night_c=None))
    by_rule = 720 * 2 ** (-1 / 9.4)
    assert abs((ripe - stirred) / timedelta(minutes=1) - by_rule) <= Decimal("0.5")
