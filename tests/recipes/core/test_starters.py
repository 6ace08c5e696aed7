"""A starter counts as its flour and water: against the same bread written out, and by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.core.adjusting import Held, LineAt, percent_at, set_grams, set_percents
from recipes.core.allergen_trace import trace
from recipes.core.allergens import allergens
from recipes.core.batch.card import formula_card
from recipes.core.batch.nutrition import Nutrient, nutrition
from recipes.core.batch.yields import of_flour_in_pieces, of_pieces
from recipes.core.bounds import bounds_findings
from recipes.core.choices import ComponentKind
from recipes.core.composition import TAP_WATER, Composition, mixed
from recipes.core.errors import OutOfRange, StarterUnknown
from recipes.core.formula import (
    WATER,
    Formula,
    FormulaComponent,
    FormulaIngredient,
    Line,
    Starter,
    component_card,
    opened,
    overall,
    proportions,
)
from recipes.core.heat.balance import mix
from recipes.core.heat.dough_batch import DoughBatch, Temperatures
from recipes.core.scaling import batch
from recipes.core.shares import shares
from tests.recipes.core.batch.test_nutrition import composed
from tests.recipes.core.breads import (
    BENCH_AND_POCKET,
    BREAD_FLOUR,
    SALT,
    WHOLE_WHEAT,
    lines,
    rounded,
)

RYE = FormulaIngredient(
    "rye-flour",
    "Rye flour",
    is_flour=True,
    allergens_eu=("gluten-cereals",),
    may_contain="may contain soy",
)
KINDS = {"table-salt": "salt", "rye-flour": "flour", "rye-starter": "starter"}
FOODS = {
    "rye-flour": composed("10.97", "10.88", "1.52", "75.43", "11.8", "1.20", "2", "349"),
    "table-salt": composed("0.20", "0", "0", "0", "0", "99.80", "38758", "0"),
    "water": TAP_WATER,
}
FOODS["rye-starter"] = mixed([(FOODS["rye-flour"], Decimal(100)), (TAP_WATER, Decimal(100))])


def starter(hydration, *flours, key="rye-starter", name="Rye starter"):
    parts = tuple((flour, Decimal(share)) for flour, share in flours)
    known = None if hydration is None else Decimal(hydration)
    return FormulaIngredient(key, name, allergens_known=False).as_starter(Starter(known, parts))


def rye_bread(*first):
    """900 g of rye in the dough, 680 g of water, and what comes before it."""
    final = FormulaComponent(
        ComponentKind.DOUGH, "Dough", lines((RYE, "900"), (WATER, "680"), (SALT, "20"))
    )
    return Formula("Rye loaf", (*first, final), piece_g=Decimal(900), pieces=2)


RYE_STARTER = starter("1", (RYE, "100"))
IN_ALL = rye_bread(
    FormulaComponent(ComponentKind.PREFERMENT, "Levain", lines((RYE_STARTER, "200")))
)
WRITTEN_OUT = rye_bread(
    FormulaComponent(ComponentKind.PREFERMENT, "Levain", lines((RYE, "100"), (WATER, "100")))
)
IN_THE_DOUGH = Formula(
    "Rye loaf",
    (
        FormulaComponent(
            ComponentKind.DOUGH,
            "Dough",
            lines((RYE_STARTER, "200"), (RYE, "900"), (WATER, "680"), (SALT, "20")),
        ),
    ),
    piece_g=Decimal(900),
    pieces=2,
)
UNSAID = rye_bread(
    FormulaComponent(ComponentKind.PREFERMENT, "Levain", lines((starter(None, (RYE, "1")), "200")))
)


def written_down(lines):
    return [(line.ingredient.key, line.mass_g, line.percent) for line in lines]


def figures(formula):
    """Every figure of a formula that does not name its starter or its parts."""
    card = formula_card(formula, Decimal(1800), BENCH_AND_POCKET)
    found = nutrition(formula, FOODS, Decimal("0.1"))
    sums = {one: round(getattr(found, one), 12) for one in Nutrient}
    warm = DoughBatch(batch(formula, Decimal(1800)), FOODS)
    at = Temperatures(flour_c=Decimal(18), room_c=Decimal(24), tap_c=Decimal(12))
    return {
        "dough": formula.dough_g,
        "flour": formula.flour_g,
        "proportions": proportions(formula),
        "overall": sorted(written_down(overall(formula))),
        "overall of the card": sorted(
            (line.amount.ingredient.key, line.amount.weighed, line.percent) for line in card.overall
        ),
        "sum of the card": card.overall_weighed_g,
        "shares": shares(formula, KINDS),
        "bounds": bounds_findings(formula, KINDS),
        "allergens": allergens(formula),
        "trace": {(one.regime, one.allergen.key) for one in trace(formula).entries},
        "nutrition": (found.baked_g, sums, found.unknown),
        "unknown heat": warm.unknown,
        "warmth": round(mix(warm.portions(at)).temperature_c, 2),
        "yields": (
            of_pieces(formula, 3, Decimal(900)),
            of_flour_in_pieces(formula, Decimal(1000), 2),
        ),
    }


@pytest.mark.parametrize("bread", [IN_ALL, IN_THE_DOUGH], ids=["levain", "in the dough"])
def test_every_figure_is_that_of_the_bread_written_out(bread):
    expected, found = figures(WRITTEN_OUT), figures(bread)
    expected["allergens"] = found_once(expected["allergens"])
    found["allergens"] = found_once(found["allergens"])
    assert found == expected


def found_once(found):
    """Without who may contain what, which names the starter as well."""
    return found.us, found.eu, {words for _, words in found.may_contain}, found.unknown


def test_the_rye_loaf_by_hand():
    read = proportions(IN_ALL)
    assert (IN_ALL.dough_g, IN_ALL.flour_g) == (1800, 1000)
    assert (read.total, read.hydration, read.prefermented_flour) == (180, 78, 10)
    assert read.hydration_with_hidden_water == 78
    assert shares(IN_ALL, KINDS)[0].percent == 2


def test_other_waters_and_flours_open_in_their_shares():
    stiff = starter("0.5", (BREAD_FLOUR, "50"), (WHOLE_WHEAT, "25"))
    found = [(one.ingredient.key, one.mass_g) for one in Line(stiff, Decimal(90)).opened]
    assert found == [("bread-flour", 40), ("whole-wheat-flour", 20), ("water", 30)]


def test_flours_that_nobody_named_are_counted_and_nothing_else_is_said_of_them():
    loaf = rye_bread(
        FormulaComponent(ComponentKind.PREFERMENT, "Levain", lines((starter("1"), "200")))
    )
    assert proportions(loaf) == proportions(WRITTEN_OUT)
    assert allergens(loaf).unknown == ("Rye starter",)
    names = [line.ingredient.name for line in overall(loaf)]
    assert names == ["Flour in Rye starter", "Water", "Rye flour", "Table salt"]
    assert [
        one.name for one in nutrition(loaf, FOODS | {"rye-starter": Composition()}).unknown
    ] == ["Rye starter"]


def test_a_starter_contains_what_is_in_its_flours_and_what_is_entered_for_it():
    with_milk = FormulaIngredient("s", "Starter", allergens_eu=("milk",)).as_starter(
        Starter(
            Decimal(1),
            ((RYE, Decimal(1)), (replace(BREAD_FLOUR, allergens_known=False), Decimal(1))),
        )
    )
    assert with_milk.allergens_eu == ("milk", "gluten-cereals")
    assert with_milk.may_contain == "may contain soy"
    assert not with_milk.allergens_known
    assert RYE_STARTER.allergens_known


def test_without_its_water_no_percentage_can_be_said():
    assert UNSAID.unopened == ("Rye starter",)
    assert UNSAID.flour_g is None
    assert {getattr(proportions(UNSAID), name) for name in proportions(UNSAID).__slots__} == {None}
    assert {line.percent for line in overall(UNSAID)} == {None}
    assert {line.percent for line in component_card(UNSAID, UNSAID.components[1])} == {None}
    assert shares(UNSAID, KINDS)[0].percent is None
    assert bounds_findings(UNSAID, KINDS) == ()
    assert percent_at(UNSAID, LineAt(1, 0)) is None
    assert of_pieces(UNSAID, 2, Decimal(900)).flour_g is None
    for ask in (
        lambda: of_flour_in_pieces(UNSAID, Decimal(1000), 2),
        lambda: set_percents(UNSAID, {LineAt(1, 2): Decimal(2)}, Held.FLOUR),
        lambda: set_grams(UNSAID, {LineAt(1, 0): Decimal(800)}, Held.FLOUR),
    ):
        with pytest.raises(StarterUnknown) as refused:
            ask()
        assert refused.value.names == ("Rye starter",)


def test_a_levains_starter_is_set_against_the_flour_it_is_fed_with():
    levain = FormulaComponent(
        ComponentKind.PREFERMENT,
        "Levain",
        lines((RYE, "100"), (WATER, "100"), (RYE_STARTER, "20")),
    )
    own = [line.own_percent for line in component_card(rye_bread(levain), levain)]
    assert own == [100, 100, 20]
    assert levain.flour_g == 110


def test_flour_makes_room_for_the_flour_in_a_starter_that_grows():
    more = set_grams(IN_ALL, {LineAt(0, 0): Decimal(400)}, Held.FLOUR)
    assert more.flour_g == 1000
    assert [line.mass_g for line in more.components[1].lines] == [800, 680, 20]
    less = set_percents(IN_ALL, {LineAt(0, 0): Decimal(10)}, Held.FLOUR)
    assert (less.flour_g, less.components[0].lines[0].mass_g) == (1000, 100)
    same = set_grams(IN_ALL, {LineAt(1, 1): Decimal(700)}, Held.FLOUR)
    assert [line.mass_g for line in same.components[1].lines] == [900, 700, 20]


@pytest.mark.parametrize("hydration", ["0", "-1"])
def test_a_starter_without_water_is_refused(hydration):
    with pytest.raises(OutOfRange):
        Starter(Decimal(hydration))


@given(
    mass=st.decimals("0.1", "5000", places=4),
    hydration=st.decimals("0.3", "3", places=4),
    shares_of=st.lists(st.decimals("0.01", "100", places=2), min_size=1, max_size=4),
)
def test_what_a_starter_opens_into_weighs_what_it_weighs(mass, hydration, shares_of):
    flours = [(replace(RYE, key=f"rye-{n}"), str(share)) for n, share in enumerate(shares_of)]
    found = list(opened([Line(starter(str(hydration), *flours), mass)]))
    assert sum(one.mass_g for one in found) == pytest.approx(mass, abs=Decimal("1e-20"))
    flour_g = sum(one.mass_g for one in found if one.ingredient.is_flour)
    assert found[-1].mass_g / flour_g == pytest.approx(hydration, rel=Decimal("1e-20"))


# The country sourdough of the demo, 8 pieces of 800 g, worked by hand: flour 6400 / 1.761.
WHOLE_WHEAT_STARTER = starter("1", (WHOLE_WHEAT, "100"), key="whole-wheat-starter")
COUNTRY = Formula(
    "Country sourdough",
    (
        FormulaComponent(
            ComponentKind.PREFERMENT,
            "Levain",
            lines(
                (BREAD_FLOUR, "100"),
                (WHOLE_WHEAT, "100"),
                (WATER, "200"),
                (WHOLE_WHEAT_STARTER, "40"),
            ),
        ),
        FormulaComponent(
            ComponentKind.DOUGH,
            "Dough",
            lines(
                (BREAD_FLOUR, "780"),
                (WHOLE_WHEAT, "45"),
                (FormulaIngredient("rye-flour", "Rye flour", is_flour=True), "55"),
                (WATER, "594"),
                (SALT, "23.1"),
            ),
        ),
    ),
    piece_g=Decimal(800),
    pieces=2,
)


def test_the_country_sourdough_of_the_demo():
    read = proportions(COUNTRY)
    found = [read.total, read.hydration, read.prefermented_flour, shares(COUNTRY, KINDS)[0].percent]
    assert rounded(found, 3) == ["176.100", "74.000", "20.000", "2.100"]
    percents = {line.ingredient.key: line.percent for line in overall(COUNTRY)}
    assert rounded(percents.values(), 2) == ["80.00", "15.00", "74.00", "5.00", "2.10"]
    levain, final = batch(COUNTRY, Decimal(6400)).components
    assert rounded((line.exact_g for line in levain.lines), 2) == [
        "330.39", "330.39", "660.78", "132.16",
    ]  # fmt: skip
    assert rounded((line.exact_g for line in final.lines), 2) == [
        "2577.05", "148.68", "181.71", "1962.52", "76.32",
    ]  # fmt: skip
