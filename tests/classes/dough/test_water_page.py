"""Water and ice for a recipe in a kitchen, and the friction that a mixer keeps."""

from __future__ import annotations

import re
from decimal import Decimal
from urllib.parse import parse_qs, urlsplit

import pytest
from django.contrib.auth import get_user_model
from django.core.exceptions import ValidationError

from classes.kitchens.services import keep_friction
from recipes.core.choices import IngredientKind
from recipes.models import Component, Step
from recipes.selectors import (
    composition_value,
    compositions_of,
    formula_value,
    keys_of_kind,
    revision_of,
)
from tests.classes.demo_class import demo_class
from tests.conftest import signed_in
from tests.factories import IngredientFactory, KitchenFactory, RevisionFactory, flour, water

PAGE = "/recipes/bread/water/"
HOT_DAY = {"room_c": "31", "flour_c": "29", "tap_c": "24", "mixing": "own", "friction_c": "11"}
MEASURED = {"was_room_c": "22", "was_flour_c": "21", "was_liquid_c": "18", "was_dough_c": "24"}


def words(response) -> str:
    """What the page says, without markup, on one line."""
    text = re.sub(r"<[^>]+>", " ", response.content.decode())
    return re.sub(r"\s+", " ", text.replace("\N{NO-BREAK SPACE}", " "))


@pytest.fixture
def bread(instructor):
    flour(water_percent=13, protein_percent=12, fat_percent=2, carbohydrate_percent=73)
    return RevisionFactory(
        recipe__owner=instructor, recipe__slug="bread", title="Plain bread", dough_temperature_c=25
    )


@pytest.fixture
def kitchen(instructor):
    kitchen = KitchenFactory(owner=instructor, name="Mill kitchen", room_c=23, tap_c=11)
    kitchen.mixers.create(name="Mixer 1")
    return kitchen


@pytest.fixture
def ask(instructor_client, bread, kitchen):
    def get(**asked):
        return instructor_client.get(PAGE, asked)

    return get


class TestDemo:
    @pytest.fixture
    def client(self, db):
        demo_class()
        return signed_in(get_user_model().objects.get(username="instructor"))

    def test_the_hot_day_is_517_g_of_ice_and_2173_g_of_water_at_4_degrees(self, client):
        said = words(client.get("/recipes/hearth-loaf/water/", HOT_DAY | {"amount": "13"}))
        assert "4 °C (39 °F)" in said
        assert "Ice 517 g Water from the tap 2173 g Together 2690 g" in said

    def test_the_hot_day_by_the_demos_mixer_assumes_its_11_degrees(self, client):
        mixer = get_user_model().objects.get(username="instructor").kitchen_set.get().mixers.first()
        asked = HOT_DAY | {"amount": "13", "mixing": f"mixer-{mixer.pk}"}
        assert "517 g" in words(client.get("/recipes/hearth-loaf/water/", asked))

    def test_a_preferment_makes_a_sum_of_four_terms(self, client):
        said = words(client.get("/recipes/two-day-rye-batard/water/", {"preferment_c": "20"}))
        # 4 x 25 - 20 flour - 21 room - 20 poolish - 3 by hand
        assert "36 °C (97 °F)" in said
        assert "bakers’ formula of 4 terms" in said

    def test_a_roux_comes_to_about_room_temperature_in_its_cold_milk_and_egg(self, client):
        said = words(client.get("/recipes/pillow-rolls/water/"))
        mixed = re.search(r"Hot roux into cold liquid ([\d.]+) °C", said)
        assert 20 <= Decimal(mixed[1]) <= 31

    def test_a_roux_starts_with_the_heat_balance_and_hot_from_the_pan(self, client):
        page = client.get("/recipes/pillow-rolls/water/")
        assert "By heat balance" in words(page)
        assert "By the bakers’ formula" not in words(page)
        assert 'name="roux_c" value="70"' in page.content.decode()
        assert page.context["answer"].plan.wanted.temperature_c < 15

    def test_a_roux_that_has_cooled_starts_as_warm_as_the_room(self, client):
        steps = Step.objects.filter(revision__title="Pillow rolls", kind="prepare")
        steps.update(waiting_min=180)
        page = client.get("/recipes/pillow-rolls/water/")
        assert 'name="roux_c" value="21"' in page.content.decode()
        assert "Roux into cold liquid" in words(page)
        assert "Hot roux" not in words(page)

    def test_a_roux_that_the_recipe_does_not_tell_is_to_be_measured(self, client):
        said = "The recipe does not say how warm the roux will be."
        assert said not in words(client.get("/recipes/pillow-rolls/water/"))
        Step.objects.filter(revision__title="Pillow rolls", kind="prepare").update(waiting_min=30)
        assert said in words(client.get("/recipes/pillow-rolls/water/"))

    def test_a_poolish_out_of_the_refrigerator_starts_cold(self, client):
        steps = Step.objects.filter(revision__title="Two-day rye batard", kind="prepare")
        steps.update(temperature_c=4, temperature_of="refrigerator")
        page = client.get("/recipes/two-day-rye-batard/water/").content.decode()
        assert 'name="preferment_c" value="4"' in page

    def test_a_soaker_has_its_own_field_and_stands_in_the_room(self, client):
        Component.objects.filter(kind="preferment").update(kind="soaker")
        page = client.get("/recipes/two-day-rye-batard/water/").content.decode()
        assert 'name="soaker_c" value="21"' in page
        assert 'name="preferment_c"' not in page

    def test_milk_is_warmed_and_asks_for_no_ice(self, client):
        page = client.get("/recipes/pillow-rolls/water/", {"model": "heat balance"})
        assert "Remaining whole milk for 420 g of dough" in words(page)
        assert 'name="ice_c"' not in page.content.decode()


