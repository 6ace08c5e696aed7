"""The head of a recipe form: a revision's own fields."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from recipes.forms.fields import CelsiusField, FigureField, WholeField


class HeadForm(forms.Form):
    """A revision's own fields."""

    title = forms.CharField(max_length=100, error_messages={"required": "Give it a title."})
    summary = forms.CharField(
        max_length=300, required=False, help_text="One sentence under the title."
    )
    piece_name = forms.CharField(
        max_length=30,
        label="One piece is called",
        help_text="loaf, roll, ring …",
        error_messages={"required": "Say what one piece is called."},
    )
    pieces = WholeField(
        least=1,
        most=999,
        label="Pieces it usually makes",
        error_messages={"required": "Say how many pieces it makes."},
    )
    piece_g = FigureField(
        least=1,
        most=20000,
        places=1,
        unit="g",
        label="Dough in one piece, g",
        error_messages={"required": "Say how heavy one piece of dough is."},
    )
    bake_loss_percent = FigureField(
        least=0,
        most=90,
        places=2,
        required=False,
        label="Lost in baking, %",
        help_text="Steam, by weight of the dough.",
    )
    dough_temperature_c = CelsiusField(
        least=-30,
        most=350,
        places=1,
        unit="°C",
        required=False,
        label="Dough after mixing, °C",
        help_text="Or write 77 F.",
    )
    core_temperature_c = CelsiusField(
        least=-30,
        most=350,
        places=1,
        unit="°C",
        required=False,
        label="Done inside at, °C",
        help_text="Or write 205 F.",
    )
    equipment = forms.CharField(
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="One thing a line.",
    )
    note = forms.CharField(
        max_length=2000, required=False, widget=forms.Textarea(attrs={"rows": 4})
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, use_required_attribute=False, **kwargs)

    def clean_bake_loss_percent(self) -> Decimal:
        return self.cleaned_data["bake_loss_percent"] or Decimal(0)
