"""Variants of a revision: rows to swapped formulas, and the queries of their page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from recipes.core.exchange.swap import MixPart, Swap, compare, replace_ingredient
from recipes.core.formula import Formula, FormulaIngredient
from recipes.core.scaling import Sheet, batch
from recipes.core.weighing import Scales
from recipes.core.written import NamedIngredient, WrittenSwap
from recipes.models import Revision, Variant
from recipes.selectors import formula_value, ingredient_value, name_of

BENCH_AND_POCKET = Scales((Decimal(1), Decimal("0.1")))


def swapped(
    formula: Formula,
    swaps: Iterable[WrittenSwap],
    known: Mapping[NamedIngredient, FormulaIngredient],
) -> Swap:
    """A formula with all replacements made, and what they change in it.

    `known` describes what replaces them. Raises NotInFormula and NoFlour.
    """
    groups: dict[tuple[str, str], list[MixPart]] = {}
    for swap in swaps:
        mix = groups.setdefault((swap.part, swap.replaced.key), [])
        mix.append(MixPart(known[swap.by], swap.share))
    made = formula
    for (component, key), mix in groups.items():
        made = replace_ingredient(made, key, mix, component=component or None).formula
    return compare(formula, made)


def varied(formula: Formula, variant: Variant) -> Swap:
    """A variant's formula; expects the swaps with their ingredients prefetched."""
    known = {name_of(swap.by): ingredient_value(swap.by) for swap in variant.swaps.all()}
    return swapped(formula, written_swaps(variant), known)


def written_swaps(variant: Variant) -> tuple[WrittenSwap, ...]:
    """The replacements of a variant, as written."""
    return tuple(
        WrittenSwap(name_of(swap.replaced), name_of(swap.by), swap.parts, swap.component_name)
        for swap in variant.swaps.all()
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
