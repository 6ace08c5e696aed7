"""Salt, sugar, fat and yeast of a dough, in percent of all flour."""

from decimal import Decimal

from recipes.core.choices import ComponentKind
from recipes.core.formula import Formula, FormulaComponent
from recipes.core.shares import shares
from tests.recipes.core.breads import (
    BREAD_FLOUR,
    BUTTER,
    OIL,
    PILLOW_ROLLS,
    RYE_BATARD,
    SUGAR,
    WATER,
    dough,
    lines,
)

KINDS = {
    "table-salt": "salt",
    "instant-yeast": "yeast",
    "sugar": "sugar",
    "butter": "fat",
    "olive-oil": "fat",
    "bread-flour": "flour",
}


def shown(formula):
    return {share.what: share.percent for share in shares(formula, KINDS)}


def test_a_rich_dough_tells_salt_sugar_fat_and_its_yeast_by_name():
    assert shown(PILLOW_ROLLS) == {
        "Salt": Decimal("1.8"),
        "Sugar, as added": 10,
        "Fat, as added": 12,
        "Instant yeast": Decimal("1.6"),
    }


def test_yeast_in_the_preferment_counts():
    assert shown(RYE_BATARD)["Instant yeast"] == Decimal("0.4")


def test_fats_are_added_up_and_what_is_not_there_is_not_told():
    formula = Formula(
        "Bread",
        (dough((BREAD_FLOUR, "200"), (WATER, "120"), (BUTTER, "10"), (OIL, "6")),),
        Decimal(160),
    )
    assert shown(formula) == {"Fat, as added": 8}


def test_what_lies_on_top_is_not_in_the_dough():
    glaze = FormulaComponent(ComponentKind.TOPPING, "Glaze", lines((SUGAR, "40")), 1)
    formula = Formula("Buns", (dough((BREAD_FLOUR, "100"), (WATER, "60")), glaze), Decimal(80))
    assert shown(formula) == {}


def test_nothing_is_told_of_ingredients_of_unknown_kind():
    assert shares(PILLOW_ROLLS, {}) == ()
