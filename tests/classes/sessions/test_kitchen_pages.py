"""Kitchens and their pantry."""

from __future__ import annotations

from decimal import Decimal

import pytest

from classes.kitchens.services import save_kitchen
from classes.models import Kitchen
from recipes.core.regions import HomeRegion
from recipes.selectors import home_region
from recipes.services import set_home_region
from tests.factories import ClassSessionFactory, IngredientFactory, KitchenFactory, flour

NEW = "/kitchens/new/"


@pytest.fixture
def fields():
    counts = {
        f"{prefix}-{name}_FORMS": "0"
        for prefix in ("stations", "ovens", "mixers", "scales")
        for name in ("TOTAL", "INITIAL")
    }
    return counts | {
        "name": "Mill kitchen",
        "place": "Behind the mill",
        "time_zone": "Europe/Dublin",
        "currency": "EUR",
        "room_c": "21",
        "flour_c": "20",
        "tap_c": "14",
        "proof_places": "0",
        "refrigerator_places": "0",
        "bowls": "4",
        "stations-TOTAL_FORMS": "1",
        "stations-0-name": "Long table",
        "stations-0-places": "6",
        "scales-TOTAL_FORMS": "1",
        "scales-0-step_g": "0.1",
        "scales-0-count": "2",
    }


def test_a_filled_form_becomes_a_kitchen(instructor_client, instructor, fields):
    instructor_client.post(NEW, fields)
    kitchen = Kitchen.objects.get(owner=instructor)
    assert kitchen.stations.get().places == 6
    assert kitchen.scales.get().step_g == "0.1"


def test_a_kitchen_keeps_whom_to_call_and_whose_guidance_leads(
    instructor_client, instructor, fields
):
    told = {
        "emergency_number": "112",
        "first_aid_place": "beside the door",
        "meeting_point": "the gate",
        "access_facts": "Two steps.",
        "guidance": "oceania",
    }
    instructor_client.post(NEW, fields | told)
    kitchen = Kitchen.objects.get(owner=instructor)
    assert {name: getattr(kitchen, name) for name in told} == told
    page = instructor_client.get(kitchen.get_absolute_url()).content.decode()
    assert '<option value="oceania" selected>Australia and New Zealand</option>' in page
    assert "Your local authority comes first" in page


def test_a_kitchen_that_chooses_no_region_says_all_guidance(instructor_client, instructor, fields):
    instructor_client.post(NEW, fields)
    assert Kitchen.objects.get(owner=instructor).guidance == "all"


def test_an_unknown_region_is_refused(instructor_client, instructor, fields):
    page = instructor_client.post(NEW, fields | {"guidance": "moon"}).content.decode()
    assert "moon is not one of the available choices" in page
    assert not Kitchen.objects.filter(owner=instructor).exists()


def test_the_night_and_the_cabinet_have_temperatures_of_their_own(
    instructor_client, instructor, fields
):
    instructor_client.post(NEW, fields | {"night_c": "16.5", "cabinet_c": "28"})
    kitchen = Kitchen.objects.get(owner=instructor)
    assert (kitchen.night_c, kitchen.cabinet_c) == (Decimal("16.5"), 28)
    page = instructor_client.get(kitchen.get_absolute_url()).content.decode()
    assert 'name="night_c" value="16.5"' in page
    assert 'name="cabinet_c" value="28"' in page


@pytest.mark.parametrize("empty", [{}, {"night_c": "", "cabinet_c": ""}], ids=["not sent", "empty"])
def test_a_night_and_a_cabinet_left_empty_are_not_known(
    instructor_client, instructor, fields, empty
):
    instructor_client.post(NEW, fields | empty)
    kitchen = Kitchen.objects.get(owner=instructor)
    assert (kitchen.night_c, kitchen.cabinet_c) == (None, None)


def test_a_temperature_can_be_taken_back(instructor_client, instructor, fields):
    instructor_client.post(NEW, fields | {"night_c": "16", "cabinet_c": "28"})
    kitchen = Kitchen.objects.get(owner=instructor)
    kept = {"stations-INITIAL_FORMS": "1", "stations-0-id": kitchen.stations.get().pk}
    kept |= {"scales-INITIAL_FORMS": "1", "scales-0-id": kitchen.scales.get().pk}
    instructor_client.post(
        kitchen.get_absolute_url(), fields | kept | {"night_c": "", "cabinet_c": ""}
    )
    kitchen.refresh_from_db()
    assert (kitchen.night_c, kitchen.cabinet_c) == (None, None)


def test_the_form_says_what_an_empty_temperature_means(instructor_client):
    page = instructor_client.get(NEW).content.decode()
    assert "If blank: as warm as the room." in page
    assert "If blank: it is set to what the recipe says." in page


@pytest.mark.parametrize(
    ("field", "value", "message"),
    [
        ("time_zone", "Mars/Base", "Select a valid choice."),
        ("currency", "euro", "at most 3 characters"),
        ("currency", "eur", "three capital letters"),
        ("room_c", "80", "less than or equal to 50"),
        ("room_c", "", "This field is required."),
        ("night_c", "-6", "greater than or equal to -5"),
        ("night_c", "NaN", "Enter a number."),
        ("cabinet_c", "51", "less than or equal to 50"),
        ("cabinet_c", "1e400", "no more than"),
        ("stations-0-places", "0", "greater than or equal to 1"),
        ("stations-TOTAL_FORMS", "0", "at least 1"),
        ("name", "", "This field is required."),
    ],
)
def test_a_bad_value_is_named_and_nothing_is_lost(instructor_client, fields, field, value, message):
    page = instructor_client.post(NEW, fields | {field: value}).content.decode()
    assert message in page
    assert "Behind the mill" in page
    assert not Kitchen.objects.exists()


