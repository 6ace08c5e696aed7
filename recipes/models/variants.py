"""Revisions with some ingredients swapped."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from recipes.models.ingredients import Ingredient
from recipes.models.recipes import Revision


class Variant(models.Model):
    """A revision with some ingredients swapped, for people who must not eat one of them.

    It is made or removed, never changed, so a class that uses it keeps what it planned.
    """

    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="variants")
    name = models.CharField(max_length=60)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=("revision", "name"), name="variant_name_once"),
        )

    def __str__(self) -> str:
        return self.name


class VariantSwap(models.Model):
    """One replacement: in a component, or in all where none is named, so many parts by mass."""

    variant = models.ForeignKey(Variant, on_delete=models.CASCADE, related_name="swaps")
    position = models.PositiveIntegerField()
    component_name = models.CharField(max_length=60, blank=True)
    replaced = models.ForeignKey(Ingredient, on_delete=models.PROTECT, related_name="+")
    by = models.ForeignKey(Ingredient, on_delete=models.PROTECT, related_name="+")
    parts = models.DecimalField(max_digits=7, decimal_places=2, default=1)

    class Meta:
        ordering = ("position",)
        constraints = (
            models.CheckConstraint(condition=Q(parts__gt=0), name="variant_parts_positive"),
        )

    def __str__(self) -> str:
        return f"{self.by} for {self.replaced}"
