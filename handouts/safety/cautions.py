"""The cautions of the papers: their wording as data, each with its source and when it applies.

The sentences are ours. No source is quoted, and none outranks the local food authority or the
local codes: `DEFERRAL` says so on every page. They take at most twelve lines of a paper.
"""

from __future__ import annotations

from collections.abc import Set

from classes.core.regions import Region
from handouts.safety.regional_cautions import (
    ALLERGENS,
    BURNS,
    COLD,
    COOLING,
    HANDS,
)
from handouts.safety.values import (
    Caution,
    Hazard,
    Known,
)

__all__ = ["CAUTIONS", "DEFERRAL", "Caution", "Hazard", "Known", "cautions_for"]

CAUTIONS: tuple[Caution, ...] = (
    *HANDS,
    Caution(
        key="raw-flour",
        heading="Flour is raw",
        text="Do not taste dough; bake it through; keep its dust low, off food and lungs.",
        source="US FDA and CDC advice to consumers on raw flour, second-hand. Dust: common "
        "practice in bakeries, from memory.",
        known=Known.SECOND_HAND,
        hazards=frozenset({Hazard.FLOUR}),
    ),
    Caution(
        key="raw-egg",
        heading="Raw egg",
        text="Keep it cold, do not taste it, bake it through, wash up after it.",
        source="US FDA Food Code 3-801.11(F): egg mixed in just before baking, baked through.",
        known=Known.SECOND_HAND,
        hazards=frozenset({Hazard.RAW_EGG}),
    ),
    *COLD,
    *COOLING,
    *ALLERGENS,
    Caution(
        key="heat",
        heading="Heat, steam",
        text="Dry mitts, long sleeves; stand aside as door or lid opens; say “hot”.",
        source="US OSHA, young workers in restaurants (dry mitts, long sleeves, lids open away "
        "from you), and an insurer's page on ovens (stand to the side), read. That people say "
        "“hot”: common practice in teaching kitchens, from memory.",
        known=Known.READ,
        hazards=frozenset({Hazard.OVEN, Hazard.STOVE}),
    ),
    *BURNS,
    Caution(
        key="mixer",
        heading="Mixer",
        text="Start slow. Hands, hair, sleeves and spoons stay out; unplug it to reach in.",
        source="Common practice in bakeries.",
        known=Known.FROM_MEMORY,
        hazards=frozenset({Hazard.MIXER}),
    ),
    Caution(
        key="blades",
        heading="Blades",
        text="Cut away from your fingers; lay them in sight, never in the sink.",
        source="Common practice in kitchens.",
        known=Known.FROM_MEMORY,
        hazards=frozenset({Hazard.BLADE}),
    ),
    Caution(
        key="floor",
        heading="Slips",
        text="Wipe up water, oil and flour at once. Closed shoes.",
        source="Common practice in kitchens; sturdy shoes as in the OSHA sheet above.",
        known=Known.FROM_MEMORY,
    ),
)

DEFERRAL = (
    "Your local food authority, local codes and trained first-aiders come first, "
    "and may ask for more than this paper."
)


def cautions_for(hazards: Set[Hazard], region: Region) -> tuple[Caution, ...]:
    """The cautions of a class with these hazards, in the order they are printed."""
    return tuple(caution for caution in CAUTIONS if caution.fits(hazards, region))
