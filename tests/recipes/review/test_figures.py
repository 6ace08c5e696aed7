"""What a recipe under review comes to, beside what its text says and what is usual."""

from decimal import Decimal

import pytest

from classes.core.hours.checking.unsaid import Gap, unsaid_in
from classes.core.hours.problem.values import ClassWork, Hours, Room, TimedRecipe
from recipes.core.bounds import BOUNDS, KIND_BOUNDS, usual_of
from recipes.core.choices import StepKind, TemperatureOf
from recipes.core.heat.doneness import BreadKind
from recipes.core.written import WrittenStep
from recipes.models import Recipe
from recipes.review.figures import class_gaps, stated_in
from tests.factories import IngredientFactory
from tests.recipes.review.test_sheet import focused, press
from tests.recipes.test_bring import BRING, bring, fields_of
from tests.recipes.test_detail import text_of

LOAF = """Loaf
Makes 2 loaves of {piece} g
{more}
500 g bread flour
{water} g water
{salt} g fine salt

Mix for 10 minutes. Let rise for 60 minutes. Shape. Bake at 220 °C for 35 minutes.
"""


def loaf(water=300, salt=10, piece=405, more="") -> str:
    return LOAF.format(water=water, salt=salt, piece=piece, more=more)


@pytest.fixture
def pantry(shelf):
    return shelf | {"salt": IngredientFactory(name="Fine salt", key="salt", kind="salt")}


def figures(answer) -> dict[str, tuple[str, bool]]:
    return {one.key: (one.value, one.asks) for one in answer.context["form"].figures}


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("text", "asking"),
    [
        pytest.param(loaf(), [], id="usual"),
        pytest.param(loaf(salt=105, piece=452.5), ["salt"], id="salt of 21 %"),
        pytest.param(loaf(water=700, piece=605), ["hydration"], id="hydration of 140 %"),
        pytest.param(loaf(piece=500), ["yield"], id="pieces against lines"),
        pytest.param(loaf(more="Total time: 4 hours"), ["time"], id="time against steps"),
        pytest.param(loaf(more="Hydration: 75 %"), ["hydration"], id="hydration as told"),
        pytest.param(loaf(more="A levain of 100 % hydration"), [], id="hydration of a part"),
    ],
)  # fmt: skip
def test_what_is_not_usual_or_not_as_told_asks(instructor_client, pantry, text, asking):
    found = figures(bring(instructor_client, text))
    assert [key for key, (_, asks) in found.items() if asks] == asking


@pytest.mark.django_db
def test_the_figures_stand_with_what_is_usual(instructor_client, pantry):
    page = text_of(bring(instructor_client, loaf()))
    assert "1 h 45 min: hands-on 10 min, waiting 1 h 35 min" in page
    assert "2 × 405 g = 810 g; lines add to 810 g" in page
    assert "60 % Usual: most breads 50 to 90 %" in page
    assert "2 % Usual: most breads 1.5 to 2.5 %" in page


@pytest.mark.django_db
def test_a_figure_called_right_asks_anew_when_it_changes(instructor_client, pantry):
    answer = press(
        instructor_client,
        bring(instructor_client, loaf(salt=30, piece=415)),
        right_row="figure-salt=6.0",
    )
    assert figures(answer)["salt"] == ("6 %", False)
    changed = fields_of(answer) | {"part-0-line-2-amount": "40", "check": "1"}
    assert figures(instructor_client.post(BRING, changed))["salt"] == ("8 %", True)


@pytest.mark.django_db
def test_pieces_against_lines_ask_once_until_the_lines_change(instructor_client, pantry):
    first = bring(instructor_client, loaf(piece=500))
    assert "1 to answer: 1 figure." in text_of(first)
    assert focused(press(instructor_client, first, check="1")) == ["figure-yield=1000.810"]
    button = next(one.prefix for one in first.context["form"].figures if one.asks)
    answer = press(instructor_client, first, right_row=button)
    assert answer.context["form"].asking.count == 0
    assert focused(answer) == ["save"]
    changed = fields_of(answer) | {"part-0-line-0-amount": "550", "check": "1"}
    again = instructor_client.post(BRING, changed)
    assert "2 × 500 g are 1000 g, and the lines add to 860 g: which is right?" in text_of(again)


