"""The form for one conflict: what is decided, with a note that the person reads as well."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.http import QueryDict

from classes.core.diets.conflicts import Conflict, Way
from classes.diets.ways_out import WayOut
from classes.enrollment.forms.enroll import ONE_LINE
from classes.enrollment.models import DietDecision
from config.forms.fields import field_of
from recipes.models import Variant

Ways = DietDecision.Way


class DecisionForm(forms.Form):
    """One conflict; `seen` is its mark when the page was made."""

    way = forms.ChoiceField(label="What is decided", widget=forms.RadioSelect)
    variant = forms.ChoiceField(label="Which variant", required=False)
    note = forms.CharField(
        label="Note",
        max_length=200,
        required=False,
        validators=[ONE_LINE],
        help_text="Short, and in words that they may read: it is on their handout.",
    )

    def __init__(
        self, data: QueryDict | None, conflict: Conflict, variants: Sequence[WayOut]
    ) -> None:
        ids = f"{conflict.person}-{conflict.revision}-%s"
        super().__init__(data, auto_id=ids, use_required_attribute=False)
        self.conflict = conflict
        self._variants = {str(variant.variant.pk): variant.variant for variant in variants}
        ways = [way for way in Ways if variants or way != Ways.VARIANT]
        field_of(self, "way", forms.ChoiceField).choices = [(way.value, way.label) for way in ways]
        if variants:
            shown = [(str(variant.variant.pk), variant.label) for variant in variants]
            field_of(self, "variant", forms.ChoiceField).choices = [
                ("", "Choose a variant"),
                *shown,
            ]
        else:
            del self.fields["variant"]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        wants_variant = cleaned.get("way") == Ways.VARIANT
        if wants_variant and not cleaned.get("variant") and not self.errors:
            self.add_error("variant", "Choose which variant they bake.")
        return cleaned

    @property
    def decided(self) -> dict[str, Any]:
        """The arguments of `decide_diet` that the form gives."""
        said = self.cleaned_data
        variant: Variant | None = self._variants.get(said.get("variant", ""))
        way = Way(said["way"])
        return {
            "conflict": self.conflict,
            "way": way,
            "variant": variant if way is Way.VARIANT else None,
            "note": said["note"],
        }
