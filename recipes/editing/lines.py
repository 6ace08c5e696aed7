"""A row of each kind: a part, a line of it, and a step."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import forms

from recipes.core import errors
from recipes.core.choices import (
    RISING_KINDS,
    WORKED_KINDS,
    ComponentKind,
    StepKind,
    TemperatureOf,
    Worked,
)
from recipes.core.reading import Quantity, read_quantity
from recipes.core.regions import regional
from recipes.core.units import Unit, parse_unit, to_grams
from recipes.core.written import WrittenLine, WrittenStep, choices_in
from recipes.forms.fields import CelsiusField, FigureField, MinutesField, RowTextarea, WholeField
from recipes.forms.words import in_words, quoted
from recipes.ingredients.shelf import Shelf
from recipes.models import Ingredient
from recipes.selectors import name_of

MASS_PLACES = Decimal("0.0001")
MOST_G = 1_000_000


class LineForm(forms.Form):
    """An amount of an ingredient. `clean` gives a WrittenLine under `written`."""

    use_required_attribute = False

    amount = forms.CharField(
        max_length=40,
        error_messages={"required": "How much?"},
        widget=forms.TextInput(attrs={"placeholder": "amount", "autocomplete": "off"}),
    )
    unit = forms.CharField(
        max_length=30,
        required=False,
        widget=forms.TextInput(
            attrs={
                "list": "units",
                "placeholder": "g",
                "autocomplete": "off",
                "autocapitalize": "none",
            }
        ),
    )
    ingredient = forms.CharField(
        max_length=100,
        error_messages={"required": "Of what?"},
        widget=forms.TextInput(
            attrs={"list": "shelf", "placeholder": "ingredient", "autocomplete": "off"}
        ),
    )
    note = forms.CharField(
        max_length=120, required=False, widget=forms.TextInput(attrs={"placeholder": "note"})
    )

    def __init__(self, *args: Any, shelf: Shelf, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shelf = shelf

    def clean_ingredient(self) -> Ingredient:
        return self.shelf.find(self.cleaned_data["ingredient"])

    def clean_amount(self) -> Quantity:
        try:
            quantity = read_quantity(self.cleaned_data["amount"])
        except errors.BakingError as error:
            raise forms.ValidationError(in_words(error)) from error
        if quantity.number <= 0:
            raise forms.ValidationError("An amount must be more than zero.")
        return quantity

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if {"amount", "ingredient", "unit", "note"} <= cleaned.keys():
            unit = self._unit(cleaned["amount"].word, cleaned["unit"])
            if unit is not None:
                self._weigh(cleaned, unit)
        return cleaned

    def _unit(self, in_amount: str, in_unit: str) -> Unit | None:
        """The unit, which may be in either field; grams if it is in neither."""
        try:
            said = [parse_unit(word) for word in (in_amount, in_unit) if word]
        except errors.BakingError as error:
            self.add_error("unit", in_words(error))
            return None
        units = [regional(unit, self.shelf.region) for unit in said]
        if len(set(units)) == 2 and units[1].name != "g":
            self.add_error(
                "unit",
                f"The amount says {quoted(in_amount)} and the unit {quoted(in_unit)}: use one.",
            )
            return None
        return units[0] if units else parse_unit("g")

    def _weigh(self, cleaned: dict[str, Any], unit: Unit) -> None:
        quantity: Quantity = cleaned["amount"]
        ingredient: Ingredient = cleaned["ingredient"]
        try:
            mass_g = to_grams(
                quantity.number,
                unit,
                density_g_per_ml=ingredient.density_g_per_ml,
                each_g=ingredient.each_g,
            ).quantize(MASS_PLACES, ROUND_HALF_UP)
        except errors.BakingError as error:
            self.add_error("unit", _unit_in_words(error, ingredient))
            return
        if not 0 < mass_g <= MOST_G:
            too = "too little to weigh" if mass_g == 0 else "more than a ton"
            self.add_error("amount", f"That is {too}.")
            return
        entered = "" if unit.name == "g" else f"{quantity.typed} {unit.name}"
        name = name_of(ingredient)
        cleaned["written"] = WrittenLine(name, mass_g, entered, cleaned["note"])


def _unit_in_words(error: errors.BakingError, ingredient: Ingredient) -> str:
    name = quoted(ingredient.name)
    match error:
        case errors.NoDensity(unit=unit):
            return f"We do not know what 1 {unit} of {name} weighs: enter grams."
        case errors.NoPieceMass():
            return f"We do not know what one piece of {name} weighs: enter grams."
    return in_words(error)


class PartForm(forms.Form):
    """A component's own fields; what does not fit its kind is dropped."""

    use_required_attribute = False

    kind = forms.ChoiceField(choices=ComponentKind.choices(), label="What it is")
    name = forms.CharField(max_length=60, required=False, label="Name")
    for_pieces = WholeField(
        least=1,
        most=999,
        required=False,
        label="Enough for how many pieces?",
    )
    cooking_loss_percent = FigureField(
        least=0,
        most=90,
        places=2,
        required=False,
        label="Steam lost in cooking, %",
    )

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if "kind" not in cleaned:
            return cleaned
        kind = ComponentKind(cleaned["kind"])
        cleaned["name"] = cleaned.get("name") or kind.value.capitalize()
        if kind.goes_into_dough:
            cleaned["for_pieces"] = None
            self.errors.pop("for_pieces", None)
        elif cleaned.get("for_pieces") is None and "for_pieces" not in self.errors:
            self.add_error("for_pieces", "Say for how many pieces these amounts are.")
        if kind is not ComponentKind.ROUX:
            self.errors.pop("cooking_loss_percent", None)
            cleaned["cooking_loss_percent"] = None
        cleaned["cooking_loss_percent"] = cleaned.get("cooking_loss_percent") or Decimal(0)
        return cleaned


