"""The ingredients of a user's recipe book: the only part of importing that knows Django."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.db.models import F

from recipes.core.choices import IngredientKind
from recipes.core.written import NamedFlour
from recipes.importing.text.matching import IngredientBook
from recipes.importing.values import KnownIngredient
from recipes.ingredients.table import read_table
from recipes.models import Ingredient
from recipes.selectors import name_of, region_of, shelf_of


def ingredient_book(user: User) -> IngredientBook:
    """The ingredients that the user's lines may name, own and shared, in one query.

    Of two with the same name, the user's own is found. The book's home region comes with them; the
    flours of a starter are fetched once somebody asks.
    """
    rows = shelf_of(user).order_by(F("owner").asc(nulls_last=True), "name", "key")
    starters = {row.key: row for row in rows if row.kind == IngredientKind.STARTER}

    def fed(key: str) -> tuple[NamedFlour, ...]:
        return name_of(starters[key]).flours if key in starters else ()

    return IngredientBook(map(known_ingredient, rows), region_of(rows), fed)


def table_ingredients() -> tuple[KnownIngredient, ...]:
    """The ingredients of the shared table, whatever the database holds."""
    return tuple(known_ingredient(Ingredient(**row)) for row in read_table())


def known_ingredient(row: Ingredient) -> KnownIngredient:
    """The row as the importer sees it; yeast is the only thing sold by the packet."""
    return KnownIngredient(
        key=row.key,
        name=row.name,
        kind=IngredientKind(row.kind),
        density_g_per_ml=row.density_g_per_ml,
        each_g=row.each_g,
        each_name=row.each_name,
        packet_g=row.pack_g if row.kind == IngredientKind.YEAST else None,
        hydration_percent=row.hydration_percent,
    )
