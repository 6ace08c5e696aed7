"""Formsets that are edited as rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import Any, Generic, TypeVar

from django.db.models import Model, QuerySet
from django.forms import (
    BaseForm,
    BaseInlineFormSet,
    ModelForm,
    ModelMultipleChoiceField,
    ValidationError,
)

MOST_FIGURES = 18

Parent = TypeVar("Parent", bound=Model)
Child = TypeVar("Child", bound=Model)
ChildForm = TypeVar("ChildForm", bound=ModelForm[Any])
Choices = list[tuple[int | str, str]]


def plain_initial(form: BaseForm) -> None:
    """Show stored decimals without the trailing zeros that their column adds."""
    for name, value in form.initial.items():
        if isinstance(value, Decimal):
            form.initial[name] = f"{value.normalize():f}"


def choices_of(
    queryset: QuerySet[Child], empty: str, label: Callable[[Child], str] = str
) -> Choices:
    """Choices read once and shared by all rows, which would otherwise each query the database."""
    return [("", empty), *((row.pk, label(row)) for row in queryset)]


class SeveralRowsField(ModelMultipleChoiceField[Child]):
    """Some of the rows; a key too long for any column is no row, and SQLite is not asked."""

    def clean(self, value: object) -> QuerySet[Child]:
        for key in value if isinstance(value, list | tuple) else ():
            if len(str(key)) > MOST_FIGURES:
                words = self.error_messages["invalid_choice"]
                raise ValidationError(words, code="invalid_choice", params={"value": key})
        return super().clean(value)


def _says_all(form: BaseForm) -> bool:
    """Whether something was sent for every required field."""
    asked = [form.add_prefix(name) for name, field in form.fields.items() if field.required]
    return bool(asked) and all(str(form.data.get(name, "")).strip() for name in asked)


class RowFormSet(BaseInlineFormSet[Child, Parent, ChildForm], Generic[Child, Parent, ChildForm]):
    """Rows with a checkbox to remove each; errors about uniqueness are in plain words."""

    twice = "Two rows say the same. Give each its own, or remove one."

    def _construct_form(self, i: int, **kwargs: Any) -> ChildForm:
        """A new row with every required field counts, even if it is as it was when added."""
        form: ChildForm = super()._construct_form(i, **kwargs)  # type: ignore[misc]  # Django's
        if form.empty_permitted and form.is_bound and _says_all(form):
            form.empty_permitted = False
        return form

    def add_fields(self, form: ChildForm, index: int | None) -> None:
        super().add_fields(form, index)
        if "DELETE" in form.fields:
            form.fields["DELETE"].label = "Remove"

    def get_unique_error_message(self, unique_check: Iterable[str]) -> str:
        return self.twice

    def get_form_error(self) -> str:
        return "This is listed twice."
