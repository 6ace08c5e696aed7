"""Letters: their words, how they are sent once, and what happens when that fails."""

from __future__ import annotations

import threading
from datetime import timedelta
from email import message_from_bytes, policy

import pytest
from django.core import mail
from django.core.mail import EmailMultiAlternatives
from django.db import connection
from icalendar import Calendar

from classes.enrollment.models import Letter
from classes.enrollment.services import letters
from classes.enrollment.services.enrolling import join_waiting
from classes.enrollment.services.leaving import cancel_all
from classes.enrollment.services.letters import (
    deliver_letters,
    send_again,
    write_changes,
    write_due_letters,
)
from classes.enrollment.services.seats import Diner
from tests.classes.enrollment.enrolled import CANARY, NOW, enrolled, key, open_class, page_of

ADDRESS = "https://loaves.example.org"


@pytest.fixture(autouse=True)
def _site(settings):
    settings.SITE_URL = ADDRESS


@pytest.fixture
def session(db):
    session = open_class(bring="An apron & a towel", deposit_minor=1000)
    session.kitchen.place = "Behind the mill"
    session.kitchen.access_facts = "Two steps at the door."
    session.kitchen.save()
    return session


@pytest.fixture
def booking(session):
    return enrolled(session)


def letter(kind) -> Letter:
    return Letter.objects.get(kind=kind)


class TestWords:
    def test_a_confirmation_says_what_was_booked_and_how_to_change_it(self, booking):
        found = letter("confirmation")
        assert found.subject == "Slow loaves: you are enrolled"
        for fact in (
            "1 seat in “Slow loaves”",
            "Saturday 4 May 2030, 10:00 to 14:00 (UTC)",
            "Behind the mill",
            "Two steps at the door.",
            "38.00 EUR",
            "10.00 EUR a seat as a deposit",
            f"{ADDRESS}{page_of(booking.people.get())}",
            f"{ADDRESS}{page_of(booking.people.get(), 'before')}",
            "An apron & a towel",
            "until Saturday 27 April, 10:00",
        ):
            assert fact in found.text, fact
        (event,) = Calendar.from_ical(found.calendar).walk("VEVENT")
        assert event["summary"] == "Slow loaves"

    def test_everybody_of_a_party_has_a_link_in_it(self, session):
        booking = enrolled(session, Diner("Ada Lomax"), Diner("Bo Vane"))
        for person in booking.people.all():
            assert f"{person.name}: {ADDRESS}{page_of(person)}" in letter("confirmation").text

    def test_a_reminder_asks_for_what_must_not_be_eaten(self, booking, session):
        write_due_letters(at=session.starts_at - timedelta(days=1))
        found = letter("reminder")
        assert found.subject == "Slow loaves is soon"
        assert "Have you told us what you must not eat, and is it still right?" in found.text
        assert page_of(booking.people.get()) in found.text

    def test_a_change_says_the_new_time(self, booking, session):
        session.starts_at += timedelta(hours=2)
        session.ends_at += timedelta(hours=2)
        session.change_number = 1
        session.save()
        write_changes(session=session, at=NOW)
        found = letter("change")
        assert found.subject == "Slow loaves: time or place has changed"
        assert "12:00 to 16:00" in found.text
        assert Calendar.from_ical(found.calendar).walk("VEVENT")[0]["sequence"] == 1

    def test_a_cancellation_says_what_comes_back(self, booking, session):
        booking.payments.create(
            amount_minor=3800,
            means="cash",
            paid_on=NOW.date(),
            form_key="paid",
            noted_by=session.instructor,
        )
        cancel_all(booking=booking, at=NOW)
        found = letter("canceled")
        assert found.subject == "Slow loaves: your booking is canceled"
        assert "38.00 EUR will be refunded to you." in found.text
        assert found.to == "ada@example.org"

    def test_an_offer_has_its_end_and_both_links(self, booking, session):
        session.seats = 1
        session.save()
        waits = {"name": "Wim", "email": "w@example.org", "seats": 1, "form_key": key(), "at": NOW}
        join_waiting(session=session, **waits)
        cancel_all(booking=booking, at=NOW)
        found = letter("offer")
        assert found.subject == "Slow loaves: a seat has come free"
        assert f"{ADDRESS}/enroll/" in found.text
        assert f"{ADDRESS}/waiting/" in found.text
        assert "until Tuesday 2 April, 09:00" in found.text

    def test_thanks_lead_to_the_handout(self, booking, session):
        booking.people.update(door="came")
        write_due_letters(at=session.ends_at + timedelta(hours=3))
        found = letter("thanks")
        assert found.subject == "Thank you for baking with us"
        assert page_of(booking.people.get()) in found.text

    @pytest.mark.parametrize("door", ["absent", ""])
    def test_who_is_not_marked_as_come_is_not_thanked(self, booking, session, door):
        booking.people.update(door=door)
        assert write_due_letters(at=session.ends_at + timedelta(hours=3)) == 0

    def test_thanks_wait_for_the_mark_for_a_week(self, booking, session):
        later = session.ends_at + timedelta(days=3)
        assert write_due_letters(at=later) == 0
        booking.people.update(door="came")
        assert write_due_letters(at=session.ends_at + timedelta(days=8)) == 0
        assert write_due_letters(at=later) == 1

    def test_of_a_booking_those_who_came_get_their_links(self, session):
        booking = enrolled(session, Diner("Ada"), Diner("Bo"), Diner("Cy"))
        ada, bo, cy = booking.people.order_by("position")
        booking.people.filter(pk=bo.pk).update(door="came")
        booking.people.filter(pk=cy.pk).update(door="absent")
        assert write_due_letters(at=session.ends_at + timedelta(hours=3)) == 1
        text = letter("thanks").text
        assert page_of(bo) in text
        assert page_of(ada) not in text
        assert page_of(cy) not in text

    def test_no_template_leaves_its_marks(self, booking, session):
        booking.people.update(door="came")
        write_due_letters(at=session.starts_at - timedelta(days=1))
        write_due_letters(at=session.ends_at + timedelta(hours=3))
        assert Letter.objects.count() == 3
        for found in Letter.objects.all():
            for mark in ("{{", "{%", "None", "&amp;", "&#x27;"):
                assert mark not in found.text

    def test_what_must_not_be_eaten_stands_in_none(self, booking, session):
        write_due_letters(at=session.starts_at - timedelta(days=1))
        assert Letter.objects.count() == 2
        for found in Letter.objects.all():
            assert CANARY not in found.text + found.html + found.subject + found.calendar
            assert "sesame" not in found.text


