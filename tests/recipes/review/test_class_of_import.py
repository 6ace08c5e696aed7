"""From a text to a class: only what the sheet asks is answered, and nothing is retyped."""

from pathlib import Path

import pytest

from classes.models import ClassSession
from classes.selectors import class_plan, planned_class
from recipes.ingredients.table import load_ingredients
from recipes.models import Revision
from tests.classes.sessions.class_fields import class_fields
from tests.factories import KitchenFactory
from tests.recipes.test_bring import BRING, bring, fields_of

pytestmark = pytest.mark.django_db
TEXTS = Path(__file__).parents[1] / "importing/texts"
MOST_QUESTIONS = 40
KNOWN_AS = {"wholemeal": "Whole wheat flour", "starter": "Sourdough starter"}


def typed(form) -> dict[str, str]:
    """What somebody types where a question cannot be answered by calling the reading right."""
    found = {} if form.head["title"].value() else {"title": "Loaf of a letter"}
    for part in form.parts:
        for line in part.lines:
            if line.is_unknown:
                source = line.source.lower()
                name = next((name for word, name in KNOWN_AS.items() if word in source), None)
                field, value = ("ingredient", name) if name else ("new_kind", "other")
                found[f"{line.prefix}-{field}"] = value
            if not line["amount"].value():
                found |= {f"{line.prefix}-amount": "20", f"{line.prefix}-unit": "g"}
    timeless = [gap.anchor for gap in form.class_gaps if gap.words.endswith("has no minutes.")]
    return found | {f"{anchor.removesuffix('-row')}-hands_on_min": "10" for anchor in timeless}


def answered(client, sheet):
    """The sheet with each question answered: by what is typed, else as it stands."""
    sheet = client.post(BRING, fields_of(sheet) | typed(sheet.context["form"]) | {"check": "1"})
    for _ in range(MOST_QUESTIONS):
        asking = sheet.context["form"].asking
        if not asking.count:
            return sheet
        sheet = client.post(BRING, fields_of(sheet) | {"right-row": asking.rows[0][1].prefix})
    raise AssertionError(sheet.context["form"].asking.in_words)


@pytest.mark.parametrize(
    ("name", "least_min", "most_min"),
    [
        pytest.param("filled_and_glazed", 240, 360, id="filled and glazed"),
        pytest.param("letter", 240, 340, id="letter"),
        pytest.param("formula_table", 1050, 1400, id="formula table"),
    ],
)
def test_a_class_is_built_from_a_text(instructor_client, instructor, name, least_min, most_min):
    load_ingredients(refresh=False)
    text = (TEXTS / f"{name}.txt").read_text()
    sheet = answered(instructor_client, bring(instructor_client, text))
    assert sheet.context["form"].class_gaps == []
    assert instructor_client.post(BRING, fields_of(sheet) | {"save": "1"}).status_code == 302
    kitchen = KitchenFactory(owner=instructor, stations=2)
    kitchen.ovens.create(name="Deck", slots=60)
    fields = class_fields(kitchen, Revision.objects.get(), starts="09:00", ends="16:00")
    assert instructor_client.post("/classes/new/", fields).status_code == 302
    verdict = class_plan(planned_class(ClassSession.objects.get().pk)).verdict
    assert verdict.unsaid == ()
    assert least_min <= verdict.ready <= most_min
