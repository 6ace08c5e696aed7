"""A teaching kitchen, its equipment, and what it has in stock."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from typing import Self
from zoneinfo import ZoneInfo, available_timezones

from django.conf import settings
from django.contrib.auth.models import User
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse

from classes.core.money import MOST_MINOR, PLACES, Money
from classes.core.regions import Region, writing_of
from recipes.models import Ingredient
from wording.moments import Moment
from wording.writing import Writing


def validate_time_zone(name: str) -> None:
    if name not in available_timezones():
        raise ValidationError(
            "“%(name)s” is not a time zone we know. Enter it like Europe/Dublin.",
            params={"name": name},
        )


def validate_currency(code: str) -> None:
    if code not in PLACES:
        raise ValidationError(
            "“%(code)s” is not a currency we know. Enter its three capital letters from ISO "
            "4217, like EUR or USD.",
            params={"code": code},
        )


_ROOM_C = [MinValueValidator(-5), MaxValueValidator(50)]


def _usual_celsius(label: str, default: int) -> models.DecimalField[Decimal | int, Decimal]:
    return models.DecimalField(
        label, max_digits=4, decimal_places=1, default=default, validators=_ROOM_C
    )


def _known_celsius(
    label: str, help_text: str
) -> models.DecimalField[Decimal | int | None, Decimal | None]:
    return models.DecimalField(
        label,
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        help_text=help_text,
        validators=_ROOM_C,
    )


class KitchenQuerySet(models.QuerySet["Kitchen"]):
    def owned_by(self, user: User) -> Self:
        return self.filter(owner=user)

    def with_contents(self) -> Self:
        return self.prefetch_related("stations", "ovens", "mixers", "scales")


class Kitchen(models.Model):
    owner = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE)
    name = models.CharField(max_length=80)
    place = models.CharField("where it is", max_length=200, blank=True)
    access_facts = models.TextField(
        "how to get in", max_length=1000, blank=True, help_text="Steps, doors, parking, toilets."
    )
    first_aid_place = models.CharField("first-aid box", max_length=120, blank=True)
    defibrillator_place = models.CharField(
        "defibrillator",
        max_length=120,
        blank=True,
        help_text="Or the nearest one outside. What is blank here is a question mark and a line to "
        "write on.",
    )
    extinguisher_place = models.CharField(
        "fire extinguisher and blanket", max_length=120, blank=True
    )
    shutoff_place = models.CharField("main switch and gas tap", max_length=120, blank=True)
    meeting_point = models.CharField("meeting point outside", max_length=120, blank=True)
    emergency_number = models.CharField("emergency number", max_length=20, blank=True)
    guidance = models.CharField(
        "whose guidance leads",
        max_length=8,
        default=Region.ALL.value,
        choices=[(region.value, region.words) for region in Region],
        help_text="Countries give different figures for keeping cold, cooling food, burns and "
        "lists of allergens. Papers print those of the region you choose, from sources that are "
        "named in the program and partly known only second-hand. Your local authority comes first "
        "in every case.",
    )
    time_zone = models.CharField(max_length=40, default="UTC", validators=[validate_time_zone])
    currency = models.CharField(
        max_length=3,
        default="EUR",
        validators=[validate_currency],
        help_text="The currency of new classes and prices. Amounts entered earlier keep theirs.",
    )
    room_c = _usual_celsius("room, °C", 21)
    flour_c = _usual_celsius("flour, °C", 20)
    tap_c = _usual_celsius("tap water, °C", 14)
    night_c = _known_celsius(
        "room at night, °C",
        "Where preferments stand overnight. If blank: as warm as the room.",
    )
    cabinet_c = _known_celsius("proof cabinet, °C", "If blank: it is set to what the recipe says.")
    proof_places = models.PositiveIntegerField("places in the proof cabinet", default=0)
    refrigerator_places = models.PositiveIntegerField("places in the refrigerator", default=0)
    bowls = models.PositiveIntegerField(default=0)
    altitude_m = models.PositiveIntegerField(
        "height above sea level, m", default=0, validators=[MaxValueValidator(5000)]
    )

    ounces = models.BooleanField(
        "ounces beside grams", default=False, help_text="Grams always come first."
    )

    objects = KitchenQuerySet.as_manager()

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=("owner", "name"), name="kitchen_name_once_an_owner"),
            models.CheckConstraint(
                condition=Q(guidance__in=[region.value for region in Region]),
                name="kitchen_guidance_known",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("classes:kitchen", args=[self.pk])

    @property
    def zone(self) -> ZoneInfo:
        return ZoneInfo(self.time_zone)

    def moment(self, at: datetime) -> Moment:
        """An instant on the clock of this kitchen."""
        return Moment(at, self.zone, self.writing.twelve_hours)

    @property
    def writing(self) -> Writing:
        """How its pages and papers write temperatures, times and masses, and on which sheets."""
        guidance = Region(self.guidance)
        return writing_of(guidance, self.currency, self.time_zone, ounces=self.ounces)


class Station(models.Model):
    """A bench where a few people work together."""

    kitchen = models.ForeignKey(Kitchen, on_delete=models.CASCADE, related_name="stations")
    position = models.PositiveIntegerField(default=0)
    name = models.CharField(max_length=40)
    places = models.PositiveIntegerField(
        default=4, validators=[MinValueValidator(1), MaxValueValidator(40)]
    )

    class Meta:
        ordering = ("position", "pk")
        constraints = (
            models.UniqueConstraint(fields=("kitchen", "name"), name="station_name_once"),
            models.CheckConstraint(condition=Q(places__gt=0), name="station_has_places"),
        )

    def __str__(self) -> str:
        return self.name


class Oven(models.Model):
    kitchen = models.ForeignKey(Kitchen, on_delete=models.CASCADE, related_name="ovens")
    name = models.CharField(max_length=40)
    slots = models.PositiveIntegerField(
        "loaves at once", default=2, validators=[MinValueValidator(1), MaxValueValidator(100)]
    )
    across = models.PositiveIntegerField(
        "side by side",
        null=True,
        blank=True,
        help_text="How many loaves lie beside each other, seen from above.",
        validators=[MinValueValidator(1), MaxValueValidator(12)],
    )
    has_fan = models.BooleanField("fan", default=False)
    preheat_min = models.PositiveIntegerField(
        "preheat, min", default=35, validators=[MaxValueValidator(240)]
    )
    turnaround_min = models.PositiveIntegerField(
        "between loads, min", default=5, validators=[MaxValueValidator(120)]
    )

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=("kitchen", "name"), name="oven_name_once"),
            models.CheckConstraint(condition=Q(slots__gt=0), name="oven_has_slots"),
        )

    def __str__(self) -> str:
        return self.name


class Mixer(models.Model):
    kitchen = models.ForeignKey(Kitchen, on_delete=models.CASCADE, related_name="mixers")
    name = models.CharField(max_length=40)
    capacity_g = models.PositiveIntegerField(
        "most dough, g", default=2000, validators=[MinValueValidator(100)]
    )
    friction_c = models.DecimalField(
        "warms the dough, °C",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(40)],
    )

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=("kitchen", "name"), name="mixer_name_once"),
            models.CheckConstraint(condition=Q(capacity_g__gt=0), name="mixer_holds_dough"),
        )

    def __str__(self) -> str:
        return self.name


class Scale(models.Model):
    """A kind of scale the kitchen has, by the smallest step it shows."""

    class Step(models.TextChoices):
        ONE = "1", "1 g"
        TENTH = "0.1", "0.1 g"
        HUNDREDTH = "0.01", "0.01 g"

    kitchen = models.ForeignKey(Kitchen, on_delete=models.CASCADE, related_name="scales")
    step_g = models.CharField("step", max_length=4, choices=Step, default=Step.ONE)
    count = models.PositiveIntegerField(
        "how many", default=1, validators=[MinValueValidator(1), MaxValueValidator(100)]
    )

    class Meta:
        ordering = ("-step_g",)
        constraints = (
            models.UniqueConstraint(fields=("kitchen", "step_g"), name="scale_step_once"),
        )

    def __str__(self) -> str:
        return f"{self.count} × {self.get_step_g_display()}"


class StockItem(models.Model):
    """One ingredient in one kitchen.

    The price keeps the currency it was entered in, even if the kitchen's changes later.
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
        """What a pack costs; None if that is not known."""
        if self.pack_price_minor is None:
            return None
        return Money(self.pack_price_minor, self.price_currency)
