"""Keeping what a student's kitchen at home is like."""

from __future__ import annotations

from django.db import transaction

from classes.enrollment.models import Enrollment
from classes.home_kitchen.values import HomeKitchen


@transaction.atomic
def keep_home(*, enrollment: Enrollment, kitchen: HomeKitchen) -> None:
    """Keep a kitchen with the enrollment in place of what was kept before."""
    enrollment.home = kitchen.kept()
    enrollment.save(update_fields=["home"])
