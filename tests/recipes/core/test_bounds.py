"""Bounds of the usual, which explain themselves and block nothing."""

from decimal import Decimal

import pytest
from hypothesis import given

from recipes.core.bounds import BOUNDS, UsualBound, bounds_findings, worded
from recipes.core.choices import ComponentKind
from recipes.core.exchange.kinds import YEAST_FACTORS
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient
from tests.recipes.core.breads import (
    BREAD_FLOUR,
    BUTTER,
    DEMO_FORMULAS,
    MILK,
    SALT,
    SUGAR,
    WATER,
    YEAST,
    dough,
    lines,
)
from tests.recipes.core.strategies import formulas

FRESH_YEAST = FormulaIngredient("fresh-yeast", "Fresh yeast")
OWN_YEAST = FormulaIngredient("own-yeast", "Own yeast")
KINDS = {
    "table-salt": "salt",
    "instant-yeast": "yeast",
    "fresh-yeast": "yeast",
    "own-yeast": "yeast",
    "butter": "fat",
    "olive-oil": "fat",
    "sugar": "sugar",
    "bread-flour": "flour",
    "water": "liquid",
}


def findings(*amounts, parts=()):
    """Words about a dough of 100 flour, 65 water and 2 salt unless told otherwise."""
    usual = {WATER: "65", SALT: "2"} | dict(amounts)
    kept = [(one, grams) for one, grams in usual.items() if grams != "0"]
    formula = Formula("Bread", (dough((BREAD_FLOUR, "100"), *kept), *parts), Decimal(100))
    return [worded(finding) for finding in bounds_findings(formula, KINDS)]


@pytest.mark.parametrize("formula", DEMO_FORMULAS, ids=lambda formula: formula.title)
def test_the_demo_breads_are_usual(formula):
    assert bounds_findings(formula, KINDS) == ()


@pytest.mark.parametrize(
    ("ingredient", "grams", "words"),
    [
        (SALT, "3.4", "salt 3.4 %: most breads 1.5 to 2.5 %"),
        (SALT, "0", "salt 0 %: most breads 1.5 to 2.5 %"),
        (SALT, "2.51", "salt 2.51 %: most breads 1.5 to 2.5 %"),
        (SALT, "1.49", "salt 1.49 %: most breads 1.5 to 2.5 %"),
        (SALT, "2.50001", "salt 2.50001 %: most breads 1.5 to 2.5 %"),
        (SALT, "2.5000001", "salt 2.5000001 %: most breads 1.5 to 2.5 %"),
        (SALT, "20", "salt 20 %: most breads 1.5 to 2.5 %"),
        (WATER, "45", "hydration 45 %: most breads 50 to 90 %"),
        (WATER, "100", "hydration 100 %: most breads 50 to 90 %"),
        (BUTTER, "61", "fat 61 %: most breads up to 60 %"),
        (SUGAR, "30", "sugar 30 %: most breads up to 25 %"),
        (YEAST, "3", "yeast, as fresh 9.1 %: most breads 0.1 to 5 %"),
        (FRESH_YEAST, "6", "yeast, as fresh 6 %: most breads 0.1 to 5 %"),
        (OWN_YEAST, "0.05", "yeast, as fresh 0.05 %: most breads 0.1 to 5 %"),
    ],
)
def test_the_unusual_is_said_in_one_line(ingredient, grams, words):
    assert findings((ingredient, grams)) == [words]


@pytest.mark.parametrize(
    ("ingredient", "grams"),
    [
        pytest.param(SALT, "1.5", id="least salt"),
        pytest.param(SALT, "2.5", id="most salt"),
        pytest.param(WATER, "50", id="least water"),
        pytest.param(WATER, "90", id="most water"),
        pytest.param(YEAST, "1.6", id="instant yeast of soft rolls"),
        pytest.param(FRESH_YEAST, "5", id="most fresh yeast"),
        pytest.param(BUTTER, "60", id="brioche"),
    ],
)
def test_the_bounds_themselves_are_usual(ingredient, grams):
    assert findings((ingredient, grams)) == []


def preferment(flour):
    return FormulaComponent(
        ComponentKind.PREFERMENT, "Poolish", lines((BREAD_FLOUR, flour), (WATER, "1"))
    )


def roux(flour):
    return FormulaComponent(ComponentKind.ROUX, "Roux", lines((BREAD_FLOUR, flour), (MILK, "1")))


@pytest.mark.parametrize(
    ("part", "words"),
    [
        (
            preferment("100"),
            "prefermented flour 50 %: most breads with a preferment 15 to 40 %",
        ),
        (roux("25"), "roux flour 20 %: most roux breads 5 to 10 %"),
    ],
)
def test_preferments_and_roux_have_bounds_where_there_are_any(part, words):
    said = findings((SALT, "3.5"), (WATER, "120"), parts=(part,))
    assert words in said
    assert not any("flour" in line for line in findings())


def test_several_findings_come_in_the_order_of_the_bounds():
    said = findings((SUGAR, "40"), (SALT, "5"), (WATER, "30"))
    assert [line.split()[0] for line in said] == ["salt", "hydration", "sugar"]


def test_a_finding_carries_its_numbers_and_its_source():
    formula = Formula("Bread", (dough((BREAD_FLOUR, "100"), (WATER, "65")),), Decimal(100))
    (finding,) = bounds_findings(formula, KINDS)
    assert (finding.what, finding.value) == ("salt", 0)
    assert (finding.least, finding.most) == (Decimal("1.5"), Decimal("2.5"))
    assert finding.source == BOUNDS["salt"].source


def test_bounds_and_factors_are_editable():
    formula = Formula(
        "Bread", (dough((BREAD_FLOUR, "100"), (WATER, "65"), (YEAST, "1")),), Decimal(100)
    )
    strict = {"yeast, as fresh": UsualBound("yeast", Decimal(0), Decimal("2.6"), "our own")}
    kitchen = next(one for one in YEAST_FACTORS if one.key == "kitchen")
    silent = next(one for one in YEAST_FACTORS if one.key == "half")
    assert bounds_findings(formula, KINDS, bounds=strict)[0].value > 3
    assert bounds_findings(formula, KINDS, bounds=strict, factors=kitchen) == ()
    assert bounds_findings(formula, KINDS, bounds=strict, factors=silent) == ()


@given(formulas())
def test_any_formula_gets_findings_that_are_outside_and_can_be_said(formula):
    for finding in bounds_findings(formula, KINDS):
        assert not finding.least <= finding.value <= finding.most
        shown = Decimal(worded(finding).removeprefix(finding.what).split()[0])
        assert not finding.least <= shown <= finding.most
