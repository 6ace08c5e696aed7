"""Whose guidance comes first on pages and papers if countries differ."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

from recipes.core.regions import HomeRegion
from wording.writing import Writing


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

_US_CITIES = """
Adak Anchorage Boise Chicago Denver Detroit Fort_Wayne Indianapolis Juneau Los_Angeles Louisville
Menominee Metlakatla New_York Nome Phoenix Shiprock Sitka Yakutat
"""
_CANADIAN_CITIES = """
Atikokan Blanc-Sablon Cambridge_Bay Creston Dawson Dawson_Creek Edmonton Fort_Nelson Glace_Bay
Goose_Bay Halifax Inuvik Iqaluit Moncton Montreal Nipigon Pangnirtung Rainy_River Rankin_Inlet
Regina Resolute St_Johns Swift_Current Thunder_Bay Toronto Vancouver Whitehorse Winnipeg Yellowknife
"""
_ZONES = {
    **{f"America/{city}": HomeRegion.US for city in _US_CITIES.split()},
    **{f"America/{city}": HomeRegion.CA for city in _CANADIAN_CITIES.split()},
    "Pacific/Honolulu": HomeRegion.US,
    "Pacific/Auckland": HomeRegion.AU,
    "Pacific/Chatham": HomeRegion.AU,
    "Europe/London": HomeRegion.UK,
    "Europe/Dublin": HomeRegion.UK,
}
_ZONES_FROM = {
    "US/": HomeRegion.US,
    "America/Indiana/": HomeRegion.US,
    "America/Kentucky/": HomeRegion.US,
    "America/North_Dakota/": HomeRegion.US,
    "Canada/": HomeRegion.CA,
    "Australia/": HomeRegion.AU,
    "Europe/": HomeRegion.EU,
}
# Which sheet, clock and scale are usual where is from memory. The UK kept the EU's list. Recipes of
# both scales are baked from in Canada; its rooms and weather are in °C.
_WRITINGS = {
    HomeRegion.US: Writing(fahrenheit_first=True, twelve_hours=True, sheet="letter"),
    HomeRegion.CA: Writing(twelve_hours=True, sheet="letter"),
    HomeRegion.AU: Writing(twelve_hours=True),
    HomeRegion.UK: Writing(eu_list_first=True),
    HomeRegion.EU: Writing(eu_list_first=True),
}


def writing_of(guidance: Region, currency: str, time_zone: str, *, ounces: bool) -> Writing:
    """How a kitchen writes: by whose guidance it follows, else where its clock is, else its money.

    The euro, which new kitchens have, tells nothing.
    """
    region = _BY_GUIDANCE.get(guidance) or region_of_zone(time_zone)
    region = region or (None if currency == "EUR" else _BY_CURRENCY.get(currency))
    usual = _WRITINGS.get(region, Writing()) if region else Writing()
    return replace(usual, ounces=ounces)


def region_of_zone(time_zone: str) -> HomeRegion | None:
    """The region of a time zone, as far as one is known."""
    others = (one for start, one in _ZONES_FROM.items() if time_zone.startswith(start))
    return _ZONES.get(time_zone) or next(others, None)


def usual_home_region(guidance: Region, currency: str, time_zone: str) -> HomeRegion | None:
    """Whose measures are likely meant where a kitchen is; None if nothing indicates it."""
    if time_zone in ("Europe/Dublin", "Europe/London"):
        return HomeRegion.UK
    by_money = _BY_CURRENCY.get(currency)
    if by_money is HomeRegion.EU and guidance is not Region.EUROPE:
        by_money = None
    return by_money or _BY_GUIDANCE.get(guidance)
