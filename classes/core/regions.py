"""Whose guidance leads on pages and papers where it differs between countries."""

from __future__ import annotations

from enum import StrEnum


class Region(StrEnum):
    """Countries whose food-safety and first-aid guidance is said; `ALL` says all of it."""

    ALL = "all"
    US = "us"
    EUROPE = "europe"
    OCEANIA = "oceania"

    @property
    def words(self) -> str:
        """Such as `Australia and New Zealand`."""
        return WORDS[self]


WORDS = {
    Region.ALL: "Say all of them",
    Region.US: "United States",
    Region.EUROPE: "EU, UK and Ireland",
    Region.OCEANIA: "Australia and New Zealand",
}
