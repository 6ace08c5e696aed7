"""Between plain values and the recipe book's rows: the only part of importing that knows Django."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.models import AbstractUser
from django.db import transaction
from django.db.models import F

from recipes.exporting import document
from recipes.importing.document import read_data
from recipes.importing.matching import IngredientBook
from recipes.importing.record import (
    IngredientName,
    LineRecord,
    PartRecord,
    RecipeRecord,
    StepRecord,
    own_pan_of,
)
from recipes.importing.values import KnownIngredient
from recipes.models import Ingredient, IngredientKind, Revision
from recipes.services import (
    ComponentDraft,
    LineDraft,
    RecipeDraft,
    StepDraft,
    add_ingredient,
    create_recipe,
)


def ingredient_book(user: AbstractUser) -> IngredientBook:
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


def record_of_draft(draft: RecipeDraft) -> RecipeRecord:
    """The values of a draft; fields of the head that it leaves out have their defaults."""
    return RecipeRecord(
        parts=tuple(
            PartRecord(
                str(part.kind),
                part.name,
                tuple(
                    LineRecord(_name(line.ingredient), line.mass_g, line.entered, line.note)
                    for line in part.lines
                ),
                part.for_pieces,
                part.cooking_loss_percent,
            )
            for part in draft.components
        ),
        steps=tuple(_step_record(step) for step in draft.steps),
        **draft.head,  # type: ignore[arg-type]
    )


def _step_record(step: Any) -> StepRecord:
    return StepRecord(
        str(step.kind), step.text, step.hands_on_min, step.waiting_min, step.temperature_c
    )


def checked(record: RecipeRecord) -> RecipeRecord:
    """The record, if every field is within the recipe book's limits.

    Raises a FieldError with the path of the first that is not.
    """
    return read_data(document(record))


def to_draft(record: RecipeRecord, owner: AbstractUser) -> RecipeDraft:
    """The draft of a reviewed recipe. Writes nothing.

    Ingredients are found by key, then by name, among the owner's and the shared ones; any other
    is a new, unsaved one of the owner's, the same object wherever it is named. Raises FieldError.
    """
    record = checked(record)
    found = _Pantry(owner)
    return RecipeDraft(
        head={
            "title": record.title,
            "summary": record.summary,
            "note": record.note,
            "piece_name": record.piece_name,
            "pieces": record.pieces,
            "piece_g": record.piece_g,
            "bake_loss_percent": record.bake_loss_percent,
            "dough_temperature_c": record.dough_temperature_c,
            "core_temperature_c": record.core_temperature_c,
            "equipment": record.equipment,
            **own_pan_of(record),
        },
        components=tuple(
            ComponentDraft(
                kind=part.kind,
                name=part.name,
                lines=tuple(
                    LineDraft(found.find(line.ingredient), line.mass_g, line.entered, line.note)
                    for line in part.lines
                ),
                for_pieces=part.for_pieces,
                cooking_loss_percent=part.cooking_loss_percent,
            )
            for part in record.parts
        ),
        steps=tuple(
            StepDraft(step.kind, step.text, step.hands_on_min, step.waiting_min, step.temperature_c)
            for step in record.steps
        ),
    )


class _Pantry:
    """The owner's and the shared ingredients, and new ones made on the way."""

    def __init__(self, owner: AbstractUser) -> None:
        self.owner = owner
        rows = list(Ingredient.objects.for_user(owner))
        rows.sort(key=lambda row: row.owner_id is not None)
        self.by_key = {row.key: row for row in rows}
        self.by_name = {_plain(row.name): row for row in rows}

    def find(self, name: IngredientName) -> Ingredient:
        """The row of a key or name, or a new one."""
        if name.key and name.key in self.by_key:
            return self.by_key[name.key]
        plain = _plain(name.name)
        if plain not in self.by_name:
            self.by_name[plain] = Ingredient(owner=self.owner, name=name.name, kind=name.kind)
        return self.by_name[plain]


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


@transaction.atomic
def save_import(*, owner: AbstractUser, record: RecipeRecord) -> Revision:
    """Put a reviewed recipe, with the ingredients it adds, into the owner's book.

    Raises FieldError; then nothing is written.
    """
    draft = to_draft(record, owner)
    saved: dict[int, Ingredient] = {}
    components = tuple(
        ComponentDraft(
            part.kind,
            part.name,
            tuple(
                LineDraft(
                    _saved(line.ingredient, owner, saved), line.mass_g, line.entered, line.note
                )
                for line in part.lines
            ),
            part.for_pieces,
            part.cooking_loss_percent,
        )
        for part in draft.components
    )
    return create_recipe(owner=owner, draft=RecipeDraft(draft.head, components, draft.steps))


def _saved(ingredient: Ingredient, owner: AbstractUser, saved: dict[int, Ingredient]) -> Ingredient:
    """The ingredient as a saved row; a new one is added once."""
    if ingredient.pk is not None:
        return ingredient
    if id(ingredient) not in saved:
        values = {"name": ingredient.name, "kind": ingredient.kind}
        saved[id(ingredient)] = add_ingredient(owner=owner, values=values)
    return saved[id(ingredient)]
