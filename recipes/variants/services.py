"""Writes to the variants of a recipe."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from django.db import transaction

from recipes.core.written import WrittenSwap
from recipes.models import Ingredient, Revision, Variant, VariantSwap
from recipes.variants.selectors import written_swaps


@transaction.atomic
def add_variant(*, revision: Revision, name: str, swaps: Iterable[WrittenSwap]) -> Variant:
    """Add a variant to a revision."""
    variant, listed = Variant.objects.create(revision=revision, name=name), list(swaps)
    keys = {named.key for swap in listed for named in (swap.replaced, swap.by)}
    rows = Ingredient.objects.in_bulk(keys, field_name="key")
    VariantSwap.objects.bulk_create(
        VariantSwap(
            variant=variant,
            position=position,
            component_name=swap.part,
            replaced=rows[swap.replaced.key],
            by=rows[swap.by.key],
            parts=swap.share,
        )
        for position, swap in enumerate(listed)
    )
    return variant


def remove_variant(*, variant: Variant) -> None:
    """Take a variant out of the book. Raises ProtectedError while a class uses it."""
    variant.delete()


def carry_variants(variants: Sequence[Variant], revision: Revision) -> None:
    """Copy the variants whose replaced ingredients the changed recipe still has."""
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
            add_variant(revision=revision, name=variant.name, swaps=written_swaps(variant))
        elif not fits and variant.revision_id == revision.pk:
            variant.delete()
