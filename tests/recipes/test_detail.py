"""A recipe's page: the formula card at any size, and the method."""

import re
from decimal import Decimal
from html import unescape

import pytest
from django.urls import reverse

from recipes.core.scaling import batch
from recipes.core.weighing import Scales
from recipes.models import Revision
from recipes.selectors import formula_value
from tests.factories import IngredientFactory, RevisionFactory, flour, water

pytestmark = pytest.mark.django_db
URL = "/recipes/bread/"


def text_of(response) -> str:
    """The page's words, tags dropped and spaces made plain."""
    words = re.sub(r"<[^>]+>", " ", response.content.decode())
    return " ".join(unescape(words).split())


@pytest.fixture
def yeast(db):
    return IngredientFactory(name="Instant yeast", kind="yeast")


@pytest.fixture
def two_day(instructor, yeast):
    """The demo's two-day dough: nine loaves of 600 g."""
    salt = IngredientFactory(name="Table salt", kind="salt")
    rye = IngredientFactory(name="Rye flour", kind="flour")
    return RevisionFactory(
        recipe__owner=instructor,
        recipe__slug="two-day",
        title="Two-day rye",
        piece_name="batard",
        pieces=9,
        piece_g=600,
        parts=[
            {
                "kind": "preferment",
                "name": "Poolish",
                "lines": {flour(): 300, water(): 300, yeast: "0.3"},
            },
            {
                "name": "Final dough",
                "lines": {flour(): 600, rye: 100, water(): 420, salt: 20, yeast: "3.7"},
            },
        ],
    )


def test_the_card_shows_the_usual_batch(instructor_client, bread):
    page = text_of(instructor_client.get(URL))
    assert "1 × loaf, 160 g each : 160.0 g of dough from 100.0 g of flour" in page
    assert re.search(r"\b100 Bread flour 100\.0", page)
    assert re.search(r"\b60 Water 60\.0", page)


def test_the_demo_numbers_of_the_two_day_dough_are_on_the_page(instructor_client, two_day):
    page = text_of(instructor_client.get("/recipes/two-day/"))
    for weighed, name, exact in (
        ("929", "Bread flour", "928.90"),
        ("1858", "Bread flour", "1857.80"),
        ("310", "Rye flour", "309.63"),
        ("1300", "Water", "1300.46"),
        ("62", "Table salt", "61.93"),
        ("11.5", "Instant yeast", "11.46"),
    ):
        assert re.search(rf"\b{weighed} {name} [^A-Z]*{exact}", page), (weighed, name)
    assert "5400.0 g of dough from 3096.3 g of flour" in page
    assert "exactly 5400.00 g" in page


def test_the_page_weighs_what_the_scaling_service_weighs(instructor_client, two_day):
    answer = instructor_client.get("/recipes/two-day/", {"pieces": "13", "piece_g": "555"})
    formula = formula_value(Revision.objects.with_formula().get(pk=two_day.pk))
    sheet = batch(formula, Decimal(13 * 555), Scales((Decimal(1), Decimal("0.1"))))
    assert tuple(part.amounts for part in answer.context["card"].parts) == sheet.components
    assert f"{sheet.weighed_dough_g:f}" in text_of(answer)


def test_the_column_total_is_the_sum_of_the_printed_lines(instructor_client, two_day):
    html = instructor_client.get("/recipes/two-day/").content.decode()
    *lines, total = [
        Decimal(grams) for grams in re.findall(r'<span class="weigh">([\d.]+)</span>', html)
    ]
    assert sum(lines) == total


def test_percentages_are_of_all_flour_and_of_the_parts_own(instructor_client, two_day):
    page = text_of(instructor_client.get("/recipes/two-day/"))
    assert re.search(r"Instant yeast ◆ coarse: one step is 10\.8 % 0\.03 0\.1", page)


def test_a_coarse_weighing_comes_with_advice(instructor_client, two_day):
    page = text_of(instructor_client.get("/recipes/two-day/"))
    assert "◆ coarse: one step is 10.8 %" in page
    assert "Use a finer scale" in page


def test_a_finer_scale_takes_the_mark_away(instructor_client, two_day):
    page = text_of(instructor_client.get("/recipes/two-day/", {"scale": "0.01"}))
    assert re.search(r"\b0\.93 Instant yeast", page)
    assert "coarse" not in page


