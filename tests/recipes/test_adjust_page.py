"""Adjusting a recipe's proportions: before and after side by side, then saved as a change."""

from decimal import Decimal

import pytest

from recipes.models import Revision
from tests.factories import IngredientFactory, RevisionFactory, flour, water
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
URL = "/recipes/hearth/adjust/"
BREAD, WHEAT, WATER, SALT = (f"line-0-{n}" for n in range(4))


@pytest.fixture
def hearth(instructor):
    """1000 g of two flours, 680 g of water, 20 g of salt, a wash; one note, words and steps."""
    wheat = IngredientFactory(name="Whole wheat flour", key="wheat", kind="flour")
    salt = IngredientFactory(name="Table salt", key="table-salt", kind="salt")
    made = RevisionFactory(
        recipe__owner=instructor,
        recipe__slug="hearth",
        title="Hearth loaf",
        piece_g=520,
        bake_loss_percent=12,
        bread_kind="lean",
        parts=[
            {"name": "Dough", "lines": {flour(): 850, wheat: 150, water(): 680, salt: 20}},
            {"kind": "wash", "name": "Wash", "for_pieces": 4, "lines": {water(): 10}},
        ],
        steps=[{"kind": "bake", "text": "Bake it.", "waiting_min": 30, "temperature_c": 230}],
    )
    made.components.first().lines.filter(position=2).update(entered="680 ml", note="cold")
    return made


def posted(client, **fields):
    """What the page posts: what it knows already, and what somebody wrote."""
    seen = client.get(URL).context["form"].seen
    return {"by": "percent", "held": "flour", "seen": seen, **fields}


def grams():
    revision = Revision.objects.get(recipe__slug="hearth", is_current=True)
    return [line.mass_g for line in revision.components.first().lines.all()]


def after(response, name):
    return next(line for line in response.context["seen"].lines if line.name == name)


def test_the_page_shows_the_formula_on_both_sides_at_first(instructor_client, hearth):
    page = text_of(instructor_client.get(URL))
    assert "The flour stays, and the dough grows or shrinks" in page
    assert "The dough stays, and everything else makes room" in page
    assert "Water 680.0 680.0 68.0 68.0" in " ".join(page.replace("\N{FIGURE SPACE}", "").split())
    assert "changed" not in page


def test_a_percentage_with_the_flour_held_grows_the_dough(instructor_client, hearth):
    answer = instructor_client.post(URL, posted(instructor_client, **{WATER: "72"}, show=""))
    assert after(answer, "Water").after_g == 720
    assert "Dough changed" in text_of(answer).replace("◆ ", "")
    assert "1700.0 g 1740.0 g" in text_of(answer)
    assert grams() == [850, 150, 680, 20]


def test_a_percentage_with_the_dough_held_makes_room(instructor_client, hearth):
    fields = posted(instructor_client, **{WATER: "72", "held": "dough"}, show="")
    answer = instructor_client.post(URL, fields)
    assert "Dough 1700.0 g 1700.0 g" in text_of(answer)
    assert f"{after(answer, 'Water').after_percent:.6f}" == "72.000000"


def test_grams_are_written_over_the_grams_of_the_recipe(instructor_client, hearth):
    fields = posted(instructor_client, by="grams", held="dough", **{WATER: "700"}, show="")
    answer = instructor_client.post(URL, fields)
    assert after(answer, "Water").after_g == 700
    assert f"{after(answer, 'Table salt').after_g:.3f}" == "19.608"


def test_a_target_dough_grows_every_line(instructor_client, hearth):
    fields = posted(instructor_client, by="dough", dough_g="3400", save="")
    assert instructor_client.post(URL, fields).status_code == 302
    assert grams() == [1700, 300, 1360, 40]


def test_saving_writes_over_a_revision_that_no_class_uses(instructor_client, hearth):
    fields = posted(instructor_client, **{WATER: "72"}, save="")
    answer = instructor_client.post(URL, fields, follow=True)
    assert "Saved as revision 1." in text_of(answer)
    assert "Classes that use" not in text_of(answer)
    assert grams() == [850, 150, 720, 20]
    assert Revision.objects.filter(recipe__slug="hearth").count() == 1


def test_saving_makes_a_new_revision_when_a_class_uses_this_one(instructor_client, hearth):
    Revision.objects.filter(pk=hearth.pk).update(in_use=True)
    page = text_of(instructor_client.get(URL))
    assert "A class uses revision 1." in page
    assert "Save as the next revision" in page
    fields = posted(instructor_client, **{WATER: "72"}, save="")
    answer = instructor_client.post(URL, fields, follow=True)
    assert "Saved as revision 2. Classes that use revision 1 keep it." in text_of(answer)
    old = Revision.objects.get(pk=hearth.pk)
    assert old.components.first().lines.get(position=2).mass_g == 680
    assert grams() == [850, 150, 720, 20]


def test_saving_keeps_everything_else_and_drops_words_that_no_longer_hold(
    instructor_client, hearth
):
    instructor_client.post(URL, posted(instructor_client, **{SALT: "2.2"}, save=""))
    now = Revision.objects.get(recipe__slug="hearth", is_current=True)
    assert (now.title, now.bread_kind, now.bake_loss_percent) == ("Hearth loaf", "lean", 12)
    assert [(step.text, step.temperature_c) for step in now.steps.all()] == [("Bake it.", 230)]
    dough, wash = now.components.all()
    assert (wash.for_pieces, wash.lines.get().mass_g) == (4, 10)
    kept = dough.lines.get(position=2)
    assert (kept.entered, kept.note) == ("680 ml", "cold")
    instructor_client.post(URL, posted(instructor_client, **{WATER: "70"}, save=""))
    now = Revision.objects.get(recipe__slug="hearth", is_current=True)
    changed = now.components.first().lines.get(position=2)
    assert (changed.entered, changed.note, changed.mass_g) == ("", "cold", 700)


