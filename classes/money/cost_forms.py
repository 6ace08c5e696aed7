"""The rows of what a class costs beside its ingredients."""

from __future__ import annotations

from typing import Any

from django import forms

from classes.core.money import Money
from classes.models import ClassCost, ClassSession
from classes.money.fields import MoneyField
from classes.sessions.formsets import RowFormSet
from config.forms.rows import rows_of

MOST_COSTS = 30


class CostForm(forms.ModelForm[ClassCost]):
    """One cost; its amount is typed in the currency of the class."""

    class Meta:
        model = ClassCost
        fields = ("name", "per")

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["amount"] = MoneyField(currency=currency, label=f"Amount, {currency}")
        if self.instance.pk:
            self.initial["amount"] = self.instance.amount
        self.order_fields(["name", "amount", "per"])

    def clean_amount(self) -> Money:
        amount: Money = self.cleaned_data["amount"]
        self.instance.amount_minor = amount.amount_minor
        return amount


class CostFormSet(RowFormSet[ClassCost, ClassSession, CostForm]):
    """The costs of a class."""


CostRows = rows_of(
    ClassSession,
    ClassCost,
    CostFormSet,
    form=CostForm,
    extra=0,
    max_num=MOST_COSTS,
    validate_max=True,
)
