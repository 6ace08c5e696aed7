"""What a read recipe would become if nothing were changed: the first draft of its review."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from recipes.importing.doubts import PartOfRecipe
from recipes.importing.errors import Unsettled
from recipes.importing.record import (
    PARTS_FOR_PIECES,
    IngredientName,
    LineRecord,
    PartRecord,
    RecipeRecord,
    StepRecord,
    own_pan_of,
)
from recipes.importing.values import ReadLine, ReadPart, ReadRecipe

MASS_PLACES = Decimal("0.0001")
PIECE_PLACES = Decimal("0.1")
LEAST_PIECE_G, MOST_PIECE_G = Decimal(1), Decimal(20000)
LONGEST_ENTERED = 40
LONGEST_NOTE = 120
LONGEST_INGREDIENT = 80


def refers_to_part(line: ReadLine) -> bool:
    """Whether a line only names another part of the recipe, whose lines already count."""
    return any(isinstance(doubt, PartOfRecipe) for doubt in line.doubts)


def lacking(read: ReadRecipe) -> tuple[int, ...]:
    """The numbers of the lines that have no mass or no name yet."""
    return tuple(
        n
        for n, line in enumerate(read.lines)
        if not refers_to_part(line) and (_mass_g(line) is None or not (line.match.key or line.name))
    )


def _mass_g(line: ReadLine) -> Decimal | None:
    mass_g = line.grams.quantize(MASS_PLACES, ROUND_HALF_UP) if line.grams is not None else None
    return mass_g if mass_g else None


def dough_g(read: ReadRecipe) -> Decimal:
    """Grams of the lines that go into the dough, as far as they are known."""
    return sum(
        (
            line.grams
            for line in read.lines
            if line.grams
            and read.parts[line.part].kind.goes_into_dough
            and not refers_to_part(line)
        ),
        Decimal(0),
    )


def piece_g(read: ReadRecipe) -> Decimal | None:
    """Dough in one piece as told, or the dough over the pieces; None beyond what is possible."""
    if read.piece_g is not None:
        return read.piece_g
    share = (dough_g(read) / (read.pieces or 1)).quantize(PIECE_PLACES, ROUND_HALF_UP)
    return share if LEAST_PIECE_G <= share <= MOST_PIECE_G else None


def proposed(read: ReadRecipe) -> RecipeRecord:
    """The recipe with every proposal taken as it is.

    Raises Unsettled while lines lack a mass or a name, or nothing tells a piece's mass.
    """
    missing = lacking(read)
    grams = piece_g(read)
    if missing or grams is None:
        raise Unsettled(missing)
    return RecipeRecord(
        title=read.title,
        piece_g=grams,
        parts=tuple(
            part for n, one in enumerate(read.parts) if (part := _part(read, n, one)).lines
        ),
        steps=tuple(
            StepRecord(
                step.kind,
                step.text,
                step.hands_on_min,
                step.waiting_min,
                step.temperature_c,
                step.temperature_of,
                step.worked,
            )
            for step in read.steps
        ),
        summary=read.summary,
        note=read.note,
        piece_name=read.piece_name or "loaf",
        pieces=read.pieces or 1,
        bake_loss_percent=read.bake_loss_percent or Decimal(0),
        dough_temperature_c=read.dough_temperature_c,
        core_temperature_c=read.core_temperature_c,
        equipment="\n".join(read.equipment),
        **own_pan_of(read),
    )


def _part(read: ReadRecipe, n: int, part: ReadPart) -> PartRecord:
    for_pieces = None
    if part.kind.value in PARTS_FOR_PIECES:
        for_pieces = part.for_pieces or read.pieces or 1
    lines = [line for line in read.lines if line.part == n and not refers_to_part(line)]
    return PartRecord(
        part.kind.value,
        part.name,
        tuple(_line(line) for line in lines),
        for_pieces,
        part.cooking_loss_percent,
    )


def _line(line: ReadLine) -> LineRecord:
    name = (line.name or line.match.key)[:LONGEST_INGREDIENT]
    return LineRecord(
        IngredientName(line.match.key, name, line.kind),
        _mass_g(line) or Decimal(0),
        line.entered[:LONGEST_ENTERED],
        line.note[:LONGEST_NOTE],
    )
