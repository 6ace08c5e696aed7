"""Which of a line's amounts to take, their sum, and what it weighs.

A mass is preferred to a volume and a volume to a count; among equals, metric units come first.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.errors import BakingError
from recipes.core.numbers import MOST, settled
from recipes.core.reading import read_number
from recipes.core.units import Measures, Unit, convert, to_grams
from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.text.numbers import Amount
from recipes.importing.text.words import EACH, EGG_SIZES_G, METRIC, PACKETS
from recipes.importing.values import KnownIngredient

Groups = list[list[Amount]]

_ORDER = {Measures.MASS: 0, Measures.VOLUME: 1, Measures.COUNT: 2}
_UNCOUNTED = {"flour", "liquid", "salt", "yeast", "sugar", "fat", "grain"}
_COUNTED_LIKE_STICKS = {"fat"}
_PLACES_ENTERED = 4
_FAR_APART = Decimal("1.4")


def rank(amount: Amount) -> tuple[int, int]:
    """Lower is better: mass, volume, count; metric first, sticks last."""
    if amount.unit is None:
        return 3, 0
    system = 0 if amount.unit.name in METRIC else 2 if amount.unit.name == "stick" else 1
    return _ORDER.get(amount.unit.measures, 4), system


def _kind(amount: Amount) -> Measures:
    return amount.unit.measures if amount.unit else Measures.COUNT


def is_compound(first: Amount, second: Amount) -> bool:
    """Whether two amounts side by side are one, such as `1 lb 2 oz`."""
    if first.unit is None or second.unit is None or _kind(first) is not _kind(second):
        return False
    if _kind(first) not in (Measures.MASS, Measures.VOLUME):
        return False
    same_system = (first.unit.name in METRIC) == (second.unit.name in METRIC)
    one, other = (convert(Decimal(1), unit, _kind(first)) for unit in (first.unit, second.unit))
    return same_system and one > other


def is_range(first: Amount, second: Amount) -> bool:
    """Whether a dash between two amounts makes a range of them: `100 g - 120 g`."""
    return first.unit == second.unit and first.high is None and second.low > first.low


def ranged(first: Amount, second: Amount) -> Amount:
    """Two amounts of one unit as a range."""
    doubt = doubts.RangeRead(first.low, second.low)
    return replace(
        first, high=second.low, end=second.end, doubts=(*first.doubts, doubt, *second.doubts)
    )


def chosen(groups: Groups) -> Amount | None:
    """The best amount of the groups, which are summed; the amounts within one are equals."""
    if not groups:
        return None
    if len(groups) == 1:
        return min(groups[0], key=rank)
    for kind in _ORDER:
        picked = [
            min((a for a in group if _kind(a) is kind), key=rank, default=None) for group in groups
        ]
        if all(picked):
            return _summed([amount for amount in picked if amount])
    return min(groups[0], key=rank)


def _summed(amounts: Sequence[Amount]) -> Amount:
    """The sum in the first one's unit; ranges add at both ends."""
    first = amounts[0]
    low = sum((_in_unit(a.low, a.unit, first.unit) for a in amounts), Decimal(0))
    high = None
    if any(a.high is not None for a in amounts):
        ends = (_in_unit(a.high or a.low, a.unit, first.unit) for a in amounts)
        high = sum(ends, Decimal(0))
    told = tuple(doubt for a in amounts for doubt in a.doubts)
    rough = tuple(word for a in amounts for word in a.rough)
    return replace(first, low=low, high=high, end=amounts[-1].end, doubts=told, rough=rough)


def _in_unit(number: Decimal, unit: Unit | None, wanted: Unit | None) -> Decimal:
    if unit == wanted or unit is None or wanted is None:
        return number
    if unit.measures is Measures.COUNT:
        return number * unit.times / wanted.times
    factors = [convert(Decimal(1), side, unit.measures) for side in (unit, wanted)]
    return number * factors[0] / factors[1]


def fitted(amount: Amount, known: KnownIngredient | None) -> Amount:
    """The amount with the unit its ingredient makes of it: pieces, or no unit at all."""
    if (
        amount.unit
        and amount.unit.name == "stick"
        and known
        and (known.kind not in _COUNTED_LIKE_STICKS)
    ):
        return replace(amount, unit=EACH, word="stick")
    if amount.unit is not None:
        return amount
    if known and known.kind in _UNCOUNTED:
        return replace(amount, doubts=(*amount.doubts, doubts.NoUnit()))
    return replace(amount, unit=EACH)


