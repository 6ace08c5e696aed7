"""JSON text to values, exactly: no binary floats, no giant numbers, no endless nesting."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from recipes.importing.errors import NotJson, TooMuchText

MOST_CHARACTERS = 2_000_000
_LONGEST_WHOLE = 18
_LONGEST_FRACTION = 40


@dataclass(frozen=True, slots=True)
class Fraction:
    """A JSON number other than a short whole number, in its own characters."""

    text: str

    @property
    def decimal(self) -> Decimal | None:
        """Its exact value; None for NaN, infinities and giants."""
        if len(self.text) > _LONGEST_FRACTION or self.text in ("NaN", "Infinity", "-Infinity"):
            return None
        value = Decimal(self.text)
        return value if abs(value.adjusted()) < _LONGEST_WHOLE else None


def _whole(text: str) -> int | Fraction:
    return int(text) if len(text) <= _LONGEST_WHOLE else Fraction(text)


def _once(pairs: Sequence[tuple[str, Any]]) -> dict[str, Any]:
    fields = dict(pairs)
    if len(fields) < len(pairs):
        raise NotJson("a field is given twice")
    return fields


def load(text: str, *, strict: bool = True) -> object:
    """The value of a JSON text; numbers with a point come as Fraction.

    When not `strict`, raw line ends within strings and duplicate fields are accepted. Raises
    NotJson or TooMuchText.
    """
    if len(text) > MOST_CHARACTERS:
        raise TooMuchText("characters", len(text), MOST_CHARACTERS)
    try:
        return json.loads(
            text.removeprefix("\ufeff"),
            parse_float=Fraction,
            parse_int=_whole,
            parse_constant=Fraction,
            object_pairs_hook=_once if strict else None,
            strict=strict,
        )
    except NotJson:
        raise
    except RecursionError as error:
        raise NotJson("nested too deeply") from error
    except ValueError as error:
        raise NotJson(str(error)[:200]) from error
