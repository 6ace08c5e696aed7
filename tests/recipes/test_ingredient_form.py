"""Adding and changing an ingredient of one's own."""

from decimal import Decimal

import pytest

from recipes.ingredients.services import change_ingredient
from recipes.models import Ingredient
from tests.factories import IngredientFactory, RevisionFactory, UserFactory, flour
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
NEW = "/ingredients/new/"
EDIT = "/ingredients/mine/edit/"


@pytest.fixture
def posted():
    return {
        "name": "Stone-ground flour",
        "kind": "flour",
        "water_percent": "12.5",
        "cup_g": "",
        "density_g_per_ml": "",
        "each_g": "",
        "each_name": "",
        "pack_g": "1000",
        "aisle": "mill",
        "storage": "ambient",
        "allergens_us": ["wheat"],
        "allergens_eu": ["gluten-cereals", "sesame"],
        "may_contain": "may contain sesame",
        "note": "",
    }


@pytest.fixture
def mine(instructor):
    return IngredientFactory(name="My flour", key="mine", kind="flour", owner=instructor)


def errors(answer, field):
    return " ".join(answer.context["form"].errors.get(field, []))


def test_an_ingredient_is_added_to_ones_own(instructor_client, instructor, posted):
    answer = instructor_client.post(NEW, posted, follow=True)
    assert answer.redirect_chain == [("/ingredients/", 302)]
    assert "Stone-ground flour is on your list." in text_of(answer)
    made = Ingredient.objects.get()
    assert made.owner == instructor
    assert made.key.startswith("stone-ground-flour-")
    assert (made.kind, made.water_percent, made.pack_g) == ("flour", Decimal("12.5"), 1000)
    assert made.allergens_us == ["wheat"]
    assert made.allergens_eu == ["gluten-cereals", "sesame"]
    assert made.density_g_per_ml is None
    made.full_clean()


def test_a_pack_that_was_read_has_its_allergens_known(instructor_client, posted):
    nothing = posted | {"allergens_us": [], "allergens_eu": [], "may_contain": ""}
    instructor_client.post(NEW, nothing)
    assert "Cannot say which allergens it contains" in text_of(
        instructor_client.get("/ingredients/")
    )
    instructor_client.post(NEW, nothing | {"name": "Rice", "allergens_read": "on"})
    unread, read = Ingredient.objects.order_by("allergens_read")
    assert (unread.allergens_known, read.allergens_known) == (False, True)
    assert read.name == "Rice"


def test_a_cup_weight_becomes_a_density(instructor_client, posted):
    instructor_client.post(NEW, posted | {"cup_g": "120"})
    made = Ingredient.objects.get()
    assert made.density_g_per_ml == Decimal("0.50721")  # 120 g over 236.5882365 mL
    assert made.density_source == "as entered"
    assert "120 g a cup" in text_of(instructor_client.get("/ingredients/"))


def test_a_counted_thing_is_called_a_piece_unless_named(instructor_client, posted):
    instructor_client.post(NEW, posted | {"each_g": "30"})
    assert Ingredient.objects.get().each_name == "piece"


def test_a_copy_starts_from_the_shared_values(instructor_client):
    IngredientFactory(name="Egg", key="egg", kind="egg", each_g=50, allergens_eu=["eggs"])
    form = instructor_client.get(NEW, {"like": "egg"}).context["form"]
    assert form["name"].value() == "Egg"
    assert form["each_g"].value() == "50"
    assert form["allergens_eu"].value() == ["eggs"]


@pytest.mark.parametrize("like", ["", "nothing", "secret"])
def test_nothing_is_copied_from_what_is_not_there_or_not_ones_own(instructor_client, like):
    IngredientFactory(name="Secret", key="secret", owner=UserFactory())
    answer = instructor_client.get(NEW, {"like": like})
    assert answer.status_code == 200
    assert "Secret" not in answer.content.decode()


def test_a_copy_may_keep_the_shared_name(instructor_client, posted):
    IngredientFactory(name="Stone-ground flour")
    assert instructor_client.post(NEW, posted).status_code == 302


def test_an_own_ingredient_is_changed(instructor_client, mine, posted):
    assert instructor_client.get(EDIT).context["form"]["name"].value() == "My flour"
    instructor_client.post(EDIT, posted | {"name": "My flour"})
    mine.refresh_from_db()
    assert (mine.name, mine.aisle, mine.key) == ("My flour", "mill", "mine")


