"""The tables of names and of flours' grades, as kept in `recipes/data`."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cache
from pathlib import Path

from recipes.core.regions import HomeRegion

NAMES = Path(__file__).parents[2] / "data" / "names.csv"
GRADES = NAMES.with_name("grades.csv")


class FitsAs(StrEnum):
    """How a name fits its ingredient: it means that, comes near to it, or is merely like it."""

    IS = ""
    NEAR = "near"
    LIKE = "like"


@dataclass(frozen=True, slots=True)
class NameRow:
    """A word that means the ingredient of a key, everywhere or in some regions."""

    key: str
    word: str
    regions: frozenset[HomeRegion]
    fits_as: FitsAs
    note: str


@dataclass(frozen=True, slots=True)
class GradeRow:
    """A grade of a grain's flour in words, or by its ash in percent, and which one is meant."""

    grain: str
    grade: str
    ash_from: Decimal | None
    ash_to: Decimal | None
    key: str
    fits_as: FitsAs
    note: str


@cache
def name_rows() -> tuple[NameRow, ...]:
    """All names; a word with several keys leaves open which one, likeliest first."""
    return tuple(
        NameRow(
            row["key"],
            row["word"],
            frozenset(map(HomeRegion, filter(None, row["region"].split("|")))),
            FitsAs(row["fit"]),
            row["note"],
        )
        for row in _rows(NAMES)
    )


@cache
def grade_rows() -> tuple[GradeRow, ...]:
    """All grades; of one with several keys, the first is the nearest."""
    return tuple(
        GradeRow(
            row["grain"],
            row["grade"],
            _figure(row["ash_from"]),
            _figure(row["ash_to"]),
            row["key"],
            FitsAs(row["fit"]),
            row["note"],
        )
        for row in _rows(GRADES)
    )


def _figure(text: str) -> Decimal | None:
    return Decimal(text) if text else None


def _rows(path: Path) -> Iterator[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file, strict=True)
