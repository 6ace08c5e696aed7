"""Forms for a kitchen, its equipment, and its pantry."""

from __future__ import annotations

from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.contrib.auth.models import User
from django.db.models import QuerySet

from classes.core.regions import Region
from classes.kitchens.services import Content
from classes.models import Kitchen, Mixer, Oven, Scale, Station, StockItem
from classes.money.fields import MoneyField
from classes.sessions.formsets import Choices, RowFormSet, choices_of, plain_initial
from config.forms.fields import field_of
from config.forms.rows import rows_of
from recipes.models import Ingredient
from recipes.selectors import ingredients_for


class KitchenForm(forms.ModelForm[Kitchen]):
    class Meta:
        model = Kitchen
        fields = (
            "name",
            "place",
            "access_facts",
            "emergency_number",
            "first_aid_place",
            "defibrillator_place",
            "extinguisher_place",
            "shutoff_place",
            "meeting_point",
            "guidance",
            "time_zone",
            "currency",
            "altitude_m",
            "ounces",
            "room_c",
            "night_c",
            "flour_c",
            "tap_c",
            "proof_places",
            "cabinet_c",
            "refrigerator_places",
            "bowls",
        )

    def __init__(self, *args: Any, owner: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        plain_initial(self)
        self._owner = owner
        zones = [(zone, zone.replace("_", " ")) for zone in sorted(available_timezones())]
        self.fields["time_zone"] = forms.ChoiceField(choices=zones, initial="UTC")
        self.fields["altitude_m"].required = False
        self.fields["altitude_m"].label = "Altitude, m"
        self.fields["guidance"].required = False
        self.fields["access_facts"].widget.attrs["rows"] = 3

    def clean_name(self) -> str:
        name: str = self.cleaned_data["name"]
        others = Kitchen.objects.owned_by(self._owner).exclude(pk=self.instance.pk)
        if others.filter(name=name).exists():
            raise forms.ValidationError(f"You already have a kitchen called {name}.")
        return name

    def clean_altitude_m(self) -> int:
        return self.cleaned_data["altitude_m"] or 0

    def clean_guidance(self) -> str:
        return self.cleaned_data["guidance"] or Region.ALL


class ContentRows(RowFormSet[Content, Kitchen, forms.ModelForm[Content]]):
    """The equipment of a kitchen, of one kind."""


def _rows(model: type[Content], fields: tuple[str, ...], **kwargs: Any) -> type[ContentRows]:
    return rows_of(Kitchen, model, ContentRows, fields=fields, extra=0, max_num=60, **kwargs)


StationRows = _rows(Station, ("name", "places"), min_num=1, validate_min=True)
OvenRows = _rows(Oven, ("name", "slots", "across", "has_fan", "preheat_min", "turnaround_min"))
MixerRows = _rows(
    Mixer, ("name", "capacity_g", "friction_c"), labels={"friction_c": "Friction, °C"}
)
ScaleRows = _rows(Scale, ("step_g", "count"))


class StockForm(forms.ModelForm[StockItem]):
    """One ingredient in stock; a price is typed in the kitchen's currency.

    One in another currency keeps it, and shows its code, until it is entered again.
    """

    class Meta:
        model = StockItem
        fields = ("ingredient", "on_hand_g", "pack_g")

    def __init__(
        self,
        *args: Any,
        ingredients: QuerySet[Ingredient],
        choices: Choices,
        currency: str,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        plain_initial(self)
        field = field_of(self, "ingredient", forms.ModelChoiceField)
        field.queryset, field.choices = ingredients, choices
        before = self.instance.pack_price
        self.fields["price"] = MoneyField(
            currency=currency,
            also=(before.currency,) if before else (),
            label=f"Price of a pack, {currency}",
            required=False,
        )
        self.initial["price"] = before
        self.order_fields(["ingredient", "on_hand_g", "pack_g", "price"])

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        price, pack = self.cleaned_data.get("price"), self.cleaned_data.get("pack_g")
        if price is not None and pack is None and "pack_g" not in self.errors:
            self.add_error("pack_g", "A price needs the size of the pack it buys.")
        self.instance.pack_price_minor = price.amount_minor if price else None
        self.instance.price_currency = price.currency if price else ""
        return cleaned


def stock_choices(kitchen: Kitchen) -> dict[str, Any]:
    """What the rows of a pantry choose from, and its currency: keyword arguments of `StockForm`."""
    ingredients = ingredients_for(kitchen.owner)
    return {
        "ingredients": ingredients,
        "choices": choices_of(ingredients, "Choose one"),
        "currency": kitchen.currency,
    }


class StockFormSet(RowFormSet[StockItem, Kitchen, StockForm]):
    """The pantry."""


StockRows = rows_of(Kitchen, StockItem, StockFormSet, form=StockForm, extra=0, max_num=300)
