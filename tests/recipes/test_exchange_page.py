"""Exchange: yeast forms, salts, eggs and flours of the batch that is shown."""

import re

import pytest

from tests.factories import IngredientFactory, RevisionFactory, flour, water
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
URL = "/recipes/loaf/exchange/"


def made(instructor, *, yeast_key="instant-yeast", yeast_name="Instant yeast", more=()):
    """A 1000 g loaf with 10 g of a yeast and 12 g of salt."""
    yeast = IngredientFactory(key=yeast_key, name=yeast_name, kind="yeast")
    salt = IngredientFactory(key="table-salt", name="Table salt", kind="salt")
    wheat = flour(protein_percent="11.98", allergens_us=["wheat"])
    lines = {wheat: 600, water(): 378, yeast: 10, salt: 12}
    parts = [{"name": "Final dough", "lines": lines}, *more]
    return RevisionFactory(recipe__owner=instructor, recipe__slug="loaf", piece_g=1000, parts=parts)


@pytest.fixture
def loaf(instructor):
    return made(instructor)


@pytest.fixture
def eggs(db):
    whole = IngredientFactory(
        key="egg", name="Egg, whole", kind="egg", each_g=50, each_name="large egg"
    )
    yolk = IngredientFactory(
        key="egg-yolk", name="Egg yolk", kind="egg", each_g=17, each_name="large yolk"
    )
    return whole, yolk


def test_yeast_is_shown_in_its_other_forms_with_the_water(instructor_client, loaf):
    page = text_of(instructor_client.get(URL))
    assert "10.00 g of instant yeast in Final dough" in page
    assert "Fresh yeast 30.3 g exactly 30.30 g leave out 20.3 g of water" in page
    assert "Active dry yeast 12.1 g exactly 12.12 g the water stays as it is" in page


def test_fresh_yeast_gives_way_to_water(instructor_client, instructor):
    made(instructor, yeast_key="fresh-yeast", yeast_name="Fresh yeast")
    page = text_of(instructor_client.get(URL))
    assert re.search(r"Instant yeast 3\.3 g exactly 3\.30 g, ◆ coarse add 6\.7 g of water", page)


def test_the_batch_is_the_one_asked_for(instructor_client, loaf):
    page = text_of(instructor_client.get(URL, {"by": "pieces", "pieces": "3", "piece_g": "500"}))
    assert "3 × loaf, 500 g each : 1500.0 g of dough" in page
    assert "15.00 g of instant yeast" in page


def test_it_takes_every_way_of_scaling(instructor_client, loaf):
    page = text_of(instructor_client.get(URL, {"by": "flour", "flour_g": "1200", "piece_g": "500"}))
    assert "20.00 g of instant yeast" in page


def test_published_factors_are_shown_with_sources_and_disagree(instructor_client, loaf):
    page = text_of(instructor_client.get(URL))
    assert "published factors give 25.00 to 30.30 g" in page
    assert "a professional bread textbook, second-hand" in page
    assert "from memory, no source" in page
    assert "Published factors disagree" in page


def test_another_set_of_factors_can_be_chosen(instructor_client, loaf):
    page = text_of(instructor_client.get(URL, {"factors": "kitchen"}))
    assert "Fresh yeast 25.0 g exactly 25.00 g" in page


def test_a_source_that_is_silent_says_so(instructor_client, loaf):
    page = text_of(instructor_client.get(URL, {"factors": "half"}))
    assert "Fresh yeast not in this source" in page


def test_factors_of_ones_own_count_when_chosen(instructor_client, loaf):
    own = {"active_dry": "0.5", "instant": "0.25"}
    assert "Fresh yeast 30.3 g" in text_of(instructor_client.get(URL, own))
    chosen = text_of(instructor_client.get(URL, own | {"factors": "own"}))
    assert "Fresh yeast 40 g exactly 40.00 g" in chosen
    assert "Active dry yeast 20.0 g" in chosen


def test_every_yeast_line_is_answered(instructor_client, instructor):
    active = IngredientFactory(key="active-dry-yeast", name="Active dry yeast", kind="yeast")
    poolish = {"kind": "preferment", "name": "Poolish", "lines": {flour(): 100, active: 1}}
    made(instructor, more=[poolish])
    page = text_of(instructor_client.get(URL))
    assert "g of instant yeast in Final dough" in page
    assert "g of active dry yeast in Poolish" in page


def test_a_yeast_that_tells_no_form_is_asked_about(instructor_client, instructor):
    made(instructor, yeast_key="own-yeast", yeast_name="Village yeast")
    page = text_of(instructor_client.get(URL))
    assert "says which form of yeast this is" in page
    assert "Yeast whose name tells no form is" in page
    told = text_of(instructor_client.get(URL, {"unknown_form": "fresh"}))
    assert "Instant yeast 3.3 g" in told


def test_a_known_yeast_is_not_asked_about(instructor_client, loaf):
    assert "tells no form" not in text_of(instructor_client.get(URL))


