"""What to buy: pooled needs less stock, in whole packs, and what is left over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from math import ceil

from classes.core.money import Estimate, Money, rounded, total
from classes.core.wholes import Opened, Whole, opened_for
from recipes.core.formula import FormulaIngredient, Line
from recipes.core.numbers import ZERO, not_negative, positive
from recipes.core.scaling import IngredientNeed, pool
from recipes.core.weighing import Count, Scales, Weighing, count

TENTH = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class Supply:
    """What the kitchen has of an ingredient and how it is sold.

    `pack_g` None: sold loose, bought in the exact amount. `tap`: never bought. `part_of`: without a
    pack of its own it is taken from that whole. Raises NotDecimal or OutOfRange, the latter also
    for a price below zero.
    """

    on_hand_g: Decimal = ZERO
    pack_g: Decimal | None = None
    pack_price: Money | None = None
    aisle: str = ""
    storage: str = ""
    tap: bool = False
    part_of: Whole | None = None

    def __post_init__(self) -> None:
        not_negative("on_hand_g", self.on_hand_g)
        if self.pack_g is not None:
            positive("pack_g", self.pack_g)
        if self.pack_price is not None:
            not_negative("pack_price", self.pack_price.amount_minor)


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """One ingredient: what is needed, in stock, bought and left, in grams.

    `weighed` is the need rounded once, from the exact sum over the whole class. `currency` is that
    of the list; a pack with a price in another one counts as having no price. `opened` are extra
    pieces needed for their parts; a part `comes_of` such pieces and is not bought itself.
    """

    need: IngredientNeed
    weighed: Weighing
    supply: Supply
    short_g: Decimal
    packs: int
    left_g: Decimal
    currency: str
    count: Count | None

    opened: Opened | None = None
    comes_of: Opened | None = None

    @property
    def ingredient(self) -> FormulaIngredient:
        return self.need.ingredient

    @property
    def needed_g(self) -> Decimal:
        """Everything needed, including what is opened for its parts."""
        return self.need.exact_g + self.opened_g

    @property
    def opened_g(self) -> Decimal:
        return self.opened.mass_g if self.opened else ZERO

    @property
    def to_buy(self) -> bool:
        return self.short_g > ZERO

    @property
    def buy_words(self) -> str:
        """What to buy: `2 × 1500 g`, `12 g, loose` or `nothing`."""
        if self.comes_of:
            return f"as {self.comes_of.whole.ingredient.name.lower()}"
        if not self.to_buy:
            return "nothing"
        pack_g = self.supply.pack_g
        return (
            f"{self.packs} × {pack_g.normalize():f} g" if pack_g else f"{self.loose_g:f} g, loose"
        )

    @property
    def loose_g(self) -> Decimal:
        """What is bought loose, to the tenth of a gram and at least a tenth."""
        return max(TENTH, self.short_g.quantize(TENTH, ROUND_HALF_UP)).normalize()

    @property
    def notes(self) -> tuple[str, ...]:
        """What else to know: pieces to open for their parts, and what is left of them."""
        if not self.opened or not self.count:
            return ()
        beaten = self.count.take - self.opened.pieces
        first = f"{self.count.take} × {self.count.of}"
        return (
            f"{first}, {beaten} of them to beat and weigh" if beaten else first,
            *self.opened.words,
        )

    @property
    def price(self) -> Money | None:
        """The price of a pack in the currency of the list; None if it cannot be worked out."""
        price = self.supply.pack_price if self.supply.pack_g else None
        return price if price is not None and price.currency == self.currency else None

    @property
    def cost(self) -> Money | None:
        """The cash for the packs; None without a price."""
        return None if self.price is None else self.price * self.packs

    @property
    def cost_words(self) -> str:
        """The cash for the packs as a list shows it: `3.60`, or why it is not known."""
        if self.cost is not None:
            return self.cost.plain
        foreign = self.supply.pack_price
        return f"{foreign} a pack" if self.supply.pack_g and foreign is not None else "no price"

    @property
    def used_minor(self) -> Decimal | None:
        """What the mass that is used costs at the price of a pack, exact; None without a price.

        Stock counts as well: it was bought at some time. Water from the tap is free, and a part is
        paid for with the whole that it comes from.
        """
        if self.supply.tap or self.comes_of:
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
    """Whole packs that hold at least `short_g`; none if nothing is short.

    Rounded up outright: floor division of decimals truncates toward zero, so the usual
    `-(-short // pack)` would be a pack too few.
    """
    return ceil(short_g / positive("pack_g", pack_g)) if short_g > ZERO else 0


def _line(need: IngredientNeed, supply: Supply, scales: Scales, currency: str) -> ShoppingLine:
    line = ShoppingLine(
        need=need,
        weighed=scales.weigh(need.exact_g),
        supply=supply,
        short_g=ZERO,
        packs=0,
        left_g=ZERO,
        currency=currency,
        count=count(need.exact_g, need.ingredient.each_g, need.ingredient.each_name)
        if need.ingredient.each_g
        else None,
    )
    return line if supply.tap else _bought(line)


def _bought(line: ShoppingLine) -> ShoppingLine:
    """The line with what is short, and the packs for that."""
    needed, supply = line.needed_g, line.supply
    short = max(ZERO, needed - supply.on_hand_g)
    packs = packs_needed(short, supply.pack_g) if supply.pack_g else 0
    bought = packs * supply.pack_g if supply.pack_g else short
    left = supply.on_hand_g + bought - needed
    return replace(line, short_g=short, packs=packs, left_g=left)


def _with_opened(line: ShoppingLine, opened: Opened, scales: Scales) -> ShoppingLine:
    """The line of a whole, with the pieces that are opened for their parts."""
    more = replace(line, opened=opened)
    pieces = count(line.need.exact_g, opened.whole.each_g, line.ingredient.each_name)
    take = replace(
        pieces, take=pieces.take + opened.pieces, exact=pieces.exact + Decimal(opened.pieces)
    )
    return _bought(replace(more, weighed=scales.weigh(more.needed_g), count=take))


def _out_of(line: ShoppingLine, opened: Opened) -> ShoppingLine:
    """The line of a part that comes out of opened pieces."""
    left = line.supply.on_hand_g + opened.left_of(line.ingredient.key)
    left -= min(line.supply.on_hand_g, line.needed_g)
    return replace(line, short_g=ZERO, packs=0, left_g=left, comes_of=opened)


def _place(line: ShoppingLine) -> tuple[bool, str, str, str]:
    return line.supply.tap, line.supply.aisle, line.ingredient.name, line.ingredient.key


def shopping_list(
    needs: Iterable[IngredientNeed],
    supplies: Mapping[str, Supply],
    scales: Scales,
    currency: str,
) -> ShoppingList:
    """Compare needs with supplies by ingredient key; lines are sorted by aisle and name.

    A starter is fed: what is neither in stock nor sold in packs is bought as its flour and water,
    unless those are unknown. Tap water comes last.
    """
    unknown = Supply()
    needs = pool(fed for need in needs for fed in _fed(need, supplies))
    lines = {
        need.ingredient.key: _line(
            need, supplies.get(need.ingredient.key, unknown), scales, currency
        )
        for need in needs
    }
    for key, opened in _opened(lines.values()).items():
        whole = opened.whole.ingredient
        none_yet = IngredientNeed(whole, ZERO, ZERO, ZERO, ZERO)
        line = lines.get(key) or _line(none_yet, supplies.get(key, unknown), scales, currency)
        lines[key] = _with_opened(line, opened, scales)
        for taken in opened.taken:
            if taken.needed_g:
                lines[taken.part.key] = _out_of(lines[taken.part.key], opened)
    return ShoppingList(tuple(sorted(lines.values(), key=_place)), currency)


def _fed(need: IngredientNeed, supplies: Mapping[str, Supply]) -> Iterator[IngredientNeed]:
    """The need; for a starter, as much as is in stock, and then what the rest is fed with."""
    ingredient, exact_g = need.ingredient, need.exact_g
    supply = supplies.get(ingredient.key, Supply())
    fed_g = max(ZERO, exact_g - supply.on_hand_g)
    is_fed = ingredient.starter is not None and ingredient.starter.is_known and not supply.pack_g
    if not is_fed or not fed_g:
        yield need
        return
    if fed_g < exact_g:
        yield need.times((exact_g - fed_g) / exact_g)
    for line in Line(ingredient, fed_g).opened:
        yield need.times(line.mass_g / exact_g, line.ingredient)


def _opened(lines: Iterable[ShoppingLine]) -> dict[str, Opened]:
    """The wholes to open for parts that are short and have no pack of their own."""
    parts = [
        (line, line.supply.part_of)
        for line in lines
        if line.supply.part_of and not line.supply.pack_g
    ]
    wholes = {whole.ingredient.key: whole for _, whole in parts}
    short_g = {line.ingredient.key: line.short_g for line, _ in parts}
    return opened_for(short_g, wholes.values())
