"""Every time that anybody reads is on the kitchen's clock, wherever the site's own clock is.

What the clocks show is worked out by hand from the published rules of the zones. The site stands in
Auckland, so a time that slips through without its kitchen is hours away from the right one.
"""

from __future__ import annotations

import csv
import io
import json
import re
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

import pytest
from django.urls import reverse
from icalendar import Calendar

from classes.access import booking_token, waiting_token
from classes.enrollment.models import Letter
from classes.enrollment.services.enrolling import join_waiting
from classes.enrollment.services.leaving import cancel_all
from classes.enrollment.services.letters import write_changes, write_due_letters
from classes.models import ClassSession
from tests.classes.enrollment.enrolled import NOW, enrolled, held, key, open_class, page_of
from tests.classes.sessions.class_fields import class_fields
from tests.conftest import signed_in
from tests.factories import KitchenFactory, RevisionFactory
from tests.handouts.pdfs import page_texts, plain

LINKED_DATA = re.compile(r'<script type="application/ld\+json">(.*?)</script>', re.DOTALL)


class Kitchens(NamedTuple):
    """A class in UTC and what the clock of its kitchen shows."""

    zone: str
    starts: datetime
    ends: datetime
    day: str
    from_to: str
    whose: str
    refund: str
    move: str
    iso: tuple[str, str]
    now: str
    held: str
    change: str = ""

    @property
    def first(self) -> str:
        """The start without its offset."""
        return re.split(r" \(| to ", self.from_to)[0]

    @property
    def typed(self) -> tuple[str, str]:
        """Start and end as a browser's form writes them."""
        first, last = (at[11:16] for at in self.iso)
        return first, last

    @property
    def iso_now(self) -> str:
        return f"T{self.now.removesuffix(' am').zfill(5)}:00"


def utc(*parts):
    return datetime(*parts, tzinfo=UTC)


# All are seen on 1 April 2030 at 9:00 UTC; three minutes later a hold ends.
CASES = {
    "New York": Kitchens(
        "America/New_York",
        utc(2030, 5, 4, 12, 30),
        utc(2030, 5, 4, 19, 30),
        "Saturday 4 May 2030",
        "8:30 am to 3:30 pm",
        "New York time, UTC−4",
        "Saturday 27 April, 8:30 am",
        "Thursday 2 May, 8:30 am",
        ("2030-05-04T08:30:00-04:00", "2030-05-04T15:30:00-04:00"),
        "5:00 am",
        "5:03 am",
    ),
    "Dublin in July": Kitchens(
        "Europe/Dublin",
        utc(2030, 7, 6, 8, 30),
        utc(2030, 7, 6, 14, 30),
        "Saturday 6 July 2030",
        "09:30 to 15:30",
        "Dublin time, UTC+1",
        "Saturday 29 June, 09:30",
        "Thursday 4 July, 09:30",
        ("2030-07-06T09:30:00+01:00", "2030-07-06T15:30:00+01:00"),
        "10:00",
        "10:03",
    ),
    "Kathmandu": Kitchens(
        "Asia/Kathmandu",
        utc(2030, 5, 4, 1, 15),
        utc(2030, 5, 4, 8),
        "Saturday 4 May 2030",
        "07:00 to 13:45",
        "Kathmandu time, UTC+5:45",
        "Saturday 27 April, 07:00",
        "Thursday 2 May, 07:00",
        ("2030-05-04T07:00:00+05:45", "2030-05-04T13:45:00+05:45"),
        "14:45",
        "14:48",
    ),
    # Clocks go back in New York on 3 November 2030 at 2:00.
    "a night of change": Kitchens(
        "America/New_York",
        utc(2030, 11, 3, 4, 30),
        utc(2030, 11, 3, 11, 30),
        "Sunday 3 November 2030",
        "12:30 am (UTC−4) to 6:30 am (UTC−5)",
        "New York time, UTC−4",
        "Sunday 27 October, 12:30 am",
        "Friday 1 November, 12:30 am",
        ("2030-11-03T00:30:00-04:00", "2030-11-03T06:30:00-05:00"),
        "5:00 am",
        "5:03 am",
        "The clocks go back by an hour in between.",
    ),
}

