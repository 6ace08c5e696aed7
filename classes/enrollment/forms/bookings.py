"""The form for a class's public page and the terms on which seats are taken."""

from __future__ import annotations

from typing import Any

from django import forms

from classes.core.money import nothing
from classes.models import ClassSession
from classes.models.session import Level
from classes.money.fields import MoneyField
from config.forms.fields import field_of


class PublicForm(forms.ModelForm[ClassSession]):
    """The public side of a class; money is typed in the currency of the class."""

    class Meta:
        model = ClassSession
        fields = (
            "is_open",
            "about",
            "level",
            "bring",
            "refund_days",
            "transfer_days",
            "least_people",
            "decide_on",
        )
        labels = {
            "is_open": "Open for enrollment: the public page takes seats",
            "about": "What people will bake and take home",
            "least_people": "Takes place with at least this many people",
            "decide_on": "Decide by this date whether it takes place",
        }
        widgets = {"decide_on": forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        currency = self.instance.currency
        self.fields["price"] = MoneyField(
            currency=currency, label=f"Price for a seat, {currency}", required=False
        )
        self.fields["deposit"] = MoneyField(
            currency=currency,
            label=f"Deposit for a seat, {currency}",
            required=False,
            help_text="What you charge when somebody enrolls. Paid outside this program.",
        )
        self.initial.update(price=self.instance.price, deposit=self.instance.deposit)
        field_of(self, "level", forms.TypedChoiceField).choices = [("", "Not said"), *Level.choices]

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        unset = nothing(self.instance.currency)
        price = self.cleaned_data.get("price") or unset
        deposit = self.cleaned_data.get("deposit") or unset
        if deposit > price and not self.errors:
            self.add_error("deposit", "The deposit is more than the price.")
        self._clean_days()
        self._clean_people()
        self.instance.price_minor = price.amount_minor
        self.instance.deposit_minor = deposit.amount_minor
        return cleaned

    def _clean_days(self) -> None:
        refund, move = self.cleaned_data.get("refund_days"), self.cleaned_data.get("transfer_days")
        if refund is not None and move is not None and move > refund:
            self.add_error(
                "transfer_days",
                "Moving must be possible at least as long as the refund: "
                f"enter {refund} days or fewer.",
            )

    def _clean_people(self) -> None:
        least, day = self.cleaned_data.get("least_people"), self.cleaned_data.get("decide_on")
        if least is not None and least > self.instance.seats:
            self.add_error("least_people", f"The class has only {self.instance.seats} seats.")
        starts = self.instance.when.starts.date
        if day is not None and day > starts:
            self.add_error("decide_on", "Decide on the day of the class at the latest.")
