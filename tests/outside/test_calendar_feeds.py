"""Every calendar feed read back by icalendar, and its bytes against RFC 5545.

RFC 5545: lines of at most 75 octets without the break (3.1), lines end in CRLF (3.1), text escapes
(3.3.11), a date with UTC time ends in Z (3.3.5), required properties of an event (3.6.1).
"""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

from classes.access import calendar_token, student_token
from classes.calendars.feeds import class_ics
from classes.enrollment.services.letters import write_confirmation
from tests.classes.enrollment.enrolled import CANARY, NOW, enrolled, open_class
from tests.factories import EnrollmentFactory, StepFactory, UserFactory, planned_class

TITLE = "Zwölf Brötchen, geübt; “ganz langsam” gebacken \\ und dann noch ein sehr langer Titel 🍞"
MOST_OCTETS = 75


@pytest.fixture
def session(db):
    session = open_class(title=TITLE)
    session.kitchen.place = "Hinter der Mühle, zweites Tor; dann über den Hof und die Treppe hinauf"
    session.kitchen.save()
    return session


def feeds(client, session):
    student = EnrollmentFactory(session=session)
    return {
        "public": client.get("/open/calendar.ics"),
        "staff": client.get(f"/calendar/{calendar_token(session.instructor)}.ics"),
        "student": client.get(f"/mine/{student_token(student)}/class.ics"),
    }


@pytest.fixture
def all_feeds(stranger, session, today):
    return feeds(stranger, session)


@pytest.mark.parametrize("which", ["public", "staff", "student"])
class TestEveryFeed:
    def test_it_reads_back(self, all_feeds, session, which):
        response = all_feeds[which]
        assert response.headers["Content-Type"] == "text/calendar; charset=utf-8"
        calendar = Calendar.from_ical(response.content)
        assert calendar["version"] == "2.0"
        assert calendar["prodid"]
        event = next(
            one for one in calendar.walk("VEVENT") if one["uid"].startswith(f"class-{session.code}")
        )
        assert event["summary"] == TITLE
        assert event["dtstart"].dt == session.starts_at
        assert event["dtend"].dt == session.ends_at
        assert event["location"].endswith("die Treppe hinauf")
        assert event["dtstamp"].dt == NOW

    def test_its_lines_are_folded_and_end_as_they_must(self, all_feeds, which):
        content = all_feeds[which].content
        lines = content.split(b"\r\n")
        assert lines[-1] == b""
        assert b"\n" not in b"".join(lines)
        assert b"\r" not in b"".join(lines)
        assert max(map(len, lines)) <= MOST_OCTETS
        assert any(line.startswith(b" ") for line in lines)
        for line in lines:
            line.decode("utf-8")  # no fold falls into the middle of a character

    def test_nothing_private_is_in_it(self, stranger, session, today, which):
        enrolled(session)
        text = Calendar.from_ical(feeds(stranger, session)[which].content).to_ical().decode()
        for secret in (CANARY, "Lomax", "ada@example.org", "sesame"):
            assert secret not in text


@pytest.mark.parametrize("harm", ["\r\n", "\n", "\r"])
def test_a_title_cannot_add_a_line(db, harm):
    session = open_class(title=f"Loaves{harm}ATTENDEE:mailto:mallory@example.org")
    session.kitchen.place = f"Mill{harm}END:VEVENT"
    session.kitchen.save()
    text = class_ics(session, at=NOW)
    names = [re.split("[:;]", line)[0] for line in text.split("\r\n") if line[:1] not in ("", " ")]
    assert "ATTENDEE" not in names
    assert names.count("END") == 2
    assert not re.search(r"(?<!\r)\n|\r(?!\n)", text)
    (event,) = Calendar.from_ical(text).walk("VEVENT")
    assert "ATTENDEE" in event["summary"]


@pytest.mark.parametrize(
    ("zone", "starts", "ends", "utc"),
    [
        # The clocks go forward during the class: 31 March 2030, 01:00 UTC, in Dublin.
        ("Europe/Dublin", (2030, 3, 30, 22), (2030, 3, 31, 4), ("0330T220000Z", "0331T030000Z")),
        # They go back during it: 27 October 2030, 01:00 UTC.
        ("Europe/Dublin", (2030, 10, 26, 22), (2030, 10, 27, 4), ("1026T210000Z", "1027T040000Z")),
        ("America/New_York", (2030, 3, 9, 22), (2030, 3, 10, 4), ("0310T030000Z", "0310T080000Z")),
    ],
)
def test_times_are_right_across_a_clock_change(db, zone, starts, ends, utc):
    local = ZoneInfo(zone)
    starts_at, ends_at = datetime(*starts, tzinfo=local), datetime(*ends, tzinfo=local)
    session = open_class(starts_at=starts_at.astimezone(UTC), ends_at=ends_at.astimezone(UTC))
    text = class_ics(session, at=NOW)
    assert f"DTSTART:2030{utc[0]}" in text
    assert f"DTEND:2030{utc[1]}" in text
    (event,) = Calendar.from_ical(text).walk("VEVENT")
    assert event["dtstart"].dt.astimezone(local).hour == starts[3]
    assert event["dtend"].dt.astimezone(local).hour == ends[3]