class TestHarm:
    @pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\u2028", "\x0b"])
    def test_a_title_of_several_lines_makes_one_header(self, db, end):
        enrolled(open_class(title=f"Loaves{end}Bcc: mallory@example.org"))
        deliver_letters(at=NOW)
        (sent,) = mail.outbox
        assert sent.subject == "Loaves Bcc: mallory@example.org: you are enrolled"
        parsed = message_from_bytes(sent.message().as_bytes(), policy=policy.default)
        assert parsed["Bcc"] is None
        assert parsed["To"] == "ada@example.org"

    def test_an_address_of_several_lines_is_never_sent(self, db, session):
        enrolled(session, email="ada@example.org\nBcc: mallory@example.org")
        assert deliver_letters(at=NOW) == 0
        assert mail.outbox == []
        assert "BadHeaderError" in letter("confirmation").problem

    def test_markup_is_only_words_in_the_pretty_letter(self, db):
        name = '<img src=x onerror="alert(1)">'
        enrolled(open_class(title="<script>alert(1)</script>"), Diner(name))
        found = letter("confirmation")
        assert "<script" not in found.html
        assert "<img" not in found.html
        assert "&lt;script&gt;" in found.html
        assert "<script>alert(1)</script>" in found.text

    def test_links_are_links_in_it(self, booking):
        address = ADDRESS + page_of(booking.people.get())
        assert f'href="{address}"' in letter("confirmation").html


