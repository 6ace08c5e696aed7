"""Writing and changing a recipe: plain posts, rows by submit buttons, fragments under htmx."""

import re
from decimal import Decimal

import pytest

from recipes.core.regions import HomeRegion
from recipes.models import FormulaLine, Recipe, Revision
from recipes.services import set_home_region
from tests.factories import IngredientFactory, UserFactory
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
NEW = "/recipes/new/"
EDIT = "/recipes/bread/edit/"


def saved() -> Revision:
    return Revision.objects.with_formula().get(title="Morning loaf", is_current=True)


def lines_of(revision):
    return [
        (line.ingredient.key, line.mass_g, line.entered, line.note)
        for part in revision.components.all()
        for line in part.lines.all()
    ]


def problems(answer) -> str:
    return " ".join(problem.message for problem in answer.context["form"].problems)


# The forms as they open


def test_a_new_form_starts_with_one_dough_of_empty_lines_and_some_steps(instructor_client, shelf):
    form = instructor_client.get(NEW).context["form"]
    assert [part.form["kind"].value() for part in form.parts] == ["dough"]
    assert len(form.parts[0].lines) == 4
    assert [step["kind"].value() for step in form.steps] == [
        "mix", "bulk", "divide", "proof", "bake",
    ]  # fmt: skip


def test_a_new_form_opens_without_complaints(instructor_client, shelf):
    answer = instructor_client.get(NEW)
    assert "Not saved yet" not in text_of(answer)
    assert answer.context["form"].problems == []


def test_a_new_form_offers_ingredients_and_units_by_name(instructor_client, shelf):
    html = instructor_client.get(NEW).content.decode()
    assert '<option value="Bread flour"></option>' in html
    assert '<option value="fl oz"></option>' in html
    assert '<option value="°C"></option>' not in html


def test_an_edit_form_shows_the_recipe_as_it_is(instructor_client, bread):
    form = instructor_client.get(EDIT).context["form"]
    assert form.head["title"].value() == "Plain bread"
    assert [line["amount"].value() for line in form.parts[0].lines] == ["100", "60"]
    assert [line["ingredient"].value() for line in form.parts[0].lines] == ["Bread flour", "Water"]
    assert form.steps[0]["text"].value() == "Bake it."


def test_an_edit_form_shows_a_line_in_the_words_it_was_typed_in(instructor_client, bread):
    bread.components.get().lines.filter(position=1).update(entered="1 1/2 cup")
    line = instructor_client.get(EDIT).context["form"].parts[0].lines[1]
    assert (line["amount"].value(), line["unit"].value()) == ("1 1/2", "cup")


def test_the_edit_page_says_first_that_a_class_keeps_its_revision(instructor_client, bread):
    assert "A class uses" not in text_of(instructor_client.get(EDIT))
    Revision.objects.update(in_use=True)
    page = text_of(instructor_client.get(EDIT))
    assert page.index("A class uses revision 1. Saving makes the next revision") < page.index(
        "Title"
    )


# Saving


def test_a_posted_recipe_is_saved_and_shown(instructor_client, instructor, posted):
    answer = instructor_client.post(NEW, posted, follow=True)
    assert answer.redirect_chain == [("/recipes/morning-loaf/", 302)]
    assert "Morning loaf is in the book." in text_of(answer)
    revision = saved()
    assert revision.recipe.owner == instructor
    assert (revision.number, revision.pieces, revision.piece_g) == (1, 2, 500)
    assert (revision.dough_temperature_c, revision.core_temperature_c) == (25, 96)
    assert revision.equipment_list == ["Bowl", "Scraper"]


def test_masses_are_grams_and_other_units_keep_their_words(instructor_client, posted):
    instructor_client.post(NEW, posted)
    assert lines_of(saved()) == [
        ("bread-flour", Decimal("500.0000"), "", "sifted"),
        ("water", Decimal("354.8824"), "1 1/2 cup", ""),  # 1.5 x 236.5882365 mL of 1 g
    ]


