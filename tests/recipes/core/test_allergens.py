"""The two lists of the law stay two lists."""

import csv
from pathlib import Path

from recipes.core.allergens import EU_FOURTEEN, US_NINE, allergens, found_in, named
from recipes.core.choices import ComponentKind
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line

SOURCE = Path(__file__).parents[2] / "outside" / "data" / "allergens.csv"
TABLE = Path(__file__).parents[3] / "recipes" / "data" / "ingredients.csv"

BREAD_FLOUR = FormulaIngredient(
    "bread-flour",
    "Bread flour",
    is_flour=True,
    allergens_us=("wheat",),
    allergens_eu=("gluten-cereals",),
)
RYE = FormulaIngredient("rye", "Rye", is_flour=True, allergens_eu=("gluten-cereals",))
SEEDS = FormulaIngredient(
    "seeds",
    "Seeds",
    allergens_us=("sesame",),
    allergens_eu=("sesame",),
    may_contain="may contain nuts",
)


def in_the_law(regime: str) -> list[str]:
    with SOURCE.open(encoding="utf-8", newline="") as file:
        return [row["allergen"] for row in csv.DictReader(file) if row["regime"].startswith(regime)]


def test_the_us_list_is_the_one_of_the_act():
    assert [entry.label for entry in US_NINE] == in_the_law("US")
    assert [entry.key for entry in US_NINE] == [name.replace(" ", "-") for name in in_the_law("US")]


def test_the_eu_list_is_as_long_and_in_the_order_of_the_annex():
    spelling = {"sulfur dioxide and sulfites": "sulphur dioxide and sulphites"}
    spelling["mollusks"] = "molluscs"
    law = in_the_law("EU")
    assert len(EU_FOURTEEN) == len(law) == 14
    for entry, name in zip(EU_FOURTEEN, law, strict=True):
        assert name.startswith(spelling.get(entry.label, entry.label))


def test_every_key_of_the_shared_ingredients_is_in_its_list():
    with TABLE.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for column, entries in (("allergens_us", US_NINE), ("allergens_eu", EU_FOURTEEN)):
        used = {key for row in rows for key in row[column].split("|") if key}
        assert used <= {entry.key for entry in entries}


def test_entries_come_once_and_in_the_order_of_the_list():
    keys = [entry.key for entry in named(["sesame", "milk", "sesame"], US_NINE)]
    assert keys == ["milk", "sesame"]


def test_rye_is_in_the_eu_list_alone():
    found = found_in([RYE])
    assert [entry.key for entry in found.us] == []
    assert [entry.key for entry in found.eu] == ["gluten-cereals"]


def test_one_list_or_one_word_is_enough_to_have_found_something():
    oats = FormulaIngredient("oats", "Oats", may_contain="may contain wheat")
    plain = FormulaIngredient("plain", "Plain")
    assert found_in([RYE])
    assert found_in([oats])
    assert not found_in([plain])


def test_wash_and_topping_count_too():
    formula = Formula(
        "Ring",
        (
            FormulaComponent(ComponentKind.DOUGH, "Dough", (Line(BREAD_FLOUR, 100),)),
            FormulaComponent(ComponentKind.TOPPING, "Seeds", (Line(SEEDS, 10),), for_pieces=1),
        ),
        piece_g=100,
    )
    found = allergens(formula)
    assert [entry.key for entry in found.us] == ["wheat", "sesame"]
    assert found.may_contain == (("Seeds", "may contain nuts"),)


def test_nothing_entered_is_told_apart_from_something():
    assert not found_in([FormulaIngredient("water", "Water")])
    assert found_in([SEEDS])
