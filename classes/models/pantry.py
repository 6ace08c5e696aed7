"""What a kitchen has in stock, and the packs it buys."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from classes.core.money import MOST_MINOR, Money
from classes.models.kitchen import Kitchen
from recipes.models import Ingredient


class StockItem(models.Model):
    """One ingredient in one kitchen.

    The price keeps the currency it was written in, also when the kitchen counts in another later.
    """

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
    pack_price_minor = models.PositiveBigIntegerField(
        null=True, blank=True, validators=[MaxValueValidator(MOST_MINOR)]
    )
    price_currency = models.CharField(max_length=3, blank=True, editable=False)

    class Meta:
        ordering = ("ingredient__name",)
        constraints = (
            models.UniqueConstraint(fields=("kitchen", "ingredient"), name="stock_once_a_kitchen"),
            models.CheckConstraint(
                condition=Q(on_hand_g__gte=0) & (Q(pack_g=None) | Q(pack_g__gt=0)),
                name="stock_not_negative",
            ),
            models.CheckConstraint(
                condition=Q(pack_price_minor=None) | ~Q(price_currency=""),
                name="stock_price_has_currency",
            ),
        )

    def __str__(self) -> str:
        return f"{self.ingredient}: {self.on_hand_g} g"

    @property
    def pack_price(self) -> Money | None:
        """What a pack costs; None where that is not known."""
        if self.pack_price_minor is None:
            return None
        return Money(self.pack_price_minor, self.price_currency)
