"""What people must not eat against all that the class bakes: for the staff alone."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from classes.core.diets.findings import ASK
from classes.diets.selectors import diet_sheet
from classes.enrollment.services.leaving import change_diet
from classes.enrollment.services.seats import Diner
from classes.models import ClassSession
from classes.selectors import class_plan
from tests.classes.diets.sesame_class import again, night_before, somebody_books
from tests.conftest import signed_in
from tests.factories import ClassSessionFactory, EnrollmentFactory, flour, planned_class
from tests.worlds import anew, made_once


@pytest.fixture
def session(instructor, assistant):
    wheat = {"allergens_us": ["wheat"], "allergens_eu": ["gluten-cereals"]}
    flour(**wheat)
    return planned_class(instructor=instructor, assistants=[assistant], students=0)


@pytest.fixture
def address(session):
    return reverse("classes:diets", args=[session.code])


def shown(client, address) -> str:
    return client.get(address).content.decode()


def sheet_of(session):
    session = again(session)
    return diet_sheet(session, class_plan(session))


def test_a_marked_allergen_is_found_in_dough_and_dusting(instructor_client, session, address):
    EnrollmentFactory(session=session, name="Zoe", diet="told", allergens=["gluten-cereals"])
    page = shown(instructor_client, address)
    assert "Zoe" in page
    assert "Dusting flour" in page
    assert "cereals containing gluten" in page


def test_an_assistant_of_the_class_reads_it(assistant_client, session, address):
    EnrollmentFactory(session=session, name="Zoe", diet="told", must_not_eat="plums")
    assert "plums" in shown(assistant_client, address)


def test_nobody_else_reads_it(other_client, stranger, address):
    assert other_client.get(address).status_code == 404
    assert stranger.get(address).status_code == 302


def test_nothing_can_be_posted(instructor_client, address):
    assert instructor_client.post(address).status_code == 405


def test_those_who_have_not_answered_are_named(instructor_client, session, address):
    EnrollmentFactory(session=session, name="Zoe")
    EnrollmentFactory(session=session, name="Abe", diet="nothing")
    page = shown(instructor_client, address)
    assert "No answer yet" in page
    assert [one.name for one in sheet_of(session).silent] == ["Zoe"]


def test_what_no_ingredient_is_entered_with_is_no_promise(instructor_client, session, address):
    EnrollmentFactory(session=session, diet="told", must_not_eat="plums")
    page = shown(instructor_client, address)
    assert "No ingredient is entered with it. That is not a promise" in page


def test_the_page_never_calls_anything_safe(instructor_client, session, address):
    EnrollmentFactory(session=session, diet="told", allergens=["sesame", "gluten-cereals"])
    words = shown(instructor_client, address).lower()
    assert not any(promise in words for promise in ("safe for", "free from", "sesame-free"))


def test_somebody_absent_is_not_listed(instructor_client, session, address):
    EnrollmentFactory(session=session, name="Zoe", must_not_eat="plums", door="absent")
    assert "plums" not in shown(instructor_client, address)


def test_a_class_where_nobody_bakes_opens(instructor_client, instructor):
    empty = ClassSessionFactory(instructor=instructor, count_empty_seats=False)
    address = reverse("classes:diets", args=[empty.code])
    assert "Nobody has named anything" in shown(instructor_client, address)


def test_every_look_is_written_down(instructor_client, session, address, instructor):
    shown(instructor_client, address)
    shown(instructor_client, address)
    (look,) = session.looks.all()
    assert (look.user, look.what) == (instructor, "what people must not eat")
    assert "ines, what people must not eat" in shown(instructor_client, address)


def test_markup_in_words_stays_text(instructor_client, session, address):
    EnrollmentFactory(session=session, must_not_eat="<script>x</script>")
    assert "<script>x" not in shown(instructor_client, address)


def test_stations_say_what_they_avoid_and_never_whose_words(session):
    EnrollmentFactory(session=session, name="Zoe", allergens=["sesame"])
    EnrollmentFactory(session=session, name="Abe", must_not_eat="plums, by my doctor")
    EnrollmentFactory(session=session, name="Kim", diet="private")
    avoided = class_plan(again(session)).avoided
    assert avoided == {"Bench 1": ("sesame", ASK)}
    assert not any(name in repr(avoided) for name in ("Zoe", "Abe", "Kim", "plums"))


def test_the_page_takes_the_same_queries_for_6_and_60_people(
    instructor_client, instructor, django_assert_max_num_queries
):
    counts = []
    for students in (6, 60):
        session = planned_class(
            instructor=instructor, students=students, seats=60, kitchen__stations=15
        )
        session.enrollments.update(allergens=["gluten-cereals"], diet="told")
        with django_assert_max_num_queries(40) as seen:
            instructor_client.get(reverse("classes:diets", args=[session.code]))
        counts.append(len(seen))
    assert counts[0] == counts[1]


def sesame():
    """The class of the night before, and somebody who has just booked a place in it."""
    session = night_before()
    somebody_books(session, allergens=["sesame"])
    return again(session)


sesame_made_once = made_once(sesame)


class TestSesameTheNightBefore:
    @pytest.fixture
    def session(self, sesame_made_once, db):
        return anew(sesame_made_once)

    @pytest.fixture
    def page(self, session):
        client = signed_in(session.instructor)
        return shown(client, reverse("classes:diets", args=[session.code]))

    @pytest.fixture
    def sheet(self, session):
        return diet_sheet(session, class_plan(session))

    def test_the_topping_and_its_step_are_named(self, sheet):
        (found,) = sheet.findings
        place = found.places[0]
        assert (place.ingredient, place.component) == ("Sesame seeds", "Seed topping")
        (step,) = place.steps
        assert "roll its top in the seeds" in step.text

    def test_the_lot_that_may_contain_it_is_named(self, sheet):
        lots = [place for place in sheet.findings[0].places if place.traces]
        assert [(lot.ingredient, lot.traces) for lot in lots] == [
            ("Sunflower seeds, hulled", "may contain sesame")
        ]

    def test_the_tubs_ticked_off_are_named_with_their_grams(self, sheet):
        redo = {one.ingredient: one for one in sheet.redo}
        assert set(redo) == {"Sesame seeds", "Sunflower seeds, hulled"}
        tubs = [line for line in redo["Sesame seeds"].lines if "Seeded ring" in line.where]
        assert len(tubs) == 11  # ten people and the demonstration
        assert {line.amount for line in tubs} == {"18 g"}
        assert "Bench 1, Ada Fennimore · Seeded ring" in [line.where for line in tubs]
        assert redo["Sesame seeds"].concerns == ("Nia Farrow",)

    def test_the_variant_for_the_whole_class_is_216_and_144(self, sheet):
        (offer,) = sheet.offers
        grams = {one.name: (one.before_g, one.after_g) for one in offer.bought}
        assert offer.bakers == 12
        assert grams == {
            "Sesame seeds": (Decimal(216), Decimal(0)),
            "Sunflower seeds, hulled": (Decimal(144), Decimal(216)),
            "Rolled oats": (Decimal(0), Decimal(144)),
        }

    def test_the_shopping_difference_is_in_packs(self, sheet):
        bought = {one.name: one for one in sheet.offers[0].bought}
        assert (bought["Sesame seeds"].buy_before, bought["Sesame seeds"].buy_after) == (
            "1 × 250 g",
            "nothing",
        )
        assert bought["Rolled oats"].buy_after == "1 × 500 g"
        assert bought["Rolled oats"].word == "more"

    def test_the_labels_to_reprint_are_those_of_the_ring(self, sheet):
        labels = sheet.offers[0].labels
        assert len(labels) == 12
        assert all("Seeded ring" in label for label in labels)

    def test_what_cannot_be_promised_is_said(self, sheet, page):
        (stays,) = sheet.offers[0].stays
        assert stays.place.traces == "may contain sesame"
        assert "What nobody can promise" in page
        assert "may contain sesame" in page

    def test_the_page_says_what_to_discard_and_how_to_wash(self, page):
        for words in ("Discard", "Wash, rinse, sanitize and air-dry", "Reprint", "216 g"):
            assert words in page

    def test_what_was_ticked_off_with_the_knowledge_is_not_to_be_redone(self, session):
        """Told in the evening; one tub and the shopping were ticked off after that."""
        told = timezone.now() - timedelta(hours=1)
        nia = session.enrollments.get(name="Nia Farrow")
        change_diet(enrollment=nia, diner=Diner("Nia Farrow", "told", ("sesame",)), at=told)
        session.ticks.update(done_at=told - timedelta(hours=2))
        tubs = session.ticks.filter(key__contains="|sesame-seeds|", key__startswith="weigh|")
        later = tubs[0]
        session.ticks.filter(pk=later.pk).update(done_at=told + timedelta(minutes=20))
        session.ticks.filter(key__startswith="buy|").update(done_at=told + timedelta(minutes=30))
        redo = {one.ingredient: one for one in sheet_of(session).redo}
        lines = redo["Sesame seeds"].lines
        assert len(lines) == tubs.count() - 1 == 10
        assert later.pk not in [line.tick.pk for line in lines]
        assert not [line for line in lines if line.tick.key.startswith("buy|")]

    def test_with_all_ticked_off_after_it_was_told_nothing_is_to_be_redone(self, session):
        told = timezone.now() - timedelta(hours=1)
        nia = session.enrollments.get(name="Nia Farrow")
        change_diet(enrollment=nia, diner=Diner("Nia Farrow", "told", ("sesame",)), at=told)
        assert session.ticks.exists()
        sheet = sheet_of(session)
        assert sheet.redo == ()
        assert sheet.findings[0].places

    def test_another_allergen_told_later_reopens_only_its_own_ticks(self, session):
        nia = session.enrollments.get(name="Nia Farrow")
        for hours, allergens in ((-1, ("sesame",)), (1, ("sesame", "gluten-cereals"))):
            diner = Diner("Nia Farrow", "told", allergens)
            at = timezone.now() + timedelta(hours=hours)
            change_diet(enrollment=nia, diner=diner, at=at)
        found = {one.ingredient: one.because for one in sheet_of(session).redo}
        assert "Bread flour" in found
        assert not {"Sesame seeds", "Sunflower seeds, hulled"} & set(found)

    def test_a_variant_that_brings_in_another_allergen_says_so(self, session):
        EnrollmentFactory(session=session, name="Otis", station=None, allergens=["gluten-cereals"])
        (offer,) = sheet_of(session).offers
        assert ("Otis", "Rolled oats") in [(one.name, one.place.ingredient) for one in offer.comes]

    def test_looking_at_a_variant_changes_nothing(self, session, sheet):
        assert not ClassSession.objects.get(pk=session.pk).taught.exclude(variant=None).exists()
        assert all(row.variant is None for row in session.taught.all())

    def test_a_variant_that_takes_nothing_away_is_not_offered(self, session):
        session.enrollments.update(allergens=[], must_not_eat="", diet="nothing")
        EnrollmentFactory(session=session, name="Otis", station=None, allergens=["gluten-cereals"])
        assert sheet_of(session).offers == ()

    def test_once_everybody_bakes_it_the_page_offers_it_no_more(self, session):
        variant = session.taught.last().revision.variants.get()
        session.taught.filter(revision=variant.revision).update(variant=variant)
        sheet = sheet_of(session)
        assert sheet.offers == ()
        assert [place.ingredient for place in sheet.findings[0].places] == [
            "Sunflower seeds, hulled"
        ]
