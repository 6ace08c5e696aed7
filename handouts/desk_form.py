"""Which papers are wanted in one file, and on which sheets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from classes.at_home import PaperSize
from classes.models import Pack
from handouts.catalog import KINDS


class PackForm(forms.Form):
    """Starts from the sheets that were used last."""

    kinds = forms.MultipleChoiceField(
        choices=[(kind.name, kind.title) for kind in KINDS],
        error_messages={"required": "Choose at least one kind of paper."},
    )
    page = forms.ChoiceField(label="Sheets", choices=PaperSize)
    layout = forms.CharField(label="Labels", required=False)
    only_changed = forms.BooleanField(required=False)

    def __init__(self, data: Mapping[str, Any] | None, usual: Pack | None) -> None:
        initial = (
            {
                "page": usual.page_size,
            }
            if usual
            else {"page": "a4"}
        )
        super().__init__(data, initial=initial, auto_id="pack_%s")
