"""The baking core's errors in words for the person at the form."""

from __future__ import annotations

from recipes.core import errors, reading
from recipes.core.units import AMBIGUOUS
from wording.lists import either, listed

USUAL_UNITS = "g, kg, oz, lb, ml, l, tsp, tbsp, cup, fl oz or each"
SHOWN = 30


def quoted(text: str) -> str:
    """The start of what was typed, in quotation marks."""
    return f"“{text if len(text) <= SHOWN else text[:SHOWN] + '…'}”"


def in_words(error: errors.BakingError) -> str:
    """One sentence that says what is wrong and what to write instead."""
    match error:
        case reading.Unreadable():
            return f"We cannot read {quoted(error.text)}. Enter numbers, like 250, 2.5 or 1 1/2."
        case reading.AmbiguousNumber():
            whole, part = error.readings
            return f"{quoted(error.text)} could be {whole} or {part}: say which."
        case reading.TooManyDigits():
            return f"{quoted(error.text)} has more digits than any amount in a kitchen."
        case errors.UnknownUnit():
            if error.word in AMBIGUOUS:
                return f"{quoted(error.word)} could be {either(error.suggestions)}: say which."
            near = either(error.suggestions)
            instead = f"Did you mean {near}?" if near else f"Use {USUAL_UNITS}."
            return f"{quoted(error.word)} is not a unit we know. {instead}"
        case errors.WrongMeasure():
            return (
                f"{quoted(error.unit)} is a unit of {error.measures}; here we need {error.wanted}."
            )
        case errors.OutOfRange():
            if error.least is not None and error.value <= error.least:
                return f"Enter more than {error.least:f}."
            most = error.most
            return "This is out of range." if most is None else f"Enter at most {most:f}."
        case errors.StarterUnknown():
            return (
                f"Cannot say: how much water {listed(error.names)} has to its flour is not known."
            )
    return "This does not work out. Check the amount."
