"""A settled recipe shown as one that was read, so that it can be reviewed like any other."""

from __future__ import annotations

from recipes.core.choices import ComponentKind
from recipes.core.units import parse_unit
from recipes.importing import doubts
from recipes.importing.record import IngredientName, LineRecord, RecipeRecord, own_pan_of
from recipes.importing.schema.vocabulary import plain
from recipes.importing.text.matching import IngredientBook, stems
from recipes.importing.values import Match, ReadLine, ReadPart, ReadRecipe, ReadStep, Sureness

_GRAM = parse_unit("g")


def from_record(record: RecipeRecord, book: IngredientBook) -> ReadRecipe:
    """The record line by line; ingredients that the book does not hold carry a doubt.

    `proposed` makes the same record of it again.
    """
    return ReadRecipe(
        title=record.title,
        summary=record.summary,
        note=record.note,
        equipment=tuple(record.equipment.split("\n")) if record.equipment else (),
        piece_name=record.piece_name,
        pieces=record.pieces,
        piece_g=record.piece_g,
        bake_loss_percent=record.bake_loss_percent,
        dough_temperature_c=record.dough_temperature_c,
        core_temperature_c=record.core_temperature_c,
        **own_pan_of(record),
        parts=tuple(
            ReadPart(
                ComponentKind(part.kind), part.name, part.for_pieces, part.cooking_loss_percent
            )
            for part in record.parts
        ),
        lines=tuple(
            _line(line, n, book) for n, part in enumerate(record.parts) for line in part.lines
        ),
        steps=tuple(
            ReadStep(
                step.text,
                step.kind,
                step.hands_on_min,
                step.waiting_min,
                step.temperature_c,
                temperature_of=step.temperature_of,
                worked=step.worked,
            )
            for step in record.steps
        ),
    )


def _line(line: LineRecord, part: int, book: IngredientBook) -> ReadLine:
    match = _match(line.ingredient, book)
    known = match.sureness is Sureness.EXACT
    unknown = doubts.UnknownIngredient(line.ingredient.name, match.candidates)
    return ReadLine(
        text=f"{plain(line.mass_g)} g {line.ingredient.name}",
        quantity=line.mass_g,
        unit=_GRAM,
        name=line.ingredient.name,
        match=match,
        typed=line.entered or f"{plain(line.mass_g)} g",
        note=line.note,
        part=part,
        grams=line.mass_g,
        entered=line.entered,
        kind=line.ingredient.kind,
        doubts=() if known else (unknown,),
    )


def _match(ingredient: IngredientName, book: IngredientBook) -> Match:
    if ingredient.key and book.get(ingredient.key):
        return Match(ingredient.key, Sureness.EXACT, (ingredient.key,))
    return Match("", Sureness.NONE, book.fit(stems(ingredient.name)).match.candidates)
