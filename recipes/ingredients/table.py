"""The shared ingredients that a recipe book starts with, from `data/`: plain
ingredients and starters.

An empty cell means unknown, never zero, except in the two lists of allergens: each row was checked
against both, so an empty list means that the plain food has none of them. See `data/README.md` for
columns and sources.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from django.db import transaction

from recipes.core.choices import IngredientKind
from recipes.models import Ingredient, StarterFlour

TABLE = Path(__file__).parents[1] / "data" / "ingredients.csv"
STARTERS = TABLE.with_name("starters.csv")

_NUMBERS = {
    "water_pct": "water_percent",
    "protein_pct": "protein_percent",
    "fat_pct": "fat_percent",
    "carbohydrate_pct": "carbohydrate_percent",
    "fibre_pct": "fiber_percent",
    "ash_pct": "ash_percent",
    "sodium_mg": "sodium_mg",
    "energy_kcal": "energy_kcal",
    "density_g_per_ml": "density_g_per_ml",
    "pack_g": "pack_g",
    "each_g": "each_g",
    "part_share": "part_share",
}
_WORDS = {
    "name": "name",
    "kind": "kind",
    "ndb": "ndb",
    "density_from": "density_source",
    "aisle": "aisle",
    "storage": "storage",
    "each_name": "each_name",
    "note": "note",
}
_LISTS = ("allergens_us", "allergens_eu")


@dataclass(frozen=True, slots=True)
class Loaded:
    """How many shared ingredients were added, overwritten, and left as they are."""

    added: int
    refreshed: int
    left: int


def read_table() -> Iterator[dict[str, Any]]:
    """Each ingredient and starter as field values of `Ingredient`, including the key."""
    yield from (_fields(row) for row in _rows(TABLE))
    yield from (_starter_fields(row) for row in _rows(STARTERS))


def _rows(path: Path) -> Iterator[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file, strict=True)


def _fields(row: dict[str, str]) -> dict[str, Any]:
    numbers = {
        name: Decimal(row[column]) if row[column] else None for column, name in _NUMBERS.items()
    }
    words = {name: row[column] for column, name in _WORDS.items()}
    lists = {name: row[name].split("|") if row[name] else [] for name in _LISTS}
    marks = {"tap": row["tap"] == "yes", "allergens_read": True}
    return {"key": row["key"], **marks, **numbers, **words, **lists}


def _starter_fields(row: dict[str, str]) -> dict[str, Any]:
    hydration = row["hydration_pct"]
    words = {name: row[name] for name in ("key", "name", "storage", "note")}
    known = {"hydration_percent": Decimal(hydration) if hydration else None}
    return {**words, **known, "kind": IngredientKind.STARTER.value}


@transaction.atomic
def load_ingredients(*, refresh: bool = False) -> Loaded:
    """Add the ingredients whose key is missing; with `refresh`, overwrite the shared ones too.

    A user's own ingredients are never changed.
    """
    rows = list(read_table())
    present = Ingredient.objects.in_bulk([row["key"] for row in rows], field_name="key")
    missing = [row for row in rows if row["key"] not in present]
    Ingredient.objects.bulk_create(Ingredient(**row) for row in missing)
    shared = [row for row in rows if row["key"] in present and present[row["key"]].owner_id is None]
    if refresh:
        _overwrite(present, shared)
    fresh = {row["key"] for row in (rows if refresh else missing)}
    _join_parts(fresh)
    _join_flours(fresh)
    refreshed = len(shared) if refresh else 0
    return Loaded(len(missing), refreshed, len(rows) - len(missing) - refreshed)


def _join_parts(keys: set[str]) -> None:
    """Link each of these shared parts to the whole it is taken from."""
    wholes = {row["key"]: row["part_of"] for row in _rows(TABLE) if row["part_of"]}
    shared = _shared({*wholes, *wholes.values()})
    for key in keys & wholes.keys() & shared.keys():
        part, whole = shared[key], shared.get(wholes[key])
        part.part_of = whole
        part.save(update_fields=["part_of"])


def _join_flours(keys: set[str]) -> None:
    """Link each of these shared starters to its flours."""
    made_of = {
        row["key"]: dict(flour.split(":") for flour in row["flours"].split("|"))
        for row in _rows(STARTERS)
        if row["flours"]
    }
    shared = _shared({*made_of, *(key for flours in made_of.values() for key in flours)})
    for key in keys & made_of.keys() & shared.keys():
        shared[key].made_of.all().delete()
        StarterFlour.objects.bulk_create(
            StarterFlour(starter=shared[key], flour=shared[flour], percent=Decimal(percent))
            for flour, percent in made_of[key].items()
            if flour in shared
        )


def _shared(keys: set[str]) -> dict[str, Ingredient]:
    return Ingredient.objects.filter(owner=None).in_bulk(keys, field_name="key")


def _overwrite(present: dict[str, Ingredient], rows: list[dict[str, Any]]) -> None:
    if not rows:
        return
    changed = []
    for row in rows:
        ingredient = present[row["key"]]
        for name, value in row.items():
            setattr(ingredient, name, value)
        changed.append(ingredient)
    names = {name for row in rows for name in row} - {"key"}
    Ingredient.objects.bulk_update(changed, sorted(names))
