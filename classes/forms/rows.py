"""Formsets that are edited as rows."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from django.forms import BaseInlineFormSet, Form


def plain_initial(form: Form) -> None:
    """Show stored decimals without the zeros that their column adds."""
    for name, value in form.initial.items():
        if isinstance(value, Decimal):
            form.initial[name] = f"{value.normalize():f}"


class RowFormSet(BaseInlineFormSet):
    """Rows with a box to remove each; what must be unique is asked for in plain words."""

    twice = "Two rows say the same. Give each its own, or remove one."

    def add_fields(self, form: Form, index: int | None) -> None:
        super().add_fields(form, index)
        if "DELETE" in form.fields:
            form.fields["DELETE"].label = "Remove"

    def get_unique_error_message(self, unique_check: Iterable[str]) -> str:
        return self.twice

    def get_form_error(self) -> str:
        return "This stands here twice."
