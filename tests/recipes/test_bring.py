"""Bringing a recipe in: what is recognized, the review sheet, and the one button that saves."""

from __future__ import annotations

import csv
import html
import json
import re
from decimal import ROUND_HALF_UP, Decimal
from html.parser import HTMLParser
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from recipes.editing.lines import MASS_PLACES
from recipes.importing import doubts, errors
from recipes.importing.shelf import ingredient_book
from recipes.importing.text.lines import read_line
from recipes.ingredients.table import load_ingredients
from recipes.models import Ingredient, Recipe, Revision
from recipes.review.doubt_words import Names, told
from recipes.review.forms import ReviewLineForm
from recipes.review.refusals import import_in_words
from recipes.review.row_forms import ReviewShelf
from recipes.review.rows import line_values, live_doubts
from tests.factories import UserFactory
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
BRING = "/recipes/bring/"
TEXT = """Morning loaf
Makes 2 loaves

500 g bread flour
1 1/2 cups water
10 to 12 g moonflower dust
1 egg
some rye flour

Method
Mix everything for 10 to 12 minutes.
Bake at 220 °C for 35 minutes.
"""
PARTS = """Two-part loaf
Makes 1 loaf

Poolish
100 g bread flour
100 g water

Dough
all of the poolish
400 g bread flour
240 g water
"""
PAGE = """<!doctype html><html><head><title>x</title>
<script type="application/ld+json">{"@context": "https://schema.org", "@type": "Recipe",
"name": "Page loaf", "recipeYield": "1 loaf",
"recipeIngredient": ["500 g bread flour", "300 g water"],
"description": "A loaf for the tests, of no more than flour and water, mixed and baked at home.",
"recipeInstructions": [{"@type": "HowToStep", "text": "Mix the flour and the water well."},
{"@type": "HowToStep", "text": "Bake at 220 °C for 35 minutes."}]}</script></head></html>
"""


class _Fields(HTMLParser):
    """Collects what a browser would post from the forms of a page, without its buttons."""

    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, str] = {}
        self.name = ""
        self.is_select = False

    def handle_starttag(self, tag, attrs):
        values = dict(attrs)
        unchecked = values.get("type") == "checkbox" and "checked" not in values
        if unchecked or values.get("type") == "file":
            return
        if tag == "input" and values.get("name"):
            self.found[values["name"]] = values.get("value") or ""
        elif tag in ("textarea", "select"):
            self.name, self.is_select = values["name"], tag == "select"
            self.found[self.name] = ""
        elif tag == "option" and self.is_select and "selected" in values:
            self.found[self.name] = values["value"]

    def handle_data(self, data):
        if self.name and not self.is_select:
            self.found[self.name] += data

    def handle_endtag(self, tag):
        if tag in ("textarea", "select"):
            self.name, self.is_select = "", False


def fields_of(answer) -> dict[str, str]:
    """The review sheet as a browser posts it back: lines end in CR and LF."""
    parser = _Fields()
    page = answer.content.decode()
    parser.feed(page[page.index('id="recipe-form"') :])
    # An HTML parser drops the first line end of a text area, and browsers send CR LF.
    return {
        name: value.removeprefix("\n").replace("\n", "\r\n") for name, value in parser.found.items()
    }


def bring(client, text=TEXT):
    return client.post(BRING, {"text": text})


def file(text, name="recipe.txt") -> SimpleUploadedFile:
    data = text if isinstance(text, bytes) else text.encode()
    return SimpleUploadedFile(name, data)


def settled(answer) -> dict[str, str]:
    """The sheet of TEXT with its three open lines settled."""
    fields = fields_of(answer)
    fields["part-0-line-2-new_kind"] = "seed"
    fields["part-0-line-4-amount"] = "20"
    return fields


def errors_of(answer) -> str:
    return " ".join(one for listed in answer.context["form"].errors.values() for one in listed)


def problems(answer) -> str:
    return " ".join(problem.message for problem in answer.context["form"].problems)


# The page that takes it


def test_the_page_says_that_nothing_is_fetched_or_saved(instructor_client):
    page = text_of(instructor_client.get(BRING))
    assert "Nothing is fetched, and nothing is saved yet." in page


def test_the_list_of_recipes_leads_to_it(instructor_client):
    assert f'href="{BRING}"' in instructor_client.get("/recipes/").content.decode()