def test_a_moved_class_keeps_its_name_and_counts_up(db):
    session = open_class()
    first = Calendar.from_ical(class_ics(session, at=NOW)).walk("VEVENT")[0]
    session.change_number = 1
    second = Calendar.from_ical(class_ics(session, at=NOW)).walk("VEVENT")[0]
    assert first["uid"] == second["uid"]
    assert (first["sequence"], second["sequence"]) == (0, 1)


def test_the_letters_entry_is_the_same_event(db, today):
    booking = enrolled(open_class())
    booking.letters.all().delete()
    letter = write_confirmation(booking=booking, at=NOW)
    assert letter.calendar == class_ics(booking.session, at=NOW)


class TestWhoIsInIt:
    pytestmark = pytest.mark.usefixtures("today")

    def test_the_public_feed_has_only_open_classes_to_come(self, stranger, db):
        shown = open_class(title="Open")
        open_class(title="Closed", is_open=False)
        open_class(title="Past", starts_at=NOW - timedelta(days=2))
        events = Calendar.from_ical(stranger.get("/open/calendar.ics").content).walk("VEVENT")
        assert [one["summary"] for one in events] == [shown.title]

    def test_the_staff_feed_has_the_tasks_ahead(self, stranger, db):
        session = planned_class(title="Kept busy")
        revision = session.taught.get().revision
        for kind, hands, wait, heat in (
            ("mix", 15, 0, None),
            ("bulk", 0, 60, 25),
            ("divide", 10, 0, None),
            ("proof", 0, 40, 26),
            ("bake", 3, 25, 230),
        ):
            StepFactory(
                revision=revision,
                kind=kind,
                hands_on_min=hands,
                waiting_min=wait,
                temperature_c=heat,
            )
        session.kitchen.ovens.create(name="Deck oven", slots=4)
        address = f"/calendar/{calendar_token(session.instructor)}.ics"
        events = Calendar.from_ical(stranger.get(address).content).walk("VEVENT")
        tasks = [one for one in events if one["uid"].startswith(f"ahead-{session.code}-")]
        assert tasks, [str(one["uid"]) for one in events]
        for task in tasks:
            assert task["summary"].endswith("· Kept busy")
            assert task["dtstart"].dt < task["dtend"].dt
            assert task["dtstart"].dt < session.ends_at
        assert len({str(one["uid"]) for one in events}) == len(events)

    def test_a_class_that_cannot_be_planned_is_still_there(self, stranger, db):
        session = planned_class(title="No oven")
        address = f"/calendar/{calendar_token(session.instructor)}.ics"
        events = Calendar.from_ical(stranger.get(address).content).walk("VEVENT")
        assert [one["summary"] for one in events] == ["No oven"]

    def test_it_has_only_ones_own_classes(self, stranger, db):
        planned_class(title="Mine")
        other = UserFactory()
        address = f"/calendar/{calendar_token(other)}.ics"
        assert Calendar.from_ical(stranger.get(address).content).walk("VEVENT") == []

    def test_a_new_password_closes_the_old_address(self, stranger, db):
        user = UserFactory()
        old = f"/calendar/{calendar_token(user)}.ics"
        assert stranger.get(old).status_code == 200
        user.set_password("another made-up phrase")
        user.save()
        assert stranger.get(old).status_code == 404
        assert stranger.get(f"/calendar/{calendar_token(user)}.ics").status_code == 200

    @pytest.mark.parametrize("hashed", ["pbkdf2_sha256$1$salt$ab/cd+ef/gh/ij/kl=", "!x", ""])
    def test_any_password_makes_an_address_and_none_is_in_it(self, stranger, db, hashed):
        user = UserFactory()
        user.password = hashed
        user.save()
        token = calendar_token(user)
        assert "/" not in token
        assert not hashed or hashed[-6:] not in token
        assert stranger.get(f"/calendar/{token}.ics").status_code == 200

    def test_somebody_who_left_has_no_feed(self, stranger, db):
        user = UserFactory()
        address = f"/calendar/{calendar_token(user)}.ics"
        user.is_active = False
        user.save()
        assert stranger.get(address).status_code == 404
