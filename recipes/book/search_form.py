"""The search form of the recipe book."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlencode

from django import forms

from recipes.book.searching import AllergenKey, Wanted
from recipes.core.allergens import EU_FOURTEEN, US_NINE
from recipes.forms.fields import MinutesField

LONGEST_WORDS = 100
MOST_MINUTES = 40 * (1440 + 10080)


def _allergen_choices(nothing: str) -> list[tuple[str, object]]:
    lists = (("US list", "us", US_NINE), ("EU list", "eu", EU_FOURTEEN))
    return [
        ("", nothing),
        *(
            (name, [(f"{regime}:{allergen.key}", allergen.label) for allergen in all_of])
            for name, regime, all_of in lists
        ),
    ]


class _Words(forms.CharField):
    """Words to search for, cut rather than refused."""

    def clean(self, value: object) -> str:
        return str(value or "").replace("\0", "").strip()[:LONGEST_WORDS]


class SearchForm(forms.Form):
    """What to look for, all of it at once; every field may stay empty."""

    q = _Words(required=False, label="In the title or summary")
    ingredient = _Words(required=False, label="With the ingredient")
    holds = forms.ChoiceField(
        choices=_allergen_choices("anything"), required=False, label="Entered as containing"
    )
    without = forms.ChoiceField(
        choices=_allergen_choices("do not ask"), required=False, label="Not entered as containing"
    )
    time = MinutesField(
        least=1,
        most=MOST_MINUTES,
        unit="min",
        required=False,
        label="Takes at most",
    )

    def __init__(self, asked: Mapping[str, str]) -> None:
        data = {name: asked.get(name, "") for name in self.base_fields}
        super().__init__(data, auto_id="search_%s")

    @property
    def wanted(self) -> Wanted:
        """What is asked; a field that cannot be read is left out of it."""
        self.is_valid()
        asked = self.cleaned_data
        return Wanted(
            words=asked.get("q", ""),
            ingredient=asked.get("ingredient", ""),
            holds=_key(asked.get("holds", "")),
            not_entered=_key(asked.get("without", "")),
            most_min=asked.get("time") or None,
        )

    @property
    def query(self) -> str:
        """The search as a query string, for the links to other pages."""
        return urlencode({name: text for name, text in self.data.items() if text})

    @property
    def is_narrow(self) -> bool:
        """Whether more than words in the title is asked."""
        return any(text for name, text in self.data.items() if name != "q")


def _key(choice: str) -> AllergenKey | None:
    regime, _, key = choice.partition(":")
    return AllergenKey(regime, key) if key else None