def test_empty_lines_and_steps_are_ignored(instructor_client, posted):
    instructor_client.post(NEW, posted)
    step = saved().steps.get()
    assert (step.text, step.hands_on_min, step.waiting_min, step.temperature_c) == (
        "Mix.", 20, 80, 25,
    )  # fmt: skip


def test_a_whole_bread_of_every_kind_of_part_is_saved(instructor_client, posted):
    posted |= {
        "part-1-kind": "roux",
        "part-1-name": "",
        "part-1-cooking_loss_percent": "8",
        "part-1-for_pieces": "7",
        "part-1-line-0-amount": "20 g",
        "part-1-line-0-unit": "",
        "part-1-line-0-ingredient": "RYE  flour",
        "part-1-line-0-note": "",
        "part-2-kind": "wash",
        "part-2-name": "Egg wash",
        "part-2-cooking_loss_percent": "50",
        "part-2-for_pieces": "12",
        "part-2-line-0-amount": "1",
        "part-2-line-0-unit": "each",
        "part-2-line-0-ingredient": "egg",
        "part-2-line-0-note": "",
    }
    instructor_client.post(NEW, posted)
    parts = list(saved().components.values_list("name", "for_pieces", "cooking_loss_percent"))
    assert parts == [("Dough", None, 0), ("Roux", None, 8), ("Egg wash", 12, 0)]
    assert lines_of(saved())[2:] == [("rye", 20, "", ""), ("egg", 50, "1 each", "")]


def test_parts_and_lines_are_saved_in_the_order_they_were_posted(instructor_client, posted):
    rows = {name: posted.pop(name) for name in list(posted) if name.startswith("part-0-line-0")}
    instructor_client.post(NEW, posted | rows)
    assert [key for key, *_ in lines_of(saved())] == ["water", "bread-flour"]


def test_saving_an_edit_writes_over_a_revision_that_no_class_uses(instructor_client, bread, posted):
    answer = instructor_client.post(EDIT, posted)
    assert answer["Location"] == "/recipes/bread/"
    assert Revision.objects.count() == 1
    assert (saved().number, saved().recipe) == (1, bread.recipe)


def test_saving_an_edit_of_a_used_revision_makes_the_next_one(instructor_client, bread, posted):
    Revision.objects.update(in_use=True)
    page = instructor_client.post(EDIT, posted, follow=True)
    assert "Saved as revision 2." in text_of(page)
    kept = Revision.objects.with_formula().get(number=1)
    assert (kept.title, kept.is_current, kept.in_use) == ("Plain bread", False, True)
    assert [mass_g for _, mass_g, *_ in lines_of(kept)] == [100, 60]
    assert (saved().number, saved().in_use) == (2, False)


def test_saving_what_was_shown_changes_no_amount(instructor_client, instructor, posted):
    instructor_client.post(NEW, posted)
    before = lines_of(saved())
    form = instructor_client.get("/recipes/morning-loaf/edit/").context["form"]
    again = {
        bound.html_name: "" if bound.value() is None else str(bound.value())
        for one in form._forms()
        for bound in one
    }
    assert instructor_client.post("/recipes/morning-loaf/edit/", again).status_code == 302
    assert lines_of(saved()) == before


def test_extra_fields_change_nothing(instructor_client, instructor, posted):
    other = UserFactory()
    posted |= {"owner": str(other.pk), "number": "9", "in_use": "on", "is_current": "", "slug": "x"}
    instructor_client.post(NEW, posted)
    revision = saved()
    assert revision.recipe.owner == instructor
    assert (revision.number, revision.in_use, revision.recipe.slug) == (1, False, "morning-loaf")


def test_a_recipe_called_new_gets_an_address_of_its_own(instructor_client, posted):
    instructor_client.post(NEW, posted | {"title": "New"})
    slug = Recipe.objects.get().slug
    assert slug.startswith("new-")
    assert instructor_client.get(f"/recipes/{slug}/").status_code == 200


# Bad input


