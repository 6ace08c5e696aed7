"""How the list of what is weighed is arranged."""

from __future__ import annotations

from enum import StrEnum


class ListBy(StrEnum):
    """What the list is sorted by; the amounts are the same."""

    STATION = "station"
    INGREDIENT = "ingredient"

    @property
    def label(self) -> str:
        return f"By {self}"
