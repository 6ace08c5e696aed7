"""What to buy: pooled needs less stock, in whole packs, and what is left over."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from recipes.baking.formula import Ingredient
from recipes.baking.numbers import ZERO, not_negative, positive, whole
from recipes.baking.scaling import IngredientNeed
from recipes.baking.weighing import Count, Scales, Weighing, count


@dataclass(frozen=True, slots=True)
class Supply:
    """What the kitchen has of an ingredient and how it is sold; money in minor units.

    `pack_g` None: sold loose, bought as exactly as needed. `tap`: never bought.
    Raises NotDecimal, NotWhole or OutOfRange.
    """

    on_hand_g: Decimal = ZERO
    pack_g: Decimal | None = None
    pack_price_minor: int | None = None
    aisle: str = ""
    storage: str = ""
    tap: bool = False

    def __post_init__(self) -> None:
        not_negative("on_hand_g", self.on_hand_g)
        if self.pack_g is not None:
            positive("pack_g", self.pack_g)
        if self.pack_price_minor is not None:
            whole("pack_price_minor", self.pack_price_minor)


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """One ingredient: what is needed, had, bought and left, in grams.

    `weighed` is the need rounded once, from the exact sum over the whole class.
    """

    need: IngredientNeed
    weighed: Weighing
    supply: Supply
    short_g: Decimal
    packs: int
    left_g: Decimal
    cost_minor: int | None
    count: Count | None

    @property
    def ingredient(self) -> Ingredient:
        return self.need.ingredient

    @property
    def needed_g(self) -> Decimal:
        return self.need.exact_g

    @property
    def bought_g(self) -> Decimal:
        """What the packs hold, or the loose mass."""
        return self.packs * self.supply.pack_g if self.supply.pack_g else self.short_g

    @property
    def to_buy(self) -> bool:
        return self.short_g > ZERO

    @property
    def used_minor(self) -> Decimal | None:
        """What the mass that is used costs at the price of a pack, exact; None without a price.

        What lies in stock counts as well: it was bought at some time. Water from the tap is free.
        """
        if self.supply.tap:
            return ZERO
        if self.supply.pack_g is None or self.supply.pack_price_minor is None:
            return None
        return self.needed_g * self.supply.pack_price_minor / self.supply.pack_g


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """Every ingredient of a class, by aisle, and the cash that the packs cost.

    `unpriced` counts the lines that must be bought and have no price.
    """

    lines: tuple[ShoppingLine, ...]
    cash_out_minor: int
    unpriced: int

    @property
    def cost_used_minor(self) -> Decimal:
        """What is used of all that has a price, exact."""
        return sum((line.used_minor or ZERO for line in self.lines), ZERO)

    @property
    def used_unpriced(self) -> tuple[str, ...]:
        """The names of what is used and has no price."""
        return tuple(line.ingredient.name for line in self.lines if line.used_minor is None)


def packs_needed(short_g: Decimal, pack_g: Decimal) -> int:
    """Whole packs that hold at least `short_g`, none where nothing is short.

    Rounded up outright: floor division of decimals truncates toward zero, so the usual
    `-(-short // pack)` would be a pack too few.
    """
    return math.ceil(short_g / positive("pack_g", pack_g)) if short_g > ZERO else 0


def _line(need: IngredientNeed, supply: Supply, scales: Scales) -> ShoppingLine:
    needed = need.exact_g
    short = ZERO if supply.tap else max(ZERO, needed - supply.on_hand_g)
    packs = packs_needed(short, supply.pack_g) if supply.pack_g else 0
    bought = packs * supply.pack_g if supply.pack_g else short
    priced = supply.pack_g is not None and supply.pack_price_minor is not None
    return ShoppingLine(
        need=need,
        weighed=scales.weigh(needed),
        supply=supply,
        short_g=short,
        packs=packs,
        left_g=ZERO if supply.tap else supply.on_hand_g + bought - needed,
        cost_minor=packs * (supply.pack_price_minor or 0) if priced else None,
        count=count(needed, need.ingredient.each_g, need.ingredient.each_name)
        if need.ingredient.each_g
        else None,
    )


def _place(line: ShoppingLine) -> tuple[bool, str, str, str]:
    return line.supply.tap, line.supply.aisle, line.ingredient.name, line.ingredient.key


def shopping_list(
    needs: Iterable[IngredientNeed], supplies: Mapping[str, Supply], scales: Scales
) -> ShoppingList:
    """Compare pooled needs with supplies by ingredient key; lines are sorted by aisle and name.

    The keys of the needs are unique, as `class_amounts` makes them; tap water comes last.
    """
    nothing = Supply()
    lines = [_line(need, supplies.get(need.ingredient.key, nothing), scales) for need in needs]
    lines.sort(key=_place)
    return ShoppingList(
        lines=tuple(lines),
        cash_out_minor=sum(line.cost_minor or 0 for line in lines),
        unpriced=sum(line.to_buy and line.cost_minor is None for line in lines),
    )
