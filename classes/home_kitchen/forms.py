"""What a student says of their kitchen at home; every field starts from what is kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django import forms

from classes.home_kitchen.pan_fields import PanFields
from classes.home_kitchen.pans import HomePan
from classes.home_kitchen.values import (
    COLDEST_ROOM_C,
    COLDEST_TAP_C,
    HIGHEST_M,
    MOST_PIECES,
    WARMEST_ROOM_C,
    WARMEST_TAP_C,
    Degrees,
    FlourCup,
    HomeKitchen,
    Measured,
    MixedBy,
    PaperSize,
    SizesIn,
)
from recipes.core.exchange.kinds import SALT_KINDS, YeastForm
from recipes.forms.fields import CelsiusField, WholeField

YEASTS = [(form.value, form.value.capitalize()) for form in YeastForm][::-1]
SALTS = [(kind.key, kind.name.capitalize()) for kind in SALT_KINDS]
SELDOM = ("flour_cup", "tap_c", "altitude_m")


@dataclass(frozen=True, slots=True)
class BakedAtHome:
    """A recipe of the class that a student bakes: its key, its title, and its usual pieces."""

    key: str
    title: str
    pieces: int


@dataclass(frozen=True, slots=True)
class RecipeFields:
    """What is asked of one recipe; `tells_pan` where its pan is told, or told wrongly."""

    title: str
    pieces: forms.BoundField
    shape: forms.BoundField
    pan: list[forms.BoundField]
    tells_pan: bool


class HomeForm(forms.Form):
    """The kitchen, and of each recipe how many pieces and in which pan."""

    measured = forms.ChoiceField(
        label="How you measure", choices=Measured, widget=forms.RadioSelect
    )
    degrees = forms.ChoiceField(
        label="Temperatures", choices=Degrees, widget=forms.RadioSelect, help_text="Both are shown."
    )
    sizes_in = forms.ChoiceField(label="Sizes of pans", choices=SizesIn, widget=forms.RadioSelect)
    mixed_by = forms.ChoiceField(label="Mixed", choices=MixedBy, widget=forms.RadioSelect)
    fan = forms.BooleanField(label="My oven uses a fan", required=False)
    room_c = CelsiusField(
        label="Room temperature",
        least=COLDEST_ROOM_C,
        most=WARMEST_ROOM_C,
        places=1,
        unit="°C",
        help_text="In °C, or as 70 F. The flour is taken to be as warm.",
    )
    yeast = forms.ChoiceField(label="Yeast you have", choices=YEASTS)
    salt = forms.ChoiceField(label="Salt you have", choices=SALTS)
    page = forms.ChoiceField(label="Paper", choices=PaperSize)
    large = forms.BooleanField(label="Large type on paper", required=False)
    flour_cup = forms.ChoiceField(
        label="How you fill a cup with flour",
        choices=FlourCup,
        widget=forms.RadioSelect,
        help_text="Matters only for cups: a dipped cup holds more.",
    )
    tap_c = CelsiusField(
        label="Cold tap water",
        least=COLDEST_TAP_C,
        most=WARMEST_TAP_C,
        places=1,
        unit="°C",
        help_text="In °C, or as 60 F. Tells when ice is needed.",
    )
    altitude_m = WholeField(
        label="Height above sea level",
        least=0,
        most=HIGHEST_M,
        unit="m",
        help_text="In meters. If blank, the height of the class.",
    )

    def __init__(
        self, data: Mapping[str, Any] | None, kitchen: HomeKitchen, baked: list[BakedAtHome]
    ) -> None:
        kept = kitchen.kept()
        for recipe in baked:
            kept[_name(recipe)] = kitchen.pieces.get(recipe.key, recipe.pieces)
            kept |= PanFields(recipe.key).initial(
                kitchen.pans.get(recipe.key), str(kitchen.sizes_in)
            )
        super().__init__(data, initial=kept, auto_id="home_%s")
        self.baked = baked
        typed_in = (data or kept).get("sizes_in", SizesIn.CM)
        bare = typed_in if typed_in in SizesIn.values else SizesIn.CM.value
        for recipe in baked:
            self.fields[_name(recipe)] = WholeField(label="Pieces", least=1, most=MOST_PIECES)
            self.fields |= dict(PanFields(recipe.key).made(bare))

    @property
    def recipe_fields(self) -> Iterator[RecipeFields]:
        """What is asked of each recipe."""
        for recipe in self.baked:
            pan = PanFields(recipe.key)
            sizes = [
                self[pan.name(what)] for what in ("length", "width", "depth", "count", "dough")
            ]
            shape = self[pan.name("shape")]
            told = bool(shape.value()) or any(field.errors for field in sizes)
            yield RecipeFields(recipe.title, self[_name(recipe)], shape, sizes, told)

    @property
    def seldom_wrong(self) -> bool:
        """Whether something that is seldom asked for is wrong, so that it must be seen."""
        return any(name in self.errors for name in SELDOM)

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        for recipe in self.baked:
            told = PanFields(recipe.key).told(said, said.get(_name(recipe)))
            if isinstance(told, dict):
                for name, words in told.items():
                    self.add_error(name, words)
        return said

    def kitchen(self) -> HomeKitchen:
        """The kitchen that a valid form tells of."""
        said = self.cleaned_data
        told = {recipe.key: PanFields(recipe.key).told(said, None) for recipe in self.baked}
        return HomeKitchen(
            pieces={recipe.key: said[_name(recipe)] for recipe in self.baked},
            pans={key: pan for key, pan in told.items() if isinstance(pan, HomePan)},
            **{name: said[name] for name in self.base_fields},
        )


def _name(one: BakedAtHome) -> str:
    return f"pieces_{one.key}"
