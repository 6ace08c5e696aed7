"""The fields of the form on the kitchen at home that ask for a recipe's pan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import forms

from classes.home_kitchen.pans import LEAST_CM, MOST_CM, MOST_PANS, SIZES, HomePan, PanDough, Tin
from recipes.core.pans.sizes import Pan, PanShape
from recipes.forms.fields import WholeField
from recipes.forms.sizes import CM, INCH, SizeField
from wording.figures import plain

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
        """What the field for one fact of the pan is called."""
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
        """What is in the fields for a saved pan."""
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
        """The pan that cleaned data tell of, or by field what is wrong with it; None for none."""
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
    """A length as typed, with its unit: `8.5 in`; empty where there is none."""
    if size_cm is None:
        return ""
    return f"{plain((size_cm / CM_PER[unit]).quantize(HUNDREDTH, ROUND_HALF_UP))} {unit}"


def _needed(shape: PanShape) -> tuple[str, ...]:
    if shape is PanShape.LOAF:
        return SIZES
    return SIZES[:1] if shape.has_one_size else SIZES[:2]