@pytest.mark.parametrize(
    ("text", "recognized"),
    [
        pytest.param(TEXT, "a recipe in plain text", id="text"),
        pytest.param(PAGE, "a Recipe in JSON-LD", id="source of a page"),
        pytest.param(
            '{"@type": "Recipe", "recipeIngredient": ["1 egg"]}',
            "a Recipe in JSON-LD",
            id="json-ld",
        ),
    ],
)
def test_the_sheet_says_what_was_recognized(instructor_client, shelf, text, recognized):
    page = text_of(bring(instructor_client, text))
    assert f"This was read as {recognized}" in page
    assert "Nothing is saved yet." in page


@pytest.mark.parametrize("name", ["r.json", "r.jsonld", "r.txt", "r.HTML", "r.htm"])
def test_files_of_these_names_are_read(instructor_client, shelf, name):
    answer = instructor_client.post(BRING, {"text": "", "file": file(PAGE, name)})
    assert answer.context["form"].head["title"].value() == "Page loaf"


@pytest.mark.parametrize(
    "data",
    [
        pytest.param("Crème loaf\n500 g bread flour".encode("utf-8-sig"), id="utf-8 with mark"),
        pytest.param("Crème loaf\n500 g bread flour".encode("utf-16"), id="utf-16"),
        pytest.param("Crème loaf\n500 g bread flour".encode("cp1252"), id="windows"),
    ],
)
def test_the_usual_encodings_are_read(instructor_client, shelf, data):
    answer = instructor_client.post(BRING, {"text": "", "file": file(data)})
    assert answer.context["form"].head["title"].value() == "Crème loaf"


BAD = [
    pytest.param({"text": ""}, "Paste a recipe, or choose a file.", id="nothing"),
    pytest.param({"text": " \n "}, "Paste a recipe, or choose a file.", id="white space"),
    pytest.param({"text": TEXT, "file": file(TEXT)}, "not both at once", id="both"),
    pytest.param({"file": file(TEXT, "loaf.pdf")}, "Choose a .json", id="other name"),
    pytest.param({"file": file("x" * 1_000_001)}, "larger than 1 MB", id="file too large"),
    pytest.param({"file": file(b"\x00\x01\x02" * 50)}, "This is not a text file.", id="binary"),
    pytest.param({"file": file("")}, "The submitted file is empty.", id="empty file"),
    pytest.param({"text": "x" * 1_000_001}, "at most 1000000 characters", id="text too long"),
    pytest.param({"text": "flour\n" * 401}, "401 lines; a recipe has at most 400", id="lines"),
    pytest.param({"text": "500 g flour\n" * 121}, "can have at most 120", id="ingredient lines"),
    pytest.param({"text": "<!doctype html><p>500 g flour"}, "without a recipe in", id="bare page"),
    pytest.param({"text": '{"@type": "Recipe"'}, "cannot be read", id="broken JSON"),
    pytest.param({"text": "[" * 50_000}, "No ingredient lines", id="deep brackets"),
    pytest.param({"text": '{"a": ' * 50_000}, "cannot be read", id="deep JSON"),
    pytest.param({"text": '{"@type": "Person"}'}, "but no Recipe", id="no recipe"),
    pytest.param(
        {"text": '{"format": "bakebench-recipe", "version": 9}'}, "version “9”", id="later version"
    ),
    pytest.param(
        {"text": '{"format": "bakebench-recipe", "version": 1}'}, "“title” is missing", id="field"
    ),
    pytest.param({"text": "500 g flour\0"}, "Null characters", id="null character"),
]


@pytest.mark.parametrize(("posted", "message"), BAD)
def test_what_cannot_be_read_says_why_and_stays(instructor_client, shelf, posted, message):
    posted = dict(posted)
    if "file" in posted:
        posted["file"].seek(0)
    answer = instructor_client.post(BRING, {"text": "", **posted})
    assert answer.status_code == 200
    assert message in errors_of(answer)
    assert answer.context["form"]["text"].value() == posted.get("text", "")
    assert Recipe.objects.count() == 0


def test_a_body_beyond_all_measure_is_refused_unread(instructor_client):
    answer = instructor_client.post(BRING, {"text": "x" * 2_600_000})
    assert answer.status_code == 413
    assert "at most 1 MB is accepted" in text_of(answer)