BAD_LINES = [
    pytest.param({"amount": "0"}, "An amount must be more than zero.", id="zero"),
    pytest.param({"amount": "-5"}, "An amount must be more than zero.", id="negative"),
    pytest.param({"amount": "0.00001"}, "That is too little to weigh.", id="crumb"),
    pytest.param({"amount": "2000", "unit": "kg"}, "That is more than a ton.", id="ton"),
    pytest.param({"amount": ""}, "How much?", id="no amount"),
    pytest.param({"amount": "1e400"}, "We cannot read “1e400”.", id="1e400"),
    pytest.param({"amount": "NaN"}, "We cannot read “NaN”.", id="nan"),
    pytest.param({"amount": "١٢"}, "We cannot read “١٢”.", id="other digits"),
    pytest.param({"amount": "1_000"}, "We cannot read “1_000”.", id="underscore"),
    pytest.param({"amount": "1,000"}, "“1,000” could be 1000 or 1.000: say which.", id="comma"),
    pytest.param({"amount": "9" * 30}, "has more digits than any amount", id="many digits"),
    pytest.param({"unit": "T"}, "“T” could be tbsp or tsp: say which.", id="T"),
    pytest.param({"unit": "cupz"}, "Did you mean cup?", id="near unit"),
    pytest.param({"unit": "qqq"}, "“qqq” is not a unit we know. Use g,", id="unknown unit"),
    pytest.param({"unit": "min"}, "“min” is a unit of time", id="a time"),
    pytest.param(
        {"unit": "cup", "ingredient": "Rye flour"},
        "We do not know what 1 cup of “Rye flour” weighs: enter grams.",
        id="no density",
    ),
    pytest.param(
        {"unit": "each"},
        "We do not know what one piece of “Bread flour” weighs: enter grams.",
        id="no piece mass",
    ),
    pytest.param({"amount": "2 cups", "unit": "oz"}, "use one.", id="two units"),
    pytest.param({"ingredient": ""}, "Of what?", id="no ingredient"),
    pytest.param({"ingredient": "bred flour"}, "Did you mean Bread flour", id="near ingredient"),
    pytest.param({"ingredient": "qqqqq"}, "Add it under Ingredients", id="unknown ingredient"),
    pytest.param({"note": "n" * 121}, "at most 120 characters", id="long note"),
]


@pytest.mark.parametrize(("change", "message"), BAD_LINES)
def test_a_bad_line_is_told_by_its_field_and_nothing_is_lost(
    instructor_client, posted, change, message
):
    posted |= {f"part-0-line-0-{name}": value for name, value in change.items()}
    answer = instructor_client.post(NEW, posted)
    assert answer.status_code == 200
    assert message in problems(answer)
    line = answer.context["form"].parts[0].lines[0]
    assert line.errors
    for name in ("amount", "unit", "ingredient", "note"):
        assert line[name].value() == posted[f"part-0-line-0-{name}"]
    assert answer.context["form"].head["title"].value() == "Morning loaf"
    assert not Recipe.objects.exists()


BAD_FIELDS = [
    ("title", "", "Give it a title."),
    ("title", "t" * 101, "at most 100 characters"),
    ("summary", "s" * 301, "at most 300 characters"),
    ("note", "n" * 2001, "at most 2000 characters"),
    ("equipment", "e" * 100_000, "at most 2000 characters"),
    ("title", "a\0b", "Null characters are not allowed."),
    ("pieces", "0", "Enter 1 or more."),
    ("pieces", "1000", "Enter 999 or less."),
    ("pieces", "2.5", "We cannot read “2.5”."),
    ("piece_g", "", "Say how heavy one piece of dough is."),
    ("piece_g", "0", "Enter 1 g or more."),
    ("piece_g", "520.55", "Enter at most 1 decimal place."),
    ("piece_g", "1e400", "We cannot read “1e400”."),
    ("bake_loss_percent", "101", "Enter 90 or less."),
    ("dough_temperature_c", "25 g", "“g” is a unit of mass"),
    ("core_temperature_c", "500", "Enter 350 °C or less."),
    ("part-0-kind", "cake", "Select a valid choice."),
    ("part-0-name", "p" * 61, "at most 60 characters"),
    ("step-0-text", "", "Say what is done in this step."),
    ("step-0-text", "x" * 601, "at most 600 characters"),
    ("step-0-hands_on_min", "soon", "We cannot read “soon”."),
    ("step-0-waiting_min", "999 h", "Enter 10080 minutes or less."),
    ("step-0-temperature_c", "-40", "Enter -30 °C or more."),
    ("step-0-temperature_of", "moon", "Select a valid choice."),
    ("step-0-worked", "foot", "Select a valid choice."),
]


