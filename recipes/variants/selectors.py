"""Variants of a revision: rows to swapped formulas, and the queries of their page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from recipes.core.exchange.swap import MixPart, Swap, compare, replace_ingredient
from recipes.core.formula import Formula, Ingredient
from recipes.core.scaling import Sheet, batch
from recipes.core.weighing import Scales
from recipes.models import Revision, Variant
from recipes.selectors import formula_value, ingredient_value

BENCH_AND_POCKET = Scales((Decimal(1), Decimal("0.1")))


def swapped(formula: Formula, swaps: Iterable[tuple[str, str, Ingredient, Decimal]]) -> Swap:
    """A formula with replacements made, all in one, and what is different in it.

    A swap names a component (or none, for all), the key of what is replaced, what comes
    instead and its parts. Raises NotInFormula and NoFlour.
    """
    groups: dict[tuple[str, str], list[MixPart]] = {}
    for component, replaced, by, parts in swaps:
        groups.setdefault((component, replaced), []).append(MixPart(by, parts))
    made = formula
    for (component, key), mix in groups.items():
        made = replace_ingredient(made, key, mix, component=component or None).formula
    return compare(formula, made)


def varied(formula: Formula, variant: Variant) -> Swap:
    """A formula as a variant has it; expects the swaps with their ingredients prefetched."""
    return swapped(
        formula,
        (
            (swap.component_name, swap.replaced.key, ingredient_value(swap.by), swap.parts)
            for swap in variant.swaps.all()
        ),
    )


@dataclass(frozen=True, slots=True)
class VariantSheet:
    """A variant with its changes and the amounts of its usual batch."""

    variant: Variant
    swap: Swap
    sheet: Sheet


def variant_sheets(revision: Revision) -> list[VariantSheet]:
    """Every variant of a revision fetched `with_formula`, in its usual batch."""
    formula = formula_value(revision)
    sheets = []
    for variant in revision.variants.prefetch_related("swaps__replaced", "swaps__by"):
        swap = varied(formula, variant)
        sheet = batch(swap.formula, revision.pieces * revision.piece_g, BENCH_AND_POCKET)
        sheets.append(VariantSheet(variant, swap, sheet))
    return sheets
