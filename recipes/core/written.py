"""A recipe as somebody wrote it: its head, its parts with their lines, and its steps.

The recipe form, the importer, both kinds of JSON and the services all make and take it. Fields are
named as the recipe book's columns, in the order of our own JSON. Masses are grams, temperatures
Celsius, times minutes. A missing value is None, a missing text empty.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from typing import Any, TypeVar

from recipes.core.choices import (
    Choice,
    ComponentKind,
    IngredientKind,
    StepKind,
    TemperatureOf,
    Worked,
)
from recipes.core.errors import Unsettled
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line
from recipes.core.heat.doneness import BreadKind
from recipes.core.numbers import HUNDRED, ONE, ZERO
from recipes.core.pans.sizes import PanShape

CHOICES: dict[str, type[Choice]] = {
    "bread_kind": BreadKind,
    "pan_shape": PanShape,
    "temperature_of": TemperatureOf,
    "worked": Worked,
}
_NESTED = ("ingredient", "lines", "parts", "steps")
_Said = TypeVar("_Said")


@dataclass(frozen=True, slots=True)
class NamedFlour:
    """A flour of a starter by its key, or by its name, and its share in percent of its flour."""

    key: str
    name: str
    percent: Decimal


@dataclass(frozen=True, slots=True)
class NamedIngredient:
    """An ingredient by its key, or by name and kind if the key is empty or unknown.

    A starter comes with its water in percent of its flour, and with its flours.
    """

    key: str
    name: str
    kind: IngredientKind = IngredientKind.OTHER
    hydration_percent: Decimal | None = None
    flours: tuple[NamedFlour, ...] = ()


@dataclass(frozen=True, slots=True)
class WrittenLine:
    """One ingredient's mass; `entered` keeps the words it was typed in, such as `2 cup`."""

    ingredient: NamedIngredient
    mass_g: Decimal | None
    entered: str = ""
    note: str = ""

    @property
    def grams(self) -> Decimal:
        """Its mass. Raises Unsettled if it is missing."""
        return said(self.mass_g)


@dataclass(frozen=True, slots=True)
class WrittenPart:
    """A part of the bread; only filling, wash and topping have `for_pieces`."""

    kind: ComponentKind
    name: str
    for_pieces: int | None = None
    cooking_loss_percent: Decimal = ZERO
    lines: tuple[WrittenLine, ...] = ()


@dataclass(frozen=True, slots=True)
class WrittenStep:
    """What is done, how long hands are busy and how long the dough waits."""

    kind: StepKind
    text: str
    hands_on_min: int = 0
    waiting_min: int = 0
    temperature_c: Decimal | None = None
    temperature_of: TemperatureOf | None = None
    worked: Worked | None = None

    @property
    def minutes(self) -> int:
        """Its minutes, hands-on and waiting together."""
        return self.hands_on_min + self.waiting_min

    @property
    def oven_c(self) -> Decimal | None:
        """The oven's setting; a bake whose temperature is of nothing stated means the oven."""
        return None if self.temperature_of is TemperatureOf.DOUGH else self.temperature_c


@dataclass(frozen=True, slots=True)
class WrittenRecipe:
    """A whole recipe; `piece_g` is the dough in one piece. Equipment is one item per line."""

    title: str = ""
    summary: str = ""
    note: str = ""
    piece_name: str = ""
    pieces: int | None = None
    piece_g: Decimal | None = None
    bake_loss_percent: Decimal | None = None
    dough_temperature_c: Decimal | None = None
    core_temperature_c: Decimal | None = None
    equipment: str = ""
    bread_kind: BreadKind | None = None
    pan_shape: PanShape | None = None
    pan_length_mm: int | None = None
    pan_width_mm: int | None = None
    pan_depth_mm: int | None = None
    pan_water_ml: int | None = None
    parts: tuple[WrittenPart, ...] = ()
    steps: tuple[WrittenStep, ...] = ()


@dataclass(frozen=True, slots=True)
class WrittenSwap:
    """An ingredient that a variant puts in another's place, in the named part or in all.

    If several replace it, they divide its mass in proportion to their shares.
    """

    replaced: NamedIngredient
    by: NamedIngredient
    share: Decimal = ONE
    part: str = ""


Written = WrittenRecipe | WrittenPart | WrittenLine | WrittenStep


def names_of(written: type[Written]) -> tuple[str, ...]:
    """The names of its own fields, without nested values."""
    return tuple(field.name for field in fields(written) if field.name not in _NESTED)


def values_of(written: Written) -> dict[str, Any]:
    """Its own fields as columns, forms and files store them: an unset choice is an empty string."""
    found = {name: getattr(written, name) for name in names_of(type(written))}
    return {n: "" if n in CHOICES and value is None else value for n, value in found.items()}


def choices_in(values: Mapping[str, Any], **kinds: type[Choice]) -> dict[str, Any]:
    """Values from columns, forms or files as a written recipe has them; reverses `values_of`."""
    words = CHOICES | kinds
    return {
        name: (words[name](value) if value else None) if name in words else value
        for name, value in values.items()
    }


def settled(written: WrittenRecipe) -> WrittenRecipe:
    """The recipe with defaults for what is missing: one loaf, no baking loss."""
    return replace(
        written,
        piece_name=written.piece_name or "loaf",
        pieces=written.pieces or 1,
        bake_loss_percent=written.bake_loss_percent or ZERO,
    )


def said(value: _Said | None) -> _Said:
    """A value that a settled recipe has. Raises Unsettled if it is missing."""
    if value is None:
        raise Unsettled
    return value


def flour_of(written: WrittenRecipe) -> Decimal | None:
    """All flour in the dough of a settled recipe, in grams; None if a starter's is unknown."""
    total_g = ZERO
    for line in (
        line for part in written.parts if part.kind.goes_into_dough for line in part.lines
    ):
        named = line.ingredient
        if named.kind is IngredientKind.FLOUR:
            total_g += line.grams
        elif named.kind is IngredientKind.STARTER:
            if named.hydration_percent is None:
                return None
            total_g += line.grams * HUNDRED / (HUNDRED + named.hydration_percent)
    return total_g


def formula_of(
    written: WrittenRecipe, known: Mapping[NamedIngredient, FormulaIngredient]
) -> Formula:
    """The formula of a settled recipe; `known` describes its ingredients."""
    return Formula(
        title=written.title,
        components=tuple(
            FormulaComponent(
                kind=part.kind,
                name=part.name,
                lines=tuple(
                    Line(known[line.ingredient], line.grams, line.note) for line in part.lines
                ),
                for_pieces=part.for_pieces,
                cooking_loss=part.cooking_loss_percent / HUNDRED,
            )
            for part in written.parts
        ),
        piece_g=said(written.piece_g),
        pieces=said(written.pieces),
    )