@pytest.mark.parametrize(
    ("name", "value", "message"), BAD_FIELDS, ids=[f"{n}={v[:12]!r}" for n, v, _ in BAD_FIELDS]
)
def test_a_bad_field_is_told_and_nothing_is_lost(instructor_client, posted, name, value, message):
    answer = instructor_client.post(NEW, posted | {name: value})
    assert message in problems(answer)
    assert message in text_of(answer)
    assert answer.context["form"].parts[0].lines[1]["unit"].value() == "cups"
    assert not Recipe.objects.exists()


def steps_saved():
    return [(step.worked, step.temperature_of) for step in saved().steps.all()]


def test_how_a_step_is_worked_and_what_its_temperature_is_of_are_saved(instructor_client, posted):
    posted |= {"step-0-worked": "machine", "step-0-temperature_of": "dough"}
    posted |= {"step-1-text": "Bake.", "step-1-temperature_c": "230"}
    assert instructor_client.post(NEW, posted).status_code == 302
    assert steps_saved() == [("machine", "dough"), ("", "oven")]


def test_what_is_not_said_of_a_step_stays_unsaid(instructor_client, posted):
    assert instructor_client.post(NEW, posted).status_code == 302
    assert steps_saved() == [("", "")]


def test_each_empty_choice_of_a_step_says_what_is_not_said(instructor_client, bread):
    options = re.findall(
        r'<option value=""[^>]*>([^<]*)', instructor_client.get(EDIT).content.decode()
    )
    assert options.count("worked: not stated") == options.count("of what: not stated") > 0
    assert "not stated" not in options


def test_an_edit_of_a_used_revision_keeps_how_steps_are_worked(instructor_client, posted):
    posted |= {"step-0-worked": "pan", "step-0-temperature_of": "room"}
    instructor_client.post(NEW, posted)
    Revision.objects.update(in_use=True)
    edit = saved().recipe.get_absolute_url() + "edit/"
    form = instructor_client.get(edit).context["form"]
    assert (form.steps[0]["worked"].value(), form.steps[0]["temperature_of"].value()) == (
        "pan", "room",
    )  # fmt: skip
    assert instructor_client.post(edit, posted).status_code == 302
    assert saved().number == 2
    assert steps_saved() == [("pan", "room")]


@pytest.mark.parametrize(
    ("kind", "fields", "message"),
    [
        ("bake", {"worked": "machine"}, "Only mixing and preparing have this."),
        ("bake", {"temperature_of": "room"}, "A bake has the oven’s temperature, or the dough’s."),
        ("proof", {"temperature_of": "oven"}, "Choose the dough, or the room or cabinet"),
    ],
)
def test_what_does_not_go_with_the_kind_of_step_is_told(
    instructor_client, posted, kind, fields, message
):
    posted |= {"step-0-kind": kind, **{f"step-0-{name}": value for name, value in fields.items()}}
    assert message in problems(instructor_client.post(NEW, posted))
    assert not Recipe.objects.exists()


def test_a_recipe_without_flour_is_refused(instructor_client, posted):
    answer = instructor_client.post(NEW, posted | {"part-0-line-0-ingredient": "Milk"})
    assert "There is no flour in the dough." in problems(answer)


def test_flour_in_the_topping_alone_is_no_flour_in_the_dough(instructor_client, posted):
    posted |= {"part-0-kind": "topping", "part-0-for_pieces": "2"}
    assert "There is no flour in the dough." in problems(instructor_client.post(NEW, posted))


