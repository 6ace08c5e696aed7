"""Somebody who walks in: what they must not eat comes first."""

from __future__ import annotations

from django import forms

from classes.enrollment.forms.enroll import DinerForm
from classes.enrollment.models import Enrollment


class WalkInForm(DinerForm):
    """The allergen question stands before the name, and has to be answered."""

    form_key = forms.RegexField(r"^[A-Za-z0-9_-]{20,64}$", widget=forms.HiddenInput)
    field_order = ("diet", "allergens", "must_not_eat", "name")

    def clean(self) -> dict[str, object]:
        cleaned = super().clean()
        if not self.errors and not cleaned.get("diet"):
            self.add_error(
                "diet",
                "Ask before they touch anything. If they would rather not say, choose “privately” "
                "and talk to them.",
            )
        return cleaned

    @property
    def diets(self) -> type[Enrollment.Diet]:
        return Enrollment.Diet
