"""The cautions of the papers: their wording as data, each with its source and when it applies.

The sentences are ours. No source is quoted, and none outranks the local food authority or the
local codes: `DEFERRAL` says so on every page.
"""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass
from enum import StrEnum


class Hazard(StrEnum):
    """What a class holds that somebody can be hurt by."""

    FLOUR = "flour"
    RAW_EGG = "raw egg"
    CHILLED = "chilled ingredients"
    OVEN = "oven"
    STOVE = "stove"
    MIXER = "mixer"
    BLADE = "blade"


class Known(StrEnum):
    """How we know what a source says."""

    READ = "read in the source"
    SECOND_HAND = "read second-hand, in a page that quotes the source"
    FROM_MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution, and the hazards that call for it; one without hazards fits every class."""

    key: str
    heading: str
    text: str
    source: str
    known: Known
    hazards: frozenset[Hazard] = frozenset()

    def fits(self, hazards: Set[Hazard]) -> bool:
        return not self.hazards or not self.hazards.isdisjoint(hazards)


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        key="hands",
        heading="Wash your hands",
        text="20 seconds with soap: first, after raw flour or egg, after breaks.",
        source="US FDA Food Code 2-301.12: the whole wash takes at least 20 seconds.",
        known=Known.SECOND_HAND,
    ),
    Caution(
        key="raw-flour",
        heading="Flour is raw",
        text="Do not taste dough; keep flour off ready-to-eat food; bake it through.",
        source="US FDA and CDC advice to consumers on raw flour.",
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
    Caution(
        key="chilled",
        heading="Cold stays cold",
        text="5 °C (41 °F) or colder by the FDA Food Code, for businesses; 4 °C (40 °F) and 2 "
        "hours out at most by USDA advice for homes.",
        source="US FDA Food Code 3-501.16 (41 and 135 °F); USDA advice to consumers (40 to "
        "140 °F, 2 hours, 1 hour above 90 °F). Two bands: they are for different kitchens.",
        known=Known.SECOND_HAND,
        hazards=frozenset({Hazard.CHILLED}),
    ),
    Caution(
        key="allergens",
        heading="Allergens travel",
        text="Ask, read labels. Wiping dry leaves them: wash, rinse, sanitize, air-dry.",
        source="Common practice in food-safety training.",
        known=Known.FROM_MEMORY,
    ),
    Caution(
        key="oven",
        heading="Oven and steam",
        text="Dry mitts, long sleeves. Stand aside as the door opens: steam comes first.",
        source="US OSHA, young workers in restaurants (dry mitts, long sleeves, sturdy shoes); "
        "an insurer's page on ovens (stand to the side, the door as a shield).",
        known=Known.READ,
        hazards=frozenset({Hazard.OVEN}),
    ),
    Caution(
        key="stove",
        heading="Hot pan",
        text="Handles inward, stir away from you, say “hot” when you carry it.",
        source="Common practice in teaching kitchens.",
        known=Known.FROM_MEMORY,
        hazards=frozenset({Hazard.STOVE}),
    ),
    Caution(
        key="burns",
        heading="A burn",
        text="20 minutes under cool running water; no ice, no cream. Large, or on face or hands: "
        "call the emergency number. Follow local first-aid advice.",
        source="ANZCOR guideline 9.1.3 and a UK first-aid charity (20 minutes). A US guideline "
        "of 2024 says 5 to 20 minutes, read second-hand; we print the longest.",
        known=Known.READ,
        hazards=frozenset({Hazard.OVEN, Hazard.STOVE}),
    ),
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
        heading="Wet floor",
        text="Wipe up water, oil and flour at once. Closed shoes.",
        source="Common practice in kitchens; closed shoes as in the OSHA sheet above.",
        known=Known.FROM_MEMORY,
    ),
    Caution(
        key="flour-dust",
        heading="Flour dust",
        text="It harms lungs: sprinkle low, never throw it, start mixers slow.",
        source="Common practice in bakeries.",
        known=Known.FROM_MEMORY,
        hazards=frozenset({Hazard.FLOUR}),
    ),
)

DEFERRAL = (
    "Your local food authority, local codes and trained first-aiders come first, "
    "and may ask for more than this paper."
)


def cautions_for(hazards: Set[Hazard]) -> tuple[Caution, ...]:
    """The cautions of a class with these hazards, in the order they are printed."""
    return tuple(caution for caution in CAUTIONS if caution.fits(hazards))
