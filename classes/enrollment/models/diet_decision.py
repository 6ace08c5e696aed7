"""What was decided about a recipe that holds what somebody must not eat."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from classes.enrollment.models.person import Enrollment
from recipes.models import Revision


class DietDecision(models.Model):
    """A decision for one person and one recipe; private as what they told is.

    `basis` is what it was about: `{"told": [...], "bakes": ..., "found": [...]}`. Once that is no
    longer so, the conflict is open again.
    """

    class Way(models.TextChoices):
        VARIANT = "variant", "They bake a variant"
        OTHER_TASK = "other-task", "They have another task"
        TAKEN_OUT = "taken-out", "It is taken out for them"
        TALKED_OVER = "talked-over", "Talked over with them"

    enrollment = models.ForeignKey(Enrollment, on_delete=models.CASCADE, related_name="decisions")
    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="+")
    way = models.CharField(max_length=12, choices=Way)
    note = models.CharField(max_length=200, blank=True)
    basis = models.JSONField(default=dict)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    decided_at = models.DateTimeField()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("enrollment", "revision"), name="diet_decision_once_a_recipe"
            ),
        )

    def __str__(self) -> str:
        return f"{self.enrollment}: {self.get_way_display()}"
