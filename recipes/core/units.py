"""The fixed vocabulary of kitchen units, and the only module that uses pint.

A general unit parser reads kitchen words wrongly (`pinch` as a small length, `C` as a charge, `t`
as a ton), so words are looked up in a table here and pint only sees names that we chose. Amounts
are Decimal in and out; masses are grams, volumes milliliters, temperatures Celsius.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING

from recipes.core.errors import NoDensity, NoPieceMass, UnknownUnit, WrongMeasure
from recipes.core.numbers import exact, positive

if TYPE_CHECKING:
    from pint import UnitRegistry


class Measures(StrEnum):
    """What a unit measures."""

    MASS = "mass"
    VOLUME = "volume"
    COUNT = "count"
    TEMPERATURE = "temperature"
    LENGTH = "length"
    TIME = "time"


@dataclass(frozen=True, slots=True)
class Unit:
    """One kitchen unit: `times` pint's `base`, written as any of `words`."""

    name: str
    measures: Measures
    base: str
    words: tuple[str, ...]
    times: Decimal = Decimal(1)


def _unit(name: str, measures: Measures, base: str, words: str = "", times: str = "1") -> Unit:
    return Unit(name, measures, base, (name, *words.split("|")), Decimal(times))


# Stick, pinch, dash and everything called metric or Australian are common practice, from memory;
# the rest are exact by definition.
UNITS: tuple[Unit, ...] = (
    _unit("g", Measures.MASS, "gram", "gram|grams|gm|gms|gr"),
    _unit("kg", Measures.MASS, "kilogram", "kilogram|kilograms|kilo|kilos"),
    _unit("mg", Measures.MASS, "milligram", "milligram|milligrams"),
    _unit("oz", Measures.MASS, "ounce", "ounce|ounces"),
    _unit("lb", Measures.MASS, "pound", "lbs|pound|pounds"),
    _unit("stick", Measures.MASS, "ounce", "sticks", times="4"),
    _unit("ml", Measures.VOLUME, "milliliter", "milliliter|milliliters|millilitre|millilitres|cc"),
    _unit("cl", Measures.VOLUME, "centiliter", "centiliter|centiliters|centilitre|centilitres"),
    _unit("dl", Measures.VOLUME, "deciliter", "deciliter|deciliters|decilitre|decilitres"),
    _unit("l", Measures.VOLUME, "liter", "liter|liters|litre|litres"),
    _unit("tsp", Measures.VOLUME, "teaspoon", "tsps|teaspoon|teaspoons"),
    _unit("tbsp", Measures.VOLUME, "tablespoon", "tbsps|tbs|tablespoon|tablespoons"),
    _unit("cup", Measures.VOLUME, "cup", "cups"),
    _unit("US cup", Measures.VOLUME, "cup", "us cups|american cup|american cups"),
    _unit("metric tsp", Measures.VOLUME, "milliliter", "metric teaspoon|metric teaspoons", "5"),
    _unit(
        "metric tbsp", Measures.VOLUME, "milliliter", "metric tablespoon|metric tablespoons", "15"
    ),
    _unit(
        "Australian tbsp",
        Measures.VOLUME,
        "milliliter",
        "australian tablespoon|australian tablespoons",
        "20",
    ),
    _unit("metric cup", Measures.VOLUME, "milliliter", "metric cups", times="250"),
    _unit("fl oz", Measures.VOLUME, "fluid_ounce", "fluid ounce|fluid ounces|floz"),
    _unit("pint", Measures.VOLUME, "pint", "pints|pt|pts"),
    _unit("US pint", Measures.VOLUME, "pint", "us pints|american pint|american pints"),
    _unit("quart", Measures.VOLUME, "quart", "quarts|qt|qts"),
    _unit("gallon", Measures.VOLUME, "gallon", "gallons|gal"),
    _unit("imperial gallon", Measures.VOLUME, "imperial_gallon", "imperial gallons"),
    _unit("imperial quart", Measures.VOLUME, "imperial_quart", "imperial quarts"),
    _unit("imperial pint", Measures.VOLUME, "imperial_pint", "imperial pints"),
    _unit("imperial cup", Measures.VOLUME, "imperial_cup", "imperial cups"),
    _unit(
        "imperial fl oz",
        Measures.VOLUME,
        "imperial_fluid_ounce",
        "imperial fluid ounce|imperial fluid ounces",
    ),
    _unit("pinch", Measures.VOLUME, "teaspoon", "pinches", times="0.0625"),
    _unit("dash", Measures.VOLUME, "teaspoon", "dashes", times="0.125"),
    _unit("each", Measures.COUNT, "dimensionless", "piece|pieces|whole"),
    _unit("dozen", Measures.COUNT, "dimensionless", "dozens", times="12"),
    _unit("°C", Measures.TEMPERATURE, "degree_Celsius", "C|celsius|deg C|degrees C"),
    _unit("°F", Measures.TEMPERATURE, "degree_Fahrenheit", "F|fahrenheit|deg F|degrees F"),
    _unit("cm", Measures.LENGTH, "centimeter", "centimeter|centimeters|centimetre|centimetres"),
    _unit("mm", Measures.LENGTH, "millimeter", "millimeter|millimeters|millimetre|millimetres"),
    _unit("in", Measures.LENGTH, "inch", "inch|inches"),
    _unit("min", Measures.TIME, "minute", "mins|minute|minutes"),
    _unit("h", Measures.TIME, "hour", "hr|hrs|hour|hours"),
)