def test_a_post_from_elsewhere_is_refused(instructor):
    client = Client(enforce_csrf_checks=True)
    client.force_login(instructor)
    assert client.post(BRING, {"text": TEXT}).status_code == 403


# The sheet


def test_each_line_shows_its_words_and_what_was_understood(instructor_client, shelf):
    answer = bring(instructor_client)
    lines = answer.context["form"].parts[0].lines
    assert [
        (line.source, line["amount"].value(), line["unit"].value(), line["ingredient"].value())
        for line in lines[:2]
    ] == [
        ("500 g bread flour", "500", "g", "Bread flour"),
        ("1 1/2 cups water", "1.5", "cup", "Water"),
    ]
    assert [line.state.word for line in lines] == [
        "Understood", "Understood", "Unknown ingredient", "Check", "Not understood",
    ]  # fmt: skip
    page = html.unescape(answer.content.decode())
    assert all(f"<q>{line.source}</q>" in page for line in lines)


def test_a_doubt_stands_by_its_field_with_a_word_and_a_shape(instructor_client, shelf):
    answer = bring(instructor_client)
    page = text_of(answer)
    assert "◆ Check “Amount”: From 10 to 12: the lower one is used" in page
    assert "▲ Not understood" in page
    content = answer.content.decode()
    described = re.search(r'name="part-0-line-2-amount"[^>]*aria-describedby="([^"]+)"', content)
    assert f'id="{described[1].split()[0]}"' in content


def test_what_the_text_does_not_say_is_guessed_and_marked(instructor_client, shelf):
    head = bring(instructor_client, "500 g bread flour\n300 g water\n").context["form"].head
    assert {"title", "piece_name", "pieces", "piece_g"} <= head.told.keys()
    assert (head["pieces"].value(), head["piece_g"].value()) == ("1", "800")


def test_pieces_that_the_text_tells_are_no_doubt(instructor_client, shelf):
    head = bring(instructor_client).context["form"].head
    assert (head["pieces"].value(), head["piece_name"].value()) == ("2", "loaf")
    assert "pieces" not in head.told


def test_steps_carry_kind_and_minutes(instructor_client, shelf):
    steps = bring(instructor_client).context["form"].steps
    assert (steps[0]["kind"].value(), steps[0]["hands_on_min"].value()) == ("mix", "12")
    assert "hands_on_min" in steps[0].told
    assert (steps[1]["kind"].value(), steps[1]["waiting_min"].value()) == ("bake", "35")


def test_a_line_that_names_a_part_is_left_out_and_says_so(instructor_client, shelf):
    form = bring(instructor_client, PARTS).context["form"]
    assert [part.form["name"].value() for part in form.parts] == ["Poolish", "Dough"]
    [left] = form.left
    assert left.text == "all of the poolish"
    assert "own lines count already" in left.why


def test_pasting_saves_nothing(instructor_client, shelf):
    before = Ingredient.objects.count()
    bring(instructor_client)
    assert (Recipe.objects.count(), Ingredient.objects.count()) == (0, before)


# Settling it


def test_checking_again_saves_nothing_and_says_what_is_wrong(instructor_client, shelf):
    fields = fields_of(bring(instructor_client))
    answer = instructor_client.post(BRING, {**fields, "check": "1"})
    assert "“moonflower dust” is not on the list." in problems(answer)
    assert "How much?" in problems(answer)
    assert Recipe.objects.count() == 0
    again = fields_of(answer)
    assert again == fields | {"csrfmiddlewaretoken": again["csrfmiddlewaretoken"]}


def test_a_settled_sheet_says_so_before_it_is_saved(instructor_client, shelf):
    fields = settled(bring(instructor_client))
    answer = instructor_client.post(BRING, fields)
    answer = instructor_client.post(BRING, fields_of(answer))
    assert "It can be saved now." in text_of(answer)
    assert Recipe.objects.count() == 0


