"""A class: when and where, which recipe revisions, and for how many."""

from __future__ import annotations

from datetime import datetime
from typing import Self

from django.conf import settings
from django.contrib.auth.models import User
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Prefetch, Q
from django.urls import reverse
from django.utils.crypto import get_random_string

from classes.core.hours.problem.values import Mixing, RisesIn
from classes.core.keys import Stage
from classes.core.money import MOST_MINOR, Money
from classes.models.kitchen import Kitchen, Station
from recipes.models import FormulaLine, Ingredient, Revision, Variant, book_home_region
from wording.moments import Span

CODE_LETTERS = "ABCDEFGHJKMNPQRSTUVWXYZ23456789"
MOST_SEATS = 200
MOST_FIXED_MIN = 240


def new_code() -> str:
    """Six letters and digits that cannot be confused when read aloud."""
    return get_random_string(6, CODE_LETTERS)


class Level(models.TextChoices):
    FIRST = "first", "For a first loaf"
    SOME = "some", "For some practice"
    MUCH = "much", "For a lot of practice"


def _minutes(
    label: str, default: int, help_text: str = ""
) -> models.PositiveIntegerField[int, int]:
    return models.PositiveIntegerField(
        label, default=default, help_text=help_text, validators=[MaxValueValidator(MOST_FIXED_MIN)]
    )


class ClassSessionQuerySet(models.QuerySet["ClassSession"]):
    def seen_by(self, user: User) -> Self:
        """Those the user teaches or assists."""
        return self.filter(Q(instructor=user) | Q(assistants=user)).distinct()

    def taught_by(self, user: User) -> Self:
        return self.filter(instructor=user)

    def coming(self, at: datetime) -> Self:
        return self.filter(ends_at__gte=at)

    def overlapping(self, starts_at: datetime, ends_at: datetime) -> Self:
        """Those that overlap these hours; touching ends do not overlap."""
        return self.filter(starts_at__lt=ends_at, ends_at__gt=starts_at)

    def past(self, at: datetime) -> Self:
        return self.filter(ends_at__lt=at).order_by("-starts_at")

    def with_plan(self) -> Self:
        """Everything that a plan of the class is made from, in a fixed number of queries."""
        lines = FormulaLine.objects.select_related("ingredient__part_of")
        joined = self.select_related("kitchen", "instructor", "kept_plan")
        return joined.annotate(home_region=book_home_region()).prefetch_related(
            "stations",
            "assistants",
            "kitchen__scales",
            "kitchen__ovens",
            "kitchen__mixers",
            "kitchen__stock__ingredient",
            "enrollments__station",
            "enrollments__decisions__decided_by",
            "enrollments__variants__swaps__replaced",
            "enrollments__variants__swaps__by__part_of__parts",
            "taught__variant__swaps__replaced",
            "taught__variant__swaps__by__part_of__parts",
            "taught__dusting_flour__part_of__parts",
            "taught__revision__recipe",
            "taught__revision__steps",
            Prefetch("taught__revision__components__lines", lines),
            "taught__revision__components__lines__ingredient__part_of__parts",
        )


