"""One value of money from the form to every page, file, letter and paper, in four currencies."""

from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import dataclass
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from classes.core.money import TwoCurrencies
from classes.enrollment.models import Letter
from classes.enrollment.services.bookings import note_payment
from classes.enrollment.services.leaving import move_booking
from classes.models import ClassCost, ClassSession, Kitchen, StockItem
from recipes.models import Variant
from tests.classes.enrollment.enrolled import (
    NOW,
    answers,
    enrolled,
    form_of,
    held,
    open_class,
    page_of,
)
from tests.factories import EnrollmentFactory, IngredientFactory, flour, planned_class


@dataclass(frozen=True)
class Case:
    """What is typed for 1.80 or 180 of a currency and for a seat, and how they are shown."""

    code: str
    pack: str
    pack_minor: int
    pack_shown: str
    seat: str
    seat_shown: str

    @property
    def seat_plain(self) -> str:
        return self.seat_shown.split()[0]


CASES = (
    Case("USD", "1.80", 180, "1.80", "38", "38.00 USD"),
    Case("EUR", "1,80", 180, "1.80", "38.5", "38.50 EUR"),
    Case("JPY", "180", 180, "180", "4500", "4500 JPY"),
    Case("KWD", "1.805", 1805, "1.805", "12.25", "12.250 KWD"),
)
every_currency = pytest.mark.parametrize("case", CASES, ids=lambda case: case.code)


def stock_row(ingredient, price, pack_g="9000", on_hand_g="0", row=0, existing=None):
    fields = {"ingredient": ingredient.pk, "on_hand_g": on_hand_g, "pack_g": pack_g, "price": price}
    if existing:
        fields["id"] = existing.pk
    return {f"stock-{row}-{name}": value for name, value in fields.items()}


def post_pantry(client, kitchen, *rows, existing=0):
    counts = {"stock-TOTAL_FORMS": len(rows), "stock-INITIAL_FORMS": existing}
    data = counts | {key: value for row in rows for key, value in row.items()}
    return client.post(reverse("classes:pantry", args=[kitchen.pk]), data)


def class_in(instructor, code, **fields):
    return open_class(instructor=instructor, kitchen__currency=code, price_minor=0, **fields)


def priced(client, session, case):
    """A price for the flour, for a seat and for the hall, typed into their forms."""
    post_pantry(client, session.kitchen, stock_row(flour(), case.pack))
    client.post(
        reverse("classes:enrollment", args=[session.code]),
        {
            "is_open": "on",
            "price": case.seat,
            "deposit": "1",
            "refund_days": 7,
            "transfer_days": 2,
            "least_people": 1,
        },
    )
    costs = {"costs-TOTAL_FORMS": 1, "costs-INITIAL_FORMS": 0}
    costs |= {"costs-0-name": "Hall", "costs-0-amount": case.seat, "costs-0-per": "class"}
    client.post(reverse("classes:costs", args=[session.code]), costs)
    return ClassSession.objects.get(pk=session.pk)


def text(client, name, *args):
    page = client.get(reverse(name, args=args)).content.decode()
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


@every_currency
def test_what_is_typed_is_what_every_page_of_the_staff_shows(instructor_client, instructor, case):
    session = priced(instructor_client, class_in(instructor, case.code), case)
    assert StockItem.objects.get().pack_price_minor == case.pack_minor
    pantry = instructor_client.get(reverse("classes:pantry", args=[session.kitchen_id]))
    assert f'value="{case.pack_shown}"' in pantry.content.decode()
    amounts = text(instructor_client, "classes:amounts", session.code)
    assert f"Cash out {case.pack_shown} {case.code}" in amounts
    money = text(instructor_client, "classes:money", session.code)
    assert f"Hall {case.seat_shown} {case.seat_shown}" in money
    assert f"in whole packs: {case.pack_shown} {case.code}." in money
    form = instructor_client.get(reverse("classes:enrollment", args=[session.code]))
    assert f'name="price" value="{case.seat_plain}"' in form.content.decode()


