"""Between plain values and the recipe book's rows: the only part of importing that knows Django."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.models import User
from django.db.models import F

from recipes.core.choices import IngredientKind
from recipes.exporting import document
from recipes.importing.document import read_data
from recipes.importing.record import (
    IngredientName,
    LineRecord,
    PartRecord,
    RecipeRecord,
    StepRecord,
    own_pan_of,
)
from recipes.importing.text.matching import IngredientBook
from recipes.importing.values import KnownIngredient
from recipes.models import Ingredient, Revision


def ingredient_book(user: User) -> IngredientBook:
    """The ingredients that the user's lines may name, own and shared, in one query.

    Of two with the same name, the user's own is found.
    """
    rows = Ingredient.objects.for_user(user).order_by(
        F("owner").asc(nulls_last=True), "name", "key"
    )
    return IngredientBook(known_ingredient(row) for row in rows)


def known_ingredient(row: Ingredient) -> KnownIngredient:
    """The row as the importer sees it; yeast is the only thing sold by the packet."""
    return KnownIngredient(
        key=row.key,
        name=row.name,
        kind=str(row.kind),
        density_g_per_ml=row.density_g_per_ml,
        each_g=row.each_g,
        each_name=row.each_name,
        packet_g=row.pack_g if row.kind == IngredientKind.YEAST else None,
    )


def _name(row: Ingredient) -> IngredientName:
    return IngredientName(row.key, row.name, str(row.kind))


def record_of(revision: Revision) -> RecipeRecord:
    """The values of a revision fetched `with_formula`."""
    return RecipeRecord(
        title=revision.title,
        piece_g=revision.piece_g,
        summary=revision.summary,
        note=revision.note,
        piece_name=revision.piece_name,
        pieces=revision.pieces,
        bake_loss_percent=revision.bake_loss_percent,
        dough_temperature_c=revision.dough_temperature_c,
        core_temperature_c=revision.core_temperature_c,
        equipment=revision.equipment.replace("\r\n", "\n"),
        parts=tuple(
            PartRecord(
                str(part.kind),
                part.name,
                tuple(
                    LineRecord(_name(line.ingredient), line.mass_g, line.entered, line.note)
                    for line in part.lines.all()
                ),
                part.for_pieces,
                part.cooking_loss_percent,
            )
            for part in revision.components.all()
        ),
        steps=tuple(_step_record(step) for step in revision.steps.all()),
        **own_pan_of(revision),
    )


def _step_record(step: Any) -> StepRecord:
    return StepRecord(
        str(step.kind),
        step.text,
        step.hands_on_min,
        step.waiting_min,
        step.temperature_c,
        str(step.temperature_of),
        str(step.worked),
    )


def checked(record: RecipeRecord) -> RecipeRecord:
    """The record, if every field is within the recipe book's limits.

    Raises a FieldError with the path of the first that is not.
    """
    return read_data(document(record))
