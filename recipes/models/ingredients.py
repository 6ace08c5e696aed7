"""The list of ingredients: the shared ones and everybody's own."""

from __future__ import annotations

from decimal import Decimal
from typing import Self

from django.conf import settings
from django.contrib.auth.models import User
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from recipes.core.choices import IngredientKind, Storage

_PERCENT = [MinValueValidator(0), MaxValueValidator(100)]


def share_percent() -> models.DecimalField[Decimal | None, Decimal | None]:
    """A share in percent, 0 to 100, to two decimals; empty means unknown."""
    return models.DecimalField(
        max_digits=5, decimal_places=2, validators=_PERCENT, null=True, blank=True
    )


def loss_percent() -> models.DecimalField[Decimal, Decimal]:
    """A loss in percent, 0 to 100, to two decimals; empty means none."""
    return models.DecimalField(
        max_digits=5, decimal_places=2, validators=_PERCENT, default=0, blank=True
    )


def celsius() -> models.DecimalField[Decimal | None, Decimal | None]:
    return models.DecimalField(
        max_digits=4,
        decimal_places=1,
        validators=[MinValueValidator(-30), MaxValueValidator(350)],
        null=True,
        blank=True,
    )


def grams() -> models.DecimalField[Decimal, Decimal]:
    return models.DecimalField(max_digits=11, decimal_places=4)


def millimeters(label: str) -> models.PositiveIntegerField[int | None, int | None]:
    return models.PositiveIntegerField(
        label,
        null=True,
        blank=True,
        validators=[MinValueValidator(10), MaxValueValidator(10_000)],
    )


class IngredientQuerySet(models.QuerySet["Ingredient"]):
    def for_user(self, user: User | int) -> Self:
        """The shared ingredients and those added by the user, who may be given by id."""
        return self.filter(Q(owner=None) | Q(owner=user))


class Ingredient(models.Model):
    """What a recipe line names. Composition is per 100 g; shared ones have no owner.

    A starter has the water it was fed with, in percent of its flour; empty: unknown.
    """

    key = models.SlugField(max_length=80, unique=True)
    name = models.CharField(max_length=80)
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, null=True, blank=True
    )
    kind = models.CharField(max_length=12, choices=IngredientKind.choices())
    ndb = models.CharField("SR28 number", max_length=5, blank=True)
    water_percent = share_percent()
    protein_percent = share_percent()
    fat_percent = share_percent()
    carbohydrate_percent = share_percent()
    fiber_percent = share_percent()
    ash_percent = share_percent()
    sodium_mg = models.PositiveIntegerField("sodium, mg in 100 g", null=True, blank=True)
    energy_kcal = models.PositiveIntegerField("energy, kcal in 100 g", null=True, blank=True)
    density_g_per_ml = models.DecimalField(max_digits=7, decimal_places=5, null=True, blank=True)
    density_source = models.CharField(max_length=120, blank=True)
    each_g = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    each_name = models.CharField(max_length=40, blank=True)
    part_of = models.ForeignKey(
        "self", on_delete=models.SET_NULL, null=True, blank=True, related_name="parts"
    )
    part_share = models.DecimalField(max_digits=5, decimal_places=4, null=True, blank=True)
    hydration_percent = models.DecimalField(
        "water, in percent of its flour",
        max_digits=5,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(20), MaxValueValidator(500)],
    )
    pack_g = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    aisle = models.CharField(max_length=40, blank=True)
    storage = models.CharField(
        max_length=8, choices=Storage.choices(), default=Storage.AMBIENT.value
    )
    tap = models.BooleanField("from the tap, never bought", default=False)
    allergens_us = models.JSONField(default=list, blank=True)
    allergens_eu = models.JSONField(default=list, blank=True)
    allergens_read = models.BooleanField(
        "the pack was read, and nothing else of the two lists is in it", default=False
    )
    may_contain = models.CharField(max_length=200, blank=True)
    note = models.CharField(max_length=300, blank=True)

    objects = IngredientQuerySet.as_manager()

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=("owner", "name"), name="ingredient_name_once_an_owner"),
            models.UniqueConstraint(
                fields=("name",), condition=Q(owner=None), name="ingredient_name_once_shared"
            ),
            models.CheckConstraint(
                condition=Q(density_g_per_ml=None) | Q(density_g_per_ml__gt=0),
                name="ingredient_density_positive",
            ),
            models.CheckConstraint(
                condition=Q(each_g=None) | Q(each_g__gt=0), name="ingredient_each_positive"
            ),
            models.CheckConstraint(
                condition=Q(part_of=None)
                | Q(part_share__isnull=False, part_share__gt=0, part_share__lte=1),
                name="ingredient_part_has_share",
            ),
            models.CheckConstraint(
                condition=Q(pack_g=None) | Q(pack_g__gt=0), name="ingredient_pack_positive"
            ),
            models.CheckConstraint(
                condition=Q(hydration_percent=None)
                | Q(kind=IngredientKind.STARTER.value, hydration_percent__gt=0),
                name="ingredient_hydration_of_starter",
            ),
        )

    def __str__(self) -> str:
        return self.name

    @property
    def allergens_known(self) -> bool:
        """Whether anybody has said which allergens of the two lists are in it, even if none."""
        return bool(self.allergens_read or self.allergens_us or self.allergens_eu)


class StarterFlour(models.Model):
    """A flour that a starter is fed with, and its share of the starter's flour in percent."""

    starter = models.ForeignKey(Ingredient, on_delete=models.CASCADE, related_name="made_of")
    flour = models.ForeignKey(Ingredient, on_delete=models.RESTRICT, related_name="in_starters")
    percent = models.DecimalField(
        max_digits=5, decimal_places=2, validators=[MinValueValidator(0), MaxValueValidator(100)]
    )

    class Meta:
        ordering = ("-percent", "flour__name")
        constraints = (
            models.UniqueConstraint(fields=("starter", "flour"), name="starter_flour_once"),
            models.CheckConstraint(condition=Q(percent__gt=0), name="starter_flour_positive"),
        )

    def __str__(self) -> str:
        return f"{self.percent} % {self.flour}"
