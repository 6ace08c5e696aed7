"""Tags: whose loaf it is, since when it stands, and what is in what people take home."""

from __future__ import annotations

import pytest

from classes.core.regions import Region
from classes.demo import STUDENTS
from handouts.kinds.tags import ingredients_of, loaf_tags, take_home_tags, time_tags
from handouts.labels.sheets import LabelLayout
from handouts.press.render import PageSize, to_html, to_pdf
from recipes.models import Ingredient, Revision
from tests.handouts.conftest import NOW, another_class, plan_of, two_day_class
from tests.handouts.pdfs import page_texts, plain, sized_words

MIDDLE = LabelLayout.A4_PLAIN


def words_of(label):
    return [plain(block.words.replace("\u00a0", " ")) for block in label.lines]


def tags_of(session, make, layout=MIDDLE):
    (paper,) = make(plan_of(session), NOW, layout)
    return paper


def test_each_persons_pieces_have_their_name_their_station_and_its_shape(demo):
    labels = tags_of(demo, loaf_tags).labels
    people = [person.name for person in plan_of(demo).people]
    assert sorted(label.holder for label in labels) == sorted(people)
    assert (labels[0].holder, labels[0].title) == ("Ada Fennimore", "1 loaf")
    assert [shape.words for shape in labels[0].shapes] == ["disc"]
    assert words_of(labels[0]) == ["Bench 1", f"In at {'_' * 12} out at {'_' * 12}"]


def test_what_stands_says_since_when_and_until_when(demo):
    labels = tags_of(two_day_class(demo), time_tags).labels
    found = [(label.holder, label.title) for label in labels]
    assert found == [("For everybody", "Poolish"), *((f"Bench {n}", "Dough") for n in (1, 2, 3))]
    assert words_of(labels[0]) == [f"Started at {'_' * 12}", f"Due at {'_' * 12}"]


@pytest.fixture
def rolls(demo):
    return another_class(demo, "Pillow rolls", students=3)


def first_sheet(session):
    return plan_of(session).amounts.recipes[0].amounts.persons[0]


@pytest.mark.parametrize(
    ("region", "bold"),
    [
        (Region.US, ["Bread flour", "Whole milk", "Butter, unsalted", "Egg yolk", "Egg, whole"]),
        (
            Region.EUROPE,
            ["Bread flour", "Whole milk", "Butter, unsalted", "Egg yolk", "Egg, whole", "Mustard"],
        ),
    ],
)
def test_ingredients_stand_by_weight_and_what_the_regions_law_names_is_bold(rolls, region, bold):
    part = rolls.taught.get().revision.components.get(kind="dough")
    mustard = Ingredient.objects.get(key="table-salt")
    Ingredient.objects.filter(pk=mustard.pk).update(name="Mustard", allergens_eu=["mustard"])
    assert part.lines.filter(ingredient=mustard).exists()
    person = first_sheet(rolls)
    block = ingredients_of(person, region)
    assert [text for text, is_bold in block.runs if is_bold and text in bold]
    assert {text for text, is_bold in block.runs if is_bold} == set(bold)
    assert "".join(text for text, _ in block.runs) == block.text
    masses = {}
    for one in person.sheet.components:
        for line in one.lines:
            masses[line.ingredient.name] = masses.get(line.ingredient.name, 0) + line.exact_g
    heaviest = sorted(masses, key=lambda name: (-masses[name], name))
    places = [block.text.index(name) for name in heaviest]
    assert places == sorted(places)


def test_a_take_home_tag_has_the_name_the_ingredients_and_room_for_the_day(rolls):
    paper = tags_of(rolls, take_home_tags)
    label = paper.labels[0]
    assert (label.holder, label.title) == ("Pillow rolls", rolls.enrollments.first().name)
    lines = words_of(label)
    assert lines[0].startswith("Ingredients: Bread flour, Whole milk")
    assert lines[1] == "Holds: milk, egg, wheat, cereals containing gluten"
    assert lines[-2:] == [f"Bake by {'_' * 12}", f"Baked on {'_' * 12}"]
    assert "<b>Bread flour</b>" in to_html(paper)


@pytest.mark.parametrize("make", [loaf_tags, time_tags, take_home_tags])
def test_a_variant_is_marked(demo, make):
    session = another_class(demo, "Seeded ring", students=4)
    variant = Revision.objects.get(title="Seeded ring").variants.create(name="Own")
    session.enrollments.first().variants.add(variant)
    marked = [label.marks for label in tags_of(session, make).labels]
    assert marked.count(("Variant",)) == 1


def test_tags_of_people_say_nothing_of_what_they_avoid(demo):
    for make in (loaf_tags, time_tags):
        told = to_html(tags_of(demo, make)).lower()
        assert not any(avoided in told for _, avoided in STUDENTS if avoided)


@pytest.mark.parametrize("layout", [LabelLayout.A4_PLAIN, LabelLayout.LETTER_SMALL])
@pytest.mark.parametrize("make", [loaf_tags, take_home_tags])
def test_tags_are_printed_with_every_name_and_nothing_is_small(silent, demo, make, layout):
    paper = tags_of(demo, make, layout)
    pdf = to_pdf([paper], PageSize(layout.page_size))
    assert min(size_pt for _, size_pt in sized_words(pdf)) >= 8
    told = " ".join(page_texts(pdf)).replace(" ", "")
    for person in plan_of(demo).people:
        for word in person.name.split():
            assert word in told
