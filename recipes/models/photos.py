"""Pictures of recipes."""

from __future__ import annotations

from django.db import models

from recipes.models.recipes import Recipe


class Photo(models.Model):
    """A picture of a recipe, re-encoded and without the camera's notes."""

    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="photos")
    image = models.ImageField(upload_to="photos/")
    alt = models.CharField("what it shows", max_length=160)
    added_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("added_at", "pk")

    def __str__(self) -> str:
        return self.alt