def test_headlines_are_in_plain_words(instructor_client, two_day):
    page = text_of(instructor_client.get("/recipes/two-day/"))
    assert "All flour is 100 %; the dough is 174.4 %" in page
    assert "Hydration by added liquid 72 %" in page
    assert "With water hidden in other ingredients 72 %" in page
    assert "Share of the flour that is prefermented 30 %" in page
    assert "roux" not in page


def test_the_overall_formula_merges_the_parts(instructor_client, two_day):
    page = text_of(instructor_client.get("/recipes/two-day/"))
    overall = page.partition("Overall")[2]
    assert re.search(r"\b2787 Bread flour 90\.0", overall)
    assert re.search(r"\b12\.4 Instant yeast 0\.4", overall)


def test_a_roux_says_what_to_expect_and_what_to_make_up(instructor_client, instructor):
    RevisionFactory(
        recipe__owner=instructor,
        recipe__slug="rolls",
        piece_g=100,
        parts=[
            {"kind": "roux", "cooking_loss_percent": 8, "lines": {flour(): 5, water(): 25}},
            {"lines": {flour(): 95, water(): 75}},
        ],
    )
    page = text_of(instructor_client.get("/recipes/rolls/", {"pieces": "20"}))
    assert "After cooking expect about 276 g. Make it up to 300 g with water." in page
    assert "Share of the flour in the roux 5 %" in page


def test_counted_things_say_how_many_to_take(instructor_client, instructor):
    egg = IngredientFactory(name="Egg", kind="egg", each_g=50, each_name="large egg")
    RevisionFactory(
        recipe__owner=instructor,
        recipe__slug="rich",
        piece_g=110,
        parts=[{"lines": {flour(): 100, egg: 10}}],
    )
    page = text_of(instructor_client.get("/recipes/rich/", {"pieces": "27"}))
    assert "take 6 × large egg, beat or cut, weigh 270 g" in page


def test_steps_equipment_and_temperatures_are_shown(instructor_client, instructor):
    RevisionFactory(
        recipe__owner=instructor,
        recipe__slug="full",
        piece_g=520,
        bake_loss_percent=12,
        dough_temperature_c=25,
        core_temperature_c=96,
        equipment="Bowl\n\n Scraper ",
        note="Not tested.",
        steps=[
            {"kind": "mix", "text": "Knead.", "hands_on_min": 9, "worked": "machine"},
            {"kind": "mix", "text": "Fold in.", "hands_on_min": 2},
            {"kind": "bulk", "text": "Wait.", "waiting_min": 80, "temperature_c": 26},
            {"kind": "proof", "text": "Rise.", "waiting_min": 40, "temperature_c": 27,
             "temperature_of": "room"},
        ],
    )  # fmt: skip
    page = text_of(instructor_client.get("/recipes/full/"))
    assert "Dough after mixing 25 °C (77 °F)" in page
    assert "Inside when done 96 °C (205 °F)" in page
    assert "about 458 g (loses 12 %)" in page
    assert "Mix Knead. 9 min hands-on by machine" in page
    assert "Mix Fold in. 2 min hands-on by hand or machine: not stated" in page
    assert "Bulk fermentation Wait. 1 h 20 min waiting at 26 °C (79 °F), not stated of what" in page
    assert "Proof Rise. 40 min waiting room or cabinet at 27 °C (81 °F)" in page
    assert "Bowl Scraper" in page
    assert "Not tested." in page