def test_the_page_starts_from_the_recipe_and_the_kitchen(ask):
    shown = ask().content.decode()
    for name, value in (("wanted_c", "25"), ("room_c", "23"), ("tap_c", "11"), ("amount", "1")):
        assert re.search(rf'name="{name}" value="{value}"', shown), name
    assert 'name="preferment_c"' not in shown
    assert 'name="roux_c"' not in shown


def test_the_water_is_told_in_both_degrees_and_what_to_do_with_it(ask):
    said = words(ask())
    # 3 x 25 - 20 flour - 23 room - 3 by hand
    assert "29 °C (84 °F)" in said
    assert "Warm 60 g from 11 °C (52 °F) to 29 °C (84 °F)." in said


def test_dough_can_be_asked_for_in_grams(ask):
    assert "Warm 600 g" in words(ask(amount="1600", amount_in="g"))


def test_temperatures_may_be_typed_in_fahrenheit(ask):
    assert "29 °C (84 °F)" in words(ask(wanted_c="77 F"))


def test_water_as_warm_as_the_tap_is_taken_as_it_is(ask):
    assert "Take 60 g as it comes" in words(ask(tap_c="29.3"))


def test_water_above_50_degrees_is_refused_with_the_reason(ask):
    said = words(ask(room_c="5", flour_c="5"))
    assert "Refused: it would have to be 62 °C (144 °F). Yeast is harmed above about 50 °C." in said
    assert "Warm 60 g" not in said


def test_more_cold_than_ice_holds_is_refused_in_words(ask):
    said = words(ask(wanted_c="0", room_c="50", flour_c="50"))
    assert "even all of it as ice is not cold enough" in said


def test_each_answer_names_its_model(ask):
    assert "By the bakers’ formula of 3 terms" in words(ask())
    balance = words(ask(model="heat balance"))
    assert "By heat balance from what each ingredient" in balance
    assert "bakers’ formula of" not in balance


def test_the_friction_of_a_mixer_is_never_used_in_a_heat_balance(ask, kitchen):
    mixer = kitchen.mixers.get()
    keep_friction(mixer=mixer, friction_c=Decimal(9))
    said = words(ask(model="heat balance", mixing=f"mixer-{mixer.pk}"))
    assert "Refused: two models would be mixed." in said
    assert "Warm 60 g" not in said


def test_what_a_dough_consists_of_must_be_known_for_a_balance(ask):
    flour_row = flour()
    flour_row.protein_percent = None
    flour_row.save()
    assert "of Bread flour is not entered" in words(ask(model="heat balance"))


def test_a_dough_without_liquid_has_nothing_to_warm(instructor_client, instructor):
    dry = RevisionFactory(recipe__owner=instructor, parts=[{"lines": {flour(): 100}}])
    said = words(instructor_client.get(f"/recipes/{dry.recipe.slug}/water/"))
    assert "No liquid is poured into the final dough." in said


def test_a_bad_figure_is_marked_and_nothing_is_lost(ask):
    shown = ask(room_c="warm", flour_c="19").content.decode()
    assert "We cannot read “warm”" in shown
    assert 'value="19"' in shown
    assert "A number needs fixing." in shown


