"""The papers of a class as frozen values: all that is printed, before any markup.

Masses are the core's, in grams; nothing is computed here.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

from classes.core.diets.heeds import Heed
from classes.core.money import Estimate
from classes.core.shopping import ShoppingLine
from handouts.kinds.stations import StationRecipe, StationSheet
from handouts.paper import Paper
from handouts.press.qr import qr_picture
from handouts.safety.heed_room import fits_on_top
from handouts.safety.heed_values import CardHeed
from recipes.core.allergens import AllergensFound
from recipes.core.heat.core_temperature import Core
from recipes.core.scaling import (
    ComponentAmounts,
    Division,
    Sheet,
)
from recipes.core.scaling.amount_lines import AmountLine

# A station card's page, in millimeters: what its lines share, and the least a line needs at each
# size of type in paper/station-card.css.
CARD_LINES_MM = 137
CARD_CAUTION_MM = 5.6
CARD_AVOIDS_MM = 16
CARD_HEED_MM, CARD_HEED_LINE_MM = 6, 7
CARD_SIZES = ((15.3, "size-34"), (12.4, "size-26"), (10.6, "size-20"), (8.4, "size-15"))


# The student's handout


@dataclass(frozen=True, slots=True)
class CardLine:
    """One ingredient of a part: the amount and its percentage of all flour.

    `concern` is what the person must know of it; a part and a step have the same.
    """

    amount: AmountLine
    percent: Decimal
    note: str = ""
    concern: str = ""


@dataclass(frozen=True, slots=True)
class CardPart:
    """A component on a formula card, `percent` of all flour.

    Without lines where it comes from the class's tub, `amounts.tub`.
    """

    amounts: ComponentAmounts
    lines: tuple[CardLine, ...]
    percent: Decimal
    concern: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One step: minutes with busy hands, minutes of waiting, and degrees Celsius of what.

    `temperature_of` is in words, and so is `worked`: how the class works the step. Both are empty
    where the recipe does not say. Of the minutes, bread is in the oven for `oven_min`.
    """

    kind: str
    text: str
    hands_on_min: int
    waiting_min: int
    temperature_c: Decimal | None
    concern: str = ""
    temperature_of: str = ""
    worked: str = ""
    oven_min: int = 0

    @property
    def load_min(self) -> int:
        """Minutes at the oven before the bread is in it; 0 where none is."""
        return self.hands_on_min + self.waiting_min - self.oven_min if self.oven_min else 0


@dataclass(frozen=True)
class RecipeCard:
    """A recipe scaled for one person."""

    title: str
    label: str
    note: str
    piece_name: str
    piece_masses_g: tuple[Decimal, ...]
    sheet: Sheet
    parts: tuple[CardPart, ...]
    dough_percent: Decimal
    dusting_g: Decimal
    dusting_flour: str
    dough_temperature_c: Decimal | None
    core: Core | None
    steps: tuple[Step, ...]
    equipment: tuple[str, ...]
    allergens: AllergensFound
    dusting_concern: str = ""

    @property
    def dough_parts(self) -> tuple[CardPart, ...]:
        """The parts that are mixed into the dough."""
        return tuple(part for part in self.parts if part.amounts.kind.goes_into_dough)

    @property
    def other_parts(self) -> tuple[CardPart, ...]:
        """Wash and topping."""
        return tuple(part for part in self.parts if not part.amounts.kind.goes_into_dough)

    @property
    def pieces(self) -> tuple[tuple[int, Decimal], ...]:
        """How many pieces of which mass in whole grams, the heavier first."""
        counted = Counter(self.piece_masses_g)
        return tuple((counted[mass_g], mass_g) for mass_g in sorted(counted, reverse=True))

    @property
    def has_parts(self) -> bool:
        """Whether the dough is made of several parts that need their names."""
        return len(self.dough_parts) > 1

    @property
    def has_coarse(self) -> bool:
        tubs = (part.amounts.tub for part in self.parts if part.amounts.tub)
        lines = (line.amount.weighed for part in self.parts for line in part.lines)
        return any(weighed.coarse for weighed in (*tubs, *lines))