@every_currency
def test_what_a_seat_costs_is_the_same_for_the_public(client, instructor_client, instructor, case):
    session = priced(instructor_client, class_in(instructor, case.code), case)
    for name, args in (("classes:open_list", ()), ("classes:open_class", (session.code,))):
        assert case.seat_shown in text(client, name, *args)
    page = client.get(reverse("classes:open_class", args=[session.code])).content.decode()
    (found,) = re.findall(r'<script type="application/ld\+json"[^>]*>(.*?)</script>', page, re.S)
    offer = json.loads(found)["offers"]
    assert (offer["price"], offer["priceCurrency"]) == (case.seat_plain, case.code)


@every_currency
def test_who_books_reads_the_same_on_form_letter_page_and_file(
    client, instructor_client, instructor, case
):
    session = priced(instructor_client, class_in(instructor, case.code), case)
    booking = held(session)
    assert f"{case.seat_shown} in total" in client.get(form_of(booking)).content.decode()
    client.post(form_of(booking), answers("Ada Lomax"))
    assert f"Price: {case.seat_shown}" in Letter.objects.get().text
    person = booking.people.get()
    kept = json.loads(client.get(page_of(person, "held") + "?format=json").content)["booking"]
    assert (kept["price"], kept["currency"]) == (case.seat_plain, case.code)
    data = {"booking": booking.pk, "amount": case.seat, "direction": "in", "means": "cash"}
    data |= {"paid_on": "2030-04-02", "form_key": "k" * 24}
    instructor_client.post(reverse("classes:money", args=[session.code]), data)
    money = text(instructor_client, "classes:money", session.code)
    assert f"Received {case.seat_shown}" in money
    rows = instructor_client.get(reverse("classes:money_csv", args=[session.code])).content.decode()
    row = next(csv.DictReader(io.StringIO(rows)))
    assert (row["asked"], row["paid"], row["currency"]) == (
        case.seat_plain,
        case.seat_plain,
        case.code,
    )
    leaving = client.get(page_of(person)).content.decode()
    assert f"<strong>{case.seat_shown}</strong> will be refunded" in leaving


@every_currency
def test_paper_files_and_offer_say_the_same_cash(instructor_client, instructor, case):
    wheat = {"allergens_us": ["wheat"], "allergens_eu": ["gluten-cereals"]}
    flour(**wheat)
    session = class_in(instructor, case.code)
    EnrollmentFactory(session=session, name="Zoe", diet="told", allergens=["gluten-cereals"])
    oats = IngredientFactory(name="Oat flour", kind="flour")
    variant = Variant.objects.create(revision=session.taught.get().revision, name="Oats")
    variant.swaps.create(position=0, replaced=flour(), by=oats)
    session = priced(instructor_client, session, case)
    cash = f"{case.pack_shown} {case.code}"
    document = json.loads(
        instructor_client.get(reverse("classes:amounts_json", args=[session.code])).content
    )
    assert document["cash_out"] == {
        "currency": case.code,
        "known": case.pack_shown,
        "without_price": [],
    }
    file = instructor_client.get(reverse("classes:amounts_csv", args=[session.code]))
    (bought,) = [
        row
        for row in csv.DictReader(io.StringIO(file.content.decode()))
        if row["list"] == "shopping" and row["cost"]
    ]
    assert (bought["cost"], bought["pack_price"], bought["currency"]) == (
        case.pack_shown,
        case.pack_shown,
        case.code,
    )
    diets = text(instructor_client, "classes:diets", session.code)
    assert f"Cash for all packs: {cash} now" in diets
    assert f"Cash out {cash}" in paper_text(session)


def paper_text(session):
    from django.template.loader import render_to_string
    from django.utils import timezone

    from classes.selectors import class_plan
    from handouts.kinds.preparation import preparation_list

    planned = ClassSession.objects.with_plan().get(pk=session.pk)
    paper = preparation_list(class_plan(planned), timezone.now())
    html = render_to_string("handouts/_list.html", {"paper": paper})
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))


# What a currency cannot hold