class TestSending:
    def test_plain_words_pretty_ones_and_the_calendar_go_out_together(self, booking):
        assert deliver_letters(at=NOW) == 1
        parsed = message_from_bytes(mail.outbox[0].message().as_bytes(), policy=policy.default)
        kinds = [part.get_content_type() for part in parsed.walk() if not part.is_multipart()]
        assert kinds == ["text/plain", "text/html", "text/calendar"]
        found = letter("confirmation")
        assert (found.state, found.sent_at, found.tries) == ("sent", NOW, 1)

    def test_nothing_is_sent_twice(self, booking):
        deliver_letters(at=NOW)
        assert deliver_letters(at=NOW + timedelta(days=1)) == 0
        assert len(mail.outbox) == 1

    def test_reminders_and_thanks_are_written_once(self, booking, session):
        booking.people.update(door="came")
        for at in (session.starts_at - timedelta(days=1), session.ends_at + timedelta(hours=3)):
            assert write_due_letters(at=at) == 1
            assert write_due_letters(at=at + timedelta(hours=1)) == 0

    @pytest.mark.parametrize(
        "before", [timedelta(days=3), -timedelta(minutes=1)], ids=["too early", "begun"]
    )
    def test_a_reminder_is_written_only_in_the_two_days_before(self, booking, session, before):
        assert write_due_letters(at=session.starts_at - before) == 0

    def test_who_was_told_of_a_change_is_not_told_again(self, booking, session):
        session.change_number = 1
        session.save()
        assert len(write_changes(session=session, at=NOW)) == 1
        assert write_changes(session=session, at=NOW) == ()

    def test_the_next_change_is_told_again(self, booking, session):
        for number in (1, 2):
            session.change_number = number
            session.save()
            assert len(write_changes(session=session, at=NOW)) == 1

    def test_who_booked_after_the_change_need_not_be_told(self, session):
        session.change_number = 1
        session.save()
        enrolled(session)
        assert write_changes(session=session, at=NOW) == ()


class TestFailing:
    @pytest.fixture
    def broken(self, monkeypatch):
        def refuse(self):
            raise ConnectionRefusedError("no mail server")

        monkeypatch.setattr(EmailMultiAlternatives, "send", refuse)

    def test_pauses_double_and_the_sixth_try_is_the_last(self, booking, broken):
        at, pauses = NOW, []
        for tries in range(1, 7):
            deliver_letters(at=at)
            found = letter("confirmation")
            assert found.tries == tries
            pauses.append(int((found.not_before - at).total_seconds() // 60))
            assert deliver_letters(at=found.not_before - timedelta(seconds=1)) == 0
            assert letter("confirmation").tries == tries
            at = found.not_before
        assert pauses == [2, 4, 8, 16, 32, 64]
        assert found.state == "failed"
        assert found.problem == "ConnectionRefusedError: no mail server"
        deliver_letters(at=at + timedelta(days=1))
        assert letter("confirmation").tries == 6

    def test_it_goes_out_when_the_server_is_back(self, booking, broken, monkeypatch):
        deliver_letters(at=NOW)
        monkeypatch.undo()
        assert deliver_letters(at=NOW + timedelta(minutes=2)) == 1
        assert letter("confirmation").problem == ""

    def test_one_that_broke_off_is_shown_and_never_sent_by_itself(self, booking):
        Letter.objects.update(state="sending", not_before=NOW)
        deliver_letters(at=NOW + timedelta(minutes=9))
        assert letter("confirmation").state == "sending"
        deliver_letters(at=NOW + timedelta(minutes=11))
        found = letter("confirmation")
        assert (found.state, found.problem) == ("failed", letters.BROKEN_OFF)
        deliver_letters(at=NOW + timedelta(days=1))
        assert mail.outbox == []

    def test_a_person_can_send_it_again(self, booking):
        Letter.objects.update(state="failed")
        assert send_again(letters=Letter.objects.all(), at=NOW) == 1
        assert deliver_letters(at=NOW) == 1


@pytest.mark.django_db(transaction=True)
def test_two_who_deliver_at_once_send_each_letter_once():
    session = open_class()
    for n in range(4):
        enrolled(session, Diner(f"Guest {n}"), email=f"guest{n}@example.org")
    both, sent = threading.Barrier(4), []

    def deliver():
        both.wait()
        sent.append(deliver_letters(at=NOW))
        connection.close()

    people = [threading.Thread(target=deliver) for _ in range(4)]
    for one in people:
        one.start()
    for one in people:
        one.join()
    assert sum(sent) == 4
    assert sorted(one.to[0] for one in mail.outbox) == [f"guest{n}@example.org" for n in range(4)]