def test_a_part_without_lines_is_refused_where_it_stands(instructor_client, posted):
    answer = instructor_client.post(NEW, posted | {"part-1-kind": "soaker", "part-1-name": "Oats"})
    assert "This part has no lines yet." in str(answer.context["form"].parts[1].form.errors)
    assert "This part has no lines yet." in text_of(answer)


def test_a_wash_must_say_for_how_many_pieces(instructor_client, posted):
    posted |= {
        "part-1-kind": "wash",
        "part-1-line-0-amount": "20",
        "part-1-line-0-ingredient": "egg",
    }
    answer = instructor_client.post(NEW, posted)
    assert "Say for how many pieces these amounts are." in problems(answer)


def test_a_post_without_any_row_is_refused(instructor_client, shelf):
    answer = instructor_client.post(NEW, {})
    assert answer.status_code == 200
    assert "A recipe needs a dough." in problems(answer)


@pytest.mark.parametrize(
    ("rows", "message"),
    [
        ({f"part-{n}-kind": "dough" for n in range(13)}, "at most 12 parts"),
        ({f"part-0-line-{n}-amount": "1" for n in range(31)}, "at most 30 lines"),
        ({f"step-{n}-text": "Wait." for n in range(41)}, "40 steps"),
    ],
    ids=["parts", "lines", "steps"],
)
def test_more_rows_than_any_bread_has_are_refused(instructor_client, posted, rows, message):
    assert message in problems(instructor_client.post(NEW, posted | rows))


def test_every_bad_row_is_told_at_once(instructor_client, posted):
    posted |= {"title": "", "part-0-line-0-amount": "0", "part-0-line-1-unit": "T"}
    answer = instructor_client.post(NEW, posted)
    assert len(answer.context["form"].problems) == 3
    assert "3 things to look at" in text_of(answer)


def test_a_problem_links_to_its_field(instructor_client, posted):
    html = instructor_client.post(NEW, posted | {"part-0-line-0-amount": "0"}).content.decode()
    assert 'href="#id_part-0-line-0-amount"' in html
    assert 'id="id_part-0-line-0-amount"' in html


def test_typed_markup_is_escaped(instructor_client, posted):
    posted |= {"title": "<script>x</script>", "part-0-line-0-ingredient": "<img src=x>"}
    html = instructor_client.post(NEW, posted).content.decode()
    assert "<script>x" not in html
    assert "<img src=x" not in html


def test_somebody_elses_ingredient_is_not_on_the_list(instructor_client, posted):
    IngredientFactory(name="Secret mix", owner=UserFactory())
    answer = instructor_client.post(NEW, posted | {"part-0-line-0-ingredient": "Secret mix"})
    assert "“Secret mix” is not on the list." in problems(answer)
    assert "Secret mix" not in instructor_client.get(NEW).content.decode()


def test_an_own_ingredient_goes_before_a_shared_one_of_the_same_name(
    instructor_client, instructor, posted
):
    own = IngredientFactory(name="bread flour", owner=instructor, kind="flour", key="own-flour")
    instructor_client.post(NEW, posted)
    assert lines_of(saved())[0][0] == own.key
    instructor_client.post(
        NEW, posted | {"title": "Other", "part-0-line-0-ingredient": "Bread flour (shared)"}
    )
    other = Revision.objects.with_formula().get(title="Other")
    assert lines_of(other)[0][0] == "bread-flour"


# Rows by submit buttons


def pressed(client, posted, verb, target, **extra):
    return client.post(NEW, posted | {verb: target}, **extra).context["form"]


def test_a_line_is_added_with_nothing_lost_nothing_saved_and_nothing_blamed(
    instructor_client, posted
):
    form = pressed(
        instructor_client, posted | {"title": "", "pieces": "x"}, "add-row", "part-0-line"
    )
    assert [line["amount"].value() for line in form.parts[0].lines] == ["500", "1 1/2", "", None]
    assert form.head["pieces"].value() == "x"
    assert form.problems == []
    assert not Recipe.objects.exists()


