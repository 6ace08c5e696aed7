"""The ingredient table against its sources.

Composition, measures and household weights: USDA National Nutrient Database for Standard
Reference, release 28 (2015). Volumes: exact US customary units. Allergens: US FD&C Act
section 201(qq) and Annex II of Regulation (EU) 1169/2011. See data/README.md.
"""

import csv
import re
from decimal import ROUND_HALF_UP, Context, Decimal
from pathlib import Path

import pytest

Row = dict[str, str]

FIXTURES = Path(__file__).parent / "data"
INGREDIENTS_CSV = Path(__file__).parents[2] / "recipes" / "data" / "ingredients.csv"


def read_rows(path: Path) -> list[Row]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


def words(text: str) -> list[str]:
    return text.split()


INGREDIENTS = read_rows(INGREDIENTS_CSV)
BY_KEY = {row["key"]: row for row in INGREDIENTS}
COMPOSITION = {row["ndb_no"]: row for row in read_rows(FIXTURES / "sr28_composition.csv")}
MEASURES = read_rows(FIXTURES / "sr28_measures.csv")
BULK_DENSITY = read_rows(FIXTURES / "sr28_bulk_density.csv")
ALLERGENS = read_rows(FIXTURES / "allergens.csv")
UNITS = {row["unit"]: row for row in read_rows(FIXTURES / "units.csv")}

COLUMNS = words("""
    key name kind ndb water_pct protein_pct fat_pct carbohydrate_pct fibre_pct ash_pct
    sodium_mg energy_kcal density_g_per_ml density_from aisle storage tap pack_g pack_from
    each_g each_name part_of part_share allergens_us allergens_eu note
""")
KINDS = words("""
    flour liquid salt yeast sugar fat egg dairy seed nut grain fruit vegetable spice other
""")
AISLES = words("""
    flour-and-grain baking dairy-and-eggs produce oils spices nuts-and-seeds dried-fruit
    jars-and-cans drinks tap
""")
NEEDED_KEYS = words("""
    bread-flour whole-wheat-flour rye-flour all-purpose-flour water table-salt fine-sea-salt
    instant-yeast active-dry-yeast fresh-yeast whole-milk sugar butter egg egg-yolk egg-white
    olive-oil sesame-seeds sunflower-seeds rolled-oats honey poppy-seeds
""")
COARSE_SALTS = ("coarse-flake-salt-light", "coarse-flake-salt-dense")
NO_COMPOSITION = "No composition on record"

SR28_COLUMNS = {
    "water_pct": "water_g_per_100g",
    "protein_pct": "protein_g_per_100g",
    "fat_pct": "fat_g_per_100g",
    "carbohydrate_pct": "carb_by_diff_g_per_100g",
    "fibre_pct": "fibre_g_per_100g",
    "ash_pct": "ash_g_per_100g",
    "sodium_mg": "sodium_mg_per_100g",
    "energy_kcal": "energy_kcal_per_100g",
}
PROXIMATES = ("water_pct", "protein_pct", "fat_pct", "carbohydrate_pct", "ash_pct")

# What SR28 itself leaves out of the five parts, with the sum that remains.
INCOMPLETE_SUMS = {
    "baking-soda": ("carbonate", "37.10"),
    "vanilla-extract": ("alcohol", "65.61"),
    "beer": ("alcohol", "96.13"),
    "cider-vinegar": ("acetic acid", "94.91"),
    "black-pepper": ("not explained in the release", "94.55"),
}

EU_KEYS = {
    "cereals containing gluten": "gluten-cereals",
    "crustaceans": "crustaceans",
    "eggs": "eggs",
    "fish": "fish",
    "peanuts": "peanuts",
    "soybeans": "soybeans",
    "milk": "milk",
    "nuts": "nuts",
    "celery": "celery",
    "mustard": "mustard",
    "sesame": "sesame",
    "sulphur dioxide and sulphites": "sulphites",
    "lupin": "lupin",
    "molluscs": "molluscs",
}

# The measure in SR28 that one counted piece stands for.
PIECES = {
    "egg": "large",
    "egg-white": "large",
    "egg-yolk": "large",
    "potato": 'Potato medium (2-1/4" to 3-1/4" dia)',
    "onion": 'medium (2-1/2" dia)',
    "garlic": "clove",
}


