"""Conflicts as pages show them, each with the form for its decision."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.http import QueryDict

from classes.core.diets.conflict_words import (
    WAYS,
    conflict_words,
    decided_by,
    decided_words,
    found_words,
)
from classes.core.diets.conflicts import Concerns, Conflict, Way, own_places
from classes.core.diets.decided import baked_of
from classes.enrollment.forms.enroll import ONE_LINE
from classes.enrollment.models import DietDecision
from classes.models import ClassSession
from classes.selectors import taught_as
from config.forms.fields import field_of
from recipes.models import Variant


@dataclass(frozen=True, slots=True)
class WayOut:
    """A variant of the recipe, and what is found in it for the person."""

    variant: Variant
    found: tuple[str, ...]

    @property
    def label(self) -> str:
        """Such as `S1 with oats (oats for sesame): may hold sesame: …`."""
        swaps = "; ".join(str(swap) for swap in self.variant.swaps.all())
        found = "; ".join(self.found) or "nothing they told is entered in it"
        return f"{self.variant} ({swaps}): {found}"


def ways_out(
    session: ClassSession, conflicts: Iterable[Conflict]
) -> dict[tuple[str, str], tuple[WayOut, ...]]:
    """The variants for each conflict of a class fetched `with_plan`, by person and revision."""
    conflicts = list(conflicts)
    wanted = {int(conflict.revision) for conflict in conflicts}
    if not wanted:
        return {}
    variants = Variant.objects.filter(revision__in=wanted)
    made = list(variants.prefetch_related("swaps__replaced", "swaps__by"))
    return {
        (conflict.person, conflict.revision): tuple(
            _way(session, conflict, variant)
            for variant in made
            if variant.revision_id == int(conflict.revision)
        )
        for conflict in conflicts
    }


def _way(session: ClassSession, conflict: Conflict, variant: Variant) -> WayOut:
    row = next(row for row in session.taught.all() if row.revision_id == variant.revision_id)
    steps = tuple((step.kind, step.text) for step in row.revision.steps.all())
    recipe = baked_of(taught_as(row, variant), steps, frozenset([conflict.person]))
    return WayOut(variant, found_words(own_places(conflict.eater, recipe)))


Ways = DietDecision.Way


class DecisionForm(forms.Form):
    """The form for one conflict; `seen` is its mark when the page was made."""

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
        """The arguments for `decide_diet` from the form."""
        said = self.cleaned_data
        variant: Variant | None = self._variants.get(said.get("variant", ""))
        way = Way(said["way"])
        return {
            "conflict": self.conflict,
            "way": way,
            "variant": variant if way is Way.VARIANT else None,
            "note": said["note"],
        }


@dataclass(frozen=True, slots=True)
class ShownConflict:
    """A conflict with its words, the form that decides it, and the recipe's name in addresses."""

    conflict: Conflict
    form: DecisionForm
    slug: str

    @property
    def person(self) -> int:
        """The key of the row of the person."""
        return self.conflict.person.student_pk

    @property
    def words(self) -> tuple[str, ...]:
        return conflict_words(self.conflict)

    @property
    def decided(self) -> str:
        return decided_words(self.conflict)

    @property
    def by(self) -> str:
        return decided_by(self.conflict)

    @property
    def earlier(self) -> str:
        """A decision that no longer fits, and why; empty if there is none."""
        before, lapse = self.conflict.earlier, self.conflict.lapse
        if before is None or lapse is None:
            return ""
        return f"Was decided: {WAYS[before.way]} ({before.by}, {before.when}). {lapse.value}"


@dataclass(frozen=True, slots=True)
class ShownPerson:
    """Somebody who told us something, with their conflicts as shown."""

    concerns: Concerns
    conflicts: tuple[ShownConflict, ...]


def shown_people(
    session: ClassSession, people: Iterable[Concerns], bound: DecisionForm | None = None
) -> tuple[ShownPerson, ...]:
    """Everybody with a form for each of their conflicts; `bound` is one that was refused."""
    people = tuple(people)
    every = [conflict for person in people for conflict in person.conflicts]
    ways = ways_out(session, every)
    slugs = {str(row.revision_id): row.revision.recipe.slug for row in session.taught.all()}

    def shown(one: Conflict) -> ShownConflict:
        key = one.person, one.revision
        form = DecisionForm(None, one, ways[key])
        if bound and (bound.conflict.person, bound.conflict.revision) == key:
            form = bound
        return ShownConflict(one, form, slugs[one.revision])

    return tuple(ShownPerson(person, tuple(map(shown, person.conflicts))) for person in people)