def test_the_cursor_goes_to_the_new_row(instructor_client, posted):
    html = instructor_client.post(NEW, posted | {"add-row": "part-0-line"}).content.decode()
    field = html[html.index('name="part-0-line-3-amount"') :].partition(">")[0]
    assert "autofocus" in field
    assert html.count("autofocus") == 1


def test_a_part_is_added_with_empty_lines(instructor_client, posted):
    form = pressed(instructor_client, posted, "add-row", "part")
    assert [part.key for part in form.parts] == ["part-0", "part-1"]
    assert len(form.parts[1].lines) == 4


def test_a_step_is_added_at_the_end(instructor_client, posted):
    form = pressed(instructor_client, posted, "add-row", "step")
    assert [step.prefix for step in form.steps] == ["step-0", "step-1", "step-2"]


@pytest.mark.parametrize(
    ("target", "parts", "lines", "steps"),
    [
        ("part-0", 0, 0, 2),
        ("part-0-line-1", 1, 2, 2),
        ("step-0", 1, 3, 1),
        ("part-7", 1, 3, 2),
        ("part-7-line-0", 1, 3, 2),
        ("nonsense", 1, 3, 2),
    ],
)
def test_a_row_is_removed_and_the_rest_stays(
    instructor_client, posted, target, parts, lines, steps
):
    form = pressed(instructor_client, posted, "remove-row", target)
    assert len(form.parts) == parts
    assert sum(len(part.lines) for part in form.parts) == lines
    assert len(form.steps) == steps


def test_a_removed_line_leaves_the_words_of_its_neighbors(instructor_client, posted):
    form = pressed(instructor_client, posted, "remove-row", "part-0-line-0")
    assert [line["amount"].value() for line in form.parts[0].lines] == ["1 1/2", ""]
    assert [line.prefix for line in form.parts[0].lines] == ["part-0-line-1", "part-0-line-2"]


@pytest.mark.parametrize(
    ("target", "order"),
    [
        ("step-1", ["step-1", "step-0"]),
        ("step-0", ["step-0", "step-1"]),
        ("step-9", ["step-0", "step-1"]),
    ],
)
def test_a_step_moves_up(instructor_client, posted, target, order):
    form = pressed(instructor_client, posted, "raise-row", target)
    assert [step.prefix for step in form.steps] == order


def test_a_part_moves_up(instructor_client, posted):
    posted |= {"part-1-kind": "roux", "part-1-name": "Roux"}
    form = pressed(instructor_client, posted, "raise-row", "part-1")
    assert [part.key for part in form.parts] == ["part-1", "part-0"]


@pytest.mark.parametrize(
    ("rows", "target", "count"),
    [
        (
            {f"part-{n}-kind": "dough" for n in range(12)},
            "part",
            lambda form: len(form.parts) == 12,
        ),
        (
            {f"part-0-line-{n}-amount": "1" for n in range(30)},
            "part-0-line",
            lambda form: len(form.parts[0].lines) == 30,
        ),
        ({f"step-{n}-text": "W" for n in range(40)}, "step", lambda form: len(form.steps) == 40),
        ({}, "part-5-line", lambda form: len(form.parts) == 1),
    ],
    ids=["parts", "lines", "steps", "no such part"],
)
def test_a_full_list_takes_no_more_rows(instructor_client, posted, rows, target, count):
    assert count(pressed(instructor_client, posted | rows, "add-row", target))


def test_an_edit_form_grows_without_touching_the_recipe(instructor_client, bread, posted):
    form = instructor_client.post(EDIT, posted | {"add-row": "step"}).context["form"]
    assert len(form.steps) == 3
    assert Revision.objects.get().title == "Plain bread"


def test_under_htmx_a_button_brings_the_form_alone(instructor_client, posted, htmx):
    answer = instructor_client.post(NEW, posted | {"add-row": "part"}, headers=htmx)
    html = answer.content.decode()
    assert html.lstrip().startswith('<form id="recipe-form"')
    assert "<html" not in html
    assert "<datalist" not in html


