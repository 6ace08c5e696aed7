"""Why a text or file could not be brought in, in words for the person who chose it."""

from __future__ import annotations

from functools import singledispatch

from recipes.forms.words import quoted
from recipes.importing import errors
from wording.lists import either


@singledispatch
def import_in_words(error: errors.ImportingError) -> str:
    """One sentence that says what is wrong, and what to do if anything."""
    return "This could not be read as a recipe."


@import_in_words.register
def _(error: errors.TooMuchText) -> str:
    return (
        f"This has {error.found:,} {error.counted}; a recipe has at most {error.most:,}. "
        "Keep only the recipe."
    )


@import_in_words.register
def _(error: errors.NotJson) -> str:
    return f"This starts like JSON but cannot be read: {error.reason}."


@import_in_words.register
def _(error: errors.NoRecipeFound) -> str:
    return "There is JSON-LD in it, but no Recipe. Copy the recipe’s text from the page instead."


@import_in_words.register
def _(error: errors.NotOurs) -> str:
    return f"This is not a Bakebench recipe: its format is {quoted(error.found)}."


@import_in_words.register
def _(error: errors.UnknownVersion) -> str:
    return f"This file is of version {quoted(error.version)}, which this program does not know."


def _in_field(error: errors.FieldError, what: str) -> str:
    return f"In the file, the field {quoted(error.path)} {what}."


@import_in_words.register
def _(error: errors.FieldError) -> str:
    return _in_field(error, "is wrong")


@import_in_words.register
def _(error: errors.MissingField) -> str:
    return _in_field(error, "is missing")


@import_in_words.register
def _(error: errors.UnknownField) -> str:
    return _in_field(error, "is not one we know")


@import_in_words.register
def _(error: errors.WrongType) -> str:
    return _in_field(error, f"should be: {error.wanted}")


@import_in_words.register
def _(error: errors.NotDecimalText) -> str:
    return _in_field(error, f"should be a number in quotation marks, not {quoted(error.found)}")


@import_in_words.register
def _(error: errors.NumberOutOfRange) -> str:
    limits = f"from {error.least} to {error.most} with {error.places} decimal places at most"
    return _in_field(error, f"is {quoted(error.found)}; it goes {limits}")


@import_in_words.register
def _(error: errors.TextTooLong) -> str:
    return _in_field(error, f"has {error.length:,} characters; at most {error.most:,} are kept")


@import_in_words.register
def _(error: errors.UnfitText) -> str:
    return _in_field(error, f"contains what cannot be kept: {error.found}")


@import_in_words.register
def _(error: errors.NotAChoice) -> str:
    return _in_field(error, f"is {quoted(error.found)}; it can be {either(error.choices)}")


@import_in_words.register
def _(error: errors.TooMany) -> str:
    return _in_field(error, f"has {error.found:,} items; at most {error.most:,} are kept")
