"""Settings of the whole recipe book."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from recipes.core.regions import HomeRegion


class Book(models.Model):
    """The recipe book's own settings: at most one row."""

    home_region = models.CharField(max_length=2, choices=HomeRegion.choices())

    class Meta:
        constraints = (models.CheckConstraint(condition=Q(pk=1), name="book_once"),)

    def __str__(self) -> str:
        return self.get_home_region_display()


def book_home_region() -> models.Subquery:
    """The book's home region as a subquery for other rows; None if none was chosen."""
    return models.Subquery(Book.objects.values("home_region")[:1])