def test_no_button_hides_a_method_of_the_form_element(instructor_client, shelf):
    html = instructor_client.get(NEW).content.decode()
    for name in ("remove", "submit", "reset", "append", "id"):
        assert f'name="{name}"' not in html


def test_the_first_submit_button_saves_so_that_enter_never_removes_a_row(instructor_client, shelf):
    html = instructor_client.get(NEW).content.decode()
    form = html[html.index('id="recipe-form"') :]
    first = form[form.index("<button") :].partition(">")[0]
    assert 'type="submit"' in first
    assert "name=" not in first


# Doors


def test_the_number_of_queries_of_a_form_does_not_grow(
    instructor_client, bread, shelf, django_assert_num_queries
):
    # Session, user, group; revision, components, lines, ingredients, steps; the shelf;
    # the variants, of which the page carries a mark.
    with django_assert_num_queries(10):
        instructor_client.get(EDIT)
    for _ in range(5):
        IngredientFactory()
    with django_assert_num_queries(10):
        instructor_client.get(EDIT)


@pytest.mark.parametrize("url", [NEW, EDIT])
@pytest.mark.parametrize("method", ["put", "delete", "patch"])
def test_other_methods_are_refused(instructor_client, bread, url, method):
    assert getattr(instructor_client, method)(url).status_code == 405


@pytest.mark.parametrize("method", ["get", "post"])
def test_outsiders_do_not_edit(stranger, assistant_client, other_client, bread, posted, method):
    for client, status in ((stranger, 302), (assistant_client, 404), (other_client, 404)):
        assert getattr(client, method)(EDIT, posted).status_code == status
    assert Revision.objects.get().title == "Plain bread"


@pytest.mark.parametrize("method", ["get", "post"])
def test_only_instructors_write_recipes(stranger, assistant_client, posted, method):
    assert getattr(stranger, method)(NEW, posted).status_code == 302
    assert getattr(assistant_client, method)(NEW, posted).status_code == 404
    assert not Recipe.objects.exists()


def test_an_older_revision_has_no_edit_page(instructor_client, bread):
    assert instructor_client.get("/recipes/bread/revision/1/edit/").status_code == 404


def shown_water(client):
    form = client.get("/recipes/morning-loaf/edit/").context["form"]
    lines = (line for part in form.parts for line in part.lines)
    water = next(line for line in lines if line["ingredient"].value() == "Water")
    return water["amount"].value(), water["unit"].value()


WATER = "part-0-line-1"


@pytest.mark.parametrize(("region", "typed", "grams", "kept"), [
    (None, ("2", "cup"), "473.1765", "2 cup"),
    (HomeRegion.US, ("2", "cup"), "473.1765", "2 cup"),
    (HomeRegion.UK, ("2", "cup"), "500.0000", "2 metric cup"),
    (HomeRegion.UK, ("1 pint", ""), "568.2613", "1 imperial pint"),
    (HomeRegion.UK, ("2", "US cup"), "473.1765", "2 US cup"),
])  # fmt: skip
def test_cups_and_pints_are_those_of_the_books_home(
    instructor_client, posted, region, typed, grams, kept
):
    if region:
        set_home_region(region=region)
    posted |= {f"{WATER}-amount": typed[0], f"{WATER}-unit": typed[1]}
    instructor_client.post(NEW, posted)
    assert lines_of(saved())[1][:3] == ("water", Decimal(grams), kept)
    assert " ".join(shown_water(instructor_client)) == kept


def test_a_cup_typed_before_the_book_had_a_home_is_shown_as_what_it_was(instructor_client, posted):
    posted |= {f"{WATER}-amount": "2", f"{WATER}-unit": "cup"}
    instructor_client.post(NEW, posted)
    set_home_region(region=HomeRegion.UK)
    assert shown_water(instructor_client) == ("2", "US cup")
    FormulaLine.objects.filter(ingredient__key="water").update(entered="2 tbsp")
    assert shown_water(instructor_client) == ("473.1765", "g")
