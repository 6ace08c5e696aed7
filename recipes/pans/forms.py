"""The form of a recipe's pan page: a pan, what is in it, and what is assumed about the pieces."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import ROUND_HALF_UP, Decimal
from typing import Any
from urllib.parse import urlencode

from django import forms

from config.forms.fields import field_of
from recipes.book.forms import PIECES_AND_MASS
from recipes.core.errors import BakingError
from recipes.core.numbers import HUNDRED, ONE
from recipes.core.pans.balls import USUAL_BALL, BallModel
from recipes.core.pans.plan import Filling, has_volume, usual_load_by
from recipes.core.pans.sizes import DOUBLED, HEAD_ROOM, DoughLoad, LoadBy, Pan, PanShape
from recipes.forms.fields import (
    CM,
    INCH,
    CapacityField,
    FigureField,
    Option,
    SizeField,
    WholeField,
    read_cm,
)
from recipes.forms.words import in_words
from recipes.models import Revision
from wording.figures import plain

MOST_IN_PAN = 150
CM_PER = {CM: Decimal(1), INCH: Decimal("2.54")}
TENTH = Decimal("0.1")
HUNDREDTH = Decimal("0.01")

# Usual home sizes to start from, centimeters inside; from memory.
USUAL_PANS: dict[PanShape, tuple[str, str, str]] = {
    PanShape.ROUND: ("23", "23", "5"),
    PanShape.SQUARE: ("20", "20", "5"),
    PanShape.RECTANGULAR: ("33", "23", "5"),
    PanShape.LOAF: ("21.5", "11.5", "6.5"),
    PanShape.TRAY: ("46", "33", "2.5"),
}
SIZES = ("length", "width", "depth")
MODEL = ("density", "height_to_diameter", "proofed_volume", "baked_volume")
LOADS = {"area": LoadBy.AREA, "volume": LoadBy.VOLUME}


class PanForm(forms.Form):
    """A pan and its pieces; if valid, `filling`, `model` and the rest hold what was asked."""

    shape = forms.ChoiceField(choices=PanShape.choices(), label="Shape")
    unit = forms.ChoiceField(choices=[(CM, "cm"), (INCH, "inches")], label="Measured in")
    length = SizeField(label="Length")
    width = SizeField(label="Width")
    depth = SizeField(label="Depth", required=False)
    water = CapacityField(label="Holds, ml of water, if measured", required=False)
    pieces = WholeField(least=1, most=MOST_IN_PAN, label="Pieces in this pan")
    piece_g = FigureField(least=1, most=20000, places=2, unit="g", label="Dough in one piece, g")
    own_pieces = WholeField(least=1, most=9999, label="Pieces in the recipe's own pan")
    by = forms.ChoiceField(choices=[("area", "floor"), ("volume", "volume")])
    load = FigureField(
        least=Decimal("0.01"), most=20, places=3, required=False, label="Or a load of your own"
    )
    density = FigureField(
        least=Decimal("0.3"), most=2, places=2, label="Dough as shaped, grams per ml"
    )
    height_to_diameter = FigureField(
        least=Decimal("0.1"), most=1, places=2, label="Height of a piece for its diameter"
    )
    proofed_volume = FigureField(least=1, most=6, places=2, label="Volume when proofed, times")
    baked_volume = FigureField(least=1, most=8, places=2, label="Volume when baked, times")
    rise = FigureField(least=1, most=6, places=2, label="Dough in the bowl rises, times")
    head_room = FigureField(least=0, most=100, places=1, label="Head room in the bowl, %")

    filling: Filling

    def __init__(self, asked: Mapping[str, str], revision: Revision, own: Pan | None) -> None:
        self.own_pan, self.own_piece_g = own, revision.piece_g
        self.in_shape = self._shape(asked.get("shape"), own)
        self.in_unit = asked["unit"] if asked.get("unit") in CM_PER else CM
        data = self._usual(revision, own)
        data |= {name: asked[name] for name in data if name in asked}
        data |= self._sizes(asked, own)
        super().__init__(data, auto_id="pan_%s")
        for name in SIZES:
            field_of(self, name, SizeField).bare = self.in_unit
        self._name_sizes()
        if not own:
            del self.fields["own_pieces"]

    @staticmethod
    def _shape(word: str | None, own: Pan | None) -> PanShape:
        if word in set(PanShape):
            return PanShape(word)
        return own.shape if own else PanShape.ROUND

    def _usual(self, revision: Revision, own: Pan | None) -> dict[str, str]:
        """The initial values of the fields."""
        in_own = 1 if (own and own.shape is PanShape.LOAF) else revision.pieces
        by = usual_load_by(own) if own else LoadBy.AREA
        model = {name: plain(getattr(USUAL_BALL, name)) for name in MODEL}
        return model | {
            "shape": self.in_shape.value,
            "unit": self.in_unit,
            "water": "",
            "pieces": str(min(in_own, MOST_IN_PAN)),
            "piece_g": plain(revision.piece_g),
            "own_pieces": str(in_own),
            "by": next(key for key, counted in LOADS.items() if counted is by),
            "load": "",
            "rise": plain(DOUBLED),
            "head_room": plain(HEAD_ROOM * HUNDRED),
        }

    def _sizes(self, asked: Mapping[str, str], own: Pan | None) -> dict[str, str]:
        """Sizes as typed, converted if the unit was changed, new defaults for another shape."""
        was_shape, _, was_unit = asked.get("was", "").partition(" ")
        if was_shape and was_shape != self.in_shape:
            return self._fresh_sizes(own)
        if "length" not in asked:
            given = {name: asked[name] for name in (*SIZES, "water") if name in asked}
            return self._fresh_sizes(own) | given
        typed = {name: asked.get(name, "") for name in SIZES}
        if not typed["width"].strip() and not self.in_shape.has_one_size and not was_shape:
            typed["width"] = typed["length"]
        if was_unit in CM_PER and was_unit != self.in_unit:
            typed = {name: self._turned(text, was_unit) for name, text in typed.items()}
        return typed

    def _fresh_sizes(self, own: Pan | None) -> dict[str, str]:
        if own and own.shape is self.in_shape:
            sizes = (own.length_cm, own.width_cm, own.depth_cm)
            held = "" if own.water_ml is None else plain(own.water_ml)
            return {**self._written(sizes), "water": held}
        usual = (Decimal(size) for size in USUAL_PANS[self.in_shape])
        return {**self._written(usual), "water": ""}

    def _written(self, sizes: Iterable[Decimal | None]) -> dict[str, str]:
        return {
            name: "" if size is None else self._in_unit(size)
            for name, size in zip(SIZES, sizes, strict=True)
        }

    def _in_unit(self, size_cm: Decimal) -> str:
        places = TENTH if self.in_unit == CM else HUNDREDTH
        return plain((size_cm / CM_PER[self.in_unit]).quantize(places, ROUND_HALF_UP))

    def _turned(self, text: str, was_unit: str) -> str:
        """A bare number in the other unit; text that cannot be read stays as typed."""
        try:
            return self._in_unit(read_cm(text, was_unit))
        except BakingError:
            return text

    def _name_sizes(self) -> None:
        unit = "cm" if self.in_unit == CM else "in"
        first = {PanShape.ROUND: "Diameter", PanShape.SQUARE: "Side"}.get(self.in_shape, "Length")
        self.fields["length"].label = f"{first} inside, {unit}"
        self.fields["width"].label = f"Width inside, {unit}"
        self.fields["depth"].label = f"Depth, {unit}"
        if self.in_shape.has_one_size:
            del self.fields["width"]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if not self.errors and cleaned["baked_volume"] < cleaned["proofed_volume"]:
            message = "Enter at least the volume when proofed."
            self.add_error("baked_volume", message)
        if not self.errors:
            self._fill(cleaned)
        return cleaned

    def _fill(self, cleaned: dict[str, Any]) -> None:
        water_ml = cleaned["water"]
        try:
            pan = Pan.in_cm(
                self.in_shape,
                cleaned["length"],
                cleaned.get("width"),
                cleaned["depth"],
                None if water_ml is None else Decimal(water_ml),
            )
        except BakingError as error:
            self.add_error("length", in_words(error))
            return
        if self.load_by is LoadBy.VOLUME and not has_volume(pan):
            message = "Enter the depth or what it holds, or go by floor area."
            self.add_error("depth", message)
            return
        self.filling = Filling(pan, cleaned["pieces"], cleaned["piece_g"])

    @property
    def was(self) -> str:
        """The shape and unit that the sizes in the fields are for."""
        return f"{self.in_shape} {self.in_unit}"

    @property
    def units(self) -> list[Option]:
        return [Option(CM, "cm", self.in_unit == CM), Option(INCH, "inches", self.in_unit == INCH)]

    @property
    def countings(self) -> list[Option]:
        labels = {"area": "by floor area, g/cm²", "volume": "by volume, g/cm³"}
        return [Option(key, label, self["by"].value() == key) for key, label in labels.items()]

    @property
    def pan_fields(self) -> list[forms.BoundField]:
        names = ("length", "width", "depth", "water", "pieces", "piece_g", "own_pieces")
        return [self[name] for name in names if name in self.fields]

    @property
    def load_field(self) -> forms.BoundField:
        return self["load"]

    @property
    def model_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in (*MODEL, "rise", "head_room")]

    @property
    def typed_fields(self) -> list[forms.BoundField]:
        """Every field that is typed rather than chosen."""
        return [*self.pan_fields, self.load_field, *self.model_fields]

    @property
    def load_by(self) -> LoadBy:
        return LOADS[self.cleaned_data["by"]]

    @property
    def model(self) -> BallModel:
        return BallModel(**{name: Decimal(self.cleaned_data[name]) for name in MODEL})

    @property
    def bowl(self) -> dict[str, Decimal]:
        """The keyword arguments of `bowl_for` besides the dough."""
        return {
            "density": self.model.density,
            "rise": Decimal(self.cleaned_data["rise"]),
            "head_room": Decimal(self.cleaned_data["head_room"]) / HUNDRED,
        }

    @property
    def own_filling(self) -> Filling | None:
        """The recipe's own pan with the pieces that go into it."""
        if not self.own_pan:
            return None
        return Filling(self.own_pan, self.cleaned_data["own_pieces"], self.own_piece_g)

    @property
    def load_typed(self) -> DoughLoad | None:
        grams = self.cleaned_data["load"]
        return None if grams is None else DoughLoad(Decimal(grams), self.load_by)


def scaling_query(pieces: int, piece_g: Decimal) -> str:
    """A query for the recipe page's scaling form; empty for less than a piece or a gram."""
    mass_g = piece_g.quantize(TENTH, ROUND_HALF_UP)
    if pieces < 1 or mass_g < ONE:
        return ""
    return urlencode({"by": PIECES_AND_MASS, "pieces": pieces, "piece_g": plain(mass_g)})
