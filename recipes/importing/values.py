"""What goes into the importer and what it reads. Masses are grams, temperatures Celsius."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from recipes.core.choices import ComponentKind
from recipes.core.units import Unit
from recipes.importing.doubts import Doubt


@dataclass(frozen=True, slots=True)
class KnownIngredient:
    """An ingredient that lines may name, by its name or any of `words`.

    Without density or mass apiece, volumes or counts of it have no grams. `packet_g` is the
    mass of the packet it is sold in by the piece, such as 7 g of yeast.
    """

    key: str
    name: str
    kind: str = "other"
    words: tuple[str, ...] = ()
    density_g_per_ml: Decimal | None = None
    each_g: Decimal | None = None
    each_name: str = ""
    packet_g: Decimal | None = None


class Sureness(StrEnum):
    """How well a name fits an ingredient."""

    EXACT = "exact"
    LIKELY = "likely"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Match:
    """The ingredient proposed for a name: its key, empty when none fits.

    `candidates` are up to three keys to choose from, the proposed one first.
    """

    key: str
    sureness: Sureness
    candidates: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Measure:
    """One amount as written: `typed` holds its words, `high` the upper end of a range."""

    quantity: Decimal
    unit: Unit | None
    typed: str
    high: Decimal | None = None


@dataclass(frozen=True, slots=True)
class ReadPart:
    """A part of the bread that a heading opens, or the dough when there is no heading."""

    kind: ComponentKind
    name: str
    for_pieces: int | None = None
    cooking_loss_percent: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class ReadLine:
    """One ingredient line and what was understood of it.

    `quantity` and `unit` are the amount taken (of a range, the low end; `high` the other);
    `others` are further amounts on the line. `grams` is None where it cannot be computed.
    `entered` is the amount as a recipe form would write it, empty where grams say it better.
    `percent` is a baker's percentage. `part` is an index into the recipe's parts. `kind` is the
    ingredient's kind.
    """

    text: str
    quantity: Decimal | None
    unit: Unit | None
    name: str
    match: Match
    high: Decimal | None = None
    typed: str = ""
    note: str = ""
    part: int = 0
    grams: Decimal | None = None
    entered: str = ""
    percent: Decimal | None = None
    others: tuple[Measure, ...] = ()
    kind: str = "other"
    doubts: tuple[Doubt, ...] = ()


@dataclass(frozen=True, slots=True)
class ReadStep:
    """One step of the method; `kind` is one of the step kinds, `section` its heading if any."""

    text: str
    kind: str = "prepare"
    hands_on_min: int = 0
    waiting_min: int = 0
    temperature_c: Decimal | None = None
    section: str = ""
    temperature_of: str = ""
    worked: str = ""
    doubts: tuple[Doubt, ...] = ()


@dataclass(frozen=True, slots=True)
class StatedTimes:
    """Minutes that a page states for the whole recipe; they go into no step."""

    preparing: int | None = None
    cooking: int | None = None
    total: int | None = None


@dataclass(frozen=True, slots=True)
class ReadRecipe:
    """A recipe as read. What the source does not say is empty or None."""

    title: str = ""
    summary: str = ""
    note: str = ""
    equipment: tuple[str, ...] = ()
    piece_name: str = ""
    pieces: int | None = None
    piece_g: Decimal | None = None
    bake_loss_percent: Decimal | None = None
    dough_temperature_c: Decimal | None = None
    core_temperature_c: Decimal | None = None
    bread_kind: str = ""
    pan_shape: str = ""
    pan_length_mm: int | None = None
    pan_width_mm: int | None = None
    pan_depth_mm: int | None = None
    pan_water_ml: int | None = None
    parts: tuple[ReadPart, ...] = ()
    lines: tuple[ReadLine, ...] = ()
    steps: tuple[ReadStep, ...] = ()
    times: StatedTimes = StatedTimes()
    left_over: tuple[str, ...] = ()
    doubts: tuple[Doubt, ...] = ()