class StepForm(forms.Form):
    """One step; times are minutes, the temperature °C. `clean` gives `written`, a WrittenStep."""

    use_required_attribute = False

    kind = forms.ChoiceField(choices=StepKind.choices(), label="Kind")
    text = forms.CharField(
        max_length=600,
        label="What to do",
        widget=RowTextarea,
        error_messages={"required": "Say what is done in this step."},
    )
    hands_on_min = MinutesField(
        least=0, most=1440, unit="minutes", required=False, label="Hands-on"
    )
    waiting_min = MinutesField(least=0, most=10080, unit="minutes", required=False, label="Waiting")
    temperature_c = CelsiusField(
        least=-30, most=350, unit="°C", places=1, required=False, label="At, °C"
    )
    temperature_of = forms.ChoiceField(
        choices=[("", "of what: not stated"), *TemperatureOf.choices()],
        required=False,
        label="Of what",
    )
    worked = forms.ChoiceField(
        choices=[("", "worked: not stated"), *Worked.choices()], required=False, label="Worked"
    )

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if not self.errors:
            self._check_temperature(cleaned)
            if cleaned["worked"] and cleaned["kind"] not in WORKED_KINDS:
                self.add_error(
                    "worked", "Only mixing and preparing have this. Choose “worked: not stated”."
                )
        if not self.errors:
            own = {name: cleaned[name] for name in self.fields}
            cleaned["written"] = WrittenStep(**choices_in(own, kind=StepKind))
        return cleaned

    def _check_temperature(self, cleaned: dict[str, Any]) -> None:
        """A bake has the oven's temperature unless the dough's is meant; a rise never has."""
        kind, of = cleaned["kind"], cleaned["temperature_of"]
        if kind == StepKind.BAKE and cleaned["temperature_c"] is not None and not of:
            cleaned["temperature_of"] = TemperatureOf.OVEN
        if kind == StepKind.BAKE and of in (TemperatureOf.ROOM, TemperatureOf.REFRIGERATOR):
            self.add_error("temperature_of", "A bake has the oven’s temperature, or the dough’s.")
        if kind in RISING_KINDS and of == TemperatureOf.OVEN:
            self.add_error(
                "temperature_of", "Choose the dough, or the room or cabinet in which it stands."
            )
