"""What the baking core refuses, in words for the person at the form."""

from __future__ import annotations

from functools import singledispatch

from recipes.core import errors, reading
from recipes.core.units import AMBIGUOUS
from recipes.core.written import NamedIngredient
from wording.figures import percent
from wording.lists import either, listed

USUAL_UNITS = "g, kg, oz, lb, ml, l, tsp, tbsp, cup, fl oz or each"
SHOWN = 30


def quoted(text: str) -> str:
    """The start of what was typed, in quotation marks."""
    return f"“{text if len(text) <= SHOWN else text[:SHOWN] + '…'}”"


def starter_in_words(starter: NamedIngredient) -> str:
    """`100 % water; 50 % bread flour and 50 % rye flour`, or what of that cannot be said."""
    hydration = starter.hydration_percent
    water = "cannot say how much water" if hydration is None else f"{percent(hydration)} water"
    shares = [f"{percent(flour.percent)} {flour.name}" for flour in starter.flours]
    if len(shares) == 1:
        shares = [starter.flours[0].name]
    return f"{water}; {listed(shares) or 'cannot say which flours'}"


@singledispatch
def in_words(error: errors.BakingError) -> str:
    """One sentence that says what is wrong and what to write instead."""
    return "This does not work out. Check the amount."


@in_words.register
def _(error: reading.Unreadable) -> str:
    return f"We cannot read {quoted(error.text)}. Enter numbers, like 250, 2.5 or 1 1/2."


@in_words.register
def _(error: reading.AmbiguousNumber) -> str:
    whole, part = error.readings
    return f"{quoted(error.text)} could be {whole} or {part}: say which."


@in_words.register
def _(error: reading.TooManyDigits) -> str:
    return f"{quoted(error.text)} has more digits than any amount in a kitchen."


@in_words.register
def _(error: errors.UnknownUnit) -> str:
    if error.word in AMBIGUOUS:
        return f"{quoted(error.word)} could be {either(error.suggestions)}: say which."
    if error.suggestions:
        return (
            f"{quoted(error.word)} is not a unit we know. Did you mean {either(error.suggestions)}?"
        )
    return f"{quoted(error.word)} is not a unit we know. Use {USUAL_UNITS}."


@in_words.register
def _(error: errors.WrongMeasure) -> str:
    return f"{quoted(error.unit)} is a unit of {error.measures}; here we need {error.wanted}."


@in_words.register
def _(error: errors.OutOfRange) -> str:
    if error.least is not None and error.value <= error.least:
        return f"Enter more than {error.least:f}."
    return f"Enter at most {error.most:f}." if error.most is not None else "This is out of range."


@in_words.register
def _(error: errors.StarterUnknown) -> str:
    return f"Cannot say: how much water {listed(error.names)} has to its flour is not known."