def test_save_saves_and_shows_the_recipe(instructor_client, instructor, shelf):
    fields = settled(bring(instructor_client)) | {"piece_g": "450"}
    answer = instructor_client.post(BRING, {**fields, "save": "1"}, follow=True)
    assert answer.redirect_chain == [("/recipes/morning-loaf/", 302)]
    revision = Revision.objects.with_formula().get()
    assert revision.recipe.owner == instructor
    assert (revision.pieces, revision.piece_g) == (2, 450)
    assert [
        (line.ingredient.name, line.mass_g, line.entered)
        for line in revision.components.get().lines.all()
    ] == [
        ("Bread flour", Decimal("500.0000"), ""),
        ("Water", Decimal("354.8824"), "1.5 cup"),
        ("moonflower dust", Decimal("10.0000"), ""),
        ("Egg", Decimal("50.0000"), "1 each"),
        ("Rye flour", Decimal("20.0000"), ""),
    ]
    assert [step.waiting_min for step in revision.steps.all()] == [0, 35]


def test_a_new_ingredient_is_the_users_own_and_added_once(instructor_client, instructor, shelf):
    answer = bring(instructor_client, "Loaf\n500 g bread flour\n5 g moon dust\n5 g Moon dust\n")
    fields = fields_of(answer)
    fields |= {"part-0-line-1-new_kind": "seed", "part-0-line-2-new_kind": "seed", "save": "1"}
    assert instructor_client.post(BRING, fields).status_code == 302
    new = Ingredient.objects.get(name__iexact="moon dust")
    assert (new.owner, new.kind) == (instructor, "seed")
    page = text_of(instructor_client.get("/recipes/loaf/"))
    assert "Nobody has said yet what is in: moon dust." in page


def test_one_new_ingredient_is_of_one_kind(instructor_client, shelf):
    answer = bring(instructor_client, "Loaf\n500 g bread flour\n5 g moon dust\n5 g moon dust\n")
    fields = fields_of(answer)
    fields |= {"part-0-line-1-new_kind": "seed", "part-0-line-2-new_kind": "nut", "save": "1"}
    assert "of another kind" in problems(instructor_client.post(BRING, fields))
    assert Recipe.objects.count() == 0


def test_a_chosen_ingredient_needs_no_new_one(instructor_client, shelf):
    fields = settled(bring(instructor_client)) | {"part-0-line-2-ingredient": "Rye flour"}
    instructor_client.post(BRING, {**fields, "piece_g": "450", "save": "1"})
    assert Revision.objects.count() == 1
    assert not Ingredient.objects.filter(name__icontains="moon").exists()


def test_a_changed_field_settles_its_doubt(instructor_client, shelf):
    fields = fields_of(bring(instructor_client)) | {"part-0-line-2-amount": "11"}
    line = instructor_client.post(BRING, fields).context["form"].parts[0].lines[2]
    assert "amount" not in line.told
    assert "ingredient" in line.told


def test_a_guessed_piece_follows_the_amounts_before_it_is_saved(instructor_client, shelf):
    text = "Loaf\nMakes 2 loaves\n500 g bread flour\n200 g water\n"
    fields = fields_of(bring(instructor_client, text)) | {"part-0-line-1-amount": "300"}
    answer = instructor_client.post(BRING, {**fields, "save": "1"})
    assert "worked out again" in problems(answer)
    assert Recipe.objects.count() == 0
    again = fields_of(answer)
    assert again["piece_g"] == "400.0"
    assert instructor_client.post(BRING, {**again, "save": "1"}).status_code == 302
    assert Revision.objects.get().piece_g == 400


def test_a_guess_says_that_lines_are_missing_only_while_they_are(instructor_client, shelf):
    text = "Loaf\nMakes 2 loaves\n500 g bread flour\nsalted water\n"
    answer = bring(instructor_client, text)
    assert "Lines without grams are not in it yet." in text_of(answer)
    fields = fields_of(answer)
    answer = instructor_client.post(BRING, {**fields, "remove-row": "part-0-line-1"})
    answer = instructor_client.post(BRING, fields_of(answer))
    assert "Lines without grams" not in text_of(answer)
    assert "It can be saved now." in text_of(answer)


def test_a_piece_that_the_user_wrote_stays(instructor_client, shelf):
    text = "Loaf\nMakes 2 loaves\n500 g bread flour\n200 g water\n"
    fields = fields_of(bring(instructor_client, text)) | {"piece_g": "111", "save": "1"}
    assert instructor_client.post(BRING, fields).status_code == 302
    assert Revision.objects.get().piece_g == 111