def test_allergens_stand_in_two_lists_and_promise_nothing(instructor_client, instructor):
    rye = IngredientFactory(name="Rye", kind="flour", allergens_eu=["gluten-cereals"])
    RevisionFactory(
        recipe__owner=instructor, recipe__slug="rye", parts=[{"lines": {rye: 100}}], piece_g=100
    )
    page = text_of(instructor_client.get("/recipes/rye/"))
    assert "Allergens, US list none entered" in page
    assert "Allergens, EU list cereals containing gluten" in page
    assert "The label of the pack in your hand outranks it" in page
    assert "safe for" not in page
    assert "free from" not in page


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"pieces": "3"}, "3 × loaf, 160 g each : 480.0 g of dough from 300.0 g of flour."),
        ({"piece_g": "80"}, "1 × loaf, 80 g each : 80.0 g of dough from 50.0 g of flour."),
        (
            {"by": "flour", "flour_g": "1000", "piece_g": "450"},
            "3 × loaf, 450 g each : 1600.0 g of dough from 1000.0 g of flour, "
            "and 250.0 g of dough left over.",
        ),
        (
            {"by": "share", "flour_g": "1000", "pieces": "5"},
            "5 × loaf, 320 g each : 1600.0 g of dough from 1000.0 g of flour.",
        ),
        (
            {"by": "flour", "flour_g": "100", "piece_g": "450"},
            "Less than one loaf of 450 g : 160.0 g of dough from 100.0 g of flour.",
        ),
    ],
)
def test_two_of_pieces_mass_and_flour_give_the_third(instructor_client, bread, asked, words):
    assert words in text_of(instructor_client.get(URL, asked))


@pytest.mark.parametrize(
    ("asked", "field", "message"),
    [
        ({"pieces": "0"}, "pieces", "Enter 1 or more."),
        ({"pieces": "-3"}, "pieces", "Enter 1 or more."),
        ({"pieces": "10000"}, "pieces", "Enter 9999 or less."),
        ({"pieces": "1.5"}, "pieces", "We cannot read “1.5”"),
        ({"pieces": ""}, "pieces", "This field is required."),
        ({"piece_g": "1e400"}, "piece_g", "We cannot read “1e400”"),
        ({"piece_g": "NaN"}, "piece_g", "We cannot read “NaN”"),
        ({"piece_g": "٥٠٠"}, "piece_g", "We cannot read “٥٠٠”"),
        ({"piece_g": "1,000"}, "piece_g", "“1,000” could be 1000 or 1.000"),
        ({"piece_g": "9" * 5000}, "piece_g", "has more digits than any amount in a kitchen"),
        ({"by": "flour", "flour_g": "0"}, "flour_g", "Enter 1 g or more."),
        ({"scale": "5"}, "scale", "Select a valid choice"),
    ],
)
def test_bad_input_is_told_by_the_field_and_kept(instructor_client, bread, asked, field, message):
    answer = instructor_client.get(URL, asked)
    assert answer.status_code == 200
    assert message in " ".join(answer.context["scaling"].errors[field])
    assert message in text_of(answer)
    assert "No amounts." in text_of(answer)
    assert answer.context["scaling"][field].value() == asked[field]


def test_an_unknown_way_of_scaling_gives_no_amounts(instructor_client, bread):
    page = text_of(instructor_client.get(URL, {"by": "magic"}))
    assert "No amounts." in page


def test_bad_input_is_escaped(instructor_client, bread):
    page = instructor_client.get(URL, {"pieces": '"><script>x</script>'}).content.decode()
    assert "<script>x" not in page


@pytest.mark.parametrize(
    ("asked", "query"),
    [
        (
            {"by": "pieces", "pieces": "4", "piece_g": "160", "turn": "flour"},
            "by=flour&flour_g=400&piece_g=160&scale=0.1",
        ),
        (
            {"by": "pieces", "pieces": "4", "piece_g": "160", "scale": "1", "turn": "share"},
            "by=share&flour_g=400&pieces=4&scale=1",
        ),
        (
            {"by": "share", "flour_g": "1000", "pieces": "5", "turn": "pieces"},
            "by=pieces&pieces=5&piece_g=320&scale=0.1",
        ),
        (
            {"by": "flour", "flour_g": "abc", "piece_g": "450", "turn": "pieces"},
            "by=pieces&piece_g=450&scale=0.1",
        ),
        (
            {"by": "flour", "flour_g": "1", "piece_g": "450", "turn": "share"},
            "by=share&flour_g=1&pieces=1&scale=0.1",
        ),
    ],
)
@pytest.mark.parametrize("target", [None, "scaling"], ids=["plain", "htmx"])
def test_turning_to_another_way_keeps_the_batch(
    instructor_client, bread, htmx, asked, query, target
):
    headers = htmx | {"HX-Target": target} if target else {}
    answer = instructor_client.get(URL, asked, headers=headers)
    assert answer.status_code == 302
    assert answer["Location"] == f"{URL}?{query}"
    shown = instructor_client.get(answer["Location"], headers=headers)
    assert shown.context["scaling"].is_valid()