@dataclass(frozen=True, slots=True)
class Weight:
    """Grams of an amount, None where they cannot be told, and the doubts of telling them."""

    grams: Decimal | None
    doubts: tuple[Doubt, ...] = ()


def weight(amount: Amount, known: KnownIngredient | None, states: Iterable[str]) -> Weight:
    """What an amount of an ingredient weighs; `states` may name an egg's size."""
    if amount.unit is None or amount.low > MOST:
        return Weight(None)
    each_g: Decimal | None = None
    told: tuple[Doubt, ...] = ()
    if amount.unit.measures is Measures.COUNT:
        each_g, told = _each(amount, known, states)
        if each_g is None:
            return Weight(None, told)
    density = known.density_g_per_ml if known else None
    if amount.unit.measures is Measures.VOLUME and density is None:
        return Weight(None, (doubts.NoDensityKnown(amount.unit.name),))
    try:
        grams = to_grams(amount.low, amount.unit, density_g_per_ml=density, each_g=each_g)
    except BakingError:
        return Weight(None)
    if known and known.kind == "liquid" and amount.unit.name == "oz":
        told = (*told, doubts.OunceOfLiquid())
    return Weight(settled(grams) if grams <= MOST else None, told)


def _each(
    amount: Amount, known: KnownIngredient | None, states: Iterable[str]
) -> tuple[Decimal | None, tuple[Doubt, ...]]:
    """Grams of one piece, by its container, size or the ingredient's usual piece."""
    word = amount.word
    if known and word in PACKETS and known.packet_g:
        return known.packet_g, (doubts.PacketAssumed(word, known.packet_g),)
    usual = known.each_name.lower().split() if known else []
    if known is None or known.each_g is None or (word and word.rstrip("s") not in usual):
        return None, (doubts.NoPieceMassKnown(word),)
    if known.kind == "egg":
        return _egg(known.each_g, states)
    sizes = [state for state in states if state in EGG_SIZES_G and len(state) > 1]
    told = (doubts.SizeAssumed(sizes[0], known.each_g),) if set(sizes) - set(usual) else ()
    return known.each_g, told


def _egg(large_g: Decimal, states: Iterable[str]) -> tuple[Decimal, tuple[Doubt, ...]]:
    """An egg, white or yolk of a stated size; large ones where none is stated."""
    sizes = [state for state in states if state in EGG_SIZES_G]
    if not sizes:
        return large_g, (doubts.SizeAssumed("", large_g),)
    each_g = (large_g * EGG_SIZES_G[sizes[0]] / EGG_SIZES_G["large"]).quantize(Decimal("0.1"))
    return each_g, () if sizes[0] == "large" else (doubts.SizeAssumed(sizes[0], each_g),)


def entered(amount: Amount, known: KnownIngredient | None, grams: Decimal | None) -> str:
    """The amount as a form writes it, `1 1/3 cup`; empty where that gives other grams."""
    if known is None or amount.unit is None or amount.unit.name == "g" or grams is None:
        return ""
    number = _number(amount.low)
    try:
        again = to_grams(
            read_number(number),
            amount.unit,
            density_g_per_ml=known.density_g_per_ml,
            each_g=known.each_g,
        )
    except BakingError:
        return ""
    return f"{number} {amount.unit.name}" if settled(again) == grams else ""


def _number(value: Decimal) -> str:
    """A number as cooks write it: `2.25`, or a fraction where the decimals never end."""
    if value == round(value, _PLACES_ENTERED):
        return format(value.normalize(), "f")
    for under in (3, 6, 7, 9, 12):
        over = (value * under).quantize(Decimal("1e-6"))
        if over == over.to_integral_value() and abs(over / under - value) < Decimal("1e-9"):
            whole, part = divmod(int(over), under)
            return f"{whole or ''} {part}/{under}".strip() if part else str(whole)
    return format(value.normalize(), "f")


def far_apart(taken_g: Decimal, other_g: Decimal) -> bool:
    """Whether two masses of one line differ by more than cups and hands explain."""
    return other_g > 0 < taken_g and not 1 / _FAR_APART < taken_g / other_g < _FAR_APART
