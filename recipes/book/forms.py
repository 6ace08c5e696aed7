"""The forms of the recipe book: the search, and a recipe page's size and altitude."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from typing import Any
from urllib.parse import urlencode

from django import forms

from recipes.book.searching import AllergenKey, Wanted
from recipes.core.allergens import EU_FOURTEEN, US_NINE
from recipes.core.batch import yields
from recipes.core.errors import StarterUnknown
from recipes.core.formula import Formula
from recipes.core.heat.altitude import HIGHEST_M, LOWEST_M, meters
from recipes.core.numbers import ONE
from recipes.core.reading import Unreadable, read_quantity
from recipes.core.weighing import Scales
from recipes.forms.fields import FigureField, MinutesField, Option, WholeField
from recipes.forms.words import in_words
from recipes.models import Revision
from wording.figures import plain

PIECES_AND_MASS = "pieces"
FLOUR_AND_MASS = "flour"
FLOUR_AND_PIECES = "share"

WAYS = (
    (PIECES_AND_MASS, "How many, and how heavy", ("pieces", "piece_g")),
    (FLOUR_AND_MASS, "How much flour, and how heavy", ("flour_g", "piece_g")),
    (FLOUR_AND_PIECES, "How much flour, and how many", ("flour_g", "pieces")),
)
SCALES = {
    "1": Scales((Decimal(1),)),
    "0.1": Scales((Decimal(1), Decimal("0.1"))),
    "0.01": Scales((Decimal(1), Decimal("0.1"), Decimal("0.01"))),
}
USUAL_SCALE = "0.1"


class ScalingForm(forms.Form):
    """Asks for two of pieces, piece mass and flour; `made` is the resulting yield."""

    by = forms.ChoiceField(choices=[(key, label) for key, label, _ in WAYS])
    pieces = WholeField(least=1, most=9999, label="Pieces")
    piece_g = FigureField(least=1, most=20000, places=2, unit="g", label="Dough in one piece")
    flour_g = FigureField(least=1, most=1_000_000, places=2, unit="g", label="Total flour")
    scale = forms.ChoiceField(
        choices=[(step, f"{step} g") for step in SCALES], label="Finest scale you have"
    )

    made: yields.Yield

    def __init__(self, asked: Mapping[str, str], revision: Revision, formula: Formula) -> None:
        usual = yields.of_pieces(formula, revision.pieces, revision.piece_g)
        data = {
            "by": PIECES_AND_MASS,
            "pieces": str(usual.pieces),
            "piece_g": plain(usual.piece_g),
            "flour_g": "" if usual.flour_g is None else f"{usual.flour_g:.0f}",
            "scale": USUAL_SCALE,
        }
        data |= {name: asked[name] for name in data if name in asked}
        super().__init__(data, auto_id="scale_%s")
        self.formula = formula
        self.known = next((names for key, _, names in WAYS if key == data["by"]), WAYS[0][2])
        for name in {"pieces", "piece_g", "flour_g"}.difference(self.known):
            del self.fields[name]

    @property
    def fields_shown(self) -> list[forms.BoundField]:
        return [self[name] for name in self.known]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if not self.errors:
            try:
                self.made = self._yield(cleaned)
            except StarterUnknown as error:
                self.add_error("flour_g", in_words(error))
        return cleaned

    def _yield(self, cleaned: dict[str, Any]) -> yields.Yield:
        match cleaned["by"]:
            case way if way == FLOUR_AND_MASS:
                return yields.of_flour_in_mass(self.formula, cleaned["flour_g"], cleaned["piece_g"])
            case way if way == FLOUR_AND_PIECES:
                return yields.of_flour_in_pieces(
                    self.formula, cleaned["flour_g"], cleaned["pieces"]
                )
        return yields.of_pieces(self.formula, cleaned["pieces"], cleaned["piece_g"])

    @property
    def scales(self) -> Scales:
        return SCALES[self.cleaned_data["scale"]]

    @property
    def ways(self) -> list[Option]:
        """The three ways to scale; the one that the fields belong to is chosen."""
        return [Option(key, label, names == self.known) for key, label, names in WAYS]

    def turned(self, asked: Mapping[str, str]) -> str | None:
        """The query that shows the same batch another way, if `turn` asks for another.

        If the fields cannot be read, those that both ways share are kept as typed.
        """
        names = next((names for key, _, names in WAYS if key == asked.get("turn")), self.known)
        if names == self.known:
            return None
        shown = self._shown()
        kept = {name: shown[name] for name in (*names, "scale") if name in shown}
        return urlencode({"by": asked["turn"], **kept})

    def _shown(self) -> dict[str, str]:
        if not self.is_valid():
            return {name: self.data[name] for name in (*self.known, "scale")}
        flour_g = self.made.flour_g
        return {
            "pieces": str(max(1, self.made.pieces)),
            "piece_g": plain(self.made.piece_g.quantize(Decimal("0.1"))),
            "flour_g": "" if flour_g is None else plain(flour_g.quantize(Decimal("0.1"))),
            "scale": self.cleaned_data["scale"],
        }


METERS = ("", "m", "meter", "meters")
FEET = ("ft", "foot", "feet")


def read_height(text: str) -> Decimal:
    """Whole meters from `1600`, `1600 m` or `5200 ft`. Raises what `read_quantity` raises."""
    quantity = read_quantity(text.replace("'", " ft").replace("′", " ft"))
    word = quantity.word.lower()
    if word in METERS:
        height_m = quantity.number
    elif word in FEET:
        height_m = meters(quantity.number)
    else:
        raise Unreadable(text.strip())
    return height_m.quantize(ONE, ROUND_HALF_UP)


class HeightField(FigureField):
    """An altitude in meters."""

    inputmode = "text"
    read = staticmethod(read_height)


class HeightForm(forms.Form):
    """Asks for a kitchen's altitude; an empty field asks for nothing."""

    height = HeightField(
        least=LOWEST_M, most=HIGHEST_M, unit="m", required=False, label="Height of the kitchen"
    )

    def __init__(self, asked: Mapping[str, str]) -> None:
        super().__init__({"height": asked.get("height", "")}, auto_id="done_%s")

    @property
    def height_m(self) -> Decimal | None:
        """Altitude in meters; None if the field is empty or invalid."""
        return self.cleaned_data.get("height") if self.is_valid() else None


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
    """Words to search for; too long a text is cut, not refused."""

    def clean(self, value: object) -> str:
        return str(value or "").replace("\0", "").strip()[:LONGEST_WORDS]


class SearchForm(forms.Form):
    """The search criteria, which must all match; every field may stay empty."""

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
        """The criteria; a field that cannot be read is left out."""
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
        """Whether more than words of the title is asked for."""
        return any(text for name, text in self.data.items() if name != "q")


def _key(choice: str) -> AllergenKey | None:
    regime, _, key = choice.partition(":")
    return AllergenKey(regime, key) if key else None