@pytest.mark.parametrize("turn", ["pieces", "", "magic"])
def test_turning_nowhere_shows_the_page(instructor_client, bread, turn):
    answer = instructor_client.get(URL, {"by": "pieces", "pieces": "4", "turn": turn})
    assert "4 × loaf" in text_of(answer)


def test_typing_while_another_way_is_marked_still_brings_the_batch(instructor_client, bread, htmx):
    asked = {"by": "pieces", "pieces": "4", "turn": "flour"}
    answer = instructor_client.get(URL, asked, headers=htmx | {"HX-Target": "batch"})
    assert "4 × loaf" in text_of(answer)


def test_the_way_in_use_is_the_one_marked(instructor_client, bread):
    html = instructor_client.get(URL, {"by": "share"}).content.decode()
    assert html.count(" checked") == 1
    assert 'name="turn" value="share" checked' in html


def test_the_batch_fragment_updates_card_sentence_and_messages(instructor_client, bread, htmx):
    answer = instructor_client.get(URL, {"pieces": "7"}, headers=htmx | {"HX-Target": "batch"})
    html = answer.content.decode()
    assert "<html" not in html
    assert "<form" not in html
    assert "7 × loaf" in text_of(answer)
    assert 'id="made" data-hx-swap-oob="innerHTML"' in html
    assert 'id="scale_pieces_trouble" class="trouble" data-hx-swap-oob="innerHTML"' in html


def test_the_batch_fragment_brings_messages_without_amounts(instructor_client, bread, htmx):
    answer = instructor_client.get(URL, {"pieces": "0"}, headers=htmx | {"HX-Target": "batch"})
    html = answer.content.decode()
    assert "Enter 1 or more." in html
    assert "<table" not in html


def test_the_scaling_fragment_brings_the_form(instructor_client, bread, htmx):
    answer = instructor_client.get(URL, {"by": "flour"}, headers=htmx | {"HX-Target": "scaling"})
    html = answer.content.decode()
    assert "<form" in html
    assert 'name="flour_g"' in html
    assert "<h1" not in html


def test_an_older_revision_says_so_and_links_the_current_one(instructor_client, bread):
    Revision.objects.filter(pk=bread.pk).update(is_current=False, in_use=True)
    RevisionFactory(recipe=bread.recipe, number=2, title="Better bread")
    page = instructor_client.get(f"{URL}revision/1/")
    assert "This is an older revision." in text_of(page)
    assert "for the classes that use it" in text_of(page)
    assert f'href="{URL}"' in page.content.decode()
    assert "Change the recipe" not in text_of(page)


def test_older_revisions_are_linked_and_tell_whether_a_class_uses_them(instructor_client, bread):
    Revision.objects.filter(pk=bread.pk).update(is_current=False, in_use=True)
    RevisionFactory(recipe=bread.recipe, number=2, title="Better bread")
    page = instructor_client.get(URL)
    assert f"{URL}revision/1/" in page.content.decode()
    assert "◼ in use by a class" in text_of(page)


@pytest.mark.parametrize("number", ["2", "0", "999999999999999999999999"])
def test_a_revision_that_is_not_there_is_missing(instructor_client, bread, number):
    assert instructor_client.get(f"{URL}revision/{number}/").status_code == 404