def test_an_unchanged_density_keeps_its_source(instructor_client, mine, posted):
    Ingredient.objects.update(density_g_per_ml="0.5", density_source="a scale at the mill")
    instructor_client.post(EDIT, posted | {"density_g_per_ml": "0.5"})
    mine.refresh_from_db()
    assert mine.density_source == "a scale at the mill"
    instructor_client.post(EDIT, posted | {"density_g_per_ml": "0.6"})
    mine.refresh_from_db()
    assert mine.density_source == "as entered"


def test_a_change_leaves_the_grams_of_recipes_alone(instructor_client, mine, posted):
    revision = RevisionFactory(parts=[{"lines": {mine: 100}}])
    instructor_client.post(EDIT, posted | {"cup_g": "150"})
    assert revision.components.get().lines.get().mass_g == 100


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"name": ""}, "name", "This field is required."),
        ({"name": "n" * 81}, "name", "at most 80 characters"),
        ({"name": "  my   FLOUR "}, "name", "You already have an ingredient with this name."),
        ({"kind": "metal"}, "kind", "Select a valid choice."),
        ({"water_percent": "101"}, "water_percent", "Enter 100 % or less."),
        ({"water_percent": "-1"}, "water_percent", "Enter 0 % or more."),
        ({"water_percent": "NaN"}, "water_percent", "We cannot read “NaN”."),
        ({"density_g_per_ml": "0"}, "density_g_per_ml", "Enter 0.01 g or more."),
        ({"density_g_per_ml": "1e400"}, "density_g_per_ml", "We cannot read “1e400”."),
        ({"cup_g": "120", "density_g_per_ml": "0.5"}, "cup_g", "not both."),
        ({"each_g": "0"}, "each_g", "Enter 0.01 g or more."),
        ({"each_name": "clove"}, "each_g", "Say what one piece weighs."),
        ({"allergens_us": ["gluten-cereals"]}, "allergens_us", "Select a valid choice."),
        ({"allergens_eu": ["wheat"]}, "allergens_eu", "Select a valid choice."),
        ({"may_contain": "m" * 201}, "may_contain", "at most 200 characters"),
        ({"note": "n" * 100_000}, "note", "at most 300 characters"),
        ({"storage": "roof"}, "storage", "Select a valid choice."),
    ],
)
def test_bad_input_is_told_by_the_field_and_kept(
    instructor_client, mine, posted, change, field, message
):
    answer = instructor_client.post(NEW, posted | change)
    assert answer.status_code == 200
    assert message in errors(answer, field)
    assert message in text_of(answer)
    assert answer.context["form"]["aisle"].value() == "mill"
    assert Ingredient.objects.get() == mine


def test_a_post_without_fields_is_refused(instructor_client):
    answer = instructor_client.post(NEW, {})
    assert "This field is required." in errors(answer, "name")


def test_extra_fields_change_nothing(instructor_client, instructor, mine, posted):
    other = UserFactory()
    instructor_client.post(EDIT, posted | {"owner": other.pk, "key": "stolen", "tap": "on"})
    mine.refresh_from_db()
    assert (mine.owner, mine.key, mine.tap) == (instructor, "mine", False)


def test_two_lists_of_allergens_stand_apart(instructor_client):
    html = instructor_client.get(NEW).content.decode()
    assert html.count('name="allergens_us"') == 9
    assert html.count('name="allergens_eu"') == 14


def test_shared_ingredients_have_no_edit_page(instructor_client, posted):
    IngredientFactory(name="Water", key="water")
    for method in ("get", "post"):
        assert (
            getattr(instructor_client, method)("/ingredients/water/edit/", posted).status_code
            == 404
        )


def test_the_service_refuses_to_change_a_shared_ingredient():
    with pytest.raises(ValueError, match="shared"):
        change_ingredient(ingredient=IngredientFactory(), values={"name": "X"})


