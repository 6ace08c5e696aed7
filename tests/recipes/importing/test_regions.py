"""Whose measures are meant: cups, spoons, pints, sticks and eggs by region."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from recipes.core.regions import HomeRegion
from recipes.importing.amounts.region import named_region
from recipes.importing.text.lines import read_line

OUTSIDE = Path(__file__).parents[2] / "outside" / "data"


def figures(name, key, value):
    with (OUTSIDE / name).open(encoding="utf-8", newline="") as file:
        return {row[key]: row[value] for row in csv.DictReader(file, strict=True)}


ONE = {unit: Decimal(ml) for unit, ml in figures("units.csv", "unit", "mL_or_g").items() if ml}
# Metric cups and spoons are in no table that could be read: 250, 20, 15 and 5 ml from memory.
METRIC = {"cup": Decimal(250), "tbsp": Decimal(15), "tsp": Decimal(5)}
IMPERIAL = {
    "fl oz": ONE["fluid ounce (imperial)"],
    "pint": ONE["pint (imperial)"],
    "quart": ONE["pint (imperial)"] * 2,
}
US = {
    "cup": ONE["cup (US)"],
    "tbsp": ONE["tablespoon (US)"],
    "tsp": ONE["teaspoon (US)"],
    "fl oz": ONE["fluid ounce (US)"],
    "pint": ONE["pint (US liquid)"],
    "quart": ONE["quart (US liquid)"],
}
HOLDS = {
    "us": US,
    "uk": METRIC | IMPERIAL,
    "au": METRIC | IMPERIAL | {"tbsp": Decimal(20)},
    "ca": METRIC | IMPERIAL,
    "eu": METRIC | IMPERIAL,
}


def read(text, book, region):
    return read_line(text, book.in_region(region and HomeRegion(region)))


@pytest.mark.parametrize(
    ("region", "unit"), [(region, unit) for region, units in HOLDS.items() for unit in units]
)
def test_a_measure_holds_what_its_region_means(region, unit, book):
    line = read(f"1 {unit} water", book, region)
    assert abs(line.written.mass_g - HOLDS[region][unit]) < Decimal("0.001")


@pytest.mark.parametrize(
    ("region", "text", "kinds"),
    [
        ("us", "1 tbsp honey", []),
        ("au", "1 tbsp honey", []),
        (None, "1 tbsp honey", ["MeasureAssumed"]),
        (None, "1 cup sugar", ["MeasureAssumed"]),
        (None, "1 US cup sugar", []),
        (None, "1 tsp honey", []),
        ("eu", "1 cup sugar", ["MeasureAssumed"]),
        ("us", "1 stick salted butter", []),
        ("eu", "1 metric cup sugar", []),
        ("uk", "1 stick salted butter", ["MeasureAssumed"]),
        ("uk", "300ml/½ pint water", []),
        ("us", "300ml/½ pint water", []),
        ("uk", "300ml/1 pint water", ["AmountsDisagree"]),
        ("uk", "50ml/2fl oz water", ["AmountsDisagree"]),
    ],
)
def test_only_a_guess_is_doubted(region, text, kinds, book):
    assert [doubt.kind for doubt in read(text, book, region).doubts] == kinds


@pytest.mark.parametrize("region", [region.value for region in HomeRegion])
def test_a_cup_and_its_spoons_add_up_by_the_region(region, book):
    holds = HOLDS[region]
    for text in ("1 cup plus 2 tbsp water", "1 cup 2 tbsp water"):
        line = read(text, book, region)
        assert abs(line.written.mass_g - holds["cup"] - 2 * holds["tbsp"]) < Decimal("0.001")


US_EGGS = {
    row: Decimal(g) for row, g in figures("egg_sizes.csv", "class", "sr28_edible_g").items() if g
}


@pytest.mark.parametrize(
    ("region", "text", "grams", "doubted"),
    [
        ("us", "1 large egg", US_EGGS["large"], False),
        ("us", "1 medium egg", US_EGGS["medium"], True),
        ("us", "1 extra large egg", US_EGGS["extra large"], True),
        ("us", "1 egg", US_EGGS["large"], True),
        ("ca", "1 large egg", US_EGGS["large"], True),
        ("au", "1 large egg", US_EGGS["large"], True),
        # The middle of 63 to 73 and of 53 to 63 g, times the share of a large US egg.
        ("uk", "1 large egg", Decimal("60.0"), True),
        ("uk", "1 medium free-range egg", Decimal("51.1"), True),
        ("eu", "1 egg (M)", Decimal("51.1"), True),
        ("eu", "1 egg", Decimal("51.1"), True),
    ],
)
def test_an_egg_is_one_of_its_region(region, text, grams, doubted, book):
    line = read(text, book, region)
    assert abs(line.written.mass_g - grams) <= Decimal("0.1")
    assert ("SizeAssumed" in [doubt.kind for doubt in line.doubts]) is doubted


@pytest.mark.parametrize(
    ("text", "region"),
    [
        ("Loaf\nUK measures throughout.", "uk"),
        ("I use Australian tablespoons (20 ml).", "au"),
        ("All in US cups.", "us"),
        ("Imperial pints!", "uk"),
        ("Canadian metric cups", "ca"),
        ("British standard measures", "uk"),
        ("Let us cup our hands and measure.", None),
        ("US cups, and UK pints", None),
        ("An American loaf", None),
        ("", None),
    ],
)
def test_a_text_names_its_own_region(text, region):
    assert named_region(text) == region


@pytest.mark.parametrize(
    ("text", "grams"), [("2 cups bread flour", "240"), ("2 cups bread flour, dipped", "274")]
)
def test_a_volume_of_flour_is_doubted_with_both_usual_weights(text, grams, book):
    line = read(text, book, "us")
    (doubt,) = line.doubts
    assert round(line.written.mass_g) == Decimal(grams)
    assert (round(doubt.spooned_g), round(doubt.dipped_g)) == (240, 274)


def test_every_flour_by_volume_is_doubted(book):
    flours = [book.get(key) for key in book.keys if book.get(key).kind == "flour"]
    for region in (None, *HomeRegion):
        for flour in flours:
            line = read_line(f"1 cup {flour.name.lower()}", book.in_region(region))
            kinds = {doubt.kind for doubt in line.doubts}
            assert kinds & {"FlourByVolume", "NoDensityKnown"}, flour.key
    assert len(flours) > 10
