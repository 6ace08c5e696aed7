"""The nutrients in a piece of bread, as an estimate, and how US labels round them.

The sums come from what is entered for each ingredient; baking removes only water, and energy is
added up from the ingredients. Rounding: FDA Food Labeling Guide, Appendix H (21 CFR 101.9(c)). An
estimate from a table is neither a laboratory value nor a label.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum

from recipes.core.composition import Composition
from recipes.core.errors import OutOfRange
from recipes.core.formula import Formula, FormulaIngredient, Line, merge_masses
from recipes.core.heat.doneness import MOST_LOSS
from recipes.core.numbers import HUNDRED, ONE, ZERO, not_negative
from recipes.core.scaling import batch

ESTIMATE = "Estimate from composition tables, not a laboratory value."


class Nutrient(StrEnum):
    """The fields of a composition, under the same names."""

    WATER = "water_g"
    PROTEIN = "protein_g"
    FAT = "fat_g"
    CARBOHYDRATE = "carbohydrate_g"
    FIBER = "fiber_g"
    ASH = "ash_g"
    SODIUM = "sodium_mg"
    ENERGY = "energy_kcal"


@dataclass(frozen=True, slots=True)
class Unknown:
    """An ingredient that some sums leave out, and its grams in the piece."""

    name: str
    mass_g: Decimal
    nutrients: tuple[Nutrient, ...]


@dataclass(frozen=True, slots=True)
class NutritionEstimate:
    """One baked piece: its mass, and the sums over what is known, in the units of the names.

    `water_g` is what baking leaves; None if any ingredient's water is unknown.
    """

    baked_g: Decimal
    water_g: Decimal | None
    protein_g: Decimal
    fat_g: Decimal
    carbohydrate_g: Decimal
    fiber_g: Decimal
    ash_g: Decimal
    sodium_mg: Decimal
    energy_kcal: Decimal
    unknown: tuple[Unknown, ...]

    @property
    def note(self) -> str:
        """The note that must stand beside the figures."""
        return ESTIMATE

    def is_partial(self, nutrient: Nutrient) -> bool:
        """Whether a sum leaves an ingredient out."""
        return any(nutrient in entry.nutrients for entry in self.unknown)


def nutrition(
    formula: Formula, compositions: Mapping[str, Composition], bake_loss: Decimal = ZERO
) -> NutritionEstimate:
    """One piece of `piece_g` grams of dough with its share of filling, wash and topping, baked.

    `compositions` are by ingredient key; `bake_loss` is a share of the dough (0.12 is 12 %). Raises
    OutOfRange for a loss above half, or above the water if all of it is known.
    """
    if not_negative("bake_loss", bake_loss) > MOST_LOSS:
        raise OutOfRange("bake_loss", bake_loss, least=ZERO, most=MOST_LOSS)
    masses = _piece_masses(formula)
    unknown = tuple(_unknown(masses, compositions))
    sums = {nutrient: sum(_amounts(nutrient, masses, compositions), ZERO) for nutrient in Nutrient}
    lost_g = formula.piece_g * bake_loss
    return NutritionEstimate(
        baked_g=sum(masses.values(), ZERO) - lost_g,
        water_g=_water_left(sums.pop(Nutrient.WATER), lost_g, unknown, formula),
        unknown=unknown,
        **{nutrient.value: amount for nutrient, amount in sums.items()},
    )


def _piece_masses(formula: Formula) -> dict[FormulaIngredient, Decimal]:
    """Grams of each ingredient in one piece, filling, wash and topping included."""
    sheet = batch(formula, formula.piece_g)
    return merge_masses(
        Line(line.ingredient, line.exact_g)
        for component in sheet.components
        for line in component.lines
    )


def _known(composition: Composition | None, nutrient: Nutrient) -> Decimal | None:
    known: Decimal | None = getattr(composition, nutrient.value, None)
    return known


def _amounts(
    nutrient: Nutrient,
    masses: Mapping[FormulaIngredient, Decimal],
    compositions: Mapping[str, Composition],
) -> Iterable[Decimal]:
    for ingredient, mass_g in masses.items():
        known = _known(compositions.get(ingredient.key), nutrient)
        if known is not None:
            yield mass_g * not_negative(nutrient.value, known) / HUNDRED


def _unknown(
    masses: Mapping[FormulaIngredient, Decimal], compositions: Mapping[str, Composition]
) -> Iterable[Unknown]:
    for ingredient, mass_g in masses.items():
        composition = compositions.get(ingredient.key)
        missing = tuple(nutrient for nutrient in Nutrient if _known(composition, nutrient) is None)
        if missing:
            yield Unknown(ingredient.name, mass_g, missing)


def _water_left(
    water_g: Decimal, lost_g: Decimal, unknown: tuple[Unknown, ...], formula: Formula
) -> Decimal | None:
    if any(Nutrient.WATER in entry.nutrients for entry in unknown):
        return None
    if lost_g > water_g:
        raise OutOfRange(
            "bake_loss", lost_g / formula.piece_g, least=ZERO, most=water_g / formula.piece_g
        )
    return water_g - lost_g


@dataclass(frozen=True, slots=True)
class LabelAmount:
    """An amount as a US label shows it; with `less_than`, those words come before the number."""

    amount: Decimal
    unit: str
    less_than: bool = False

    def __str__(self) -> str:
        number = f"{self.amount.normalize():f}"
        return f"less than {number} {self.unit}" if self.less_than else f"{number} {self.unit}"


def _nearest(amount: Decimal, step: Decimal | int) -> Decimal:
    return (amount / step).to_integral_value(ROUND_HALF_UP) * step


def label_energy(kcal: Decimal) -> LabelAmount:
    """Kilocalories: none below 5, to the nearest 5 up to 50, then to the nearest 10."""
    return LabelAmount(_by_fives_then_tens(not_negative("kcal", kcal), 50), "kcal")


def label_sodium(sodium_mg: Decimal) -> LabelAmount:
    """Milligrams of sodium: none below 5, to the nearest 5 up to 140, then to the nearest 10."""
    return LabelAmount(_by_fives_then_tens(not_negative("sodium_mg", sodium_mg), 140), "mg")


def _by_fives_then_tens(amount: Decimal, fives_to: int) -> Decimal:
    if amount < 5:
        return ZERO
    return _nearest(amount, 5 if amount <= fives_to else 10)


def label_fat(fat_g: Decimal) -> LabelAmount:
    """Grams of fat: none below 0.5, to the nearest half below 5, then to the nearest gram."""
    fat = not_negative("fat_g", fat_g)
    if fat < Decimal("0.5"):
        return LabelAmount(ZERO, "g")
    return LabelAmount(_nearest(fat, ONE if fat >= 5 else Decimal("0.5")), "g")


def label_grams(amount_g: Decimal) -> LabelAmount:
    """Carbohydrate, fiber, sugars, protein: none below 0.5, `less than 1 g`, then whole grams."""
    amount = not_negative("amount_g", amount_g)
    if amount < Decimal("0.5"):
        return LabelAmount(ZERO, "g")
    if amount < ONE:
        return LabelAmount(ONE, "g", less_than=True)
    return LabelAmount(_nearest(amount, ONE), "g")


_ROUNDING: dict[str, Callable[[Decimal], LabelAmount]] = {
    Nutrient.ENERGY: label_energy,
    Nutrient.FAT: label_fat,
    Nutrient.CARBOHYDRATE: label_grams,
    Nutrient.FIBER: label_grams,
    Nutrient.PROTEIN: label_grams,
    Nutrient.SODIUM: label_sodium,
}


def label_amounts(estimate: NutritionEstimate) -> tuple[tuple[Nutrient, LabelAmount], ...]:
    """Energy, fat, carbohydrate, fiber, protein and sodium of a piece, rounded as on a label."""
    return tuple(
        (Nutrient(name), rounded(getattr(estimate, name))) for name, rounded in _ROUNDING.items()
    )