STEPS = (
    {"kind": "mix", "hands_on_min": 20},
    {"kind": "bulk", "waiting_min": 60, "temperature_c": 25},
    {"kind": "divide", "hands_on_min": 15},
    {"kind": "proof", "waiting_min": 40, "temperature_c": 26},
    {"kind": "bake", "hands_on_min": 3, "waiting_min": 27, "temperature_c": 230},
    {"kind": "cool", "hands_on_min": 1, "waiting_min": 15},
)

pytestmark = pytest.mark.usefixtures("today")


@pytest.fixture(autouse=True)
def _in_auckland(settings):
    settings.TIME_ZONE = "Pacific/Auckland"


@pytest.fixture(params=CASES.values(), ids=CASES)
def case(request) -> Kitchens:
    return request.param


@pytest.fixture
def session(case, db):
    session = open_class(starts_at=case.starts, ends_at=case.ends, least_people=1)
    session.kitchen.time_zone = case.zone
    session.kitchen.save()
    return session


@pytest.fixture
def staff(session):
    return signed_in(session.instructor)


def read(client, address) -> str:
    response = client.get(address)
    assert response.status_code == 200, address
    return plain(response.content.decode())


def held_a_little(session):
    """Seats held for three minutes from now."""
    booking = held(session)
    booking.held_until = NOW + timedelta(minutes=3)
    booking.save()
    return booking


def letter(kind) -> str:
    return plain(Letter.objects.get(kind=kind).text)


def test_the_list_and_the_page_of_the_class(case, session, stranger):
    assert f"{case.day}, {case.from_to}" in read(stranger, "/open/")
    page = read(stranger, f"/open/{session.code}/")
    assert f"{case.day}, {case.from_to}" in page
    assert case.whose in page
    assert case.change in page
    assert f"Until <strong>{case.refund}</strong>" in page
    assert f"Until <strong>{case.move}</strong>" in page


def test_the_form_and_ones_own_page(case, session, stranger):
    form = read(stranger, f"/enroll/{booking_token(held_a_little(session))}/")
    assert f"Held until {case.held}" in form
    own = read(stranger, page_of(enrolled(session).people.get()))
    assert f"{case.day}, {case.from_to}" in own
    for page in (form, own):
        assert case.from_to.replace(" to ", "–") in page
        assert f"Until <strong>{case.refund}</strong>" in page
        assert case.whose in page


def test_a_class_to_move_to(case, session, stranger):
    other = open_class(instructor=session.instructor, kitchen=session.kitchen)
    page = read(stranger, page_of(enrolled(other).people.get()))
    day = case.day.removesuffix(" 2030")
    assert f"Slow loaves, {day}, {case.first}, 38.00 EUR a seat" in page


def test_the_waiting_list_and_its_letter(case, session, stranger):
    fields = {"name": "Wim", "email": "wim@example.org", "seats": 1, "form_key": key()}
    entry = join_waiting(session=session, at=NOW, **fields)
    page = read(stranger, f"/waiting/{waiting_token(entry)}/")
    assert f"{case.day}, {case.from_to} ({case.whose})" in page
    assert f"held until Tuesday 2 April, {case.now}" in page
    said = letter("offer")
    assert f"When: {case.day}, {case.from_to} ({case.whose})" in said
    assert f"held for you until Tuesday 2 April, {case.now}" in said


def test_every_letter(case, session):
    booking = enrolled(session)
    ClassSession.objects.update(change_number=1)
    session.refresh_from_db()
    write_changes(session=session, at=NOW)
    write_due_letters(at=case.starts - timedelta(days=1))
    for kind in ("confirmation", "change", "reminder"):
        assert f"When: {case.day}, {case.from_to} ({case.whose})" in letter(kind), kind
        assert case.change in letter(kind)
    assert f"until {case.refund} everything you paid is refunded" in letter("confirmation")
    assert f"until {case.move} you can move" in letter("confirmation")
    cancel_all(booking=booking, at=NOW)
    assert f"on {case.day} is canceled" in letter("canceled")


