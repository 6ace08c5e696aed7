"""Which papers are wanted in one file, and on which sheets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from classes.at_home import PaperSize
from classes.models import Pack
from handouts.catalog import KINDS
from handouts.label_layouts import LabelLayout
from handouts.makers import USUAL_LAYOUT
from handouts.render import PageSize


class PackForm(forms.Form):
    """Starts from the sheets that were used last."""

    kinds = forms.MultipleChoiceField(
        choices=[(kind.name, kind.title) for kind in KINDS],
        error_messages={"required": "Choose at least one kind of paper."},
    )
    page = forms.ChoiceField(label="Sheets", choices=PaperSize)
    layout = forms.ChoiceField(
        label="Labels", choices=[(one.value, one.words) for one in LabelLayout], required=False
    )
    only_changed = forms.BooleanField(required=False)

    def __init__(self, data: Mapping[str, Any] | None, usual: Pack | None) -> None:
        page = usual.page_size if usual else PageSize.A4
        layout = (usual.layout if usual else "") or USUAL_LAYOUT
        initial = {"page": page, "layout": layout}
        super().__init__(data, initial=initial, auto_id="pack_%s")

    def clean_kinds(self) -> list[str]:
        """Each once, in the order of the catalog."""
        chosen = self.cleaned_data["kinds"]
        return [kind.name for kind in KINDS if kind.name in chosen]