# Letters that cooks use for two things each: the user is asked, nothing is guessed.
AMBIGUOUS: dict[str, tuple[str, ...]] = {
    "t": ("tsp", "tbsp"),
    "T": ("tbsp", "tsp"),
    "c": ("cup", "cl"),
}


LONGEST_WORD = 30


@cache
def _by_word() -> dict[str, Unit]:
    """Every word as spelled, in lower case and in upper case.

    A lone letter for a temperature must be a capital: a small c is a cup to many cooks.
    """
    table: dict[str, Unit] = {}
    for unit in UNITS:
        for word in filter(None, unit.words):
            table[word] = unit
            if len(word) > 1 or unit.measures is not Measures.TEMPERATURE:
                table.setdefault(word.lower(), unit)
                table.setdefault(word.upper(), unit)
    return table


def parse_unit(word: str) -> Unit:
    """The unit that a cook's word stands for; dots after abbreviations are ignored.

    Raises UnknownUnit, with similar words if there are any, for everything else.
    """
    text = " ".join(word.replace(".", " ").split())
    if text in AMBIGUOUS:
        raise UnknownUnit(text, AMBIGUOUS[text])
    table = _by_word()
    unit = table.get(text) or table.get(text.lower())
    if unit is None:
        raise UnknownUnit(text, _close_names(text.lower()))
    return unit


def _close_names(text: str) -> tuple[str, ...]:
    if len(text) > LONGEST_WORD:
        return ()
    table = _by_word()
    close = [table[match] for match in get_close_matches(text, table, n=3)]
    alike = {(unit.base, unit.times): unit.name for unit in reversed(close)}
    return tuple(reversed(alike.values()))


@cache
def _registry() -> UnitRegistry[Decimal]:
    from pint import UnitRegistry

    return UnitRegistry(non_int_type=Decimal, cache_folder=None)


_TARGETS = {
    Measures.MASS: "gram",
    Measures.VOLUME: "milliliter",
    Measures.LENGTH: "millimeter",
    Measures.TIME: "minute",
}

# Every definition here is exact within 15 places; anything beyond is division residue.
_FACTOR_PLACES = Decimal("1e-15")


@cache
def _factor(unit: Unit) -> Decimal:
    """Grams, milliliters, millimeters or minutes in one `unit`; dozens and pieces count."""
    if unit.measures is Measures.COUNT:
        return unit.times
    registry = _registry()
    magnitude = registry.Quantity(Decimal(1), unit.base).to(_TARGETS[unit.measures]).magnitude
    return unit.times * Decimal(magnitude).quantize(_FACTOR_PLACES).normalize()


def to_grams(
    amount: Decimal,
    unit: Unit,
    *,
    density_g_per_ml: Decimal | None = None,
    each_g: Decimal | None = None,
) -> Decimal:
    """Mass in grams of `amount` of `unit`.

    A volume needs the ingredient's density, a count its mass per piece. Raises NoDensity,
    NoPieceMass, WrongMeasure for lengths, times and temperatures, and NotDecimal or OutOfRange for
    impossible numbers.
    """
    amount = exact("amount", amount)
    match unit.measures:
        case Measures.MASS:
            return amount * _factor(unit)
        case Measures.VOLUME if density_g_per_ml is not None:
            return amount * _factor(unit) * positive("density_g_per_ml", density_g_per_ml)
        case Measures.VOLUME:
            raise NoDensity(unit.name)
        case Measures.COUNT if each_g is not None:
            return amount * _factor(unit) * positive("each_g", each_g)
        case Measures.COUNT:
            raise NoPieceMass(unit.name)
    raise WrongMeasure(unit.name, unit.measures, "mass, volume or count")


def convert(amount: Decimal, unit: Unit, measures: Measures) -> Decimal:
    """`amount` in grams, milliliters, millimeters or minutes, depending on the measure.

    Raises WrongMeasure when `unit` measures something else; counts and temperatures have no
    such factor and always raise it.
    """
    if unit.measures is not measures or measures not in _TARGETS:
        raise WrongMeasure(unit.name, unit.measures, measures)
    return exact("amount", amount) * _factor(unit)


def to_celsius(temperature: Decimal, unit: Unit) -> Decimal:
    """A temperature in degrees Celsius. Raises WrongMeasure for other units."""
    if unit.measures is not Measures.TEMPERATURE:
        raise WrongMeasure(unit.name, unit.measures, Measures.TEMPERATURE)
    temperature = exact("temperature", temperature)
    if unit.base == "degree_Celsius":
        return temperature
    return (temperature - 32) * 5 / 9


def to_fahrenheit(temperature_c: Decimal) -> Decimal:
    """A temperature in degrees Fahrenheit from Celsius."""
    return exact("temperature_c", temperature_c) * 9 / 5 + 32