def test_the_wash_can_be_written_over_too(instructor_client, hearth):
    instructor_client.post(
        URL, posted(instructor_client, by="grams", **{"line-1-0": "16"}, save="")
    )
    now = Revision.objects.get(recipe__slug="hearth", is_current=True)
    assert now.components.last().lines.get().mass_g == 16
    assert grams() == [850, 150, 680, 20]


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({WATER: "0"}, "Enter 0.001 % or more."),
        ({WATER: "-5"}, "Enter 0.001 % or more."),
        ({WATER: "x"}, "We cannot read “x”"),
        ({WATER: "1e5"}, "We cannot read “1e5”"),
        ({WATER: "9" * 4000}, "has more digits than any amount in a kitchen"),
        ({WATER: "1001"}, "Enter 1000 % or less."),
        ({WHEAT: "100"}, "those you entered come to 100 %"),
        ({BREAD: "80", WHEAT: "30"}, "those you entered come to 110 %"),
        ({"by": "grams", BREAD: "900", WHEAT: "200"}, "The flour stays at 1000 g"),
        ({"by": "grams", "held": "dough", WATER: "1700"}, "The dough stays at 1700 g"),
        ({"by": "dough", "dough_g": "0"}, "Enter 0.001 g or more."),
        ({"by": "dough", "dough_g": "0.001"}, "would come to too little to weigh"),
        ({"by": "magic"}, "Not worked out."),
        ({"held": "magic"}, "Not worked out."),
    ],
)
def test_bad_input_is_told_kept_and_never_saved(instructor_client, hearth, fields, words):
    answer = instructor_client.post(URL, posted(instructor_client, **fields, save=""))
    assert answer.status_code == 200
    assert words in text_of(answer)
    assert grams() == [850, 150, 680, 20]
    for name, text in fields.items():
        if name.startswith("line"):
            assert answer.context["form"][name].value() == text


def test_markup_in_a_field_is_escaped(instructor_client, hearth):
    fields = posted(instructor_client, **{WATER: "<script>x</script>"}, show="")
    assert "<script>x" not in instructor_client.post(URL, fields).content.decode()


def test_saving_without_a_change_says_so(instructor_client, hearth):
    answer = instructor_client.post(URL, posted(instructor_client, save=""))
    assert "Nothing is changed yet." in text_of(answer)


@pytest.mark.parametrize("seen", ["", "0123456789abcdef"])
def test_a_recipe_changed_meanwhile_is_not_written_over(instructor_client, hearth, seen):
    fields = posted(instructor_client, **{WATER: "72"}, save="") | {"seen": seen}
    answer = instructor_client.post(URL, fields)
    assert "The recipe has changed since this page was opened." in text_of(answer)
    assert grams() == [850, 150, 680, 20]
    again = fields | {"seen": answer.context["form"].seen}
    assert instructor_client.post(URL, again).status_code == 302


@pytest.mark.parametrize("pressed", ["show", "save"])
def test_turning_to_another_way_starts_anew_and_saves_nothing(instructor_client, hearth, pressed):
    fields = posted(instructor_client, turn="grams", **{WATER: "72", pressed: ""})
    answer = instructor_client.post(URL, fields)
    assert answer.context["form"].way == "grams"
    assert answer.context["form"][WATER].value() is None
    assert "now 680 g" in text_of(answer)
    assert grams() == [850, 150, 680, 20]


def test_the_live_fragment_is_before_and_after_with_the_messages(instructor_client, hearth, htmx):
    fields = posted(instructor_client, **{WATER: "72"})
    answer = instructor_client.post(URL, fields, headers=htmx | {"HX-Target": "adjusted"})
    html = answer.content.decode()
    assert "1740.0" in html
    assert "<form" not in html
    assert f'id="adjust_{WATER}_trouble" class="trouble" data-hx-swap-oob="innerHTML"' in html


def test_the_turned_fragment_is_the_whole_form(instructor_client, hearth, htmx):
    fields = posted(instructor_client, turn="dough")
    answer = instructor_client.post(URL, fields, headers=htmx | {"HX-Target": "adjust"})
    html = answer.content.decode()
    assert 'name="dough_g"' in html
    assert "<h1" not in html


def test_the_unusual_is_pointed_out_and_blocks_nothing(instructor_client, hearth):
    fields = posted(instructor_client, **{SALT: "3.4"})
    page = text_of(instructor_client.post(URL, fields | {"show": ""}))
    assert "Salt 3.4 %: most breads 1.5 to 2.5 %" in page
    assert instructor_client.post(URL, fields | {"save": ""}).status_code == 302
    assert grams()[3] == Decimal("34")


def test_the_number_of_queries_is_fixed(instructor_client, hearth, django_assert_num_queries):
    # Session, user, group; revision, components, lines, ingredients, steps.
    with django_assert_num_queries(8):
        instructor_client.get(URL)


def test_outsiders_do_not_learn_that_it_exists(stranger, assistant_client, other_client, hearth):
    for method in ("get", "post"):
        assert getattr(stranger, method)(URL).status_code == 302
        assert getattr(assistant_client, method)(URL).status_code == 404
        assert getattr(other_client, method)(URL).status_code == 404
