"""Named errors of importing a recipe. They have fields; pages put them into words."""

from __future__ import annotations

from dataclasses import dataclass


class ImportingError(ValueError):
    """Anything that cannot be imported. Subclasses compare by identity, so they can be hashed."""


@dataclass(eq=False)
class TooMuchText(ImportingError):
    """A text longer than any recipe; `counted` is `characters` or `lines`."""

    counted: str
    found: int
    most: int


@dataclass(eq=False)
class NotJson(ImportingError):
    """Text that is not JSON, or nested too deeply; `reason` is the parser's message."""

    reason: str


@dataclass(eq=False)
class NoRecipeFound(ImportingError):
    """A page or file without a schema.org Recipe in it."""


@dataclass(eq=False)
class NotOurs(ImportingError):
    """JSON that does not say it is a `bakebench-recipe`."""

    found: str


@dataclass(eq=False)
class UnknownVersion(ImportingError):
    """Our format in a version that this program does not know."""

    version: str


@dataclass(eq=False)
class FieldError(ImportingError):
    """A fault in one field; `path` leads to it, such as `components[0].lines[2].mass_g`."""

    path: str


@dataclass(eq=False)
class MissingField(FieldError):
    """A field that must be there."""


@dataclass(eq=False)
class UnknownField(FieldError):
    """A field that this version does not have; ignoring it could lose what was meant."""


@dataclass(eq=False)
class WrongType(FieldError):
    """A value of another type than `wanted`: text, list, object, whole number or decimal text."""

    wanted: str


@dataclass(eq=False)
class NotDecimalText(FieldError):
    """A number that is not written as text in plain digits, such as a binary float."""

    found: str


@dataclass(eq=False)
class NumberOutOfRange(FieldError):
    """A number below its least, above its most, or with more decimals than are stored."""

    found: str
    least: str
    most: str
    places: int


@dataclass(eq=False)
class TextTooLong(FieldError):
    """Text longer than can be stored."""

    length: int
    most: int


@dataclass(eq=False)
class UnfitText(FieldError):
    """Empty text where some is needed, or characters that cannot be stored."""

    found: str


@dataclass(eq=False)
class NotAChoice(FieldError):
    """A word that is not one of the `choices`."""

    found: str
    choices: tuple[str, ...]


@dataclass(eq=False)
class TooMany(FieldError):
    """More items than a recipe may have."""

    found: int
    most: int