def test_salt_is_by_mass_and_coarse_kinds_say_weigh_it(instructor_client, loaf):
    page = text_of(instructor_client.get(URL))
    assert "12.00 g of table salt in Final dough. The mass is the same for every kind." in page
    assert "Table salt 12.00 g about 2.0 tsp, at 6.0 g a teaspoon" in page
    assert re.search(
        r"Light coarse flake salt 12\.00 g ◆ weigh it : a teaspoon holds 2\.8 to", page
    )
    assert re.search(
        r"Dense coarse flake salt 12\.00 g ◆ weigh it : a teaspoon holds 4\.4 to", page
    )


def test_eggs_come_in_sizes_of_both_lists(instructor_client, instructor, eggs):
    whole, yolk = eggs
    wash = {"kind": "wash", "name": "Wash", "for_pieces": 1, "lines": {whole: 110, yolk: 20}}
    made(instructor, more=[wash])
    page = text_of(instructor_client.get(URL))
    assert "110.00 g of egg, whole in Wash" in page
    assert "US large 3 from 2.2" in page
    assert "US jumbo 2 from 1.7" in page
    assert "EU M 3 from 2.2" in page
    assert "Regulation (EC) 589/2008" in page
    assert "Take 2 (large yolk) and weigh 20.0 g." in page


def test_a_recipe_without_yeast_salt_or_eggs_says_so(instructor_client, bread):
    page = text_of(instructor_client.get("/recipes/bread/exchange/"))
    assert "No line of this recipe is a yeast." in page
    assert "No line of this recipe is a salt." in page
    assert "No line of this recipe is an egg." in page


def test_the_flour_at_hand_brings_a_note(instructor_client, loaf):
    IngredientFactory(
        key="cake-flour", name="Cake flour", kind="flour",
        protein_percent="8.2", allergens_us=["wheat"],
    )  # fmt: skip
    page = text_of(instructor_client.get(URL, {"flour": "cake-flour"}))
    assert "With cake flour instead" in page
    assert "Less protein (Bread flour 12.0 g, Cake flour 8.2 g in 100 g)" in page
    same = text_of(instructor_client.get(URL, {"flour": "bread-flour"}))
    assert "The same flour." in same


def test_a_flour_without_wheat_is_warned_of(instructor_client, loaf):
    IngredientFactory(key="rice-flour", name="Rice flour", kind="flour", protein_percent="5.95")
    page = text_of(instructor_client.get(URL, {"flour": "rice-flour"}))
    assert "Rice flour makes little or no gluten" in page


def test_flours_of_others_are_not_offered(instructor_client, loaf, other_instructor):
    IngredientFactory(key="secret", name="Secret flour", kind="flour", owner=other_instructor)
    answer = instructor_client.get(URL, {"flour": "secret"})
    assert "Secret flour" not in text_of(answer)
    assert "flour" in answer.context["form"].errors


@pytest.mark.parametrize(
    ("asked", "form", "field", "message"),
    [
        ({"pieces": "0"}, "scaling", "pieces", "Enter 1 or more."),
        ({"piece_g": "lots"}, "scaling", "piece_g", "We cannot read"),
        ({"factors": "lucky"}, "form", "factors", "Select a valid choice"),
        ({"active_dry": "0"}, "form", "active_dry", "Enter 0.1 or more."),
        ({"instant": "1/0"}, "form", "instant", "We cannot read"),
        ({"instant": ""}, "form", "instant", "required"),
    ],
)
def test_bad_input_is_told_by_its_field(instructor_client, loaf, asked, form, field, message):
    answer = instructor_client.get(URL, asked)
    assert message in answer.context[form].errors[field][0]
    assert "No answer yet." in text_of(answer)
    assert message in text_of(answer)


@pytest.mark.parametrize("text", ["<b>9</b>", "9" * 5000, "NaN", "\0", "1,000"])
@pytest.mark.parametrize("name", ["by", "pieces", "factors", "instant", "flour", "scale"])
def test_any_text_gets_a_page_and_no_markup(instructor_client, loaf, name, text):
    answer = instructor_client.get(URL, {name: text})
    assert answer.status_code == 200
    assert "<b>9</b>" not in answer.content.decode()


def test_typing_brings_the_answer_and_the_messages_alone(instructor_client, loaf, htmx):
    headers = htmx | {"HX-Target": "bench-result"}
    html = instructor_client.get(URL, {"instant": "0"}, headers=headers).content.decode()
    assert "<html" not in html
    assert "<form" not in html
    assert 'id="exchange_instant_trouble" class="trouble" data-hx-swap-oob="innerHTML"' in html


def test_others_recipes_are_not_there(other_client, assistant_client, stranger, loaf):
    assert other_client.get(URL).status_code == 404
    assert assistant_client.get(URL).status_code == 404
    assert stranger.get(URL).status_code == 302


def test_it_is_only_to_read(instructor_client, loaf):
    assert instructor_client.post(URL).status_code == 405


def test_it_takes_few_queries(instructor_client, loaf, django_assert_max_num_queries):
    with django_assert_max_num_queries(9):
        instructor_client.get(URL)
