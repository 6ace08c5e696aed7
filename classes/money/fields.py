"""Amounts of money and costs as people type them, with the currency they are in."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms

from classes.core import money
from classes.core.money import Money, read_money
from classes.enrollment.models import Payment
from classes.models import ClassCost, ClassSession
from classes.sessions.formsets import RowFormSet
from config.forms.rows import rows_of
from recipes.core.errors import BakingError
from recipes.forms.words import in_words, quoted
from wording.lists import either


class MoneyField(forms.Field):
    """An amount of zero or more; the cleaned value is Money, or None if nothing is typed.

    An amount without a code is in `currency`. `also` are currencies that may be typed with their
    code, such as the one a price was entered in before.
    """

    def __init__(self, *, currency: str, also: Iterable[str] = (), **kwargs: Any) -> None:
        self.currency, self.also = currency, tuple(also)
        super().__init__(**kwargs)

    def widget_attrs(self, widget: forms.Widget) -> dict[str, str]:
        return {"inputmode": "decimal", "autocomplete": "off", "maxlength": "40"}

    def prepare_value(self, value: object) -> object:
        """Money as it is typed, with its code unless it is in the field's currency."""
        if not isinstance(value, Money):
            return value
        return value.plain if value.currency == self.currency else f"{value.plain} {value.currency}"

    def to_python(self, value: object) -> Money | None:
        if value in self.empty_values or not str(value).strip():
            return None
        try:
            amount = read_money(str(value), self.currency, also=self.also)
        except BakingError as error:
            raise forms.ValidationError(refusal(error), code="unreadable") from error
        if amount.is_negative:
            raise forms.ValidationError(f"Enter 0 {amount.currency} or more.", code="least")
        return amount

    def has_changed(self, initial: object, data: object) -> bool:
        """Whether the typed amount differs from the initial one; an unreadable one does."""
        try:
            return initial != self.to_python(data)
        except forms.ValidationError:
            return True


def refusal(error: BakingError) -> str:
    """Why an amount of money is refused, and what to write instead."""
    match error:
        case money.TooFine():
            if not error.places:
                return (
                    f"{quoted(error.text)} has decimal places, and {error.currency} has none: "
                    "enter whole numbers, like 180."
                )
            example = Money(10**error.places * 9 // 5, error.currency).plain
            return (
                f"{quoted(error.text)} has more than the {error.places} decimal places of "
                f"{error.currency}: enter it like {example}, and thousands without a point or "
                "comma."
            )
        case money.TooMuch():
            return f"Enter {error.most} or less."
        case money.OtherCurrency():
            wanted = either(error.wanted)
            return f"{quoted(error.typed)} is not used here: enter the amount in {wanted}."
    return in_words(error)


class PaymentForm(forms.ModelForm[Payment]):
    """Money that came in for a booking, or was refunded."""

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
        self.fields["amount"] = MoneyField(currency=currency, label=f"Amount, {currency}")
        self.order_fields(["direction", "amount", "means", "paid_on", "note"])

    def clean_amount(self) -> Money:
        amount: Money = self.cleaned_data["amount"]
        if not amount.is_something:
            raise forms.ValidationError("Enter an amount above zero.")
        return amount

    @property
    def amount(self) -> Money:
        """The amount with its sign: a refund is negative."""
        amount: Money = self.cleaned_data["amount"]
        return amount if self.cleaned_data["direction"] == "in" else -amount


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
