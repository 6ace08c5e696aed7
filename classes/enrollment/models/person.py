"""Who comes. What they must not eat, and what is decided about it, only the staff may see."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from classes.core.diets.words import words_told
from classes.enrollment.models.booking import Booking, Linked, new_link_nonce
from classes.models.kitchen import Station
from classes.models.session import ClassSession
from recipes.core.allergens import label_of
from recipes.models import Revision, Variant


class Enrollment(Linked):
    """A person in a class, typed in by the instructor or booked by themselves.

    `mark` is random and never changes: it identifies a person in the list of what was erased.
    `allergens` are keys of `recipes.core.allergens`; the words are the person's own. `told_since`
    has both with the times they were told, `{thing: ISO time}`.
    """

    class Diet(models.TextChoices):
        NOT_ASKED = "", "Not asked yet"
        NOTHING = "nothing", "Nothing"
        TOLD = "told", "As written"
        PRIVATE = "private", "Wants to say it in private"
        SILENT = "silent", "Prefers not to answer"

    class Door(models.TextChoices):
        EXPECTED = "", "Expected"
        CAME = "came", "Came"
        ABSENT = "absent", "Absent"

    session = models.ForeignKey(ClassSession, on_delete=models.CASCADE, related_name="enrollments")
    position = models.PositiveIntegerField(default=0)
    name = models.CharField(max_length=80)
    station = models.ForeignKey(
        Station, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    booking = models.ForeignKey(
        Booking, on_delete=models.PROTECT, null=True, blank=True, related_name="people"
    )
    diet = models.CharField(max_length=8, choices=Diet, default=Diet.NOT_ASKED, blank=True)
    allergens = models.JSONField(default=list, blank=True)
    must_not_eat = models.CharField(max_length=300, blank=True)
    told_since = models.JSONField(default=dict, blank=True, editable=False)
    blanked_at = models.DateTimeField(null=True, blank=True)
    door = models.CharField(max_length=8, choices=Door, default=Door.EXPECTED, blank=True)
    walked_in = models.BooleanField(default=False)
    home = models.JSONField("kitchen at home", default=dict, blank=True)
    variants = models.ManyToManyField(Variant, through="BakedVariant", blank=True, related_name="+")
    mark = models.CharField(max_length=32, default=new_link_nonce, editable=False)

    class Meta:
        ordering = ("position", "pk")

    def __str__(self) -> str:
        return self.name

    @property
    def told(self) -> str:
        """What they must not eat, allergens and words; empty if nothing was told."""
        labels = ", ".join(label_of(key) for key in self.allergens)
        return "; ".join(filter(None, [labels, words_told(self.must_not_eat)]))

    @property
    def is_silent(self) -> bool:
        """Whether they were not asked yet, or did not answer."""
        return self.diet in (self.Diet.NOT_ASKED, self.Diet.SILENT)

    @property
    def wants_privacy(self) -> bool:
        """Whether they prefer to say in private what they must not eat."""
        return self.diet == self.Diet.PRIVATE


class BakedVariant(models.Model):
    """A variant that a student bakes; while somebody does, it cannot be removed."""

    enrollment = models.ForeignKey(Enrollment, on_delete=models.CASCADE, related_name="+")
    variant = models.ForeignKey(Variant, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("enrollment", "variant"), name="variant_once_a_student"
            ),
        )

    def __str__(self) -> str:
        return f"{self.enrollment}: {self.variant}"


class DietDecision(models.Model):
    """A decision for one person and one recipe; as private as what they told us.

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
