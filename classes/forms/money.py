"""Amounts of money as people type them, kept as whole minor units."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from classes.models import Payment
from classes.templatetags.classes_money import places_of
from recipes.forms.fields import FigureField

MOST = 100_000


class MoneyField(FigureField):
    """An amount in a currency; the cleaned value is in its minor units."""

    def __init__(self, *, currency: str, least: int = 0, **kwargs: Any) -> None:
        self.currency = currency
        places = places_of(currency)
        super().__init__(least=least, most=MOST, places=places, unit=currency, **kwargs)

    def clean(self, value: Any) -> int | None:
        amount = super().clean(value)
        return None if amount is None else int(Decimal(amount) * 10**self.places)

    def prepare_value(self, value: Any) -> Any:
        """Minor units as they are typed; what somebody typed stays as it is."""
        if isinstance(value, int):
            whole, part = divmod(value, 10**self.places)
            return f"{whole}.{part:0{self.places}d}" if self.places else str(whole)
        return value


class PaymentForm(forms.ModelForm):
    """Money that came in for a booking, or was given back."""

    direction = forms.ChoiceField(
        label="Money", choices=[("in", "came in"), ("back", "was given back")], initial="in"
    )
    form_key = forms.RegexField(r"^[A-Za-z0-9_-]{20,64}$", widget=forms.HiddenInput)

    class Meta:
        model = Payment
        fields = ("means", "paid_on", "note")
        labels = {"means": "How", "paid_on": "On"}
        widgets = {"paid_on": forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})}

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["amount"] = MoneyField(currency=currency, label="Amount")
        self.order_fields(["direction", "amount", "means", "paid_on", "note"])

    def clean_amount(self) -> int:
        amount = self.cleaned_data["amount"]
        if not amount:
            raise forms.ValidationError("Write an amount above zero.")
        return amount

    @property
    def amount_minor(self) -> int:
        """The amount with its sign: given back is negative."""
        amount = self.cleaned_data["amount"]
        return amount if self.cleaned_data["direction"] == "in" else -amount
