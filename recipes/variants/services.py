"""Writes to the variants of a recipe."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db import transaction

from recipes.models import Ingredient, Revision, Variant, VariantSwap


@dataclass(frozen=True, slots=True)
class SwapDraft:
    """One replacement of a variant, in the named component or in all."""

    replaced: Ingredient
    by: Ingredient
    parts: Decimal = Decimal(1)
    component_name: str = ""


@transaction.atomic
def add_variant(*, revision: Revision, name: str, swaps: Sequence[SwapDraft]) -> Variant:
    """Keep a variant of a revision."""
    variant = Variant.objects.create(revision=revision, name=name)
    VariantSwap.objects.bulk_create(
        VariantSwap(
            variant=variant,
            position=position,
            component_name=swap.component_name,
            replaced=swap.replaced,
            by=swap.by,
            parts=swap.parts,
        )
        for position, swap in enumerate(swaps)
    )
    return variant


def remove_variant(*, variant: Variant) -> None:
    """Take a variant out of the book. Raises ProtectedError while a class uses it."""
    variant.delete()


def carry_variants(variants: Sequence[Variant], revision: Revision) -> None:
    """Bring along the variants whose replaced ingredients the changed recipe still has."""
    has = {
        (name, line.ingredient_id)
        for part in revision.components.prefetch_related("lines")
        for line in part.lines.all()
        for name in ("", part.name)
    }
    for variant in variants:
        swaps = variant.swaps.all()
        fits = all((swap.component_name, swap.replaced_id) in has for swap in swaps)
        if fits and variant.revision_id != revision.pk:
            add_variant(
                revision=revision,
                name=variant.name,
                swaps=[
                    SwapDraft(swap.replaced, swap.by, swap.parts, swap.component_name)
                    for swap in swaps
                ],
            )
        elif not fits and variant.revision_id == revision.pk:
            variant.delete()
