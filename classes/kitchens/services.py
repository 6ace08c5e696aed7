"""Writes to kitchens, each one transaction."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

from django.db import transaction

from classes.core.regions import Region, usual_home_region
from classes.models import Kitchen, Mixer, Oven, Scale, Station, StockItem
from classes.money.currency import pass_on_currency
from recipes.services import propose_home_region

Content = Station | Oven | Mixer | Scale | StockItem


@transaction.atomic
def save_kitchen(
    *, kitchen: Kitchen, contents: Iterable[Content], removed: Iterable[Content] = ()
) -> Kitchen:
    """Save a kitchen with its equipment or its pantry.

    Raises ProtectedError when something removed is still needed.
    """
    kitchen.save()
    pass_on_currency(kitchen=kitchen)
    usual = usual_home_region(Region(kitchen.guidance), kitchen.currency, kitchen.time_zone)
    propose_home_region(region=usual)
    for item in removed:
        item.delete()
    for item in contents:
        item.kitchen = kitchen
        item.save()
    return kitchen


@transaction.atomic
def keep_friction(*, mixer: Mixer, friction_c: Decimal) -> Mixer:
    """Save the friction of a mixer in the bakers' formula, in °C to the tenth.

    Raises ValidationError outside 0 to 40 °C.
    """
    mixer.friction_c = friction_c.quantize(Decimal("0.1"), ROUND_HALF_UP)
    mixer.clean_fields(exclude={"kitchen", "name", "capacity_g"})
    mixer.save(update_fields=["friction_c"])
    return mixer