@pytest.mark.parametrize(
    ("code", "typed", "words"),
    [
        ("JPY", "180.50", "JPY has none: enter whole numbers, like 180."),
        ("EUR", "1.805", "more than the 2 decimal places of EUR: enter it like 1.80"),
        ("EUR", "1,800", "could be 1800 or 1.800: say which."),
        ("KWD", "1.8055", "more than the 3 decimal places of KWD: enter it like 1.800"),
        ("EUR", "5 USD", "“USD” is not used here: enter the amount in EUR."),
        ("EUR", "-1", "Enter 0 EUR or more."),
        ("EUR", "two", "We cannot read “two”."),
        ("JPY", "100000000001", "Enter 100000000000 JPY or less."),
    ],
)
def test_an_amount_that_does_not_fit_is_refused_in_words_and_kept_in_the_form(
    instructor_client, instructor, code, typed, words
):
    session = class_in(instructor, code)
    page = post_pantry(instructor_client, session.kitchen, stock_row(flour(), typed))
    assert words in page.content.decode()
    assert f'value="{typed}"' in page.content.decode()
    assert not StockItem.objects.exists()


@pytest.mark.parametrize("code", ["ABC", "eur", "XAU", ""])
def test_a_kitchen_takes_no_currency_without_known_places(code):
    kitchen = Kitchen(name="K", currency=code)
    with pytest.raises(ValidationError) as refused:
        kitchen.clean_fields(exclude=["owner"])
    assert "currency" in refused.value.message_dict


# A kitchen that changes its currency


@pytest.fixture
def moved(instructor_client, instructor):
    """A class priced in EUR whose kitchen now counts in JPY."""
    session = priced(instructor_client, class_in(instructor, "EUR"), CASES[1])
    change_currency(instructor_client, session.kitchen, "JPY")
    return ClassSession.objects.select_related("kitchen").get(pk=session.pk)


def change_currency(client, kitchen, code):
    fields = {"name": kitchen.name, "time_zone": "UTC", "currency": code, "altitude_m": "0"}
    fields |= {"room_c": "21", "flour_c": "20", "tap_c": "14", "night_c": "", "cabinet_c": ""}
    fields |= {"bowls": "0", "proof_places": "0", "refrigerator_places": "0"}
    benches = list(kitchen.stations.all())
    for prefix, rows in (("stations", benches), ("ovens", ()), ("mixers", ()), ("scales", ())):
        fields |= {f"{prefix}-TOTAL_FORMS": len(rows), f"{prefix}-INITIAL_FORMS": len(rows)}
    for number, bench in enumerate(benches):
        row = {"id": bench.pk, "name": bench.name, "places": bench.places}
        fields |= {f"stations-{number}-{name}": value for name, value in row.items()}
    page = client.post(reverse("classes:kitchen", args=[kitchen.pk]), fields, follow=True)
    assert Kitchen.objects.get(pk=kitchen.pk).currency == code
    return page.content.decode()


def test_amounts_written_before_keep_their_currency(instructor_client, moved):
    assert (moved.currency, str(moved.price)) == ("EUR", "38.50 EUR")
    money = text(instructor_client, "classes:money", moved.code)
    assert "This class keeps EUR, the currency its amounts were entered in." in money
    assert "Hall 38.50 EUR" in money
    assert "JPY" not in money.replace("Its kitchen now counts in JPY", "").replace(
        "pantry prices in JPY do not count here", ""
    )
    pantry = instructor_client.get(reverse("classes:pantry", args=[moved.kitchen_id]))
    assert 'value="1.80 EUR"' in pantry.content.decode()


def test_who_changes_the_currency_is_told_what_stays(instructor_client, instructor):
    session = priced(instructor_client, class_in(instructor, "EUR"), CASES[1])
    page = change_currency(instructor_client, session.kitchen, "JPY")
    assert (
        "1 price in the pantry and 1 class stay in the earlier currency: "
        "nothing is converted to JPY."
    ) in page


def test_saving_the_pantry_again_changes_no_price_in_the_old_currency(instructor_client, moved):
    item = StockItem.objects.get()
    row = stock_row(item.ingredient, "1.80 EUR", on_hand_g="5", existing=item)
    post_pantry(instructor_client, moved.kitchen, row, existing=1)
    item.refresh_from_db()
    assert (str(item.pack_price), item.on_hand_g) == ("1.80 EUR", 5)


