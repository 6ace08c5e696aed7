"""The form for an ingredient of one's own."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import forms
from django.contrib.auth.models import User

from recipes.core.allergens import EU_FOURTEEN, US_NINE, Allergen
from recipes.core.choices import IngredientKind, Storage
from recipes.core.units import parse_unit, to_grams
from recipes.forms.fields import FigureField, RowTextarea
from recipes.ingredients.services import Flours
from recipes.ingredients.starter_flours import flour_shelf, read_flours, written_flours
from recipes.models import Ingredient
from recipes.selectors import name_of

DENSITY_PLACES = Decimal("0.00001")
AS_ENTERED = "as entered"
BY_US_LIST = "Contains, by the US list of nine"
BY_EU_LIST = "Contains, by the EU list of fourteen"
PACK_READ = "I have read the pack: it contains nothing else from the two lists"
COPIED = (
    "name",
    "kind",
    "water_percent",
    "hydration_percent",
    "density_g_per_ml",
    "each_g",
    "each_name",
    "pack_g",
    "aisle",
    "storage",
    "allergens_us",
    "allergens_eu",
    "allergens_read",
    "may_contain",
    "note",
)


def _choices(entries: tuple[Allergen, ...]) -> list[tuple[str, str]]:
    return [(entry.key, entry.label) for entry in entries]


def allergens_field(label: str, entries: tuple[Allergen, ...]) -> forms.MultipleChoiceField:
    """The allergens of one list, each as a checkbox."""
    return forms.MultipleChoiceField(
        label=label,
        choices=_choices(entries),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )


def hydration_field() -> FigureField:
    """The water of a starter."""
    return FigureField(
        least=20,
        most=500,
        places=2,
        unit="%",
        required=False,
        label="Water it is fed with, % of its flour",
        help_text="Leave blank if you do not know: recipes then say “cannot say”.",
    )


def flours_field() -> forms.CharField:
    """The flours of a starter, as `read_flours` takes them."""
    return forms.CharField(
        max_length=600,
        required=False,
        widget=RowTextarea,
        label="Flours it is fed with",
        help_text="One on a line, with its share: 80 % Bread flour. One alone needs no share.",
    )


class IngredientForm(forms.Form):
    """Values of an Ingredient; `values` are its model fields once valid."""

    name = forms.CharField(max_length=80)
    kind = forms.ChoiceField(
        choices=IngredientKind.choices(),
        help_text="Flour counts in the 100 %; liquid counts as added liquid.",
    )
    water_percent = FigureField(
        least=0,
        most=100,
        places=2,
        unit="%",
        required=False,
        label="Water in it, %",
        help_text="Leave blank if you do not know.",
    )
    hydration_percent = hydration_field()
    flours = flours_field()
    cup_g = FigureField(
        least=1,
        most=1000,
        places=1,
        unit="g",
        required=False,
        label="A US cup of it weighs, g",
        help_text="236.6 mL, level. Needed only if you write it in cups or spoons.",
    )
    density_g_per_ml = FigureField(
        least=Decimal("0.01"),
        most=5,
        places=5,
        unit="g",
        required=False,
        label="Or: 1 mL of it weighs, g",
    )
    each_g = FigureField(
        least=Decimal("0.01"),
        most=20000,
        places=2,
        unit="g",
        required=False,
        label="One piece weighs, g",
        help_text="For things that are counted, like eggs.",
    )
    each_name = forms.CharField(
        max_length=40, required=False, label="One piece is called", help_text="large egg, clove …"
    )
    pack_g = FigureField(
        least=Decimal("0.01"),
        most=1_000_000,
        places=2,
        unit="g",
        required=False,
        label="Usual pack, g",
    )
    aisle = forms.CharField(max_length=40, required=False)
    storage = forms.ChoiceField(choices=Storage.choices())
    allergens_us = allergens_field(BY_US_LIST, US_NINE)
    allergens_eu = allergens_field(BY_EU_LIST, EU_FOURTEEN)
    allergens_read = forms.BooleanField(
        required=False,
        label=PACK_READ,
        help_text="Without this, and with nothing checked above, classes say “cannot say” for it.",
    )
    may_contain = forms.CharField(
        max_length=200,
        required=False,
        help_text="The pack's own words, such as “may contain sesame”.",
    )
    note = forms.CharField(max_length=300, required=False)

    use_required_attribute = False

    def __init__(
        self, *args: Any, owner: User, ingredient: Ingredient | None = None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.owner = owner
        self.ingredient = ingredient

    def clean_name(self) -> str:
        name = " ".join(self.cleaned_data["name"].split())
        others = Ingredient.objects.filter(owner=self.owner, name__iexact=name)
        if self.ingredient is not None:
            others = others.exclude(pk=self.ingredient.pk)
        if others.exists():
            raise forms.ValidationError("You already have an ingredient with this name.")
        return name

    def clean_kind(self) -> str:
        kind: str = self.cleaned_data["kind"]
        was = self.ingredient.kind if self.ingredient else kind
        if was == IngredientKind.FLOUR != kind and self.ingredient:
            fed = self.ingredient.in_starters.select_related("starter").first()
            if fed:
                raise forms.ValidationError(f"{fed.starter.name} is fed with it as a flour.")
        return kind

    def clean_flours(self) -> Flours:
        text = self.cleaned_data["flours"]
        return read_flours(text, flour_shelf(self.owner)) if text else {}

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if cleaned.get("kind") != IngredientKind.STARTER:
            for name in ("hydration_percent", "flours"):
                if cleaned.get(name):
                    self.add_error(name, "Only a starter has this: choose that kind, or clear it.")
        cup_g, density = cleaned.get("cup_g"), cleaned.get("density_g_per_ml")
        if cup_g is not None and density is not None:
            self.add_error("cup_g", "Fill in the cup or the milliliter, not both.")
        elif cup_g is not None:
            cup_ml = to_grams(Decimal(1), parse_unit("cup"), density_g_per_ml=Decimal(1))
            cleaned["density_g_per_ml"] = (cup_g / cup_ml).quantize(DENSITY_PLACES, ROUND_HALF_UP)
        if (
            cleaned.get("each_name")
            and cleaned.get("each_g") is None
            and "each_g" not in self.errors
        ):
            self.add_error("each_g", "Say what one piece weighs.")
        return cleaned

    @property
    def made_of(self) -> Flours:
        """What a starter is made of."""
        return self.cleaned_data["flours"] or {}

    @property
    def values(self) -> dict[str, Any]:
        """Field values of an Ingredient."""
        values = {name: self.cleaned_data[name] for name in COPIED}
        unchanged = (
            self.ingredient and self.ingredient.density_g_per_ml == values["density_g_per_ml"]
        )
        if not unchanged:
            values["density_source"] = AS_ENTERED if values["density_g_per_ml"] else ""
        if values["each_g"] is not None and not values["each_name"]:
            values["each_name"] = "piece"
        return values


def initial_of(ingredient: Ingredient, user: User) -> dict[str, Any]:
    """The initial values of the user's form for an ingredient, or for a copy of one."""
    flours = name_of(ingredient).flours
    values = {name: getattr(ingredient, name) for name in COPIED}
    return values | {"flours": written_flours(flours, user)}
