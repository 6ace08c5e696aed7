"""Which papers are wanted in one file, and on which sheets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from classes.home_kitchen.values import PaperSize
from handouts.answers import on_other_sheets
from handouts.catalog import BY_NAME, KINDS
from handouts.labels.sheets import PLAIN, LabelLayout
from handouts.preparing.arranged import ListBy
from handouts.press.render import PageSize
from handouts.print_desk.sheets import OtherSize, PrintSheets

ON_PLAIN_PAPER = ("", "Plain paper to cut, on these sheets")


def _layouts(page_size: PageSize) -> tuple[str, list[tuple[str, str]]]:
    """The label sheets of a size, except its plain paper."""
    layouts = [layout for layout in LabelLayout if layout.page_size == page_size]
    bought = [layout for layout in layouts if layout is not PLAIN[page_size]]
    return PaperSize(page_size).label, [(layout.value, layout.words) for layout in bought]


class PackForm(forms.Form):
    """Starts from the usual sheets."""

    kinds = forms.MultipleChoiceField(
        choices=[(kind.name, kind.title) for kind in KINDS],
        error_messages={"required": "Choose at least one kind of paper."},
    )
    page = forms.ChoiceField(label="Sheets", choices=PaperSize)
    layout = forms.ChoiceField(
        label="Labels", choices=[ON_PLAIN_PAPER, *map(_layouts, PageSize)], required=False
    )
    list_by = forms.ChoiceField(
        label="What is weighed, in the assistant’s list",
        choices=[(order.value, order.label) for order in ListBy],
        required=False,
    )
    only_changed = forms.BooleanField(required=False)
    two_sided = forms.BooleanField(required=False)

    def __init__(
        self, data: Mapping[str, Any] | None, sheets: PrintSheets, *, two_sided: bool
    ) -> None:
        labels = "" if sheets.labels is PLAIN[sheets.page_size] else sheets.labels
        initial = {
            "page": sheets.page_size,
            "layout": labels,
            "list_by": sheets.list_by,
            "two_sided": two_sided,
        }
        super().__init__(data, initial=initial, auto_id="pack_%s")

    def clean_kinds(self) -> list[str]:
        """Each kind once, in the order of the catalog."""
        chosen = self.cleaned_data["kinds"]
        return [kind.name for kind in KINDS if kind.name in chosen]

    def clean_list_by(self) -> str:
        """The order of the list; the last one if none is chosen."""
        return str(self.cleaned_data["list_by"] or self.initial["list_by"])

    def clean(self) -> dict[str, Any]:
        """Check the label sheets, which do not matter if there are no labels."""
        cleaned = super().clean() or {}
        if {"kinds", "page", "layout"} <= cleaned.keys():
            if not any(BY_NAME[name].are_labels for name in cleaned["kinds"]):
                cleaned["layout"] = ""
            try:
                PrintSheets.of(cleaned["page"], cleaned["layout"])
            except OtherSize as error:
                self.add_error("layout", on_other_sheets(error.labels.page_size))
        return cleaned