def test_machines_read_the_same_instants(case, session, stranger):
    page = stranger.get(f"/open/{session.code}/").content.decode()
    found = json.loads(LINKED_DATA.findall(page)[0])
    assert (found["startDate"], found["endDate"]) == case.iso
    own = page_of(enrolled(session).people.get())
    text = stranger.get(f"{own}class.ics").content.decode()
    for calendar in (text, Letter.objects.get(kind="confirmation").calendar):
        (event,) = Calendar.from_ical(calendar).walk("VEVENT")
        assert (event.decoded("dtstart"), event.decoded("dtend")) == (case.starts, case.ends)
    told = stranger.get(f"{own}held/?format=json").json()
    since = told["person"]["must_not_eat"]["told_since"]
    assert {case.iso_now in at for at in since.values()} == {True}
    assert (told["class"]["starts_at"], told["class"]["ends_at"]) == case.iso
    for name in ("made_at", "confirmed_at"):
        assert case.iso_now in told["booking"][name]


def test_the_pages_of_the_staff(case, session, staff):
    enrolled(session)
    held_a_little(session)
    code = session.code
    for name in ("hours", "roster", "amounts", "prepare", "diets", "door", "letters", "enrollment"):
        assert case.day in read(staff, reverse(f"classes:{name}", args=[code])), name
    assert f"{case.day}, {case.from_to}" in read(staff, f"/classes/{code}/")
    assert case.first in read(staff, "/classes/")
    assert f"Held until 1 Apr, {case.held}" in read(staff, f"/classes/{code}/enrollment/")
    assert f"1 Apr, {case.now}: {session.instructor}" in read(staff, f"/classes/{code}/diets/")


def test_what_is_noted_about_papers_and_letters(case, session, staff):
    enrolled(session)
    Letter.objects.update(state="sent", sent_at=NOW)
    assert f"Sent, 1 Apr, {case.now}" in read(staff, f"/classes/{session.code}/letters/")
    session.packs.create(
        by=session.instructor, kinds=["sign-in"], made_at=NOW, finished_at=NOW, state="done"
    )
    desk = read(staff, f"/classes/{session.code}/papers/")
    assert f"Monday 1 April, {case.now}" in desk


def test_a_paper_of_the_class(case, session, staff):
    enrolled(session)
    answer = staff.get(reverse("handouts:papers", args=[session.code, "sign-in"]))
    assert answer.status_code == 200
    text = " ".join(page_texts(answer.content))
    assert case.day in text
    assert case.from_to.replace(" to ", "–") in text
    assert f"1 April 2030, {case.now}, {case.zone}" in text


def test_the_hours_on_the_page_and_on_the_run_sheet(case, session, staff):
    """The welcome is at the start of the class, by whatever clock that is told."""
    session.kitchen.ovens.create(name="O1", slots=6)
    row = session.taught.get()
    for position, step in enumerate(STEPS):
        row.revision.steps.create(position=position, text="Go on.", **step)
    enrolled(session)
    first = case.first
    page = read(staff, f"/classes/{session.code}/hours/")
    assert case.from_to in page
    assert f"starts {first}" in page
    sheet = staff.get(reverse("handouts:papers", args=[session.code, "run-sheet-instructor"]))
    pages = page_texts(sheet.content)
    assert case.from_to.replace(" to ", "–") in pages[0]
    assert re.search(rf"{first} .{{0,20}}Everybody Welcome and cautions", " ".join(pages))


def test_the_money_of_the_class_as_a_table(case, session, staff):
    enrolled(session)
    text = staff.get(reverse("classes:money_csv", args=[session.code])).content.decode()
    row, *_ = csv.DictReader(io.StringIO(text))
    assert case.iso[0][:10] in row.values()


def test_the_form_of_a_class_shows_the_kitchens_times(case, session, staff):
    page = read(staff, f"/classes/{session.code}/edit/")
    first, last = case.typed
    assert f'name="starts" value="{first}"' in page
    assert f'name="ends" value="{last}"' in page
    assert f'name="day" value="{case.iso[0][:10]}"' in page


def test_times_typed_into_it_are_the_kitchens(case, session, staff):
    owner = session.instructor
    kitchen = KitchenFactory(owner=owner, time_zone=case.zone)
    ClassSession.objects.filter(pk=session.pk).update(
        starts_at=case.starts - timedelta(days=9), ends_at=case.ends - timedelta(days=9)
    )
    first, last = case.typed
    fields = class_fields(kitchen, RevisionFactory(recipe__owner=owner))
    typed = {"title": "Typed", "day": case.iso[0][:10], "starts": first, "ends": last}
    assert staff.post("/classes/new/", fields | typed).status_code == 302
    made = ClassSession.objects.get(title="Typed")
    assert (made.starts_at, made.ends_at) == (case.starts, case.ends)
