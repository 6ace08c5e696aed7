"""Forms that grow by a row: re-shown as posted, neither checked nor saved."""

from __future__ import annotations

from collections.abc import Iterable

from django.forms import BaseForm, BaseFormSet
from django.forms.utils import ErrorDict
from django.http import QueryDict


def with_row(data: QueryDict, prefix: str) -> QueryDict:
    """The posted data with one more empty row in the formset of that prefix."""
    grown = data.copy()
    total = f"{prefix}-TOTAL_FORMS"
    count = grown.get(total, "")
    grown[total] = str(int(count) + 1 if count.isascii() and count.isdigit() else 1)
    return grown


def leave_unchecked(forms: Iterable[BaseForm | BaseFormSet]) -> None:
    """Show what was typed without judging it: the user is not done yet."""
    for form in forms:
        if isinstance(form, BaseFormSet):
            leave_unchecked(form.forms)
            form._errors, form._non_form_errors = [], form.error_class()
        else:
            form._errors, form.cleaned_data = ErrorDict(), {}
            # A row that was not posted starts with its usual values, not with blanks.
            form.is_bound = any(form.add_prefix(name) in form.data for name in form.fields)
