"""Seats that somebody has taken, from hold to erasure, and payments."""

from __future__ import annotations

import secrets
from datetime import datetime
from typing import Self

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from classes.core.money import Money
from classes.models.session import ClassSession


def new_link_nonce() -> str:
    """128 random bits; changing them revokes every link given out before."""
    return secrets.token_hex(16)


class Linked(models.Model):
    """A row that a signed link opens, as long as its secret is the one in the link."""

    link_nonce = models.CharField(max_length=32, default=new_link_nonce, editable=False)

    class Meta:
        abstract = True


MOST_SEATS_AT_ONCE = 6


class BookingQuerySet(models.QuerySet["Booking"]):
    def confirmed(self) -> Self:
        return self.filter(state=Booking.State.CONFIRMED)

    def run_out(self, at: datetime) -> Self:
        """Held seats whose time is over."""
        return self.filter(state=Booking.State.HELD, held_until__lt=at)


class Booking(Linked):
    """Seats taken together by one contact. Held seats count as taken until their time is over.

    Its amounts are in the currency of the class. While a form holds them, `held_by` marks its
    connection, and `held_place` which of that connection's few forms it is.
    """

    class State(models.TextChoices):
        HELD = "held", "Held"
        CONFIRMED = "confirmed", "Confirmed"
        CANCELED = "canceled", "Canceled"
        RUN_OUT = "run out", "Not accepted in time"

    session = models.ForeignKey(ClassSession, on_delete=models.PROTECT, related_name="bookings")
    seats = models.PositiveIntegerField(
        validators=[MinValueValidator(1), MaxValueValidator(MOST_SEATS_AT_ONCE)]
    )
    state = models.CharField(max_length=10, choices=State, default=State.HELD)
    form_key = models.CharField(max_length=64, unique=True, editable=False)
    held_until = models.DateTimeField(null=True, blank=True)
    held_by = models.CharField(max_length=32, blank=True, editable=False)
    held_place = models.PositiveSmallIntegerField(null=True, blank=True, editable=False)
    name = models.CharField(max_length=80, blank=True)
    email = models.EmailField(max_length=254, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    price_minor = models.PositiveBigIntegerField(default=0)
    refund_due_minor = models.PositiveBigIntegerField(default=0)
    told_of = models.PositiveIntegerField(default=0, editable=False)
    made_at = models.DateTimeField()
    confirmed_at = models.DateTimeField(null=True, blank=True)
    canceled_at = models.DateTimeField(null=True, blank=True)
    erased_at = models.DateTimeField(null=True, blank=True)
    moved_to = models.ForeignKey(
        "self", on_delete=models.SET_NULL, null=True, blank=True, related_name="moved_from"
    )

    objects = BookingQuerySet.as_manager()

    class Meta:
        ordering = ("made_at", "pk")
        constraints = (
            models.CheckConstraint(condition=Q(seats__gt=0), name="booking_has_seats"),
            models.CheckConstraint(
                condition=~Q(state="held") | Q(held_until__isnull=False),
                name="booking_held_for_a_time",
            ),
            models.UniqueConstraint(
                fields=("session", "held_by", "held_place"),
                condition=Q(state="held") & ~Q(held_by=""),
                name="booking_one_form_a_place",
            ),
        )
        indexes = (models.Index(fields=("session", "state"), name="booking_of_class"),)

    def __str__(self) -> str:
        return f"{self.seats} × {self.session.code}, {self.get_state_display()}"

    @property
    def price(self) -> Money:
        """What all its seats cost."""
        return Money(self.price_minor, self.session.currency)

    @property
    def refund_due(self) -> Money:
        """How much of what was paid must be given back."""
        return Money(self.refund_due_minor, self.session.currency)

    def is_held_at(self, at: datetime) -> bool:
        """Whether its seats are held for a form at a moment."""
        over = self.held_until is None or self.held_until < at
        return self.state == self.State.HELD and not over


class Waiting(Linked):
    """Somebody on the waiting list; an offer holds seats for them until it ends."""

    class State(models.TextChoices):
        WAITING = "waiting", "Waiting"
        OFFERED = "offered", "Offered a seat"
        BOOKED = "booked", "Booked"
        PASSED = "passed", "Did not answer in time"
        LEFT = "left", "Left the list"

    session = models.ForeignKey(ClassSession, on_delete=models.PROTECT, related_name="waiting")
    name = models.CharField(max_length=80, blank=True)
    email = models.EmailField(max_length=254, blank=True)
    seats = models.PositiveIntegerField(
        default=1, validators=[MinValueValidator(1), MaxValueValidator(MOST_SEATS_AT_ONCE)]
    )
    state = models.CharField(max_length=8, choices=State, default=State.WAITING)
    form_key = models.CharField(max_length=64, unique=True, editable=False)
    booking = models.OneToOneField(
        Booking, on_delete=models.SET_NULL, null=True, blank=True, related_name="waited"
    )
    made_at = models.DateTimeField()
    offered_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("made_at", "pk")
        constraints = (models.CheckConstraint(condition=Q(seats__gt=0), name="waiting_for_seats"),)
        indexes = (models.Index(fields=("session", "state"), name="waiting_for_class"),)

    def __str__(self) -> str:
        return f"{self.name}, {self.get_state_display()}"

    @property
    def is_waiting(self) -> bool:
        return self.state == self.State.WAITING

    @property
    def is_open(self) -> bool:
        """Whether they can still leave it."""
        return self.state in (self.State.WAITING, self.State.OFFERED)


class Payment(models.Model):
    """Money for a booking in minor units of its class's currency; given back is negative."""

    class Means(models.TextChoices):
        CASH = "cash", "Cash"
        CARD_READER = "card reader", "Card reader"
        TRANSFER = "transfer", "Bank transfer"

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="payments")
    amount_minor = models.BigIntegerField()
    means = models.CharField(max_length=12, choices=Means)
    paid_on = models.DateField()
    note = models.CharField(max_length=120, blank=True)
    form_key = models.CharField(max_length=64, unique=True, editable=False)
    noted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    noted_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("paid_on", "pk")
        constraints = (
            models.CheckConstraint(condition=~Q(amount_minor=0), name="payment_of_something"),
        )

    def __str__(self) -> str:
        return f"{self.amount}, {self.get_means_display()}"

    @property
    def amount(self) -> Money:
        return Money(self.amount_minor, self.booking.session.currency)
