"""Recipes as numbered revisions: parts with their lines, and steps; photos and variants."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.contrib.auth.models import User
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse

from recipes.core.choices import ComponentKind, StepKind, TemperatureOf, Worked
from recipes.core.heat.doneness import BreadKind
from recipes.core.pans.sizes import PanShape
from recipes.models.ingredients import Ingredient, celsius, grams, loss_percent, millimeters

BESIDE_DOUGH = tuple(kind.value for kind in ComponentKind if not kind.goes_into_dough)


class Recipe(models.Model):
    """A recipe across its revisions, which hold its content."""

    slug = models.SlugField(max_length=100, unique=True)
    owner = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE)
    created_at = models.DateTimeField(auto_now_add=True)
    import_mark = models.CharField("mark of the text it was read from", max_length=64, blank=True)

    def __str__(self) -> str:
        return self.slug

    def get_absolute_url(self) -> str:
        return reverse("recipes:detail", args=[self.slug])


class RevisionQuerySet(models.QuerySet["Revision"]):
    def current(self) -> Self:
        return self.filter(is_current=True)

    def owned_by(self, user: User) -> Self:
        return self.filter(recipe__owner=user)

    def with_formula(self) -> Self:
        """Everything that the selectors need, in a fixed number of queries."""
        return self.select_related("recipe").prefetch_related(
            "components__lines__ingredient", "steps"
        )


class Revision(models.Model):
    """One state of a recipe. From the moment a class uses it, it never changes."""

    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField(default=1)
    is_current = models.BooleanField(default=True)
    in_use = models.BooleanField(default=False)
    created_at = models.DateTimeField(auto_now_add=True)
    title = models.CharField(max_length=100)
    summary = models.CharField(max_length=300, blank=True)
    note = models.TextField(max_length=2000, blank=True)
    piece_name = models.CharField("what one piece is called", max_length=30, default="loaf")
    pieces = models.PositiveIntegerField(
        "pieces", default=1, validators=[MinValueValidator(1), MaxValueValidator(999)]
    )
    piece_g = models.DecimalField(
        "dough in one piece, g",
        max_digits=7,
        decimal_places=1,
        validators=[MinValueValidator(1), MaxValueValidator(20000)],
    )
    bake_loss_percent = loss_percent()
    dough_temperature_c = celsius()
    core_temperature_c = celsius()
    equipment = models.TextField(max_length=2000, blank=True)
    bread_kind = models.CharField(
        "kind of bread", max_length=20, choices=BreadKind.choices(), blank=True
    )
    pan_shape = models.CharField(
        "its own pan", max_length=12, choices=PanShape.choices(), blank=True
    )
    pan_length_mm = millimeters("length or diameter, mm")
    pan_width_mm = millimeters("width, mm")
    pan_depth_mm = millimeters("depth, mm")
    pan_water_ml = models.PositiveIntegerField(
        "holds, ml of water", null=True, blank=True, validators=[MaxValueValidator(100_000)]
    )

    objects = RevisionQuerySet.as_manager()

    class Meta:
        ordering = ("title", "-number")
        constraints = (
            models.UniqueConstraint(fields=("recipe", "number"), name="revision_number_once"),
            models.UniqueConstraint(
                fields=("recipe",), condition=Q(is_current=True), name="revision_one_current"
            ),
            models.CheckConstraint(
                condition=Q(piece_g__gt=0) & Q(pieces__gt=0), name="revision_makes_something"
            ),
        )

    def __str__(self) -> str:
        return f"{self.title}, revision {self.number}"

    def get_absolute_url(self) -> str:
        if self.is_current:
            return reverse("recipes:detail", args=[self.recipe.slug])
        return reverse("recipes:revision", args=[self.recipe.slug, self.number])

    @property
    def equipment_list(self) -> list[str]:
        return [line.strip() for line in self.equipment.splitlines() if line.strip()]


class Component(models.Model):
    """A part of a revision's bread: dough, preferment, roux, soaker, filling, wash or topping."""

    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="components")
    position = models.PositiveIntegerField()
    kind = models.CharField(max_length=10, choices=ComponentKind.choices())
    name = models.CharField(max_length=60)
    for_pieces = models.PositiveIntegerField(null=True, blank=True)
    cooking_loss_percent = loss_percent()

    class Meta:
        ordering = ("position",)
        constraints = (
            models.UniqueConstraint(
                fields=("revision", "position"), name="component_position_once"
            ),
            models.CheckConstraint(
                condition=Q(kind__in=BESIDE_DOUGH, for_pieces__gt=0)
                | (~Q(kind__in=BESIDE_DOUGH) & Q(for_pieces=None)),
                name="component_pieces_beside_dough",
            ),
            models.CheckConstraint(
                condition=Q(cooking_loss_percent__gte=0, cooking_loss_percent__lt=100),
                name="component_cooking_loss_in_range",
            ),
        )

    def __str__(self) -> str:
        return self.name


class FormulaLine(models.Model):
    """One ingredient's mass; `entered` keeps the words it was typed in, such as `2 cup`."""

    component = models.ForeignKey(Component, on_delete=models.CASCADE, related_name="lines")
    position = models.PositiveIntegerField()
    ingredient = models.ForeignKey(Ingredient, on_delete=models.PROTECT)
    mass_g = grams()
    entered = models.CharField(max_length=40, blank=True)
    note = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ("position",)
        constraints = (
            models.UniqueConstraint(fields=("component", "position"), name="line_position_once"),
            models.CheckConstraint(condition=Q(mass_g__gt=0), name="line_mass_positive"),
        )

    def __str__(self) -> str:
        return f"{self.ingredient} {self.mass_g} g"


class Step(models.Model):
    """What is done, how long hands are busy and how long the dough waits, in minutes."""

    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="steps")
    position = models.PositiveIntegerField()
    kind = models.CharField(max_length=8, choices=StepKind.choices())
    text = models.CharField(max_length=600)
    hands_on_min = models.PositiveIntegerField(default=0, validators=[MaxValueValidator(1440)])
    waiting_min = models.PositiveIntegerField(default=0, validators=[MaxValueValidator(10080)])
    temperature_c = celsius()
    temperature_of = models.CharField(max_length=12, choices=TemperatureOf.choices(), blank=True)
    worked = models.CharField(max_length=7, choices=Worked.choices(), blank=True)

    class Meta:
        ordering = ("position",)
        constraints = (
            models.UniqueConstraint(fields=("revision", "position"), name="step_position_once"),
        )

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.text}"


class Photo(models.Model):
    """A picture of a recipe, re-encoded and without metadata."""

    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="photos")
    image = models.ImageField(upload_to="photos/")
    alt = models.CharField("what it shows", max_length=160)
    added_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("added_at", "pk")

    def __str__(self) -> str:
        return self.alt


class Variant(models.Model):
    """A revision with some ingredients swapped, for people who must not eat one of them.

    It can be added or removed but never changed, so a class that uses it keeps its plan.
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
    """One replacement, in parts by mass: in a component, or in all if none is named."""

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