class ClassSession(models.Model):
    code = models.CharField(max_length=6, unique=True, default=new_code, editable=False)
    title = models.CharField(max_length=100)
    instructor = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="classes_taught"
    )
    assistants = models.ManyToManyField(
        settings.AUTH_USER_MODEL, blank=True, related_name="classes_assisted"
    )
    kitchen = models.ForeignKey(Kitchen, on_delete=models.PROTECT, related_name="sessions")
    stations = models.ManyToManyField(Station, related_name="sessions")
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    seats = models.PositiveIntegerField(
        validators=[MinValueValidator(1), MaxValueValidator(MOST_SEATS)]
    )
    count_empty_seats = models.BooleanField(
        "plan for empty seats too",
        default=True,
        help_text="Until the roster is full, amounts and shopping also cover the seats still open.",
    )
    handling_loss_percent = models.DecimalField(
        "handling loss, %",
        max_digits=4,
        decimal_places=1,
        default=3,
        validators=[MinValueValidator(0), MaxValueValidator(50)],
        help_text="Added to the pooled dough for what sticks to bowls and hands.",
    )
    rises_in = models.CharField(
        "dough rises", max_length=8, choices=RisesIn.choices(), default=RisesIn.BENCH.value
    )
    welcome_min = _minutes("welcome and cautions, min", 10)
    weighing_min = _minutes("weighing, min", 20, "For each recipe, before it is mixed.")
    show_min = _minutes(
        "watching, min", 5, "What you show before mixing and before shaping; everybody watches."
    )
    cleanup_min = _minutes("cleaning up, min", 10, "After a station has loaded its bread.")
    break_at = models.DateTimeField("break", null=True, blank=True)
    break_min = _minutes("break, min", 10)
    taken = models.PositiveIntegerField(default=0, editable=False)
    is_open = models.BooleanField("open for enrollment", default=False)
    about = models.TextField("what you will bake and take home", max_length=2000, blank=True)
    level = models.CharField(max_length=10, choices=Level, blank=True)
    bring = models.TextField("what to bring", max_length=1000, blank=True)
    currency = models.CharField(max_length=3, editable=False)
    price_minor = models.PositiveBigIntegerField(
        default=0, validators=[MaxValueValidator(MOST_MINOR)]
    )
    deposit_minor = models.PositiveBigIntegerField(
        default=0, validators=[MaxValueValidator(MOST_MINOR)]
    )
    refund_days = models.PositiveIntegerField(
        "full refund until, days before", default=7, validators=[MaxValueValidator(365)]
    )
    transfer_days = models.PositiveIntegerField(
        "move to another class until, days before", default=2, validators=[MaxValueValidator(365)]
    )
    least_people = models.PositiveIntegerField("takes place from, people", default=1)
    decide_on = models.DateField("decided by", null=True, blank=True)
    change_number = models.PositiveIntegerField(default=0, editable=False)
    notes = models.TextField(max_length=2000, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)

    objects = ClassSessionQuerySet.as_manager()

    class Meta:
        ordering = ("starts_at", "pk")
        constraints = (
            models.CheckConstraint(
                condition=Q(ends_at__gt=F("starts_at")), name="class_ends_later"
            ),
            models.CheckConstraint(
                condition=Q(seats__gte=1, seats__lte=MOST_SEATS), name="class_seats_in_range"
            ),
            models.CheckConstraint(condition=Q(taken__lte=F("seats")), name="class_never_oversold"),
            models.CheckConstraint(condition=~Q(currency=""), name="class_has_currency"),
            models.CheckConstraint(
                condition=Q(handling_loss_percent__gte=0, handling_loss_percent__lte=50),
                name="class_loss_in_range",
            ),
        )

    def __str__(self) -> str:
        return f"{self.title} ({self.code})"

    def get_absolute_url(self) -> str:
        return reverse("classes:detail", args=[self.code])

    @property
    def when(self) -> Span:
        """From start to end on the clock of its kitchen."""
        return Span(self.kitchen.moment(self.starts_at), self.kitchen.moment(self.ends_at))

    @property
    def price(self) -> Money:
        """What a seat costs."""
        return Money(self.price_minor, self.currency)

    @property
    def deposit(self) -> Money:
        """What is due for a seat when somebody enrolls."""
        return Money(self.deposit_minor, self.currency)

    @property
    def keeps_its_currency(self) -> bool:
        """Whether its kitchen has changed to another currency since its amounts were entered."""
        return self.currency != self.kitchen.currency

    @property
    def seats_left(self) -> int:
        """Seats that nobody has taken or holds."""
        return max(0, self.seats - self.taken)

    def seats_held(self) -> int:
        """Seats held for forms and offers that are still open; asks the database."""
        held = self.bookings.filter(state="held").aggregate(seats=models.Sum("seats"))
        return held["seats"] or 0

    @property
    def is_full(self) -> bool:
        return self.seats_left == 0


class TaughtRecipe(models.Model):
    """A recipe revision in a class, and how much of it everybody bakes."""

    session = models.ForeignKey(ClassSession, on_delete=models.CASCADE, related_name="taught")
    revision = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="taught")
    position = models.PositiveIntegerField(default=0)
    pieces_each = models.PositiveIntegerField(
        "pieces each", default=1, validators=[MinValueValidator(1), MaxValueValidator(99)]
    )
    piece_g = models.DecimalField(
        "dough in one piece, g",
        max_digits=7,
        decimal_places=1,
        validators=[MinValueValidator(1), MaxValueValidator(20000)],
    )
    demonstration_batches = models.PositiveIntegerField(
        "demonstration batches", default=1, validators=[MaxValueValidator(9)]
    )
    dusting_g = models.DecimalField(
        "dusting flour each, g",
        max_digits=5,
        decimal_places=1,
        default=15,
        validators=[MinValueValidator(0), MaxValueValidator(500)],
    )
    dusting_flour = models.ForeignKey(
        Ingredient, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    mixing = models.CharField(
        "mixed", max_length=6, choices=Mixing.choices(), default=Mixing.HAND.value
    )
    pieces_a_place = models.PositiveIntegerField(
        "pieces in one oven place",
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(100)],
        help_text="If blank: a pan of the recipe, or about 500 g of small pieces.",
    )
    brings_mixed = models.BooleanField("dough you bring mixed", default=False)
    brings_risen = models.BooleanField("dough you bring risen", default=False)
    brings_shaped = models.BooleanField("pieces you bring shaped", default=False)
    variant = models.ForeignKey(
        Variant,
        verbose_name="everybody bakes the variant",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )

    class Meta:
        ordering = ("position", "pk")
        constraints = (
            models.UniqueConstraint(fields=("session", "revision"), name="taught_once_a_class"),
            models.CheckConstraint(
                condition=Q(pieces_each__gt=0) & Q(piece_g__gt=0) & Q(dusting_g__gte=0),
                name="taught_makes_something",
            ),
        )

    def __str__(self) -> str:
        return f"{self.pieces_each} × {self.piece_g} g of {self.revision}"

    @property
    def brings(self) -> tuple[Stage, ...]:
        """The stages at which the instructor brings dough of it."""
        brought = (self.brings_mixed, self.brings_risen, self.brings_shaped)
        return tuple(stage for stage, brings in zip(Stage, brought, strict=True) if brings)


class KeptPlan(models.Model):
    """The plan of the hours that a class keeps, for the state of it that `made_for` names."""

    session = models.OneToOneField(ClassSession, on_delete=models.CASCADE, related_name="kept_plan")
    made_for = models.CharField(max_length=64)
    document = models.JSONField()
    made_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.session}, made {self.made_at:%Y-%m-%d %H:%M}"