@pytest.fixture
def rich(instructor):
    """A loaf of which nearly everything is known: flour, milk, butter, sesame on top."""
    fields = {"water_percent": 10, "protein_percent": 12, "fat_percent": 2, "fiber_percent": 3}
    fields |= {"carbohydrate_percent": 75, "ash_percent": 1, "sodium_mg": 2, "energy_kcal": 360}
    wheat = IngredientFactory(
        name="Wheat flour",
        kind="flour",
        allergens_us=["wheat"],
        allergens_eu=["gluten-cereals"],
        **fields,
    )
    milk = IngredientFactory(
        name="Milk",
        kind="liquid",
        allergens_us=["milk"],
        allergens_eu=["milk"],
        **fields | {"water_percent": 88, "energy_kcal": 60, "carbohydrate_percent": 5},
    )
    butter = IngredientFactory(name="Butter", kind="fat", water_percent=16, energy_kcal=717)
    salt = IngredientFactory(name="Salt", kind="salt", key="salt", **dict.fromkeys(fields, 0))
    sesame = IngredientFactory(
        name="Sesame", allergens_us=["sesame"], may_contain="may contain peanuts"
    )
    return RevisionFactory(
        recipe__owner=instructor,
        recipe__slug="rich",
        piece_g=500,
        bake_loss_percent=12,
        bread_kind="soft or rich",
        core_temperature_c=90,
        parts=[
            {"lines": {wheat: 200, milk: 130, butter: 24, salt: "6.8"}},
            {"kind": "topping", "name": "Seeds", "lines": {sesame: 15}},
        ],
        steps=[
            {"kind": "mix", "text": "Mix flour and milk."},
            {"kind": "bake", "text": "Strew the seeds, and bake."},
        ],
    )


def test_salt_fat_and_yeast_stand_among_the_proportions(instructor_client, rich, two_day):
    page = text_of(instructor_client.get("/recipes/rich/"))
    assert "Salt 3.4 %" in page
    assert "Fat, as added 12 %" in page
    assert "Sugar" not in page
    assert "Instant yeast 0.4 %" in text_of(instructor_client.get("/recipes/two-day/"))


def test_the_unusual_explains_itself_with_its_source(instructor_client, rich, two_day):
    page = text_of(instructor_client.get("/recipes/rich/"))
    assert "Worth a second look Salt 3.4 %: most breads 1.5 to 2.5 %" in page
    assert "nothing is blocked" in page
    assert "Source: a baking textbook, quoted." in page
    assert "Worth a second look" not in text_of(instructor_client.get("/recipes/two-day/"))


def test_the_yield_explains_how_losses_count(instructor_client, rich):
    page = text_of(instructor_client.get("/recipes/rich/"))
    assert "Baked and cooled about 440 g (loses 12 %)" in page
    assert "For 500 g of bread 568.2 g of dough" in page
    assert "dough = finished ÷ (1 − loss). Here 500.0 g ÷ (1 − 0.12) = 568.2 g" in page
    assert "Small home batch, mixer to scale common practice, no source 8 % 543" in page


def test_without_a_baking_loss_the_yield_says_so(instructor_client, bread):
    page = text_of(instructor_client.get(URL))
    assert "no baking loss is entered" in page
    assert "g of bread" not in page


@pytest.mark.parametrize("loss", ["60", "100"])
def test_an_unlikely_baking_loss_breaks_nothing(instructor_client, bread, loss):
    Revision.objects.filter(pk=bread.pk).update(bake_loss_percent=loss)
    page = text_of(instructor_client.get(URL))
    assert f"no estimate: a loss of {loss} % is more than half" in page
    assert "No estimate: the baking loss entered" in page


@pytest.mark.parametrize(
    ("own", "place"), [(84, "lies below it"), (90, "lies in this range"), (96, "lies above it")]
)
def test_the_published_core_range_stands_beside_the_recipes_own(
    instructor_client, rich, own, place
):
    Revision.objects.filter(pk=rich.pk).update(core_temperature_c=own)
    page = text_of(instructor_client.get("/recipes/rich/"))
    assert "Published for soft or rich bread 85 to 91 °C (185 to 195 °F)" in page
    assert place in page


def test_a_bread_of_no_kind_asks_for_it(instructor_client, bread):
    page = text_of(instructor_client.get(URL))
    assert "the recipe does not say which kind of bread it is" in page


@pytest.mark.parametrize("height", ["5200 ft", "1585", "1585 m"])
def test_high_up_the_core_temperature_is_capped_and_advice_is_a_range(
    instructor_client, rich, height
):
    Revision.objects.filter(pk=rich.pk).update(core_temperature_c=96)
    page = text_of(instructor_client.get("/recipes/rich/", {"height": height}))
    assert "Water boils at 1585 m at about 94.7 °C" in page
    assert "▲ Too hot for this height." in page
    assert "Yeast: −33 to −25 %" in page
    assert "Published figures for heights disagree" in page