@pytest.mark.parametrize(
    "asked",
    [
        {"amount": "0"},
        {"amount": "1e9"},
        {"tap_c": "-1"},
        {"tap_c": "51"},
        {"model": "guess"},
        {"mixing": "mixer-999999"},
        {"amount_in": "cups"},
        {"wanted_c": "\0"},
    ],
)
def test_nonsense_gets_a_message_instead_of_an_answer(ask, asked):
    response = ask(**asked)
    assert response.status_code == 200
    assert "A number needs fixing." in words(response)


def test_markup_typed_into_a_field_is_shown_as_text(ask):
    assert "<b>hot</b>" not in ask(room_c="<b>hot</b>").content.decode()


def test_an_htmx_change_of_a_figure_gets_the_answer_and_the_messages(
    instructor_client, bread, htmx
):
    headers = htmx | {"HX-Target": "answer"}
    shown = instructor_client.get(PAGE, {"room_c": "warm"}, headers=headers).content.decode()
    assert "<html" not in shown
    assert "<form" not in shown
    assert 'id="water_room_c_trouble" class="trouble" data-hx-swap-oob="innerHTML"' in shown


def test_an_htmx_change_of_the_kitchen_gets_the_fields_too(instructor_client, bread, htmx):
    headers = htmx | {"HX-Target": "bench"}
    shown = instructor_client.get(PAGE, headers=headers).content.decode()
    assert "<html" not in shown
    assert 'name="room_c"' in shown


class TestKitchen:
    def test_without_a_kitchen_there_are_plain_figures_and_a_way_to_add_one(
        self, instructor_client, bread
    ):
        shown = instructor_client.get(PAGE).content.decode()
        assert "plain starting figures, not yours" in shown
        assert 'href="/kitchens/new/"' in shown
        assert 'name="room_c" value="21"' in shown

    def test_the_first_by_name_is_taken_unless_another_is_asked_for(self, ask, instructor):
        other = KitchenFactory(owner=instructor, name="Zest kitchen", room_c=28)
        assert 'name="room_c" value="23"' in ask().content.decode()
        assert 'name="room_c" value="28"' in ask(kitchen=other.pk).content.decode()

    @pytest.mark.parametrize("asked", ["0", "x", "1 or 1"])
    def test_one_that_does_not_exist_is_not_found(self, ask, asked):
        assert ask(kitchen=asked).status_code == 404

    def test_somebody_elses_is_not_found(self, ask):
        assert ask(kitchen=KitchenFactory().pk).status_code == 404


class TestFriction:
    def test_what_went_in_and_came_out_gives_the_friction(self, ask):
        said = words(ask(**MEASURED))
        # 3 x 24 - 22 - 21 - 18
        assert "Friction as measured 11 °C (20 °F)" in said
        assert "Keep it for Mixer 1" in said

    def test_without_what_came_out_nothing_is_said(self, ask):
        assert "Friction as measured" not in words(ask(**MEASURED | {"was_dough_c": ""}))

    def test_it_is_kept_for_the_mixer_and_used_at_once(self, instructor_client, bread, kitchen):
        mixer = kitchen.mixers.get()
        posted = MEASURED | {"keep": mixer.pk, "kitchen": kitchen.pk, "room_c": "30"}
        response = instructor_client.post(PAGE, posted)
        mixer.refresh_from_db()
        assert mixer.friction_c == 11
        asked = parse_qs(urlsplit(response["Location"]).query)
        assert asked["mixing"] == [f"mixer-{mixer.pk}"]
        assert asked["room_c"] == ["30"]
        said = words(instructor_client.get(response["Location"]))
        assert "Mixer 1 keeps a friction of 11.0 °C." in said
        assert "Mixer 1: 11 °C, measured" in said

    @pytest.mark.parametrize(
        "change",
        [
            {"was_dough_c": "15"},
            {"was_dough_c": ""},
            {"was_dough_c": "hot"},
            {"model": "heat balance"},
            {"was_dough_c": "50"},
            {"room_c": "hot"},
        ],
    )
    def test_none_that_cannot_be_kept_is_kept(self, instructor_client, bread, kitchen, change):
        posted = MEASURED | {"keep": kitchen.mixers.get().pk, "kitchen": kitchen.pk} | change
        response = instructor_client.post(PAGE, posted)
        assert "Nothing was saved" in words(response)
        assert kitchen.mixers.get().friction_c is None

    def test_mixing_that_cools_is_told_and_not_offered(self, ask):
        said = words(ask(**MEASURED | {"was_dough_c": "15"}))
        assert "Less than zero." in said
        assert "Keep it for" not in said

    def test_a_rise_by_balance_is_not_offered_to_a_mixer(self, ask):
        said = words(ask(**MEASURED | {"model": "heat balance"}))
        assert "In the heat balance." in said
        assert "Keep it for" not in said

    def test_a_mixer_of_another_kitchen_is_not_found(self, instructor_client, bread, kitchen):
        other = KitchenFactory().mixers.create(name="Mixer 9")
        response = instructor_client.post(PAGE, MEASURED | {"keep": other.pk})
        assert response.status_code == 404
        other.refresh_from_db()
        assert other.friction_c is None

    @pytest.mark.parametrize(("measured", "kept"), [("10.25", "10.3"), ("0", "0.0"), ("40", "40")])
    def test_it_is_kept_to_the_tenth(self, kitchen, measured, kept):
        mixer = keep_friction(mixer=kitchen.mixers.get(), friction_c=Decimal(measured))
        mixer.refresh_from_db()
        assert mixer.friction_c == Decimal(kept)

    @pytest.mark.parametrize("measured", ["-0.1", "40.1", "1000"])
    def test_one_that_cannot_be_is_refused(self, kitchen, measured):
        with pytest.raises(ValidationError):
            keep_friction(mixer=kitchen.mixers.get(), friction_c=Decimal(measured))


