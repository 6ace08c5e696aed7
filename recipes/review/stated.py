"""What a text says of its recipe as a whole: the time in all, and shares of the flour."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from recipes.importing.method.times import TimeSpan, times
from recipes.importing.text.tokens import tokenize

_TOTAL = re.compile(r"\btotal(?:\s+time)?\b[^\n|]{0,60}", re.IGNORECASE)
_PERCENT = re.compile(
    r"\b(?P<before>hydration|salt)\b[ \t:=]{0,3}(?P<after_it>[0-9]{1,3}(?:[.,][0-9]{1,2})?)\s?%"
    r"|\b(?P<first>[0-9]{1,3}(?:[.,][0-9]{1,2})?)\s?%[ \t]{1,3}(?P<then>hydration|salt)\b",
    re.IGNORECASE,
)
# What such a line says is of the part, not of the dough.
_OF_A_PART = re.compile(
    r"starter|levain|leaven|mother|poolish|biga|sponge|preferment", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Stated:
    """Minutes in all, and percent of the flour by `hydration` and `salt`."""

    total_min: int | None = None
    percents: Mapping[str, Decimal] = field(default_factory=dict)


def stated_in(text: str) -> Stated:
    """What a text says; of several sayings the first counts."""
    percents: dict[str, Decimal] = {}
    of_dough = "\n".join(line for line in text.splitlines() if not _OF_A_PART.search(line))
    for found in _PERCENT.finditer(of_dough):
        name = (found["before"] or found["then"]).lower()
        number = (found["after_it"] or found["first"]).replace(",", ".")
        percents.setdefault(name, Decimal(number))
    return Stated(_total(text), percents)


def _total(text: str) -> int | None:
    for found in _TOTAL.finditer(text):
        spans = [time for time in times(tokenize(found[0])) if isinstance(time, TimeSpan)]
        if spans:
            return sum(span.minutes for span in spans)
    return None