def by_key(rows: list[Row]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("row", rows, ids=[row["key"] for row in rows])


every_ingredient = by_key(INGREDIENTS)
from_sr28 = by_key([row for row in INGREDIENTS if row["ndb"]])
with_sr28_density = by_key([r for r in INGREDIENTS if r["density_from"].startswith("SR28 ")])
with_label_density = by_key([r for r in INGREDIENTS if r["density_from"].startswith("US label")])
with_composition = by_key([row for row in INGREDIENTS if row["water_pct"]])


def sr28_name(row: Row) -> str:
    return COMPOSITION[row["ndb"]]["description"].lower() if row["ndb"] else ""


def keys_in(row: Row, column: str) -> set[str]:
    return set(row[column].split("|")) if row[column] else set()


def volume_ml(measure: str) -> Decimal:
    """Exact milliliters of the unit a household measure starts with."""
    units = {
        "cup": UNITS["cup (US)"]["mL_or_g"],
        "tbsp": UNITS["tablespoon (US)"]["mL_or_g"],
        "tablespoon": UNITS["tablespoon (US)"]["mL_or_g"],
        "tsp": UNITS["teaspoon (US)"]["mL_or_g"],
        "fl oz": UNITS["fluid ounce (US)"]["mL_or_g"],
        "quart": UNITS["quart (US liquid)"]["mL_or_g"],
        "liter": "1000",
    }
    found = re.match(r"(cup|tbsp|tablespoon|tsp|fl oz|quart|liter)\b", measure)
    assert found, f"no unit of volume in {measure!r}"
    return Decimal(units[found[1]])


def four_digits(value: Decimal) -> Decimal:
    return Context(prec=4, rounding=ROUND_HALF_UP).plus(value)


def legal_keys(regime_starts_with: str) -> set[str]:
    names = [row["allergen"] for row in ALLERGENS if row["regime"].startswith(regime_starts_with)]
    if regime_starts_with == "US":
        return {name.replace(" ", "-") for name in names}
    return {EU_KEYS[re.split(r" \(| >", name)[0]] for name in names}


def test_the_table_has_the_agreed_columns_and_no_stray_spaces() -> None:
    assert list(INGREDIENTS[0]) == COLUMNS
    stray = [
        (row["key"], column)
        for row in INGREDIENTS
        for column in COLUMNS
        if row[column] is None or row[column] != row[column].strip()
    ]
    assert not stray


def test_keys_and_names_are_unique() -> None:
    assert len(BY_KEY) == len(INGREDIENTS)
    assert len({row["name"].lower() for row in INGREDIENTS}) == len(INGREDIENTS)


@pytest.mark.parametrize("key", NEEDED_KEYS)
def test_a_key_that_recipes_rely_on_is_there(key: str) -> None:
    assert key in BY_KEY


@every_ingredient
def test_words_come_from_closed_lists(row: Row) -> None:
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", row["key"])
    assert row["kind"] in KINDS
    assert row["aisle"].replace(" ", "-") in AISLES
    assert row["storage"] in {"ambient", "chilled", "frozen"}
    assert row["tap"] in {"yes", "no"}


def test_every_kind_is_used() -> None:
    assert {row["kind"] for row in INGREDIENTS} == set(KINDS)


def test_only_water_comes_from_the_tap() -> None:
    assert [row["key"] for row in INGREDIENTS if row["tap"] == "yes"] == ["water"]


def test_an_ingredient_without_an_sr28_row_is_one_that_the_release_lacks() -> None:
    """Either the note says so, or it is a salt or yeast whose note tells what is known of it."""
    without = [row for row in INGREDIENTS if not row["ndb"]]
    told = {row["key"] for row in without if NO_COMPOSITION in row["note"]}
    rest = {"fine-sea-salt", "instant-yeast", *COARSE_SALTS, "dates", "prunes"}
    assert {row["key"] for row in without} - told == rest
    assert not any(NO_COMPOSITION in row["note"] for row in INGREDIENTS if row["ndb"])


@from_sr28
def test_composition_is_the_sr28_row(row: Row) -> None:
    assert re.fullmatch(r"\d{5}", row["ndb"])
    source = COMPOSITION[row["ndb"]]
    ours = {column: row[column] for column in SR28_COLUMNS}
    assert ours == {column: source[theirs] for column, theirs in SR28_COLUMNS.items()}


@by_key([row for row in INGREDIENTS if not row["ndb"]])
def test_composition_is_left_empty_where_no_source_gives_it(row: Row) -> None:
    assert not any(row[column] for column in SR28_COLUMNS)


@with_composition
def test_parts_add_up_to_a_hundred_unless_a_part_has_no_column(row: Row) -> None:
    total = sum((Decimal(row[column]) for column in PROXIMATES), Decimal(0))
    if row["key"] in INCOMPLETE_SUMS:
        missing, remains = INCOMPLETE_SUMS[row["key"]]
        assert total == Decimal(remains), missing
    else:
        assert abs(total - 100) <= Decimal("1" if row["key"] == "fresh-yeast" else "0.15")


@with_composition
def test_fiber_is_part_of_carbohydrate(row: Row) -> None:
    assert Decimal(row["fibre_pct"] or 0) <= Decimal(row["carbohydrate_pct"])


def test_the_density_fixture_is_grams_over_the_exact_us_volume() -> None:
    apart = [
        (row["ndb_no"], row["measure"])
        for row in BULK_DENSITY
        if abs(
            Decimal(row["gram_weight"]) / volume_ml(row["measure"]) - Decimal(row["g_per_mL_us"])
        )
        > Decimal("0.00005")
    ]
    assert len(BULK_DENSITY) == 237
    assert not apart


@with_sr28_density
def test_density_is_the_named_sr28_measure(row: Row) -> None:
    named = re.fullmatch(r"SR28 (.+) ([\d.]+) g", row["density_from"])
    assert named
    measure, grams = named[1], Decimal(named[2])
    published = [
        Decimal(m["gram_weight"])
        for m in MEASURES
        if (m["ndb_no"], m["measure"], m["amount"]) == (row["ndb"], measure, "1")
    ]
    assert published == [grams]
    assert Decimal(row["density_g_per_ml"]) == four_digits(grams / volume_ml(measure))


@with_label_density
def test_density_is_the_named_label_weight(row: Row) -> None:
    named = re.fullmatch(r"US label weights, ([\d.]+) g a teaspoon", row["density_from"])
    assert named
    assert Decimal(row["density_g_per_ml"]) == four_digits(Decimal(named[1]) / volume_ml("tsp"))


@every_ingredient
def test_a_density_comes_with_its_source_and_four_digits(row: Row) -> None:
    assert bool(row["density_g_per_ml"]) == bool(row["density_from"])
    if row["density_g_per_ml"]:
        assert row["density_from"].startswith(("SR28 ", "US label weights, "))
        assert len(Decimal(row["density_g_per_ml"]).as_tuple().digits) == 4
        assert Decimal("0.1") < Decimal(row["density_g_per_ml"]) < Decimal("1.5")


@pytest.mark.parametrize("key", COARSE_SALTS)
def test_coarse_salt_has_no_density_and_says_weigh_it(key: str) -> None:
    assert BY_KEY[key]["density_g_per_ml"] == ""
    assert "weigh it" in BY_KEY[key]["note"]


def test_an_ingredient_without_a_density_is_counted_or_says_weigh_it() -> None:
    without = [row for row in INGREDIENTS if not row["density_g_per_ml"]]
    assert len(without) > 10
    assert [r["key"] for r in without if not r["each_g"] and "weigh it" not in r["note"]] == []


def test_counted_ingredients_are_the_ones_with_a_piece_in_sr28() -> None:
    assert {row["key"] for row in INGREDIENTS if row["each_g"]} == set(PIECES)


@by_key([BY_KEY[key] for key in PIECES])
def test_a_piece_weighs_what_sr28_says(row: Row) -> None:
    published = [
        Decimal(m["g_per_measure_unit"])
        for m in MEASURES
        if (m["ndb_no"], m["measure"]) == (row["ndb"], PIECES[row["key"]])
    ]
    assert published == [Decimal(row["each_g"])]
    assert row["each_name"]


def test_white_and_yolk_are_the_shares_of_a_large_egg_that_sr28_weighed() -> None:
    """SR28: a large egg has 50 g inside, of which white 33 and yolk 17."""
    grams = {key: Decimal(BY_KEY[key]["each_g"]) for key in ("egg", "egg-white", "egg-yolk")}
    for key in ("egg-white", "egg-yolk"):
        assert BY_KEY[key]["part_of"] == "egg"
        assert Decimal(BY_KEY[key]["part_share"]) == grams[key] / grams["egg"]
        assert BY_KEY[key]["pack_g"] == ""
    assert [row["key"] for row in INGREDIENTS if row["part_of"]] == ["egg-white", "egg-yolk"]


@every_ingredient
def test_a_pack_is_marked_usual_and_editable(row: Row) -> None:
    if row["pack_g"]:
        assert Decimal(row["pack_g"]) > 0
        assert row["pack_from"] == "usual pack, editable"
    else:
        assert row["key"] in {"water", "egg-white", "egg-yolk"}
        assert row["pack_from"] == ""


@pytest.mark.parametrize(("regime", "column", "count"), [("US", "us", 9), ("EU", "eu", 14)])
def test_allergen_keys_are_those_of_the_law(regime: str, column: str, count: int) -> None:
    allowed = legal_keys(regime)
    assert len(allowed) == count
    used = set().union(*(keys_in(row, f"allergens_{column}") for row in INGREDIENTS))
    assert used <= allowed


WHEAT = re.compile(r"\b(wheat|semolina|spelt|bulgur)\b")
OTHER_GLUTEN_CEREAL = re.compile(r"\b(rye|oats?|barley|malt|beer)\b")
MILK = re.compile(r"^(milk|cheese|butter|cream|yogurt)\b")


@from_sr28
def test_wheat_is_in_both_lists_and_other_gluten_cereals_in_the_eu_list_alone(
    row: Row,
) -> None:
    us, eu = keys_in(row, "allergens_us"), keys_in(row, "allergens_eu")
    is_wheat = bool(WHEAT.search(sr28_name(row)))
    is_other = bool(OTHER_GLUTEN_CEREAL.search(sr28_name(row)))
    assert ("wheat" in us) == is_wheat
    assert ("gluten-cereals" in eu) == (is_wheat or is_other)


def test_the_cereal_rule_meets_every_cereal_it_must() -> None:
    wheat = {row["key"] for row in INGREDIENTS if "wheat" in keys_in(row, "allergens_us")}
    gluten = {row["key"] for row in INGREDIENTS if "gluten-cereals" in keys_in(row, "allergens_eu")}
    assert {"bread-flour", "all-purpose-flour", "whole-wheat-flour", "spelt-flour"} < wheat
    assert {"semolina", "vital-wheat-gluten"} < wheat
    assert {"rye-flour", "rolled-oats", "malt-syrup", "barley-flour"} < gluten - wheat


@from_sr28
def test_milk_egg_sesame_and_soy_are_named_in_both_lists(row: Row) -> None:
    us, eu = keys_in(row, "allergens_us"), keys_in(row, "allergens_eu")
    name = sr28_name(row)
    if row["key"] == "dark-chocolate":
        assert {"milk", "soybeans"} <= us & eu
        return
    assert ("milk" in us, "milk" in eu) == (bool(MILK.match(name)),) * 2
    assert ("egg" in us, "eggs" in eu) == (name.startswith("egg,"),) * 2
    assert ("sesame" in us, "sesame" in eu) == ("sesame" in name,) * 2
    assert ("soybeans" in us, "soybeans" in eu) == ("soy" in name,) * 2


@by_key([row for row in INGREDIENTS if row["kind"] == "nut"])
def test_a_nut_is_in_the_eu_list_only_when_annex_ii_names_it(row: Row) -> None:
    annex = next(r["allergen"] for r in ALLERGENS if r["allergen"].startswith("nuts ("))
    named = row["key"].rstrip("s") in annex
    if row["key"].startswith("peanut"):
        assert keys_in(row, "allergens_us") == keys_in(row, "allergens_eu") == {"peanuts"}
        return
    assert keys_in(row, "allergens_us") == {"tree-nuts"}
    assert keys_in(row, "allergens_eu") == ({"nuts"} if named else set())


@by_key([row for row in INGREDIENTS if row["aisle"] == "dried fruit"])
def test_dried_fruit_speaks_of_sulphites(row: Row) -> None:
    assert "sulphites" in keys_in(row, "allergens_eu") or "sulphites" in row["note"]


@every_ingredient
def test_no_note_promises_that_food_is_harmless(row: Row) -> None:
    assert not re.search(r"safe (for|to)|free (from|of)|-free\b", row["note"].lower())


ADDRESS = re.compile(r"://|www\.|\b[\w-]+\.(com|org|net|io|gov|eu|edu)\b", re.IGNORECASE)
TABLES = [INGREDIENTS_CSV, *sorted(FIXTURES.glob("*.csv"))]


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_a_table_holds_no_web_address_and_its_rows_are_whole(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not ADDRESS.search(text)
    rows = list(csv.reader(text.splitlines(), strict=True))
    assert len(rows) > 1
    assert {len(row) for row in rows} == {len(rows[0])}


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_a_readme_says_where_each_table_comes_from(path: Path) -> None:
    assert f"`{path.name}`" in (path.parent / "README.md").read_text(encoding="utf-8")