def test_two_stations_of_one_name_are_refused(instructor_client, fields):
    fields |= {
        "stations-TOTAL_FORMS": "2",
        "stations-1-name": "Long table",
        "stations-1-places": "2",
    }
    assert "Two rows say the same." in instructor_client.post(NEW, fields).content.decode()


def test_a_second_kitchen_of_one_name_is_refused(instructor_client, instructor, fields):
    KitchenFactory(owner=instructor, name="Mill kitchen")
    page = instructor_client.post(NEW, fields).content.decode()
    assert "You already have a kitchen called Mill kitchen." in page


def test_another_row_is_shown_without_saving(instructor_client, fields, htmx):
    page = instructor_client.post(NEW, fields | {"add": "ovens"}, headers=htmx).content.decode()
    assert 'name="ovens-0-name"' in page
    assert not Kitchen.objects.exists()


def test_a_kitchen_in_use_keeps_its_classes_when_changed(instructor_client, instructor, fields):
    session = ClassSessionFactory(instructor=instructor)
    station = session.stations.get()
    fields |= {
        "stations-INITIAL_FORMS": "1",
        "stations-0-id": station.pk,
        "stations-0-name": "Renamed",
    }
    instructor_client.post(session.kitchen.get_absolute_url(), fields)
    assert session.stations.get().name == "Renamed"


def test_no_kitchen_yet_says_what_to_do(instructor_client):
    assert "Add the one you teach in" in instructor_client.get("/kitchens/").content.decode()


class TestPantry:
    @pytest.fixture
    def kitchen(self, instructor):
        return KitchenFactory(owner=instructor)

    def post(self, client, kitchen, **row):
        fields = {"stock-TOTAL_FORMS": "1", "stock-INITIAL_FORMS": "0"}
        fields |= {f"stock-0-{name}": value for name, value in row.items()}
        return client.post(f"/kitchens/{kitchen.pk}/pantry/", fields)

    def test_stock_pack_and_price_are_saved(self, instructor_client, kitchen):
        self.post(
            instructor_client,
            kitchen,
            ingredient=flour().pk,
            on_hand_g="1200",
            pack_g="1500",
            price="1.80",
        )
        item = kitchen.stock.get()
        assert (item.on_hand_g, item.pack_g, item.pack_price_minor) == (1200, 1500, 180)

    def test_the_saved_price_is_shown_again(self, instructor_client, kitchen):
        kitchen.stock.create(
            ingredient=flour(), pack_g=Decimal(1500), pack_price_minor=180, price_currency="EUR"
        )
        page = instructor_client.get(f"/kitchens/{kitchen.pk}/pantry/").content.decode()
        assert 'value="1.80"' in page

    def test_a_price_without_a_pack_is_asked_about(self, instructor_client, kitchen):
        response = self.post(
            instructor_client, kitchen, ingredient=flour().pk, on_hand_g="0", price="1"
        )
        assert "A price needs the size of the pack" in response.content.decode()
        assert not kitchen.stock.exists()

    @pytest.mark.parametrize("pack", ["0", "-1", "1e400"])
    def test_a_pack_that_holds_nothing_is_refused(self, instructor_client, kitchen, pack):
        self.post(instructor_client, kitchen, ingredient=flour().pk, on_hand_g="0", pack_g=pack)
        assert not kitchen.stock.exists()


def test_the_pantry_takes_the_same_queries_for_any_number_of_rows(
    instructor_client, instructor, django_assert_max_num_queries
):
    counts = []
    for rows in (2, 12):
        kitchen = KitchenFactory(owner=instructor)
        for _ in range(rows):
            kitchen.stock.create(ingredient=IngredientFactory())
        with django_assert_max_num_queries(30) as seen:
            instructor_client.get(f"/kitchens/{kitchen.pk}/pantry/")
        counts.append(len(seen))
    assert counts[0] == counts[1]


@pytest.mark.parametrize(
    ("guidance", "currency", "zone", "region"),
    [
        ("us", "USD", "America/New_York", "us"),
        ("all", "CAD", "America/Toronto", "ca"),
        ("europe", "EUR", "Europe/Dublin", "uk"),
        ("europe", "GBP", "UTC", "uk"),
        ("europe", "EUR", "Europe/Berlin", "eu"),
        ("oceania", "AUD", "Australia/Sydney", "au"),
        ("oceania", "EUR", "UTC", "au"),
        ("all", "EUR", "UTC", None),
        ("all", "JPY", "Asia/Tokyo", None),
    ],
)
def test_the_first_kitchen_tells_whose_measures_the_book_means(
    db, guidance, currency, zone, region
):
    kitchen = KitchenFactory(guidance=guidance, currency=currency, time_zone=zone)
    save_kitchen(kitchen=kitchen, contents=[])
    assert home_region() == region


def test_what_was_chosen_for_the_book_stays(db):
    set_home_region(region=HomeRegion.AU)
    save_kitchen(kitchen=KitchenFactory(guidance="us", currency="USD"), contents=[])
    assert home_region() is HomeRegion.AU
