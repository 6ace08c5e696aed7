"""The demo formulas as values of the core, and short ways to make others."""

from collections.abc import Iterable
from decimal import Decimal

from recipes.core.choices import ComponentKind
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line
from recipes.core.scaling import Baker, Demand
from recipes.core.weighing import Scales

ONE_GRAM_SCALE = Scales((Decimal(1),))
BENCH_AND_POCKET = Scales((Decimal(1), Decimal("0.1")))
THREE_SCALES = Scales((Decimal(1), Decimal("0.1"), Decimal("0.01")))

BREAD_FLOUR = FormulaIngredient("bread-flour", "Bread flour", is_flour=True)
WHOLE_WHEAT = FormulaIngredient("whole-wheat-flour", "Whole wheat flour", is_flour=True)
RYE = FormulaIngredient("rye-flour", "Rye flour", is_flour=True)
WATER = FormulaIngredient("water", "Water", is_added_liquid=True, water_share=Decimal(1))
MILK = FormulaIngredient(
    "whole-milk", "Whole milk", is_added_liquid=True, water_share=Decimal("0.88")
)
SALT = FormulaIngredient("table-salt", "Table salt")
YEAST = FormulaIngredient("instant-yeast", "Instant yeast")
SUGAR = FormulaIngredient("sugar", "Sugar")
BUTTER = FormulaIngredient("butter", "Butter", water_share=Decimal("0.16"))
OIL = FormulaIngredient("olive-oil", "Olive oil")
EGG = FormulaIngredient(
    "egg", "Egg", water_share=Decimal("0.76"), each_g=Decimal(50), each_name="large egg"
)
YOLK = FormulaIngredient(
    "egg-yolk", "Egg yolk", water_share=Decimal("0.52"), each_g=Decimal(17), each_name="yolk"
)
SESAME = FormulaIngredient("sesame-seeds", "Sesame seeds")
SUNFLOWER = FormulaIngredient("sunflower-seeds", "Sunflower seeds")


def lines(*amounts: tuple[FormulaIngredient, str]) -> tuple[Line, ...]:
    """Lines from pairs of ingredient and grams."""
    return tuple(Line(ingredient, Decimal(grams)) for ingredient, grams in amounts)


def dough(*amounts: tuple[FormulaIngredient, str]) -> FormulaComponent:
    """A dough from pairs of ingredient and grams."""
    return FormulaComponent(ComponentKind.DOUGH, "Dough", lines(*amounts))


HEARTH_LOAF = Formula(
    "Hearth loaf",
    (
        dough(
            (BREAD_FLOUR, "850"),
            (WHOLE_WHEAT, "150"),
            (WATER, "680"),
            (SALT, "20"),
            (YEAST, "9"),
        ),
    ),
    piece_g=Decimal(520),
)

RYE_BATARD = Formula(
    "Two-day rye batard",
    (
        FormulaComponent(
            ComponentKind.PREFERMENT,
            "Poolish",
            lines((BREAD_FLOUR, "300"), (WATER, "300"), (YEAST, "0.3")),
        ),
        dough((BREAD_FLOUR, "600"), (RYE, "100"), (WATER, "420"), (SALT, "20"), (YEAST, "3.7")),
    ),
    piece_g=Decimal(600),
)

PILLOW_ROLLS = Formula(
    "Pillow rolls",
    (
        FormulaComponent(
            ComponentKind.ROUX,
            "Roux",
            lines((BREAD_FLOUR, "50"), (MILK, "250")),
            cooking_loss=Decimal("0.08"),
        ),
        dough(
            (BREAD_FLOUR, "950"),
            (MILK, "370"),
            (SUGAR, "100"),
            (BUTTER, "120"),
            (EGG, "100"),
            (SALT, "18"),
            (YEAST, "16"),
        ),
        FormulaComponent(ComponentKind.WASH, "Egg wash", lines((YOLK, "17"), (MILK, "15")), 12),
    ),
    piece_g=Decimal(70),
    pieces=6,
)

SEEDED_RING = Formula(
    "Seeded ring",
    (
        dough((BREAD_FLOUR, "1000"), (WATER, "660"), (OIL, "40"), (SALT, "19"), (YEAST, "10")),
        FormulaComponent(
            ComponentKind.TOPPING, "Topping", lines((SESAME, "18"), (SUNFLOWER, "12")), 1
        ),
    ),
    piece_g=Decimal(400),
)

DEMO_FORMULAS = (HEARTH_LOAF, RYE_BATARD, PILLOW_ROLLS, SEEDED_RING)


def bakers(formula: Formula, people: int, *, at_a_station: int = 4) -> tuple[Baker, ...]:
    """People who each bake the formula's usual yield, benches filled one after another."""
    return tuple(
        Baker(
            key=str(n),
            name=f"Baker {n}",
            station=f"Bench {n // at_a_station + 1}",
            pieces=formula.pieces,
            piece_g=formula.piece_g,
        )
        for n in range(people)
    )


def demo_demand(formula: Formula, *, scales: Scales = BENCH_AND_POCKET) -> Demand:
    """The demo class: twelve students, one demonstration, 3 % loss, 15 g of dusting flour."""
    demonstration = Baker("d", "Demonstration", "", formula.pieces, formula.piece_g)
    return Demand(
        bakers=bakers(formula, 12),
        demonstrations=(demonstration,),
        handling_loss=Decimal("0.03"),
        dusting_g=Decimal(15),
        dusting_flour=BREAD_FLOUR,
        scales=scales,
    )


def rounded(masses: Iterable[Decimal], places: int) -> list[str]:
    """Masses as text at so many places, to compare with figures printed elsewhere."""
    return [f"{mass:.{places}f}" for mass in masses]