def test_near_the_sea_nothing_is_advised(instructor_client, rich):
    page = text_of(instructor_client.get("/recipes/rich/", {"height": "100"}))
    assert "nothing is usually changed" in page
    assert "Too hot" not in page


@pytest.mark.parametrize("height", ["x", "9000", "1e9", "5 cups", "٥", "9" * 400])
def test_a_height_that_cannot_be_is_told_by_the_field(instructor_client, rich, height):
    answer = instructor_client.get("/recipes/rich/", {"height": height})
    assert answer.context["height"].errors["height"]
    assert "Water boils" not in text_of(answer)


def test_the_fragment_of_a_height_is_the_doneness_alone(instructor_client, rich, htmx):
    headers = htmx | {"HX-Target": "done"}
    html = instructor_client.get("/recipes/rich/", {"height": "2000"}, headers=headers)
    assert "Water boils at 2000 m" in text_of(html)
    assert "<form" not in html.content.decode()


def test_nutrition_is_an_estimate_that_names_what_it_leaves_out(instructor_client, rich):
    page = text_of(instructor_client.get("/recipes/rich/"))
    piece = page.partition("Nutrition of one loaf")[2]
    # 500 g of dough hold 277.16 g flour, 180.15 g milk, 33.26 g butter and 9.42 g salt.
    # 997.8 + 108.1 + 238.5 = 1344.4 kcal, to the nearest ten.
    assert "Energy 1340 kcal ◆ in part" in piece
    assert "Sesame, 15 g (nothing is entered for it)" in piece
    assert "Butter, 33.3 g (no fat, carbohydrate, fiber, protein, sodium)" in piece
    assert "Estimate from composition tables, not a laboratory value." in piece
    assert "no claim about a label you may have to print: local law decides" in piece


def test_the_trace_goes_from_allergen_to_ingredient_part_and_step(instructor_client, rich):
    page = text_of(instructor_client.get("/recipes/rich/")).partition("Where allergens come in")[2]
    us, eu = page.partition("US list (nine)")[2].split("EU list (fourteen)")
    assert "Milk Milk Dough 1 mix" in us
    assert "Wheat Wheat flour Dough no step names it" in us
    assert "Sesame Sesame Seeds 2 bake" in us
    assert "Cereals containing gluten Wheat flour Dough" in eu
    assert "Sesame, in Seeds: “may contain peanuts”" in eu
    assert "It cannot tell what a food lacks" in page
    assert "ask the person" in page
    assert "safe for" not in page
    assert "free from" not in page


def test_a_list_of_which_nothing_is_entered_says_just_that(instructor_client, bread):
    page = text_of(instructor_client.get(URL))
    assert page.count("Nothing of this list is entered with the ingredients.") == 2


@pytest.mark.parametrize("name", ["pans", "exchange", "adjust", "variants", "photos"])
def test_the_pages_that_work_with_the_recipe_are_linked(instructor_client, bread, name):
    html = instructor_client.get(URL).content.decode()
    assert f'href="{reverse(f"recipes:{name}", args=["bread"])}"' in html
    assert "At the bench:" in html


def test_the_number_of_queries_does_not_grow(
    instructor_client, instructor, bread, two_day, django_assert_num_queries
):
    # Session, user, group; revision, components, lines, ingredients, steps; photos; other
    # revisions. Fewer than twelve is promised.
    for url in (URL, "/recipes/two-day/"):
        with django_assert_num_queries(10):
            instructor_client.get(url)


@pytest.mark.parametrize("url", [URL, f"{URL}revision/1/"])
@pytest.mark.parametrize("method", ["post", "put", "delete"])
def test_it_is_there_to_be_read_only(instructor_client, bread, url, method):
    assert getattr(instructor_client, method)(url).status_code == 405


@pytest.mark.parametrize("url", [URL, f"{URL}revision/1/"])
def test_outsiders_do_not_learn_that_it_exists(
    stranger, assistant_client, other_client, bread, url
):
    assert stranger.get(url).status_code == 302
    assert assistant_client.get(url).status_code == 404
    assert other_client.get(url).status_code == 404