@dataclass(frozen=True, kw_only=True)
class Handout(Paper):
    """One student's own paper; `home_address` opens their recipes for their kitchen at home.

    `heeds` say where a recipe holds what they told, and `beside` what others weigh at their
    station: both stand on top, and on nobody else's paper.
    """

    template: ClassVar[str] = "handouts/handout.html"
    style: ClassVar[str] = "handout"

    name: str
    station: str
    recipes: tuple[RecipeCard, ...]
    home_address: str = ""
    heeds: tuple[Heed, ...] = ()
    beside: tuple[str, ...] = ()

    @property
    def heeds_fit(self) -> bool:
        """Whether the notes leave the cautions on page one; else they stand below them."""
        return fits_on_top(self.name, self.heeds, self.beside, self.cautions)

    @property
    def home_square(self) -> str:
        """The same address as a picture that a telephone reads."""
        return qr_picture(self.home_address) if self.home_address else ""


# The assistant's list


@dataclass(frozen=True, slots=True)
class Aisle:
    """The shopping lines of one aisle."""

    name: str
    lines: tuple[ShoppingLine, ...]


@dataclass(frozen=True, slots=True)
class Ahead:
    """A component that is made for everybody in one tub, and how the tub is divided."""

    amounts: ComponentAmounts
    division: Division


@dataclass(frozen=True, slots=True)
class PooledRecipe:
    """A recipe over the whole class, handling loss included, and what of it is made ahead.

    `heads` says in words for whom it is; `prepare` holds the recipe's steps that come before the
    class.
    """

    title: str
    label: str
    sheet: Sheet
    heads: str
    ahead: tuple[Ahead, ...]
    prepare: tuple[Step, ...]

    @property
    def dough_parts(self) -> tuple[ComponentAmounts, ...]:
        """The parts that are mixed into the dough."""
        return tuple(part for part in self.sheet.components if part.kind.goes_into_dough)

    @property
    def other_parts(self) -> tuple[ComponentAmounts, ...]:
        """Wash and topping."""
        return tuple(part for part in self.sheet.components if not part.kind.goes_into_dough)

    @property
    def has_parts(self) -> bool:
        """Whether the parts need their names."""
        return len(self.sheet.components) > 1

    @property
    def has_coarse(self) -> bool:
        parts = self.sheet.components
        return any(line.weighed.coarse for part in parts for line in part.lines)


@dataclass(frozen=True, kw_only=True)
class PreparationList(Paper):
    """The assistant's paper: shopping, what is made ahead, and a page for each station.

    `brought` is what the instructor makes at home and brings, `demonstration` what is shown.
    """

    template: ClassVar[str] = "handouts/preparation.html"
    style: ClassVar[str] = "preparation"

    aisles: tuple[Aisle, ...]
    tap: tuple[ShoppingLine, ...]
    cash_out: Estimate
    handling_loss_percent: Decimal
    allergens: AllergensFound
    pooled: tuple[PooledRecipe, ...]
    stations: tuple[StationSheet, ...]
    demonstration: StationSheet | None
    brought: StationSheet | None = None


@dataclass(frozen=True, kw_only=True)
class StationCard(Paper):
    """What hangs at one station for one recipe. It has no place for anything private.

    A card that says what its station avoids names nobody, only how many work there, so that it
    tells no passer-by whom that concerns. `heeds` say what of that its own recipe holds.
    """

    template: ClassVar[str] = "handouts/station_card.html"
    style: ClassVar[str] = "station-card"

    station: str
    people: tuple[str, ...]
    recipe: StationRecipe
    avoids: tuple[str, ...] = ()
    heeds: tuple[CardHeed, ...] = ()

    @property
    def who(self) -> str:
        """Whose card it is: the names, or where the station avoids something the number."""
        count = len(self.people)
        return (
            (f"{count} people" if count != 1 else "1 person")
            if self.avoids
            else ", ".join(self.people)
        )

    @property
    def size(self) -> str:
        """The size of type at which the lines of a usual card fit on one page."""
        avoided_mm = CARD_AVOIDS_MM if self.avoids else 0
        boxes_mm = sum(CARD_HEED_MM + CARD_HEED_LINE_MM * one.line_count for one in self.heeds)
        cautions_mm = CARD_CAUTION_MM * len(self.cautions)
        room_mm = CARD_LINES_MM - avoided_mm - boxes_mm - cautions_mm
        line_mm = room_mm / max(1, self.recipe.line_count)
        return next((size for least_mm, size in CARD_SIZES if line_mm >= least_mm), "size-13")