def test_the_kitchens_form_asks_for_altitude_and_friction(instructor_client, kitchen):
    address, mixer, bench = kitchen.get_absolute_url(), kitchen.mixers.get(), kitchen.stations.get()
    counts = {
        f"{prefix}-{name}_FORMS": "0"
        for prefix in ("stations", "ovens", "mixers", "scales")
        for name in ("TOTAL", "INITIAL")
    }
    rows = {
        "stations-TOTAL_FORMS": "1",
        "stations-INITIAL_FORMS": "1",
        "stations-0-id": bench.pk,
        "stations-0-name": "Bench",
        "stations-0-places": "4",
        "mixers-TOTAL_FORMS": "1",
        "mixers-INITIAL_FORMS": "1",
        "mixers-0-id": mixer.pk,
        "mixers-0-name": "Mixer 1",
        "mixers-0-capacity_g": "2000",
        "mixers-0-friction_c": "9.5",
    }
    names = ("name", "time_zone", "currency", "room_c", "flour_c", "tap_c", "bowls")
    head = {name: getattr(kitchen, name) for name in names}
    head |= {"altitude_m": "1600", "proof_places": "0", "refrigerator_places": "0"}
    instructor_client.post(address, counts | rows | head)
    kitchen.refresh_from_db()
    mixer.refresh_from_db()
    assert (kitchen.altitude_m, mixer.friction_c) == (1600, Decimal("9.5"))


def test_only_what_is_known_of_an_ingredient_has_a_figure(db):
    row = IngredientFactory.build(water_percent=Decimal(88), sodium_mg=43)
    food = composition_value(row)
    assert (food.water_g, food.sodium_mg, food.protein_g, food.energy_kcal) == (88, 43, None, None)


def test_a_revision_gives_compositions_and_kinds_by_key(instructor, bread):
    revision = revision_of(instructor, "bread")
    foods = compositions_of(revision)
    assert set(foods) == {line.ingredient.key for line in formula_value(revision).dough_lines()}
    assert foods["bread-flour"].protein_g == 12
    assert keys_of_kind(revision, IngredientKind.FLOUR) == {"bread-flour"}


def test_the_page_takes_the_same_queries_for_any_number_of_lines_and_mixers(
    instructor_client, instructor, kitchen, django_assert_max_num_queries
):
    counts = []
    for n in (1, 8):
        lines = {flour(): 100, water(): 60} | {IngredientFactory(): 1 for _ in range(n)}
        bread = RevisionFactory(recipe__owner=instructor, parts=[{"lines": lines}])
        for m in range(n):
            kitchen.mixers.create(name=f"Helper {n} {m}")
        with django_assert_max_num_queries(12) as seen:
            instructor_client.get(f"/recipes/{bread.recipe.slug}/water/")
        counts.append(len(seen))
    assert counts[0] == counts[1]