def test_a_dropped_line_stays_among_those_left_out_and_comes_back(instructor_client, shelf):
    fields = fields_of(bring(instructor_client))
    answer = instructor_client.post(BRING, {**fields, "remove-row": "part-0-line-4"})
    assert [left.text for left in answer.context["form"].left] == ["some rye flour"]
    back = instructor_client.post(BRING, {**fields_of(answer), "restore-row": "0"})
    form = back.context["form"]
    assert form.left == []
    assert form.parts[0].lines[-1].source == "some rye flour"


def test_a_dropped_part_leaves_its_lines_among_those_left_out(instructor_client, shelf):
    fields = fields_of(bring(instructor_client, PARTS))
    answer = instructor_client.post(BRING, {**fields, "remove-row": "part-0"})
    left = [left.text for left in answer.context["form"].left]
    assert left == ["all of the poolish", "100 g bread flour", "100 g water"]


def test_a_line_goes_to_another_part(instructor_client, shelf):
    fields = fields_of(bring(instructor_client, PARTS)) | {"part-1-line-0-to": "part-0"}
    form = instructor_client.post(BRING, fields).context["form"]
    assert [line.source for line in form.parts[0].lines] == [
        "100 g bread flour", "100 g water", "400 g bread flour",
    ]  # fmt: skip
    assert [line.source for line in form.parts[1].lines] == ["240 g water"]


def test_an_emptied_line_is_not_dropped_in_silence(instructor_client, shelf):
    fields = settled(bring(instructor_client)) | {"piece_g": "450", "save": "1"}
    fields |= {f"part-0-line-1-{name}": "" for name in ("amount", "unit", "ingredient", "note")}
    answer = instructor_client.post(BRING, fields)
    assert "How much?" in problems(answer)
    assert Recipe.objects.count() == 0


@pytest.mark.parametrize(
    ("button", "value"),
    [("add-row", "part"), ("add-row", "step"), ("add-row", "part-0-line"), ("raise-row", "step-1")],
)
def test_row_buttons_keep_all_that_was_typed(instructor_client, shelf, button, value):
    fields = fields_of(bring(instructor_client)) | {"title": "<b>Half</b>", "pieces": "many"}
    after = fields_of(instructor_client.post(BRING, {**fields, button: value}))
    kept = {name: after.get(name) for name in fields if name != "csrfmiddlewaretoken"}
    assert kept == {name: fields[name] for name in kept}


def test_under_htmx_only_the_form_comes_back(instructor_client, shelf, htmx):
    fields = fields_of(bring(instructor_client)) | {"add-row": "step"}
    content = instructor_client.post(BRING, fields, headers=htmx).content.decode()
    assert content.lstrip().startswith("<form")


def test_a_recipe_without_flour_is_refused_in_words(instructor_client, shelf):
    fields = fields_of(bring(instructor_client, "Soup\n500 g water\n")) | {"save": "1"}
    assert "no flour" in problems(instructor_client.post(BRING, fields))


# Hostile input

EVIL = "<script>alert(1)</script><img src=x onerror=alert(1)>"


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(f"{EVIL}\n5 g {EVIL}\n{EVIL * 12}\n\nMethod\nMix {EVIL}.", id="text"),
        pytest.param(
            json.dumps(
                {
                    "format": "bakebench-recipe", "version": 1, "title": EVIL, "piece_g": "100",
                    "note": f"</textarea>{EVIL}", "equipment": f'">{EVIL}',
                    "components": [{"kind": "dough", "name": EVIL[:60], "lines": [
                        {"ingredient": {"name": EVIL}, "mass_g": "5", "note": EVIL}]}],
                    "steps": [{"kind": "mix", "text": EVIL}],
                }
            ),
            id="our own",
        ),
    ],
)  # fmt: skip
def test_markup_in_a_recipe_stays_text(instructor_client, shelf, text):
    answer = bring(instructor_client, text)
    again = instructor_client.post(BRING, fields_of(answer))
    for page in (answer, again):
        content = page.content.decode()
        assert "recipe-form" in content
        assert "<script>alert" not in content
        assert "<img src=x" not in content


def test_lone_surrogates_in_json_do_no_harm(instructor_client, shelf):
    text = '{"@type": "Recipe", "name": "A\\ud800", "recipeIngredient": ["5 g \\udfff flour"]}'
    assert bring(instructor_client, text).status_code == 200