@pytest.mark.parametrize("method", ["get", "post"])
def test_outsiders_neither_add_nor_change(
    stranger, assistant_client, other_client, mine, posted, method
):
    for client, status in ((stranger, 302), (assistant_client, 404)):
        assert getattr(client, method)(NEW, posted).status_code == status
    for client, status in ((stranger, 302), (assistant_client, 404), (other_client, 404)):
        assert getattr(client, method)(EDIT, posted).status_code == status
    assert Ingredient.objects.get().name == "My flour"


@pytest.mark.parametrize("method", ["put", "delete", "patch"])
def test_other_methods_are_refused(instructor_client, mine, method):
    for url in (NEW, EDIT):
        assert getattr(instructor_client, method)(url).status_code == 405


THIRDS = {"bread-flour": Decimal("33.3"), "rye-flour": Decimal("66.7")}
STARTER = {"kind": "starter", "allergens_us": [], "allergens_eu": [], "hydration_percent": "80"}


@pytest.fixture
def rye(instructor):
    flour()
    return IngredientFactory(name="Rye flour, medium", key="rye-flour", kind="flour")


def made_of(ingredient):
    return {of.flour.key: of.percent for of in ingredient.made_of.all()}


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("Rye flour, medium", {"rye-flour": 100}),
        ("75 bread flour\n\n 25 % RYE FLOUR, medium", {"bread-flour": 75, "rye-flour": 25}),
        ("33,3 % Bread flour\n66.7 % Rye flour, medium", THIRDS),
        ("", {}),
    ],
)
def test_a_starter_is_made_of_the_flours_that_are_written(
    instructor_client, posted, rye, written, expected
):
    instructor_client.post(NEW, posted | STARTER | {"flours": written})
    made = Ingredient.objects.get(kind="starter")
    assert made.hydration_percent == 80
    assert made_of(made) == expected
    shown = instructor_client.get(f"/ingredients/{made.key}/edit/").context["form"]["flours"]
    instructor_client.post(
        f"/ingredients/{made.key}/edit/", posted | STARTER | {"flours": shown.value()}
    )
    assert made_of(Ingredient.objects.get(kind="starter")) == expected


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("50 % Bread flour\n40 % Rye flour, medium", "come to 90 %"),
        ("50 % Bread flour\nRye flour, medium", "Say the share of “Rye flour, medium”"),
        ("50 % Bread flour\n50 % Bread flour", "there twice"),
        ("Bred flour", "Did you mean Bread flour?"),
        ("0 % Bread flour", "no share"),
        ("1,000 % Bread flour", "say which"),
    ],
)
def test_flours_that_do_not_make_a_starter_are_refused(
    instructor_client, posted, rye, written, said
):
    answer = instructor_client.post(NEW, posted | STARTER | {"flours": written})
    assert said in errors(answer, "flours")


def test_only_a_starter_has_water_and_flours_to_be_fed_with(instructor_client, posted, rye):
    more = {"hydration_percent": "100", "flours": "Bread flour"}
    answer = instructor_client.post(NEW, posted | more)
    assert "Only a starter" in errors(answer, "hydration_percent")
    assert "Only a starter" in errors(answer, "flours")


def test_a_flour_that_a_starter_is_fed_with_stays_a_flour(instructor_client, posted, mine):
    IngredientFactory(name="Old starter", kind="starter").made_of.create(flour=mine, percent=100)
    answer = instructor_client.post(EDIT, posted | {"kind": "grain"})
    assert "Old starter is fed with it" in errors(answer, "kind")


def test_an_own_flour_of_the_same_name_is_not_taken_for_the_shared_one(
    instructor_client, instructor, posted, rye
):
    IngredientFactory(name="Rye flour, medium", kind="flour", owner=instructor)
    made = IngredientFactory(name="Old starter", key="old", kind="starter", owner=instructor)
    made.made_of.create(flour=rye, percent=100)
    shown = instructor_client.get("/ingredients/old/edit/").context["form"]["flours"].value()
    assert shown == "100 % Rye flour, medium (shared)"
    instructor_client.post("/ingredients/old/edit/", posted | STARTER | {"flours": shown})
    assert made_of(made) == {"rye-flour": 100}


def test_the_number_of_queries_is_fixed(instructor_client, mine, django_assert_num_queries):
    with django_assert_num_queries(4):
        instructor_client.get(EDIT)
    with django_assert_num_queries(4):
        instructor_client.get(NEW, {"like": "mine"})
