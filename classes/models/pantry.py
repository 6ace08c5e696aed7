"""What a kitchen has in stock, and the packs it buys."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from classes.models.kitchen import Kitchen
from recipes.models import Ingredient


class StockItem(models.Model):
    """One ingredient in one kitchen; the price is in minor units of its currency."""

    kitchen = models.ForeignKey(Kitchen, on_delete=models.CASCADE, related_name="stock")
    ingredient = models.ForeignKey(Ingredient, on_delete=models.PROTECT, related_name="+")
    on_hand_g = models.DecimalField(
        "in stock, g", max_digits=9, decimal_places=1, default=0, validators=[MinValueValidator(0)]
    )
    pack_g = models.DecimalField(
        "pack, g",
        max_digits=9,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(1)],
    )
    pack_price_minor = models.PositiveIntegerField(
        null=True, blank=True, validators=[MaxValueValidator(10_000_000)]
    )

    class Meta:
        ordering = ("ingredient__name",)
        constraints = (
            models.UniqueConstraint(fields=("kitchen", "ingredient"), name="stock_once_a_kitchen"),
            models.CheckConstraint(
                condition=Q(on_hand_g__gte=0) & (Q(pack_g=None) | Q(pack_g__gt=0)),
                name="stock_not_negative",
            ),
        )

    def __str__(self) -> str:
        return f"{self.ingredient}: {self.on_hand_g} g"
