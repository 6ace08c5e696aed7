"""The form for a variant: what is replaced, by what, in which proportion."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.contrib.auth.models import User
from django.http import QueryDict

from config.forms.fields import field_of
from config.forms.rows import row_forms
from recipes.core.errors import NoFlour
from recipes.core.written import WrittenSwap
from recipes.forms.fields import FigureField
from recipes.models import Ingredient, Revision, Variant
from recipes.selectors import formula_value, ingredient_value, ingredients_for, name_of
from recipes.variants.selectors import swapped

EVERYWHERE = ""
MOST_SWAPS = 12

Choices = dict[str, list[tuple[int | str, str]]]


class VariantForm(forms.Form):
    """The name of a new variant, unique within a revision."""

    name = forms.CharField(
        max_length=60,
        label="What it is called",
        help_text="Name what is in it, such as “sunflower and oats”.",
    )

    def __init__(self, data: QueryDict | None, *, revision: Revision) -> None:
        super().__init__(data)
        self._revision = revision

    def clean_name(self) -> str:
        name: str = self.cleaned_data["name"]
        if Variant.objects.filter(revision=self._revision, name=name).exists():
            raise forms.ValidationError(f"There is already a variant called {name}.")
        return name


class SwapForm(forms.Form):
    """One replacement; several rows for one ingredient divide its mass by their parts."""

    replaced = forms.TypedChoiceField(coerce=int, label="Instead of")
    component_name = forms.ChoiceField(required=False, label="In")
    by = forms.TypedChoiceField(coerce=int, label="Take")
    parts = FigureField(least=Decimal("0.01"), most=9999, places=2, label="Parts", initial=1)

    def __init__(self, *args: Any, choices: Choices, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, pairs in choices.items():
            field_of(self, name, forms.ChoiceField).choices = pairs


def swap_choices(revision: Revision, user: User) -> Choices:
    """What a row chooses from: the recipe's ingredients and parts, and everything on the shelf."""
    parts = list(revision.components.all())
    used = {line.ingredient_id: line.ingredient.name for part in parts for line in part.lines.all()}
    shelf = [(row.pk, row.name) for row in ingredients_for(user)]
    return {
        "replaced": [("", "Choose one"), *sorted(used.items(), key=lambda pair: pair[1])],
        "component_name": [(EVERYWHERE, "every part"), *((part.name, part.name) for part in parts)],
        "by": [("", "Choose one"), *shelf],
    }


class SwapFormSet(forms.BaseFormSet[SwapForm]):
    """The replacements of a variant, tried on the formula before anything is saved."""

    written: tuple[WrittenSwap, ...] = ()

    def __init__(
        self, data: QueryDict | None, *, prefix: str, revision: Revision, user: User
    ) -> None:
        self._revision, self._user = revision, user
        form_kwargs = {"choices": swap_choices(revision, user)}
        super().__init__(data, prefix=prefix, form_kwargs=form_kwargs)

    def clean(self) -> None:
        if any(self.errors):
            return
        self._check_places()
        if any(self.errors):
            return
        rows = [form.cleaned_data for form in self.forms if form.cleaned_data]
        if not rows:
            raise forms.ValidationError("Replace at least one ingredient.")
        found = Ingredient.objects.in_bulk(
            {row[name] for row in rows for name in ("replaced", "by")}
        )
        names = {pk: name_of(row) for pk, row in found.items()}
        self.written = tuple(
            WrittenSwap(
                names[row["replaced"]], names[row["by"]], row["parts"], row["component_name"]
            )
            for row in rows
        )
        known = {names[pk]: ingredient_value(row) for pk, row in found.items()}
        try:
            swapped(formula_value(self._revision), self.written, known)
        except NoFlour:
            raise forms.ValidationError("No flour would be left.") from None

    def _check_places(self) -> None:
        """Check that each replaced ingredient is in the named part and not replaced by itself."""
        has = {
            (name, line.ingredient_id)
            for part in self._revision.components.all()
            for line in part.lines.all()
            for name in (EVERYWHERE, part.name)
        }
        for form in self.forms:
            row = form.cleaned_data
            if not row:
                continue
            if (row["component_name"], row["replaced"]) not in has:
                form.add_error("component_name", "That part does not contain it.")
            if row["replaced"] == row["by"]:
                form.add_error("by", "This is what is replaced.")


SwapRows = row_forms(SwapForm, SwapFormSet, extra=2, max_num=MOST_SWAPS, validate_max=True)
