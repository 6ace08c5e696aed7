"""Whose guidance comes first on pages and papers if countries differ."""

from __future__ import annotations

from enum import StrEnum

from recipes.core.regions import HomeRegion


class Region(StrEnum):
    """Countries whose food-safety and first-aid guidance is given; `ALL` gives all of it."""

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

_BY_CURRENCY = {
    "CAD": HomeRegion.CA,
    "GBP": HomeRegion.UK,
    "AUD": HomeRegion.AU,
    "NZD": HomeRegion.AU,
    "USD": HomeRegion.US,
    "EUR": HomeRegion.EU,
}
_BY_GUIDANCE = {
    Region.US: HomeRegion.US,
    Region.EUROPE: HomeRegion.EU,
    Region.OCEANIA: HomeRegion.AU,
}


def usual_home_region(guidance: Region, currency: str, time_zone: str) -> HomeRegion | None:
    """Whose measures are likely meant where a kitchen is; None if nothing indicates it."""
    if time_zone in ("Europe/Dublin", "Europe/London"):
        return HomeRegion.UK
    by_money = _BY_CURRENCY.get(currency)
    if by_money is HomeRegion.EU and guidance is not Region.EUROPE:
        by_money = None
    return by_money or _BY_GUIDANCE.get(guidance)
