"""Variants of a revision: rows to swapped formulas, and the queries of their page."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.baking.formula import Formula
from recipes.baking.scaling import Sheet, batch
from recipes.baking.swap import Part, Swap, compare, replace_ingredient
from recipes.baking.weighing import Scales
from recipes.models import Revision, Variant
from recipes.selectors import formula_value, ingredient_value

BENCH_AND_POCKET = Scales((Decimal(1), Decimal("0.1")))


def varied(formula: Formula, variant: Variant) -> Swap:
    """A formula with a variant's swaps made, all in one, and what is different in it.

    Expects the variant's swaps with their ingredients prefetched. Raises NotInFormula.
    """
    groups: dict[tuple[str, str], list[Part]] = {}
    for swap in variant.swaps.all():
        place = (swap.component_name, swap.replaced.key)
        groups.setdefault(place, []).append(Part(ingredient_value(swap.by), swap.parts))
    made = formula
    for (component, key), parts in groups.items():
        made = replace_ingredient(made, key, parts, component=component or None).formula
    return compare(formula, made)


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
