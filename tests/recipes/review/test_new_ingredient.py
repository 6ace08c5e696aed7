"""An ingredient that is not on the list: what is near to it, and adding it with its allergens."""

import re

import pytest

from recipes.ingredients.table import load_ingredients
from recipes.models import Ingredient, Revision
from tests.recipes.review.test_sheet import press
from tests.recipes.test_bring import BRING, bring, fields_of
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
ROW = "part-0-line-1"


def loaf(line):
    return f"Loaf\nMakes 1 loaf\n\n500 g bread flour\n{line}\n\nBake at 220 °C for 35 minutes.\n"


def offered(answer) -> list[str]:
    """What is offered on the page for lines that are not on the list, in order."""
    return re.findall(r'name="use-row" value="([^"]+)"', answer.content.decode())


@pytest.mark.parametrize(
    ("line", "first"),
    [
        ("60 g margarine", ["butter", "shortening"]),
        ("200 g whole rye grits", ["rye-grain"]),
        ("20 g salted caramel", []),
    ],
)
def test_what_is_near_is_offered_and_add_as_new_stands_last(instructor_client, line, first):
    load_ingredients()
    answer = bring(instructor_client, loaf(line))
    assert offered(answer)[: len(first)] == [f"{ROW} {key}" for key in first]
    assert len(offered(answer)) <= 5
    assert bool(offered(answer)) == bool(first)
    page = answer.content.decode()
    assert page.index(" as new</button>") > max(map(page.find, offered(answer)), default=0)


def test_a_suggestion_settles_the_line(instructor_client):
    load_ingredients()
    answer = bring(instructor_client, loaf("60 g margarine"))
    answer = press(instructor_client, answer, use_row=f"{ROW} shortening")
    line = answer.context["form"].parts[0].lines[1]
    assert line["ingredient"].value() == "Vegetable shortening"
    assert not line.told
    assert offered(answer) == []


@pytest.mark.parametrize("answer", [f"{ROW} nothing", "part-9-line-9 butter", "butter", " "])
def test_a_suggestion_that_is_none_changes_nothing(instructor_client, shelf, answer):
    sheet = bring(instructor_client, loaf("60 g marchpane"))
    again = press(instructor_client, sheet, use_row=answer)
    assert again.context["form"].parts[0].lines[1]["ingredient"].value() == "marchpane"


@pytest.mark.parametrize(
    ("told", "us", "eu", "known"),
    [
        ({}, [], [], False),
        ({"new_read": "on"}, [], [], True),
        ({"new_us": ["tree-nuts"], "new_eu": ["nuts", "eggs"]}, ["tree-nuts"], ["nuts", "eggs"], 1),
    ],
)
def test_what_is_in_it_is_asked_and_stays_unknown_until_answered(
    instructor_client, shelf, told, us, eu, known
):
    fields = fields_of(bring(instructor_client, loaf("60 g marchpane")))
    fields |= {f"{ROW}-new_kind": "other"} | {f"{ROW}-{name}": told[name] for name in told}
    answer = instructor_client.post(BRING, fields | {"piece_g": "560", "save": "1"})
    new = Ingredient.objects.get(name="marchpane")
    assert (new.allergens_us, new.allergens_eu) == (us, eu)
    assert new.allergens_known == bool(known)
    page = text_of(instructor_client.get(answer.headers["Location"]))
    assert ("Nobody has said yet what is in: marchpane." in page) == (not known)


def test_answers_stay_on_the_sheet_until_it_is_saved(instructor_client, shelf):
    fields = fields_of(bring(instructor_client, loaf("60 g marchpane")))
    fields |= {f"{ROW}-new_kind": "other", f"{ROW}-new_us": ["egg", "tree-nuts"]}
    again = instructor_client.post(BRING, fields | {"check": "1"})
    assert again.context["form"].parts[0].lines[1]["new_us"].value() == ["egg", "tree-nuts"]
    assert not Ingredient.objects.filter(name="marchpane").exists()


def test_add_as_new_asks_for_a_kind_first(instructor_client, shelf):
    answer = bring(instructor_client, loaf("60 g marchpane"))
    answer = press(instructor_client, answer, right_row=ROW)
    assert "say below what kind" in text_of(answer)
    fields = fields_of(answer) | {f"{ROW}-new_kind": "other", "right-row": ROW}
    kept = instructor_client.post(BRING, fields)
    assert kept.context["form"].parts[0].lines[1].state.word == "Accepted"


def test_answers_outlive_the_question_about_a_recipe_of_that_title(instructor_client, shelf):
    fields = fields_of(bring(instructor_client, loaf("60 g water")))
    instructor_client.post(BRING, fields | {"piece_g": "560", "save": "1"})
    fields = fields_of(bring(instructor_client, loaf("60 g marchpane")))
    fields |= {f"{ROW}-new_kind": "other", f"{ROW}-new_eu": ["nuts", "eggs"]}
    asked = instructor_client.post(BRING, fields | {"piece_g": "560", "save": "1"})
    assert asked.status_code == 409
    carried = re.findall(rf'name="{ROW}-new_eu" value="(\w+)"', asked.content.decode())
    assert carried == ["nuts", "eggs"]
    assert not Ingredient.objects.filter(name="marchpane").exists()
    assert Revision.objects.count() == 1


def test_a_new_starter_asks_for_its_water_and_flours_and_keeps_them(instructor_client, shelf):
    answer = bring(instructor_client, loaf("100 g barm of ours"))
    assert f"{ROW}-new_flours" not in answer.content.decode()
    fields = fields_of(answer) | {f"{ROW}-new_kind": "starter"}
    asked = instructor_client.post(BRING, fields | {"right-row": ROW})
    assert "say below what it is fed with" in text_of(asked)
    fields = fields_of(asked) | {"piece_g": "600", "save": "1"}
    assert {f"{ROW}-new_hydration", f"{ROW}-new_flours"} <= fields.keys()
    wrong = instructor_client.post(BRING, fields | {f"{ROW}-new_flours": "80 % Bread flour"})
    assert "The shares come to 80 %" in text_of(wrong)
    told = {f"{ROW}-new_hydration": "60", f"{ROW}-new_flours": "Bread flour"}
    instructor_client.post(BRING, fields | told)
    new = Ingredient.objects.get(name="barm of ours")
    assert (new.kind, new.hydration_percent) == ("starter", 60)
    assert [(of.flour.key, of.percent) for of in new.made_of.all()] == [("bread-flour", 100)]


def test_a_new_starter_of_which_nothing_is_known_stays_unknown(instructor_client, shelf):
    fields = fields_of(bring(instructor_client, loaf("100 g barm of ours")))
    fields |= {f"{ROW}-new_kind": "starter", f"{ROW}-new_hydration": "", f"{ROW}-new_flours": ""}
    instructor_client.post(BRING, fields | {"piece_g": "600", "save": "1"})
    new = Ingredient.objects.get(name="barm of ours")
    assert (new.hydration_percent, new.made_of.count()) == (None, 0)
