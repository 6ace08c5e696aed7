"""What a person says they must not eat, with dates."""

from __future__ import annotations

from datetime import datetime

from classes.core.diets.words import says_nothing, told_since
from classes.enrollment.models import Enrollment


def note_told(*, enrollment: Enrollment, at: datetime) -> None:
    """Date what a person tells us now, item by item; the caller saves it.

    Words that say that there is nothing become that answer.
    """
    if says_nothing(enrollment.must_not_eat):
        enrollment.must_not_eat = ""
        if not enrollment.allergens and not enrollment.wants_privacy:
            enrollment.diet = Enrollment.Diet.NOTHING
    enrollment.told_since = told_since(
        enrollment.told_since, enrollment.allergens, enrollment.must_not_eat, at=at
    )
