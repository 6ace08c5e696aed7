"""Saving what a student's kitchen at home is like."""

from __future__ import annotations

from django.db import transaction

from classes.enrollment.models import Enrollment
from classes.home_kitchen.values import HomeKitchen


@transaction.atomic
def keep_home(*, enrollment: Enrollment, kitchen: HomeKitchen) -> None:
    """Save a kitchen with the enrollment, replacing the one saved before."""
    enrollment.home = kitchen.kept()
    enrollment.save(update_fields=["home"])