@pytest.mark.parametrize(
    "carried",
    ["", "{", "[]", "7", "null", '{"a": 1}', '{"a": [1]}', '{"a": ["", 5]}', "[" * 9000,
     '{"amount": ["", {"x": 1}]}', "x" * 20_000],
)  # fmt: skip
def test_forged_doubts_are_none_or_text(instructor_client, shelf, carried):
    fields = fields_of(bring(instructor_client))
    fields |= {"doubts": carried, "part-0-line-2-doubts": carried, "step-0-doubts": carried}
    fields |= {"review": "what?", "left-0-text": "x" * 5000, "restore-row": "99999"}
    assert instructor_client.post(BRING, fields).status_code == 200


def test_doubts_are_shown_only_while_the_value_is_the_proposed_one():
    carried = json.dumps({"amount": ["2", ["Look."]], "": ["", ["At all of it."]]})
    assert live_doubts({"amount": "2", "doubts": carried}) == {
        "amount": ["Look."],
        "": ["At all of it."],
    }
    assert live_doubts({"amount": "3", "doubts": carried}) == {"": ["At all of it."]}


def test_others_do_not_see_the_page(stranger, assistant_client):
    assert stranger.post(BRING, {"text": TEXT}).headers["Location"].startswith("/sign-in/")
    assert assistant_client.post(BRING, {"text": TEXT}).status_code == 404


def test_anothers_ingredients_are_not_matched(instructor_client, shelf):
    Ingredient.objects.create(owner=UserFactory(), key="secret", name="Secret mix")
    line = bring(instructor_client, "5 g secret mix").context["form"].parts[0].lines[0]
    assert line.state.word == "Unknown ingredient"


def test_the_number_of_queries_does_not_grow(
    instructor_client, shelf, django_assert_max_num_queries
):
    for count in (2, 60):
        text = "Loaf\n" + "10 g bread flour\n20 g rye flour\n" * (count // 2)
        with django_assert_max_num_queries(6):
            bring(instructor_client, text)


# The sheet against the importer


def written_lines() -> list[str]:
    with (Path(__file__).parent / "importing/data/lines.csv").open(newline="") as table:
        return [row["line"] for row in csv.DictReader(table)]


def test_the_sheet_reads_every_line_to_the_grams_of_the_importer(instructor):
    load_ingredients(refresh=False)
    book, rows = ingredient_book(instructor), list(Ingredient.objects.all())
    shelf = ReviewShelf(rows)
    names = Names({row.key: shelf.label(row) for row in rows})
    wrong, weighed = [], 0
    for text in written_lines():
        read = read_line(text, book)
        grams = read.written.mass_g
        if grams is None or not read.match.key:
            continue
        form = ReviewLineForm(line_values(read, book, names), shelf=shelf)
        expected = grams.quantize(MASS_PLACES, ROUND_HALF_UP), read.match.key
        line = form.cleaned_data["written"] if form.is_valid() else None
        if line is None or (line.mass_g, line.ingredient.key) != expected:
            wrong.append((text, expected, form.errors))
        weighed += 1
    assert wrong == []
    assert weighed > 120


# Words


def kinds_of(module, base) -> list[type]:
    """The classes of a module that inherit from a base, but for the base itself."""
    found = [one for one in vars(module).values() if isinstance(one, type) and one is not base]
    return [one for one in found if issubclass(one, base)]


@pytest.mark.parametrize("kind", kinds_of(doubts, doubts.Doubt))
def test_every_doubt_has_words_of_its_own(kind):
    assert told.dispatch(kind) is not told.dispatch(doubts.Doubt)


@pytest.mark.parametrize("kind", kinds_of(errors, errors.ImportingError))
def test_every_error_of_importing_has_words_of_its_own(kind):
    assert import_in_words.dispatch(kind) is not import_in_words.dispatch(errors.ImportingError)


def test_a_doubt_names_ingredients_as_the_page_does():
    doubt = doubts.LikelyIngredient("milk", "milk", ("milk", "skim", "gone"))
    names = Names({"milk": "Whole milk", "skim": "Skim milk"})
    assert told(doubt, names) == (
        "ingredient", "“milk” is taken as Whole milk. It could be Skim milk.",
    )  # fmt: skip
