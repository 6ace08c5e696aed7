"""A whole recipe as plain values: what a review settles, and what our own JSON holds.

Field names and limits are those of the recipe book's rows. Masses are grams, temperatures
Celsius, times minutes.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

KINDS = (
    "flour", "liquid", "salt", "yeast", "sugar", "fat", "egg", "dairy", "seed", "nut", "grain",
    "fruit", "vegetable", "spice", "other",
)  # fmt: skip
STEP_KINDS = ("prepare", "mix", "bulk", "divide", "rest", "proof", "score", "bake", "cool")
PART_KINDS = ("dough", "preferment", "roux", "soaker", "wash", "topping")
PARTS_FOR_PIECES = ("wash", "topping")


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
