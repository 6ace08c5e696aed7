"""How warm a part made before the dough goes into it, as far as the steps say.

A roux poured in straight from the pan is hot; what stood for long is as warm as the room, or cold
if it stood in a refrigerator. Anything between is not guessed: None is "cannot say". All figures
here are common practice, from memory, except cooking a roux to 65 °C, which several published
recipes name.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from recipes.core.choices import ComponentKind

# As it leaves the pan, some degrees above the 65 °C at which it has thickened.
HOT_ROUX_C = Decimal(70)
# A written temperature means cooking from the first up, and a refrigerator up to the second.
COOKED_FROM_C = Decimal(45)
REFRIGERATED_C = Decimal(12)
# After this long a bowl is about as warm as its surroundings.
COOLED_MIN = 120


@dataclass(frozen=True, slots=True)
class Prepared:
    """A step before the dough is mixed: in a pan on heat or not, and how it waits afterward.

    `temperature_c` is the one written beside the step, and `its_own` whether it is the temperature
    of what was made, not of where it stands.
    """

    in_pan: bool
    waiting_min: int = 0
    temperature_c: Decimal | None = None
    its_own: bool = False

    @property
    def is_cold(self) -> bool:
        """Whether it waits in a refrigerator."""
        known = self.temperature_c is not None and self.temperature_c <= REFRIGERATED_C
        return known and self.waiting_min > 0

    @property
    def has_cooled(self) -> bool:
        return self.waiting_min >= COOLED_MIN


@dataclass(frozen=True, slots=True)
class PartHeat:
    """How warm each part goes in, in °C; those it `cannot_say` are named by their kind."""

    roux_c: Decimal | None = None
    preferment_c: Decimal | None = None
    soaker_c: Decimal | None = None
    cannot_say: tuple[ComponentKind, ...] = ()

    @property
    def roux_is_hot(self) -> bool:
        return self.roux_c is not None and self.roux_c >= COOKED_FROM_C

    def needs_masses(self, room_c: Decimal) -> bool:
        """Whether the bakers' formula would mislead: it ignores a roux and cold soakers."""
        has_roux = self.roux_c is not None or ComponentKind.ROUX in self.cannot_say
        return has_roux or (self.soaker_c is not None and self.soaker_c != room_c)


def part_heat(
    kinds: Sequence[ComponentKind], steps: Sequence[Prepared], room_c: Decimal
) -> PartHeat:
    """How warm the parts of a dough go in, from the steps before it is mixed, in their order."""
    in_pan = [step for step in steps if step.in_pan]
    others = [step for step in steps if not step.in_pan]
    has_roux = ComponentKind.ROUX in kinds
    if has_roux and not in_pan and len(others) == 1 and len(_ripening(kinds)) == 0:
        in_pan, others = others, []
    found: dict[ComponentKind, Decimal | None] = {}
    if has_roux:
        found[ComponentKind.ROUX] = _roux_c(in_pan, room_c)
    for kind in _ripening(kinds):
        found[kind] = _stood_c(others, room_c)
    return PartHeat(
        found.get(ComponentKind.ROUX),
        found.get(ComponentKind.PREFERMENT),
        found.get(ComponentKind.SOAKER),
        tuple(kind for kind, temperature_c in found.items() if temperature_c is None),
    )


def _ripening(kinds: Sequence[ComponentKind]) -> list[ComponentKind]:
    return [kind for kind in (ComponentKind.PREFERMENT, ComponentKind.SOAKER) if kind in kinds]


def _roux_c(cooked: Sequence[Prepared], room_c: Decimal) -> Decimal | None:
    """The roux's temperature, from its last step in the pan."""
    if not cooked:
        return None
    last = cooked[-1]
    if not last.waiting_min:
        known = last.temperature_c is not None and last.temperature_c >= COOKED_FROM_C
        return last.temperature_c if known else HOT_ROUX_C
    if last.its_own and last.temperature_c is not None:
        return last.temperature_c
    if not last.has_cooled:
        return None
    return last.temperature_c if last.is_cold else room_c


def _stood_c(steps: Sequence[Prepared], room_c: Decimal) -> Decimal | None:
    """A preferment or soaker: cold or as warm as the room, if the steps agree."""
    waits = [step for step in steps if step.waiting_min]
    cold = [step for step in waits if step.is_cold]
    scalded = [
        step
        for step in steps
        if step.temperature_c is not None and step.temperature_c >= COOKED_FROM_C
    ]
    if any(not step.has_cooled for step in scalded) or (cold and len(cold) < len(waits)):
        return None
    return cold[-1].temperature_c if cold else room_c
