"""Lengths, volumes, pans and their loads, in metric and US units."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

from recipes.core.pans.sizes import DoughLoad, LoadBy, Pan
from recipes.core.units import Measures, convert, parse_unit
from wording.figures import HUNDREDTH, NBSP, ONE, TENTH, THOUSANDTH, rounded, short

CM_PER_INCH = Decimal("2.54")
FOOT_M = Decimal("0.3048")  # The international foot, exactly.
ML_PER_LITER = Decimal(1000)


def lengths(
    sizes_cm: Iterable[Decimal], *, inches_first: bool = False, between: str = f"{NBSP}×{NBSP}"
) -> str:
    """Lengths in both units: `33 × 23 cm (13 × 9.1 in)`, or the inches first."""
    sizes = tuple(sizes_cm)
    in_cm = f"{between.join(short(TENTH, size) for size in sizes)}{NBSP}cm"
    inches = f"{between.join(short(TENTH, size / CM_PER_INCH) for size in sizes)}{NBSP}in"
    return f"{inches} ({in_cm})" if inches_first else f"{in_cm} ({inches})"


def height(altitude_m: int, *, in_feet: bool = False) -> str:
    """A height above the sea as people type it: `1600 m`, or `5249 ft`."""
    if in_feet:
        return f"{rounded(ONE, altitude_m / FOOT_M)} ft"
    return f"{altitude_m} m"


def length(size_cm: Decimal) -> str:
    """A length in both units: `23 cm (9.1 in)`."""
    return lengths([size_cm])


def pan_size(pan: Pan) -> str:
    """A pan's outline in both units: `23 cm (9.1 in)`, or `33 × 23 cm (13 × 9.1 in)`."""
    sizes = [pan.length_cm] if pan.shape.has_one_size else [pan.length_cm, pan.width_cm]
    return lengths(sizes, between=" × ")


def pan_words(pan: Pan) -> str:
    """What a pan is called: `round pan`, `tray`."""
    return pan.shape.value if pan.shape == "tray" else f"{pan.shape.value} pan"


def load(value: DoughLoad) -> str:
    """A dough load with its unit: `1.54 g/cm²`, `0.397 g/cm³`."""
    places = HUNDREDTH if value.by is LoadBy.AREA else THOUSANDTH
    return f"{value.grams.quantize(places, ROUND_HALF_UP):f}{NBSP}{value.by}"


def liters(volume_ml: Decimal) -> str:
    """A volume: `1.4 liters`."""
    return f"{rounded(TENTH, volume_ml / ML_PER_LITER)}{NBSP}liters"


def us_cups(volume_ml: Decimal) -> str:
    """A volume: `5.8 US cups`."""
    cup_ml = convert(ONE, parse_unit("cup"), Measures.VOLUME)
    return f"{short(TENTH, volume_ml / cup_ml)}{NBSP}US cups"
