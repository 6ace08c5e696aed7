"""What to buy: pooled needs less stock, in whole packs, and what is left over."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from classes.planning.money import Estimate, Money, rounded, total
from recipes.baking.formula import Ingredient
from recipes.baking.numbers import ZERO, not_negative, positive
from recipes.baking.scaling import IngredientNeed
from recipes.baking.weighing import Count, Scales, Weighing, count


@dataclass(frozen=True, slots=True)
class Supply:
    """What the kitchen has of an ingredient and how it is sold.

    `pack_g` None: sold loose, bought as exactly as needed. `tap`: never bought.
    Raises NotDecimal or OutOfRange, the latter also for a price below zero.
    """

    on_hand_g: Decimal = ZERO
    pack_g: Decimal | None = None
    pack_price: Money | None = None
    aisle: str = ""
    storage: str = ""
    tap: bool = False

    def __post_init__(self) -> None:
        not_negative("on_hand_g", self.on_hand_g)
        if self.pack_g is not None:
            positive("pack_g", self.pack_g)
        if self.pack_price is not None:
            not_negative("pack_price", self.pack_price.amount_minor)


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """One ingredient: what is needed, had, bought and left, in grams.

    `weighed` is the need rounded once, from the exact sum over the whole class. `currency` is that
    of the list; a pack whose price is in another one counts as without a price.
    """

    need: IngredientNeed
    weighed: Weighing
    supply: Supply
    short_g: Decimal
    packs: int
    left_g: Decimal
    currency: str
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
    def price(self) -> Money | None:
        """The price of a pack in the currency of the list; None where it cannot be reckoned."""
        price = self.supply.pack_price if self.supply.pack_g else None
        return price if price is not None and price.currency == self.currency else None

    @property
    def cost(self) -> Money | None:
        """The cash for the packs; None without a price."""
        return None if self.price is None else self.price * self.packs

    @property
    def cost_words(self) -> str:
        """The cash for the packs as a list shows it: `3.60`, or why it cannot be said."""
        if self.cost is not None:
            return self.cost.plain
        foreign = self.supply.pack_price
        return f"{foreign} a pack" if self.supply.pack_g and foreign is not None else "no price"

    @property
    def used_minor(self) -> Decimal | None:
        """What the mass that is used costs at the price of a pack, exact; None without a price.

        What lies in stock counts as well: it was bought at some time. Water from the tap is free.
        """
        if self.supply.tap:
            return ZERO
        if self.price is None or self.supply.pack_g is None:
            return None
        return self.needed_g * self.price.amount_minor / self.supply.pack_g


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """Every ingredient of a class, by aisle, and the cash that the packs cost."""

    lines: tuple[ShoppingLine, ...]
    currency: str

    @property
    def cash_out(self) -> Estimate:
        """The cash for all packs to buy, without what has no price."""
        to_buy = [line for line in self.lines if line.to_buy]
        priced = (line.cost for line in to_buy if line.cost is not None)
        missing = (line.ingredient.name for line in to_buy if line.cost is None)
        return Estimate(total(priced, self.currency), tuple(missing))

    @property
    def cost_used(self) -> Estimate:
        """What is used of all ingredients, rounded once, without what has no price."""
        known = sum((line.used_minor or ZERO for line in self.lines), ZERO)
        missing = (line.ingredient.name for line in self.lines if line.used_minor is None)
        return Estimate(rounded(known, self.currency), tuple(missing))


def packs_needed(short_g: Decimal, pack_g: Decimal) -> int:
    """Whole packs that hold at least `short_g`, none where nothing is short.

    Rounded up outright: floor division of decimals truncates toward zero, so the usual
    `-(-short // pack)` would be a pack too few.
    """
    return math.ceil(short_g / positive("pack_g", pack_g)) if short_g > ZERO else 0


def _line(need: IngredientNeed, supply: Supply, scales: Scales, currency: str) -> ShoppingLine:
    needed = need.exact_g
    short = ZERO if supply.tap else max(ZERO, needed - supply.on_hand_g)
    packs = packs_needed(short, supply.pack_g) if supply.pack_g else 0
    bought = packs * supply.pack_g if supply.pack_g else short
    return ShoppingLine(
        need=need,
        weighed=scales.weigh(needed),
        supply=supply,
        short_g=short,
        packs=packs,
        left_g=ZERO if supply.tap else supply.on_hand_g + bought - needed,
        currency=currency,
        count=count(needed, need.ingredient.each_g, need.ingredient.each_name)
        if need.ingredient.each_g
        else None,
    )


def _place(line: ShoppingLine) -> tuple[bool, str, str, str]:
    return line.supply.tap, line.supply.aisle, line.ingredient.name, line.ingredient.key


def shopping_list(
    needs: Iterable[IngredientNeed],
    supplies: Mapping[str, Supply],
    scales: Scales,
    currency: str,
) -> ShoppingList:
    """Compare pooled needs with supplies by ingredient key; lines are sorted by aisle and name.

    The keys of the needs are unique, as `class_amounts` makes them; tap water comes last.
    """
    unknown = Supply()
    lines = [
        _line(need, supplies.get(need.ingredient.key, unknown), scales, currency) for need in needs
    ]
    return ShoppingList(tuple(sorted(lines, key=_place)), currency)
