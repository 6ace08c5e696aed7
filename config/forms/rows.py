"""Forms that get another row: shown again as posted, neither checked nor saved."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, TypeVar, cast

from django.db.models import Model
from django.forms import (
    BaseForm,
    BaseFormSet,
    BaseInlineFormSet,
    formset_factory,
    inlineformset_factory,
)
from django.forms.utils import ErrorDict
from django.http import QueryDict

FormSet = TypeVar("FormSet", bound=BaseFormSet[Any])
InlineFormSet = TypeVar("InlineFormSet", bound=BaseInlineFormSet[Any, Any, Any])


def with_row(data: QueryDict, prefix: str) -> QueryDict:
    """The posted data with one more empty row in the formset of that prefix."""
    grown = data.copy()
    total = f"{prefix}-TOTAL_FORMS"
    count = grown.get(total, "")
    grown[total] = str(int(count) + 1 if count.isascii() and count.isdigit() else 1)
    return grown


def leave_unchecked(forms: Iterable[BaseForm | BaseFormSet[Any]]) -> None:
    """Show what was typed without errors: the user is not done yet.

    Django has no way to do that except setting the errors that it would store itself.
    """
    for form in forms:
        if isinstance(form, BaseFormSet):
            leave_unchecked(form.forms)
            form._errors = []  # type: ignore[attr-defined]
            form._non_form_errors = form.error_class()  # type: ignore[attr-defined]
        else:
            form._errors = ErrorDict()  # type: ignore[attr-defined]
            form.cleaned_data = {}
            # A row that was not posted starts with its initial values, not with blanks.
            form.is_bound = any(form.add_prefix(name) in form.data for name in form.fields)


def row_forms(form: type[BaseForm], formset: type[FormSet], **settings: Any) -> type[FormSet]:
    """Django's formset factory, typed so that its result has the class it was given."""
    return cast("type[FormSet]", formset_factory(form, formset=formset, **settings))


def rows_of(
    parent: type[Model], model: type[Model], formset: type[InlineFormSet], **settings: Any
) -> type[InlineFormSet]:
    """The same for inline formsets."""
    made = inlineformset_factory(parent, model, formset=formset, **settings)
    return cast("type[InlineFormSet]", made)
