"""The scaling form of a recipe's page: which two of three are known, and the finest scale."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any
from urllib.parse import urlencode

from django import forms

from recipes.core.batch import yields
from recipes.core.formula import Formula
from recipes.core.weighing import Scales
from recipes.forms.fields import FigureField, Option, WholeField
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
    """Asks for two of pieces, piece mass and flour; `made` is the yield that follows."""

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
            "flour_g": f"{usual.flour_g:.0f}",
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
            self.made = self._yield(cleaned)
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
        """The three ways to scale; the one that the fields are for is chosen."""
        return [Option(key, label, names == self.known) for key, label, names in WAYS]

    def turned(self, asked: Mapping[str, str]) -> str | None:
        """The query that shows the same batch another way, if `turn` asks for another.

        Where the fields cannot be read, those the two ways share are kept as typed.
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
        return {
            "pieces": str(max(1, self.made.pieces)),
            "piece_g": plain(self.made.piece_g.quantize(Decimal("0.1"))),
            "flour_g": plain(self.made.flour_g.quantize(Decimal("0.1"))),
            "scale": self.cleaned_data["scale"],
        }
