"""What a formula's line names, and a starter split into its flour and water.

A starter is flour and water that have fermented. If its water in percent of its flour is known, it
counts as that much flour and that much water everywhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.errors import OutOfRange
from recipes.core.numbers import ONE, ZERO, not_negative, positive


@dataclass(frozen=True, slots=True)
class FormulaIngredient:
    """What the arithmetic needs to know about an ingredient. Shares are grams in one gram of it.

    Where `allergens_known` is False, the two lists are empty because nobody has filled them in. If
    it `dissolves`, an amount too small for a scale can be weighed in a solution. A `starter` is
    counted as its flour and water.
    """

    key: str
    name: str
    is_flour: bool = False
    is_added_liquid: bool = False
    water_share: Decimal = ZERO
    each_g: Decimal | None = None
    each_name: str = ""
    allergens_us: tuple[str, ...] = ()
    allergens_eu: tuple[str, ...] = ()
    may_contain: str = ""
    allergens_known: bool = True
    dissolves: bool = False
    starter: Starter | None = None

    def __post_init__(self) -> None:
        share = not_negative("water_share", self.water_share)
        if share > ONE:
            raise OutOfRange("water_share", share, least=ZERO, most=ONE)
        if self.each_g is not None:
            positive("each_g", self.each_g)

    def as_starter(self, starter: Starter) -> FormulaIngredient:
        """The ingredient as a starter, with its own allergens and those of its flours."""
        flours = [flour for flour, _ in starter.flours]
        each = (self, *flours)
        notes = dict.fromkeys(one.may_contain for one in each if one.may_contain)
        return replace(
            self,
            starter=starter,
            allergens_us=_each_once(key for one in each for key in one.allergens_us),
            allergens_eu=_each_once(key for one in each for key in one.allergens_eu),
            may_contain="; ".join(notes),
            allergens_known=(
                all(flour.allergens_known for flour in flours) if flours else self.allergens_known
            ),
        )


def _each_once(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(words))


WATER = FormulaIngredient("water", "Water", is_added_liquid=True, water_share=ONE)


@dataclass(frozen=True, slots=True)
class Starter:
    """Grams of water to a gram of flour in a starter (None if unknown), and its flours by parts.

    Without flours it counts as a flour about which nothing is known.
    """

    hydration: Decimal | None = None
    flours: tuple[tuple[FormulaIngredient, Decimal], ...] = ()

    def __post_init__(self) -> None:
        if self.hydration is not None:
            positive("hydration", self.hydration)
        for _, parts in self.flours:
            positive("parts", parts)

    @property
    def is_known(self) -> bool:
        """Whether both its water and its flours are known."""
        return self.hydration is not None and bool(self.flours)


@dataclass(frozen=True, slots=True)
class Line:
    """One ingredient's mass, in grams, within a component."""

    ingredient: FormulaIngredient
    mass_g: Decimal
    note: str = ""

    def __post_init__(self) -> None:
        positive("mass_g", self.mass_g)

    @property
    def opened(self) -> tuple[Line, ...]:
        """The line itself, or, for a starter with known water, its flours and its water."""
        starter = self.ingredient.starter
        if starter is None or starter.hydration is None:
            return (self,)
        flours = starter.flours or ((_flour_of(self.ingredient), ONE),)
        whole_g = sum((parts for _, parts in flours), ZERO) * (ONE + starter.hydration)
        water_g = self.mass_g * starter.hydration / (ONE + starter.hydration)
        return (
            *(Line(flour, self.mass_g * parts / whole_g) for flour, parts in flours),
            Line(WATER, water_g),
        )

    @property
    def flour_g(self) -> Decimal:
        """Grams of flour in it, as far as known."""
        return sum((one.mass_g for one in self.opened if one.ingredient.is_flour), ZERO)


def _flour_of(starter: FormulaIngredient) -> FormulaIngredient:
    return FormulaIngredient(
        f"flour-of-{starter.key}",
        f"Flour in {starter.name}",
        is_flour=True,
        allergens_us=starter.allergens_us,
        allergens_eu=starter.allergens_eu,
        may_contain=starter.may_contain,
        allergens_known=starter.allergens_known,
    )


def opened(lines: Iterable[Line]) -> Iterator[Line]:
    """The lines, with each starter as its flours and water."""
    for line in lines:
        yield from line.opened
