"""A whole recipe as plain values: what a review settles, and what our own JSON holds.

Field names and limits are those of the recipe book's rows. Masses are grams, temperatures
Celsius, times minutes.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from recipes.core.choices import ComponentKind, IngredientKind, StepKind, TemperatureOf, Worked
from recipes.core.heat.doneness import BreadKind
from recipes.core.pans.sizes import PanShape

KINDS = tuple(IngredientKind)
STEP_KINDS = tuple(StepKind)
WORKED = tuple(Worked)
TEMPERATURES_OF = tuple(TemperatureOf)
PART_KINDS = tuple(ComponentKind)
PARTS_FOR_PIECES = ("wash", "topping")
BREAD_KINDS = tuple(BreadKind)
PAN_SHAPES = tuple(PanShape)

# The kind of bread and the recipe's own pan: kept or left out together by every reader and writer.
OWN_PAN_FIELDS = (
    "bread_kind",
    "pan_shape",
    "pan_length_mm",
    "pan_width_mm",
    "pan_depth_mm",
    "pan_water_ml",
)


@dataclass(frozen=True, slots=True)
class IngredientName:
    """An ingredient by its key, or by name and kind when the key is empty or not known."""

    key: str
    name: str
    kind: str = "other"


@dataclass(frozen=True, slots=True)
class LineRecord:
    ingredient: IngredientName
    mass_g: Decimal
    entered: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class PartRecord:
    """A part of the bread; wash and topping are for `for_pieces` pieces, others have none."""

    kind: str
    name: str
    lines: tuple[LineRecord, ...]
    for_pieces: int | None = None
    cooking_loss_percent: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class StepRecord:
    kind: str
    text: str
    hands_on_min: int = 0
    waiting_min: int = 0
    temperature_c: Decimal | None = None
    temperature_of: str = ""
    worked: str = ""


@dataclass(frozen=True, slots=True)
class RecipeRecord:
    """A recipe; `piece_g` is the dough in one piece. Equipment is one thing a line."""

    title: str
    piece_g: Decimal
    parts: tuple[PartRecord, ...]
    steps: tuple[StepRecord, ...] = ()
    summary: str = ""
    note: str = ""
    piece_name: str = "loaf"
    pieces: int = 1
    bake_loss_percent: Decimal = Decimal(0)
    dough_temperature_c: Decimal | None = None
    core_temperature_c: Decimal | None = None
    equipment: str = ""
    bread_kind: str = ""
    pan_shape: str = ""
    pan_length_mm: int | None = None
    pan_width_mm: int | None = None
    pan_depth_mm: int | None = None
    pan_water_ml: int | None = None


def own_pan_of(source: object) -> dict[str, Any]:
    """The values of OWN_PAN_FIELDS that a record, a read recipe or a revision has."""
    return {name: getattr(source, name) for name in OWN_PAN_FIELDS}
