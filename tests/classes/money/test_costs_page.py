"""What a class costs, kept as rows, and whether it pays, on the page and in the file."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

import pytest
from django.urls import reverse

from classes.enrollment.models import Enrollment
from classes.models import ClassCost, ClassSession, StockItem
from classes.money.accounts import account_of
from classes.money.costs import cost_sheet
from classes.selectors import class_plan
from recipes.models import Variant
from tests.classes.enrollment.booked import book
from tests.factories import EnrollmentFactory, IngredientFactory, flour, planned_class


@pytest.fixture
def session(instructor, assistant):
    return planned_class(
        instructor=instructor,
        assistants=[assistant],
        students=0,
        seats=8,
        price_minor=4000,
        kitchen__stations=2,
    )


@pytest.fixture
def address(session):
    return reverse("classes:costs", args=[session.code])


@pytest.fixture
def money_address(session):
    return reverse("classes:money", args=[session.code])


def rows(*costs, existing=()):
    """What the form posts: existing rows by key, and new ones, each name, amount and how often."""
    data = {"costs-TOTAL_FORMS": len(costs), "costs-INITIAL_FORMS": len(existing)}
    for number, (name, amount, per) in enumerate(costs):
        row = {"name": name, "amount": amount, "per": per}
        if number < len(existing):
            row["id"] = existing[number]
        data |= {f"costs-{number}-{key}": value for key, value in row.items()}
    return data


HALL = ("Hall", "120.00", "class")
BAGS = ("Bags", "1.5", "person")


def kept(session):
    return [(one.name, one.amount_minor, one.per) for one in session.costs.all()]


def sheet_of(session):
    session = ClassSession.objects.with_plan().get(pk=session.pk)
    return cost_sheet(session, account_of(session))


def minor(estimate):
    return estimate.known.amount_minor


def price_everything(session, pack_g=1000, price=200):
    """A price for every ingredient of the class, in minor units for a pack."""
    for part in session.taught.get().revision.components.all():
        for line in part.lines.all():
            StockItem.objects.get_or_create(
                kitchen=session.kitchen,
                ingredient=line.ingredient,
                defaults={
                    "pack_g": Decimal(pack_g),
                    "pack_price_minor": price,
                    "price_currency": session.currency,
                },
            )


# The form


def test_costs_are_kept_and_shown_in_the_kitchens_currency(
    instructor_client, address, session, money_address
):
    response = instructor_client.post(address, rows(HALL, BAGS))
    assert response.headers["Location"] == money_address
    assert kept(session) == [("Hall", 12000, "class"), ("Bags", 150, "person")]
    page = instructor_client.get(money_address).content.decode()
    assert "Bags, for each person" in page
    assert "120.00 EUR" in page
    assert 'value="120.00"' in instructor_client.get(address).content.decode()


def test_a_cost_can_be_changed_and_removed(instructor_client, address, session):
    instructor_client.post(address, rows(HALL, BAGS))
    keys = [one.pk for one in session.costs.all()]
    data = rows(("Hall", "90", "class"), BAGS, existing=keys) | {"costs-1-DELETE": "on"}
    instructor_client.post(address, data)
    assert kept(session) == [("Hall", 9000, "class")]


def test_a_currency_without_minor_units_is_kept_whole(instructor_client, address, session):
    ClassSession.objects.filter(pk=session.pk).update(currency="JPY")
    instructor_client.post(address, rows(("Hall", "12000", "class")))
    assert kept(session) == [("Hall", 12000, "class")]


@pytest.mark.parametrize(
    ("row", "field", "message"),
    [
        (("", "1", "class"), "name", "This field is required."),
        (("x" * 61, "1", "class"), "name", "at most 60 characters"),
        (("Hall", "", "class"), "amount", "This field is required."),
        (("Hall", "much", "class"), "amount", "much"),
        (("Hall", "-1", "class"), "amount", "-1"),
        (("Hall", "1e400", "class"), "amount", "1e400"),
        (("Hall", "1000000001", "class"), "amount", "1000000000.00 EUR"),
        (("Hall", "1", "daily"), "per", "Select a valid choice."),
    ],
    ids=lambda value: "-".join(value)[:16] if isinstance(value, tuple) else "",
)
def test_a_bad_cost_is_refused_by_the_field_and_nothing_is_lost(
    instructor_client, address, session, row, field, message
):
    page = instructor_client.post(address, rows(HALL, row)).content.decode()
    assert message in page
    assert f'id="id_costs-1-{field}_error"' in page
    assert 'value="Hall"' in page
    assert not session.costs.exists()


def test_another_row_is_asked_for_without_saving_or_judging(instructor_client, address, session):
    data = rows(("", "much", "class")) | {"add": "costs"}
    for headers in ({}, {"HX-Request": "true"}):
        page = instructor_client.post(address, data, headers=headers).content.decode()
        assert "costs-1-name" in page
        assert "much" in page
        assert "_error" not in page
        assert ("<html" in page) is not bool(headers)
    assert not session.costs.exists()


def test_too_many_costs_are_refused(instructor_client, address, session):
    page = instructor_client.post(address, rows(*[HALL] * 31)).content.decode()
    assert "at most 30" in page
    assert not session.costs.exists()


def test_a_cost_of_another_class_cannot_be_changed_here(instructor_client, address, instructor):
    other = planned_class(instructor=instructor, students=0).costs.create(
        name="Hall", amount_minor=1
    )
    instructor_client.post(address, rows(("Mine", "9", "class"), existing=[other.pk]))
    other.refresh_from_db()
    assert (other.name, other.amount_minor) == ("Hall", 1)


def test_only_the_instructor_of_the_class_sees_and_keeps_costs(
    assistant_client, other_client, stranger, address, session
):
    for client, status in ((assistant_client, 404), (other_client, 404), (stranger, 302)):
        assert client.get(address).status_code == status
        assert client.post(address, rows(HALL)).status_code == status
    assert not session.costs.exists()


def test_a_class_without_costs_says_so(instructor_client, address, money_address):
    assert "None yet." in instructor_client.get(address).content.decode()
    assert (
        "No other costs are entered yet." in instructor_client.get(money_address).content.decode()
    )


# Whether it pays


def test_ingredients_are_the_amounts_of_that_many_people(session):
    price_everything(session)
    for _ in range(8):
        EnrollmentFactory(session=session, station=None)
    plan = class_plan(ClassSession.objects.with_plan().get(pk=session.pk))
    used = plan.shopping.cost_used
    sums = sheet_of(session).sums
    assert used.known.amount_minor > 100
    assert sums.full.ingredients == used
    assert sums.now.people == sums.full.people == 8


def test_some_people_use_less_than_all(session):
    price_everything(session)
    book(session, "Zoe", seats=2)
    sums = sheet_of(session).sums
    assert (sums.now.people, sums.full.people) == (2, 8)
    assert 0 < minor(sums.now.ingredients) < minor(sums.full.ingredients)


def test_each_person_uses_what_their_own_variant_holds(session):
    price_everything(session)
    revision = session.taught.get().revision
    dear = IngredientFactory(name="Dear flour", kind="flour")
    StockItem.objects.create(
        kitchen=session.kitchen,
        ingredient=dear,
        pack_g=Decimal(100),
        pack_price_minor=9000,
        price_currency="EUR",
    )
    student = EnrollmentFactory(session=session, station=None)
    usual = sheet_of(session).sums
    variant = Variant.objects.create(revision=revision, name="Dear")
    variant.swaps.create(position=0, replaced=flour(), by=dear)
    student.variants.add(variant)
    swapped = sheet_of(session).sums
    more = minor(swapped.now.ingredients) - minor(usual.now.ingredients)
    assert more > 1000
    assert minor(swapped.full.ingredients) - minor(usual.full.ingredients) == more


def test_the_page_says_from_how_many_seats_and_at_what_price_it_pays(
    instructor_client, session, money_address
):
    price_everything(session, price=0)
    session.costs.create(name="Hall", amount_minor=12000)
    book(session, "Zoe", seats=2, price_minor=4000)
    page = instructor_client.get(money_address).content.decode()
    assert "3 paid seats cover the costs." in page
    assert "2 seats booked: the costs are not covered yet." in page
    assert (
        "For the 2 seats booked now to cover the costs, a seat would have to cost 60.00 EUR" in page
    )
    assert "−40.00 EUR" in page
    assert "200.00 EUR" in page


@pytest.mark.parametrize(
    ("price", "hall", "words"),
    [
        (0, 100, "No price for a seat is set, so nothing comes in."),
        (100, 90_000, "Even with every seat paid, this price does not cover the costs."),
        (4000, 4000, "1 paid seat covers the costs."),
    ],
)
def test_other_answers_are_said_in_words(session, price, hall, words):
    ClassSession.objects.filter(pk=session.pk).update(price_minor=price)
    price_everything(session, price=0)
    session.costs.create(name="Hall", amount_minor=hall)
    assert sheet_of(session).answer == words


def test_people_without_a_booking_use_up_and_bring_in_nothing(session):
    session.costs.create(name="Bags", amount_minor=100, per=ClassCost.Per.PERSON)
    EnrollmentFactory(session=session, station=None)
    EnrollmentFactory(session=session, station=None, door=Enrollment.Door.ABSENT)
    sheet = sheet_of(session)
    assert (minor(sheet.sums.now.costs), sheet.sums.now.income.amount_minor) == (100, 0)
    assert any("1 person has no booking" in note for note in sheet.notes)


def test_without_prices_nothing_is_said_of_break_even_but_what_is_missing(
    instructor_client, session, money_address
):
    session.costs.create(name="Hall", amount_minor=4000)
    page = instructor_client.get(money_address).content.decode()
    assert (
        "We cannot say how many paid seats cover the costs; at least 1 paid seat is needed." in page
    )
    assert "Without a price in EUR in the pantry: Bread flour." in page
    assert "cannot say" in page
    assert "at least 40.00 EUR" in page
    assert "at most 280.00 EUR" in page
    assert "covers the costs" not in page


def test_with_some_prices_the_sums_are_said_as_least(instructor_client, session, money_address):
    revision = session.taught.get().revision
    salt = IngredientFactory(name="Gray salt")
    revision.components.get().lines.create(position=9, ingredient=salt, mass_g=2)
    StockItem.objects.create(
        kitchen=session.kitchen,
        ingredient=flour(),
        pack_g=Decimal(1000),
        pack_price_minor=200,
        price_currency="EUR",
    )
    book(session, "Zoe", seats=2, price_minor=4000)
    sheet = sheet_of(session)
    assert str(sheet.lines[0].full).startswith("at least ")
    page = instructor_client.get(money_address).content.decode()
    assert "Without a price in EUR in the pantry: Gray salt." in page
    assert "2 seats booked: we cannot say whether the costs are covered." in page
    assert "a seat would have to cost at least" in page


def test_a_price_that_cannot_cover_the_known_costs_cannot_cover_them_all(session):
    session.costs.create(name="Hall", amount_minor=900_000)
    assert sheet_of(session).answer == (
        "Even with every seat paid, this price does not cover the costs."
    )


def test_only_the_ingredients_are_said_to_be_covered_where_no_other_cost_is_entered(session):
    price_everything(session)
    assert sheet_of(session).answer == "1 paid seat covers the ingredients."


def test_a_class_without_a_recipe_says_that_its_ingredients_are_not_known(
    instructor_client, session, money_address
):
    session.taught.all().delete()
    session.costs.create(name="Hall", amount_minor=4000)
    page = instructor_client.get(money_address).content.decode()
    assert "No recipe is chosen yet, so we cannot say what the ingredients cost." in page
    assert "covers the costs" not in page


def test_the_file_holds_the_costs_below_the_bookings(instructor_client, session):
    session.costs.create(name="=Hall", amount_minor=12000)
    book(session, "Zoe", seats=2, price_minor=4000)
    response = instructor_client.get(reverse("classes:money_csv", args=[session.code]))
    booking, *costs = csv.DictReader(io.StringIO(response.content.decode()))
    assert (booking["booked_by"], booking["costs"]) == ("Zoe", "")
    assert [(row["costs"], row["now"], row["full"]) for row in costs] == [
        ("Ingredients, as used", "", ""),
        ("'=Hall", "120.00", "120.00"),
        ("Costs", "120.00", "120.00"),
        ("Costs for each person", "60.00", "15.00"),
        ("Income", "80.00", "320.00"),
        ("Left or missing", "-40.00", "200.00"),
    ]
    assert {row["currency"] for row in costs} == {"EUR"}
    assert [row["without_price"] for row in costs] == [
        *("Bread flour", "", "Bread flour", "Bread flour", "", "Bread flour")
    ]


def test_the_page_takes_the_same_queries_whatever_is_booked_and_kept(
    instructor_client, instructor, django_assert_max_num_queries
):
    counts = []
    for many in (1, 25):
        session = planned_class(instructor=instructor, students=0, seats=60, kitchen__stations=15)
        for number in range(many):
            book(session, f"P {number}")
            session.costs.create(name=f"Cost {number}", amount_minor=number)
        with django_assert_max_num_queries(31) as seen:
            instructor_client.get(reverse("classes:money", args=[session.code]))
        counts.append(len(seen))
    assert counts[0] == counts[1]
