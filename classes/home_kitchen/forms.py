"""What a student says about their kitchen at home; every field starts from what is saved."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import forms

from classes.home_kitchen.values import (
    COLDEST_ROOM_C,
    COLDEST_TAP_C,
    HIGHEST_M,
    LEAST_CM,
    MOST_CM,
    MOST_PANS,
    MOST_PIECES,
    SIZES,
    WARMEST_ROOM_C,
    WARMEST_TAP_C,
    Degrees,
    FlourCup,
    HomeKitchen,
    HomePan,
    Measured,
    MixedBy,
    PanDough,
    PaperSize,
    SizesIn,
    Tin,
)
from recipes.core.exchange.kinds import SALT_KINDS, YeastForm
from recipes.core.pans.sizes import Pan, PanShape
from recipes.forms.fields import CM, INCH, CelsiusField, HeightField, SizeField, WholeField
from wording.figures import plain
from wording.sizes import height

CM_PER = {CM: Decimal(1), INCH: Decimal("2.54")}
HUNDREDTH = Decimal("0.01")
NEEDED = {
    "length": "Enter how long it is inside, or across if it is round.",
    "width": "Enter how wide it is inside.",
    "depth": "Enter how deep it is: without it nobody can tell how full it gets.",
}
LABELS = {
    "length": "Length inside, or across",
    "width": "Width inside",
    "depth": "Depth",
}
HELP = {"width": "Leave blank for a round pan.", "depth": "Optional unless it is a loaf pan."}


class PanSizeField(SizeField):
    """An inside measure of a pan at home, in cm."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.least, self.most = LEAST_CM, MOST_CM


@dataclass(frozen=True, slots=True)
class PanFields:
    """The names of the fields for the pan of the recipe of a key."""

    key: str

    def name(self, what: str) -> str:
        """The name of the field for one fact about the pan."""
        return f"pan_{self.key}_{what}"

    def made(self, bare: str) -> Iterator[tuple[str, forms.Field]]:
        """The fields by name; bare numbers are in the unit `bare`."""
        yield (
            self.name("shape"),
            forms.ChoiceField(label="Baked in", choices=Tin, required=False),
        )
        for size in SIZES:
            yield (
                self.name(size),
                PanSizeField(
                    label=LABELS[size], bare=bare, required=False, help_text=HELP.get(size, "")
                ),
            )
        yield (
            self.name("count"),
            WholeField(label="Pans of this size", least=1, most=MOST_PANS, required=False),
        )
        yield (
            self.name("dough"),
            forms.ChoiceField(label="Dough", choices=PanDough, required=False),
        )

    def initial(self, pan: HomePan | None, unit: str) -> dict[str, Any]:
        """The initial values of the fields for a saved pan."""
        if pan is None:
            return {self.name("count"): 1, self.name("dough"): PanDough.AS_IN_CLASS}
        kept = pan.pan
        sizes = (kept.length_cm, None if kept.shape.has_one_size else kept.width_cm, kept.depth_cm)
        written = zip(SIZES, sizes, strict=True)
        return {
            self.name("shape"): kept.shape.value,
            self.name("count"): pan.count,
            self.name("dough"): pan.dough,
            **{self.name(size): size_text(cm, unit) for size, cm in written},
        }

    def told(self, said: dict[str, Any], pieces: int | None) -> HomePan | dict[str, str] | None:
        """The pan in cleaned data, or its errors by field; None without a pan."""
        shape = said.get(self.name("shape"))
        if not shape:
            return None
        sizes = {size: said.get(self.name(size)) for size in SIZES}
        wrong = {
            self.name(size): NEEDED[size]
            for size in _needed(PanShape(shape))
            if sizes[size] is None and self.name(size) in said
        }
        count = said.get(self.name("count")) or 1
        if pieces is not None and count > pieces:
            wrong[self.name("count")] = f"Enter {pieces} or less: each pan needs a piece."
        length = sizes["length"]
        if wrong or length is None or None in (sizes[size] for size in _needed(PanShape(shape))):
            return wrong
        width = None if PanShape(shape).has_one_size else sizes["width"]
        pan = Pan.in_cm(PanShape(shape), length, width, sizes["depth"])
        return HomePan(pan, count, said.get(self.name("dough")) or PanDough.AS_IN_CLASS)


def size_text(size_cm: Decimal | None, unit: str) -> str:
    """A length as typed, with its unit: `8.5 in`; empty if there is none."""
    if size_cm is None:
        return ""
    return f"{plain((size_cm / CM_PER[unit]).quantize(HUNDREDTH, ROUND_HALF_UP))} {unit}"


def _needed(shape: PanShape) -> tuple[str, ...]:
    if shape is PanShape.LOAF:
        return SIZES
    return SIZES[:1] if shape.has_one_size else SIZES[:2]


YEASTS = [(form.value, form.value.capitalize()) for form in YeastForm][::-1]
SALTS = [(kind.key, kind.name.capitalize()) for kind in SALT_KINDS]
SELDOM = ("flour_cup", "tap_c", "altitude_m", "oven_takes")


@dataclass(frozen=True, slots=True)
class BakedAtHome:
    """A recipe of the class that a student bakes: its key, its title, and its usual pieces."""

    key: str
    title: str
    pieces: int


@dataclass(frozen=True, slots=True)
class RecipeFields:
    """The fields for one recipe; `tells_pan` if a pan is entered, even with errors."""

    title: str
    pieces: forms.BoundField
    shape: forms.BoundField
    pan: list[forms.BoundField]
    tells_pan: bool


class HomeForm(forms.Form):
    """The kitchen, and for each recipe how many pieces and in which pan."""

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
    altitude_m = HeightField(
        label="Height above sea level",
        least=0,
        most=HIGHEST_M,
        unit="m",
        help_text="In meters, or as 5250 ft; at first the height of the class.",
    )
    oven_takes = WholeField(
        label="Your oven takes at once",
        least=1,
        most=MOST_PIECES,
        required=False,
        help_text="Loaves, or pans and trays, on all racks that you use. Blank: everything.",
    )

    def __init__(
        self, data: Mapping[str, Any] | None, kitchen: HomeKitchen, baked: list[BakedAtHome]
    ) -> None:
        kept = kitchen.kept() | {
            "altitude_m": height(kitchen.altitude_m, in_feet=kitchen.fahrenheit_first)
        }
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
        """The fields for each recipe."""
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
        """Whether a seldom used field has an error, so that it must be shown."""
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
        """The kitchen from a valid form."""
        said = self.cleaned_data
        told = {recipe.key: PanFields(recipe.key).told(said, None) for recipe in self.baked}
        return HomeKitchen(
            pieces={recipe.key: said[_name(recipe)] for recipe in self.baked},
            pans={key: pan for key, pan in told.items() if isinstance(pan, HomePan)},
            **{name: said[name] for name in self.base_fields},
        )


def _name(one: BakedAtHome) -> str:
    return f"pieces_{one.key}"