@pytest.mark.django_db
def test_a_line_without_grams_leaves_the_shares_unknown(instructor_client, pantry):
    found = figures(bring(instructor_client, loaf().replace("10 g fine salt", "some fine salt")))
    assert found["salt"] == ("Cannot say: 1 line still open", False)


@pytest.mark.django_db
def test_what_cannot_make_a_class_is_said_and_can_be_saved(instructor_client, pantry):
    text = loaf().replace("Bake at 220 °C for 35 minutes.", "")
    answer = bring(instructor_client, text)
    assert "A class cannot be planned to the minute from this yet." in text_of(answer)
    assert "No step bakes." in text_of(answer)
    press(instructor_client, answer, save="1")
    assert Recipe.objects.count() == 1
    assert "No step bakes." not in text_of(bring(instructor_client, loaf()))


@pytest.mark.parametrize(
    ("text", "minutes", "percents"),
    [
        ("Total time: 3 hours", 180, {}),
        ("Prep 20 min | Total 2 h 10 min", 130, {}),
        ("Total 178.1 10.508", None, {}),
        ("A dough of 72% hydration, salt 2 %", None, {"hydration": "72", "salt": "2"}),
        ("Hydration: 67,5 %", None, {"hydration": "67.5"}),
        ("Starter at 100 % hydration", None, {}),
    ],
)
def test_what_a_text_says_of_the_whole(text, minutes, percents):
    said = stated_in(text)
    assert said.total_min == minutes
    assert said.percents == {name: Decimal(value) for name, value in percents.items()}


OVEN, COLD = TemperatureOf.OVEN, TemperatureOf.REFRIGERATOR
BAKED = WrittenStep(StepKind.BAKE, "Bake.", 0, 30, Decimal(220), OVEN)


@pytest.mark.parametrize(
    ("steps", "gaps"),
    [
        pytest.param([BAKED], [], id="nothing"),
        pytest.param([], [Gap.BAKE], id="no bake"),
        pytest.param([WrittenStep(StepKind.BAKE, "Bake.", 0, 30)], [Gap.OVEN], id="no oven"),
        pytest.param(
            [WrittenStep(StepKind.BAKE, "Bake.", 0, 30, Decimal(20), OVEN)],
            [Gap.COLD_OVEN],
            id="a cold oven",
        ),
        pytest.param([BAKED, WrittenStep(StepKind.COOL, "Cool.")], [Gap.TIMES], id="no minutes"),
        pytest.param(
            [BAKED, WrittenStep(StepKind.BULK, "Chill.", 0, 600, None, COLD)],
            [Gap.REFRIGERATOR],
            id="a refrigerator",
        ),
    ],
)  # fmt: skip
def test_a_class_finds_the_same_gaps(steps, gaps):
    numbered = {str(n): step for n, step in enumerate(steps)}
    assert len(class_gaps(numbered, yield_is_guess=False)) == len(gaps)
    recipe = TimedRecipe("a", "Loaf", tuple(steps), ())
    work = ClassWork(Hours(0), Room(Decimal(22), Decimal(18)), (recipe,), ())
    assert [gap.gap for gap in unsaid_in(work)] == gaps


def test_a_kind_of_bread_has_bounds_of_its_own_where_they_are_known():
    assert usual_of("salt", BreadKind.SOFT) is KIND_BOUNDS[("salt", BreadKind.SOFT)]
    assert usual_of("salt", BreadKind.LEAN) is BOUNDS["salt"]
    assert usual_of("hydration") is BOUNDS["hydration"]
