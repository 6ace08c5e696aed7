"""Money as people read it; amounts are whole minor units."""

from __future__ import annotations

from django import template

register = template.Library()

# ISO 4217: currencies without minor units, and those with three places (from memory).
NO_PLACES = frozenset({"JPY", "KRW", "ISK", "CLP", "VND", "XAF", "XOF", "PYG", "UGX", "RWF"})
THREE_PLACES = frozenset({"BHD", "JOD", "KWD", "OMR", "TND"})


def places_of(currency: str) -> int:
    """How many places a currency's amounts are written with."""
    if currency in NO_PLACES:
        return 0
    return 3 if currency in THREE_PLACES else 2


@register.filter
def money(minor: int, currency: str) -> str:
    """Such as `38.00 EUR`; a minus stands in front."""
    places = places_of(currency)
    sign, amount = ("−" if minor < 0 else ""), abs(minor)
    whole, part = divmod(amount, 10**places)
    return f"{sign}{whole}.{part:0{places}d} {currency}" if places else f"{sign}{whole} {currency}"