def test_a_price_written_anew_is_in_the_new_currency_and_then_counts_as_unknown_for_the_class(
    instructor_client, moved
):
    item = StockItem.objects.get()
    post_pantry(
        instructor_client, moved.kitchen, stock_row(flour(), "180", existing=item), existing=1
    )
    item.refresh_from_db()
    assert str(item.pack_price) == "180 JPY"
    amounts = text(instructor_client, "classes:amounts", moved.code)
    assert "180 JPY a pack" in amounts
    assert "without a price in EUR: Bread flour cannot say" in amounts
    money = text(instructor_client, "classes:money", moved.code)
    assert "Without a price in EUR in the pantry: Bread flour." in money


def test_a_class_without_amounts_counts_in_the_new_currency(instructor_client, instructor):
    session = planned_class(instructor=instructor, kitchen__currency="EUR")
    change_currency(instructor_client, session.kitchen, "JPY")
    session.refresh_from_db()
    assert session.currency == "JPY"


@pytest.mark.parametrize("amount", ["price", "deposit", "cost", "booking", "payment", "refund"])
def test_a_class_with_any_amount_keeps_its_currency(instructor_client, instructor, amount):
    session = planned_class(instructor=instructor, kitchen__currency="EUR", students=0, seats=8)
    if amount in ("price", "deposit"):
        ClassSession.objects.filter(pk=session.pk).update(**{f"{amount}_minor": 1})
    if amount == "cost":
        ClassCost.objects.create(session=session, name="Hall", amount_minor=1)
    if amount in ("booking", "payment"):
        booking = session.bookings.create(
            seats=1, form_key="b", held_until=NOW, made_at=NOW, price_minor=amount == "booking"
        )
    if amount == "refund":
        session.bookings.create(
            seats=1, form_key="r", held_until=NOW, made_at=NOW, refund_due_minor=1
        )
    if amount == "payment":
        booking.payments.create(
            amount_minor=1, means="cash", paid_on=NOW, form_key="p", noted_by=instructor
        )
    change_currency(instructor_client, session.kitchen, "JPY")
    session.refresh_from_db()
    assert session.currency == "EUR"


# Two currencies never meet


def test_nobody_moves_to_a_class_in_another_currency(client, instructor):
    booking = enrolled(class_in(instructor, "EUR"))
    dollars = class_in(instructor, "USD", title="Dollar loaves")
    euros = class_in(instructor, "EUR", title="Euro loaves")
    page = client.get(page_of(booking.people.get())).content.decode()
    assert "Euro loaves" in page
    assert "Dollar loaves" not in page
    with pytest.raises(TwoCurrencies):
        move_booking(booking=booking, to=dollars, at=NOW)
    assert move_booking(booking=booking, to=euros, at=NOW).session == euros


def test_a_payment_in_another_currency_is_refused(instructor):
    from classes.core.money import Money

    booking = enrolled(class_in(instructor, "EUR"))
    with pytest.raises(TwoCurrencies):
        note_payment(
            booking=booking,
            amount=Money(100, "JPY"),
            means="cash",
            paid_on=NOW.date(),
            note="",
            form_key="k",
            user=instructor,
        )
    assert not booking.payments.exists()


def test_a_year_with_two_currencies_adds_nothing_up(instructor_client, instructor):
    for code, seat in (("USD", 3800), ("JPY", 4500)):
        session = class_in(instructor, code)
        ClassSession.objects.filter(pk=session.pk).update(price_minor=seat)
        enrolled(ClassSession.objects.get(pk=session.pk))
    page = instructor_client.get(reverse("classes:all_money"), {"year": 2030}).content.decode()
    assert "38.00 USD" in page
    assert "4500 JPY" in page


def test_flour_in_stock_is_costed_in_the_currency_of_the_class(instructor_client, instructor):
    session = priced(instructor_client, class_in(instructor, "JPY"), CASES[2])
    StockItem.objects.update(on_hand_g=Decimal(99999))
    assert "Cash out 0 JPY" in text(instructor_client, "classes:amounts", session.code)
