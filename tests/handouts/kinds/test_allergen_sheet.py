"""The allergen sheet: what each person told, where the class holds it, and what it never says."""

from __future__ import annotations

import re

import pytest

from classes.enrollment.models import Enrollment
from handouts.kinds.allergen_sheet import (
    IN_PRIVATE,
    NO_ANSWER,
    NOT_SAID,
    AllergenSheet,
    NobodyToAsk,
    Traced,
    allergen_sheet,
)
from handouts.press.render import PageSize, to_html, to_pdf
from recipes.models import Ingredient
from tests.handouts.conftest import NOW, another_class, plan_of
from tests.handouts.pdfs import page_texts, plain

RING, ROLLS = "Seeded ring, revision 1", "Pillow rolls, revision 1"

TOLD = (
    {"allergens": ["sesame"], "diet": "told"},
    {"must_not_eat": "no soy please", "diet": "told"},
    {"diet": "private"},
    {"allergens": ["milk"], "diet": "told"},
    {"diet": "silent"},
    {"diet": "nothing"},
    {"must_not_eat": "mango", "diet": "told"},
    {},
)


@pytest.fixture
def session(demo):
    Ingredient.objects.filter(key="bread-flour").update(may_contain="soybeans and lupin")
    session = another_class(demo, "Pillow rolls", "Seeded ring", students=len(TOLD))
    for student, told in zip(session.enrollments.all(), TOLD, strict=True):
        Enrollment.objects.filter(pk=student.pk).update(**{"diet": ""} | told)
    return session


@pytest.fixture
def names(session):
    return [one.name for one in session.enrollments.all()]


@pytest.fixture
def sheet(session) -> AllergenSheet:
    return allergen_sheet(plan_of(session), NOW)


def traced(sheet, name) -> Traced:
    return next(one for station in sheet.stations for one in station.people if one.name == name)


def test_everybody_who_may_have_something_to_say_is_listed(sheet, names):
    assert {one.name: one.told for one in sheet.to_ask} == {
        names[0]: "sesame",
        names[1]: "no soy please",
        names[2]: IN_PRIVATE,
        names[3]: "milk",
        names[4]: NO_ANSWER,
        names[6]: "mango",
        names[7]: NOT_SAID,
    }
    assert sheet.nothing == 1


def test_words_are_shown_with_how_they_were_read(sheet, names):
    read_as = {one.name: one.read_as for one in sheet.to_ask}
    assert read_as[names[1]] == ("soybeans",)
    assert read_as[names[0]] == ()


def test_an_allergen_is_found_in_the_topping_with_its_step(sheet, names):
    (held,) = traced(sheet, names[0]).held
    assert (held.ingredient, held.why, held.own) == ("Sesame seeds", "sesame", True)
    assert held.where == (f"{RING}: Seed topping, step 3",)


def test_an_allergen_is_found_in_roux_dough_and_wash(sheet, names):
    milk, butter = traced(sheet, names[3]).held
    assert milk.where == (f"{ROLLS}: Roux, step 1; Dough, step 1; Egg wash, steps 1, 6",)
    assert butter.ingredient == "Butter, unsalted"


def test_traces_are_found_in_doughs_and_in_the_flour_for_dusting(sheet, names):
    (flour,) = traced(sheet, names[1]).held
    assert flour.why == "may contain soybeans and lupin"
    assert flour.where == (
        f"{ROLLS}: Roux, step 1; Dough, step 1; Dusting flour, step 4",
        f"{RING}: Dough, step 1; Dusting flour, step 3",
    )


def test_the_packs_to_read_are_those_that_concern_somebody(sheet):
    packs = {pack.ingredient: (pack.why, pack.stations) for pack in sheet.packs}
    assert packs["Sesame seeds"] == (("sesame",), ("Bench 1",))
    assert packs["Bread flour"] == (("may contain soybeans and lupin",), ("Bench 1",))
    assert "Sunflower seeds" not in packs


def test_a_station_sums_up_what_it_avoids(sheet):
    assert [(one.name, one.avoids) for one in sheet.stations] == [
        ("Bench 1", ("sesame", "soybeans")),
        ("Bench 2", ("milk",)),
        ("Bench 3", ()),
    ]


def test_what_a_person_bakes_themselves_is_told_from_what_lies_beside_it(demo):
    Enrollment.objects.filter(name="Cass Thornby").update(allergens=["gluten-cereals"], diet="told")
    sheet = allergen_sheet(plan_of(demo), NOW)
    assert all(held.own for held in traced(sheet, "Cass Thornby").held)
    assert "■ yes" in to_html(sheet)


def test_somebody_marked_absent_is_not_on_the_sheet(session, names):
    Enrollment.objects.filter(name=names[0]).update(door=Enrollment.Door.ABSENT)
    markup = to_html(allergen_sheet(plan_of(session), NOW))
    assert f">{names[0]}<" not in markup
    assert "Sesame seeds" not in markup


def test_a_class_that_nobody_is_expected_in_has_no_sheet(demo):
    session = another_class(demo, "Seeded ring", students=0, seats=4, count_empty_seats=True)
    with pytest.raises(NobodyToAsk):
        allergen_sheet(plan_of(session), NOW)


def test_a_class_that_told_nothing_says_so_and_promises_nothing(session):
    session.enrollments.update(allergens=[], must_not_eat="", diet="nothing")
    text = plain(re.sub(r"<[^>]+>", " ", to_html(allergen_sheet(plan_of(session), NOW))))
    assert "Nobody named anything they must not eat." in text
    assert "8 people said that there is nothing." in text
    assert "That promises nothing: ask, and read every pack." in text


def test_the_sheet_says_that_it_is_private_and_promises_nothing(sheet):
    text = to_html(sheet).lower()
    assert "private: for the instructor and the assistant. do not hang it up" in text
    assert "cannot say what a food lacks" in text
    assert not re.search(r"safe for|free from|guarantee|(?:sesame|gluten|milk|nut)-free", text)


@pytest.mark.parametrize("page_size", PageSize)
def test_the_pages_tell_all_of_it(sheet, names, page_size):
    text = " ".join(page_texts(to_pdf([sheet], page_size)))
    for words in ("Sesame seeds", "may contain soybeans", "Lot on the pack", "Read by", "mango"):
        assert words in text
    assert all(name in text for name in names if name != names[5])
