"""Pans, lengths and temperatures in the units that a kitchen at home uses."""

from __future__ import annotations

from decimal import Decimal

from classes.home_kitchen.values import HomeKitchen, HomePan
from recipes.core.pans.sizes import PanShape
from wording.sizes import lengths

PAN_NAMES = {
    PanShape.LOAF: "loaf pan",
    PanShape.ROUND: "round pan",
    PanShape.RECTANGULAR: "rectangular pan",
}


def warmth(celsius: Decimal, kitchen: HomeKitchen) -> str:
    """A temperature on both scales, the kitchen's own first: `446 °F (230 °C)`."""
    return kitchen.writing.degrees(celsius)


def size(length_cm: Decimal, kitchen: HomeKitchen) -> str:
    """A length both ways, the kitchen's own unit first: `2.5 in (6.4 cm)`."""
    return lengths([length_cm], inches_first=kitchen.in_inches)


def in_pans(home: HomePan, kitchen: HomeKitchen) -> str:
    """The pans of a kitchen: `a loaf pan, 8.5 × 4.5 × 2.5 in (21.6 × 11.4 × 6.4 cm)`."""
    pan, name = home.pan, PAN_NAMES[home.pan.shape]
    sizes = [pan.length_cm] if pan.shape.has_one_size else [pan.length_cm, pan.width_cm]
    if pan.depth_cm is not None:
        sizes.append(pan.depth_cm)
    of_them = f"a {name}" if home.count == 1 else f"{home.count} {name}s"
    return f"{of_them}, {lengths(sizes, inches_first=kitchen.in_inches)}"
