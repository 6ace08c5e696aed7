"""Whose measures a recipe means: cups, spoons, pints and egg sizes differ by country.

Which measure a country's cooks mean by a word is from memory; what each holds is in `units`, and
what eggs weigh in `exchange.kinds`, with sources.
"""

from __future__ import annotations

from collections.abc import Mapping

from recipes.core.choices import Choice
from recipes.core.exchange.kinds import EGG_SIZES, EggSize
from recipes.core.units import UNITS, Unit, parse_unit


class HomeRegion(Choice):
    """The home of a book's recipes, or of one text."""

    US = "us", "United States"
    UK = "uk", "United Kingdom and Ireland"
    AU = "au", "Australia"
    CA = "ca", "Canada"
    EU = "eu", "European Union"


_METRIC = {
    "cup": "metric cup",
    "tbsp": "metric tbsp",
    "tsp": "metric tsp",
    "fl oz": "imperial fl oz",
    "pint": "imperial pint",
    "quart": "imperial quart",
    "gallon": "imperial gallon",
}
_OWN: Mapping[HomeRegion, Mapping[str, str]] = {
    HomeRegion.US: {},
    HomeRegion.UK: _METRIC,
    HomeRegion.AU: _METRIC | {"tbsp": "Australian tbsp"},
    HomeRegion.CA: _METRIC,
    HomeRegion.EU: _METRIC,
}
# Words without a measure of their own in a region, where another country's measure is used.
_FOREIGN = {
    HomeRegion.UK: {"stick"},
    HomeRegion.AU: {"stick"},
    HomeRegion.EU: {"stick", "cup", "fl oz", "pint", "quart", "gallon"},
}
# Units that differ so much between regions that a guess is marked as doubtful.
_DIFFERING = {"cup", "tbsp", "fl oz", "pint", "quart", "gallon"}
_EGG_WORDS = {
    "jumbo": ("us-jumbo", "eu-xl"),
    "xl": ("us-extra-large", "eu-xl"),
    "extra": ("us-extra-large", "eu-xl"),
    "large": ("us-large", "eu-l"),
    "l": ("us-large", "eu-l"),
    "medium": ("us-medium", "eu-m"),
    "m": ("us-medium", "eu-m"),
    "small": ("us-small", "eu-s"),
    "s": ("us-small", "eu-s"),
}
_USUAL_EGG = ("us-large", "eu-m")
_EUROPEAN_EGGS = {HomeRegion.UK, HomeRegion.EU}
_EGGS = {size.key: size for size in EGG_SIZES}

EGG_SIZE_WORDS = frozenset(_EGG_WORDS)


def regional(unit: Unit, region: HomeRegion | None) -> Unit:
    """What a region's cooks mean by a unit; the US measure if the region is not known."""
    return parse_unit(_OWN[region].get(unit.name, unit.name)) if region else unit


def unlike_local(unit: Unit, region: HomeRegion | None) -> Unit | None:
    """A unit of the US by a name that means it in a region too; None if it has none."""
    if regional(unit, region) == unit:
        return unit
    return next((own for own in UNITS if own.name == f"US {unit.name}"), None)


def is_guess(unit: Unit, region: HomeRegion | None) -> bool:
    """Whether the region leaves open how much a unit holds."""
    return unit.name in (_FOREIGN.get(region, ()) if region else _DIFFERING)


def egg_size(word: str, region: HomeRegion | None) -> EggSize:
    """The weight class for a size word, or for an egg without a stated size."""
    return _EGGS[_EGG_WORDS.get(word, _USUAL_EGG)[region in _EUROPEAN_EGGS]]


def knows_egg(size: EggSize, region: HomeRegion | None) -> bool:
    """Whether the mass inside such an egg was measured and is the region's own."""
    return region in (None, HomeRegion.US) and size.key == "us-large"
