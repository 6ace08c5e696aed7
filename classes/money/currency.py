"""Which currency a class uses: its kitchen's, until there is an amount in it.

Amounts of a kitchen in other currencies stay as they are.
"""

from __future__ import annotations

from django.db.models import Q, QuerySet

from classes.models import ClassSession, Kitchen


def settle_currency(*, session: ClassSession) -> None:
    """Give a class that is about to be saved its kitchen's currency, if it has no amount yet.

    Amounts are never read in another currency than the one they were entered in.
    """
    if session.pk is None or _without_amounts().filter(pk=session.pk).exists():
        session.currency = session.kitchen.currency


def pass_on_currency(*, kitchen: Kitchen) -> None:
    """Give a kitchen's classes that have no amount yet its currency."""
    keys = _without_amounts().filter(kitchen=kitchen).values_list("pk", flat=True)
    ClassSession.objects.filter(pk__in=list(keys)).update(currency=kitchen.currency)


def _without_amounts() -> QuerySet[ClassSession]:
    """Classes without a price, a cost, or a booking with a price or payments."""
    booked = Q(bookings__price_minor__gt=0) | Q(bookings__payments__isnull=False)
    return ClassSession.objects.filter(price_minor=0, deposit_minor=0).exclude(
        Q(costs__isnull=False) | booked | Q(bookings__refund_due_minor__gt=0)
    )


def kept_currencies(kitchen: Kitchen) -> str:
    """Prices and coming classes whose amounts stay in the currency they were entered in."""
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
