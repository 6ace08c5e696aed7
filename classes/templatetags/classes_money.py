"""Money as people read it."""

from __future__ import annotations

from django import template

from classes.core.money import Estimate, Money

register = template.Library()


@register.filter
def money(amount: Money | Estimate) -> str:
    """Such as `38.00 EUR`, `180 JPY`, `at least 5.95 EUR` or `cannot say`.

    Raises TypeError for anything without a currency.
    """
    if not isinstance(amount, Money | Estimate):
        raise TypeError(amount)
    return str(amount)
