"""The form of a recipe's exchange page: yeast factors, and the flour at hand."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms

from config.forms.fields import field_of
from recipes.core.exchange.kinds import (
    TEXTBOOK,
    YEAST_FACTORS,
    FlourProtein,
    YeastFactors,
    YeastForm,
)
from recipes.core.exchange.sheet import Asked
from recipes.forms.fields import FigureField
from wording.figures import plain

OWN = "own"
USUAL_FLOUR = "all-purpose-flour"


class ExchangeForm(forms.Form):
    """Which factors to use, and what is in the cupboard; `asked` is the answer if valid.

    `flours` are the flours to choose from, by key; `asks_form` says that some yeast's form is
    unknown.
    """

    factors = forms.ChoiceField(
        choices=[
            *((factor.key, f"{factor.name} ({factor.source})") for factor in YEAST_FACTORS),
            (OWN, "factors of our own"),
        ],
        label="Yeast factors",
    )
    active_dry = FigureField(
        least=Decimal("0.1"), most=2, places=3, label="Active dry for 1 g of fresh, g"
    )
    instant = FigureField(
        least=Decimal("0.1"), most=2, places=3, label="Instant for 1 g of fresh, g"
    )
    unknown_form = forms.ChoiceField(
        choices=[("", "not known"), *((form.value, form.value) for form in YeastForm)],
        required=False,
        label="Yeast whose name tells no form is",
    )
    flour = forms.ChoiceField(required=False, label="Flour you have")

    def __init__(
        self, asked: Mapping[str, str], flours: Mapping[str, FlourProtein], *, asks_form: bool
    ) -> None:
        self.flours, self.asks_form = flours, asks_form
        data = {
            "factors": TEXTBOOK.key,
            "active_dry": plain(TEXTBOOK.active_dry or Decimal(0)),
            "instant": plain(TEXTBOOK.instant or Decimal(0)),
            "unknown_form": "",
            "flour": USUAL_FLOUR if USUAL_FLOUR in flours else "",
        }
        data |= {name: asked[name] for name in data if name in asked}
        super().__init__(data, auto_id="exchange_%s")
        field_of(self, "flour", forms.ChoiceField).choices = [
            ("", "none chosen"),
            *((key, flour.name) for key, flour in flours.items()),
        ]
        if not asks_form:
            del self.fields["unknown_form"]

    @property
    def typed_fields(self) -> list[forms.BoundField]:
        return [self["active_dry"], self["instant"]]

    @property
    def asked(self) -> Asked:
        cleaned: dict[str, Any] = self.cleaned_data
        form = cleaned.get("unknown_form")
        return Asked(
            factors=self._factors(),
            unknown_form=YeastForm(form) if form else None,
            flour=self.flours.get(cleaned["flour"]),
        )

    def _factors(self) -> YeastFactors:
        cleaned = self.cleaned_data
        if cleaned["factors"] != OWN:
            return next(factor for factor in YEAST_FACTORS if factor.key == cleaned["factors"])
        active_dry, instant = Decimal(cleaned["active_dry"]), Decimal(cleaned["instant"])
        name = f"1 : {plain(active_dry)} : {plain(instant)}"
        return YeastFactors(OWN, name, "written on this page", active_dry, instant)
