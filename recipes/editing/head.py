"""The head of a recipe form: a revision's own fields."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from recipes.core.heat.doneness import BreadKind
from recipes.core.pans.sizes import PanShape
from recipes.forms.fields import (
    CapacityField,
    CelsiusField,
    FigureField,
    MillimetersField,
    WholeField,
)

PAN_MEASURES = ("pan_length_mm", "pan_width_mm", "pan_depth_mm", "pan_water_ml")


class HeadForm(forms.Form):
    """A revision's own fields."""

    use_required_attribute = False

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
        help_text="Or enter 77 F.",
    )
    core_temperature_c = CelsiusField(
        least=-30,
        most=350,
        places=1,
        unit="°C",
        required=False,
        label="Inside when done, °C",
        help_text="Or enter 205 F.",
    )
    equipment = forms.CharField(
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="One item per line.",
    )
    note = forms.CharField(
        max_length=2000, required=False, widget=forms.Textarea(attrs={"rows": 4})
    )

    bread_kind = forms.ChoiceField(
        choices=[("", "Not said"), *BreadKind.choices()],
        required=False,
        label="Kind of bread",
        help_text="Tells how hot the middle gets when it is done.",
    )
    pan_shape = forms.ChoiceField(
        choices=[
            ("", "No pan of its own"),
            *PanShape.choices(),
        ],
        required=False,
        label="Its own pan",
    )
    pan_length_mm = MillimetersField(
        required=False,
        label="Length or diameter, cm",
        help_text="Inside, at half height. Or enter 9 in.",
    )
    pan_width_mm = MillimetersField(
        required=False, label="Width, cm", help_text="Round and square pans need none."
    )
    pan_depth_mm = MillimetersField(required=False, label="Depth, cm")
    pan_water_ml = CapacityField(
        required=False,
        label="Holds, ml of water",
        help_text="Filled to the rim. Or enter 1.5 l or 6 cups.",
    )

    def clean_bake_loss_percent(self) -> Decimal:
        return self.cleaned_data["bake_loss_percent"] or Decimal(0)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        given = [name for name in PAN_MEASURES if cleaned.get(name) is not None]
        if cleaned.get("pan_shape"):
            self._check_pan(PanShape(cleaned["pan_shape"]))
        elif given and "pan_shape" not in self.errors:
            message = "Choose the pan's shape, or leave its measurements blank."
            self.add_error("pan_shape", message)
        return cleaned

    def _check_pan(self, shape: PanShape) -> None:
        """A pan has a length, and a width unless it is round or square."""
        length_mm = self.cleaned_data.get("pan_length_mm")
        width_mm = self.cleaned_data.get("pan_width_mm")
        if length_mm is None and "pan_length_mm" not in self.errors:
            self.add_error("pan_length_mm", f"Enter {_first_size(shape)}.")
        if not shape.has_one_size:
            if width_mm is None and "pan_width_mm" not in self.errors:
                self.add_error("pan_width_mm", f"Enter how wide the {_in_words(shape)} is.")
        elif width_mm not in (None, length_mm):
            message = f"A {_in_words(shape)} has one size: leave this blank."
            self.add_error("pan_width_mm", message)
        else:
            self.cleaned_data["pan_width_mm"] = None


def _in_words(shape: PanShape) -> str:
    return "tray" if shape is PanShape.TRAY else f"{shape} pan"


def _first_size(shape: PanShape) -> str:
    match shape:
        case PanShape.ROUND:
            return "the diameter of the round pan"
        case PanShape.SQUARE:
            return "the side of the square pan"
    return f"how long the {_in_words(shape)} is"
