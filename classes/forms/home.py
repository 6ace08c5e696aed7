"""What a student says of their kitchen at home; every field starts from what is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms

from classes.at_home import (
    COLDEST_ROOM_C,
    HIGHEST_M,
    MOST_PIECES,
    WARMEST_ROOM_C,
    Degrees,
    FlourCup,
    HomeKitchen,
    Measured,
    MixedBy,
    PaperSize,
)
from recipes.baking.exchange import SALT_KINDS, YeastForm
from recipes.forms.fields import CelsiusField, WholeField

YEASTS = [(form.value, form.value.capitalize()) for form in YeastForm][::-1]
SALTS = [(kind.key, kind.name.capitalize()) for kind in SALT_KINDS]


@dataclass(frozen=True, slots=True)
class Baked:
    """A recipe of the class that a student bakes: its key, its title, and its usual pieces."""

    key: str
    title: str
    pieces: int


class HomeForm(forms.Form):
    """The kitchen, and how many pieces of each recipe."""

    measured = forms.ChoiceField(
        label="How you measure", choices=Measured, widget=forms.RadioSelect
    )
    flour_cup = forms.ChoiceField(
        label="Flour into a cup",
        choices=FlourCup,
        widget=forms.RadioSelect,
        help_text="Matters with cups only: a dipped cup holds more.",
    )
    degrees = forms.ChoiceField(
        label="Temperatures", choices=Degrees, widget=forms.RadioSelect, help_text="Both are shown."
    )
    mixed_by = forms.ChoiceField(label="Mixed", choices=MixedBy, widget=forms.RadioSelect)
    yeast = forms.ChoiceField(label="Yeast at hand", choices=YEASTS)
    salt = forms.ChoiceField(label="Salt at hand", choices=SALTS)
    room_c = CelsiusField(
        label="Room temperature",
        least=COLDEST_ROOM_C,
        most=WARMEST_ROOM_C,
        places=1,
        unit="°C",
        help_text="In °C, or as 70 F.",
    )
    altitude_m = WholeField(
        label="Height above the sea",
        least=0,
        most=HIGHEST_M,
        unit="m",
        help_text="In meters; 0 where you do not know.",
    )
    page = forms.ChoiceField(label="Paper", choices=PaperSize)
    fan = forms.BooleanField(label="My oven blows with a fan", required=False)

    def __init__(
        self, data: Mapping[str, Any] | None, kitchen: HomeKitchen, baked: list[Baked]
    ) -> None:
        kept = kitchen.kept()
        kept |= {_name(one): kitchen.pieces.get(one.key, one.pieces) for one in baked}
        super().__init__(data, initial=kept, auto_id="home_%s")
        self.baked = baked
        for one in baked:
            self.fields[_name(one)] = WholeField(
                label=f"{one.title}: pieces", least=1, most=MOST_PIECES
            )

    @property
    def pieces_fields(self) -> list[forms.BoundField]:
        """How many pieces, a field for each recipe."""
        return [self[_name(one)] for one in self.baked]

    def kitchen(self) -> HomeKitchen:
        """The kitchen that a valid form tells of."""
        said = self.cleaned_data
        pieces = {one.key: said[_name(one)] for one in self.baked}
        own = {name: said[name] for name in self.base_fields}
        return HomeKitchen(pieces=pieces, **own)


def _name(one: Baked) -> str:
    return f"pieces_{one.key}"
