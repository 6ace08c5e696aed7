"""What a kitchen still holds in other currencies than the one it counts in now."""

from __future__ import annotations

from classes.models import Kitchen


def kept_currencies(kitchen: Kitchen) -> str:
    """Prices and coming classes whose amounts stay in the currency they were written in."""
    priced = kitchen.stock.filter(pack_price_minor__isnull=False)
    prices = priced.exclude(price_currency=kitchen.currency).count()
    classes = kitchen.sessions.exclude(currency=kitchen.currency).count()
    held = [_counted(prices, "price in the pantry", "prices in the pantry")] if prices else []
    held += [_counted(classes, "class", "classes")] if classes else []
    if not held:
        return ""
    stays = "stays" if prices + classes == 1 else "stay"
    return (
        f"{' and '.join(held)} {stays} in the earlier currency: "
        f"nothing is converted to {kitchen.currency}."
    )


def _counted(number: int, one: str, several: str) -> str:
    return f"1 {one}" if number == 1 else f"{number} {several}"
