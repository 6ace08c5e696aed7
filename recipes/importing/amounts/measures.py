"""Which of a line's amounts to take, and their sum.

A mass is preferred to a volume and a volume to a count; among equals, metric units come first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from recipes.core.units import Measures, Unit, convert
from recipes.importing import doubts
from recipes.importing.text.numbers import Amount
from recipes.importing.text.words import METRIC

Groups = list[list[Amount]]

_ORDER = {Measures.MASS: 0, Measures.VOLUME: 1, Measures.COUNT: 2}


def rank(amount: Amount) -> tuple[int, int]:
    """Lower is better: mass, volume, count; metric first, sticks last."""
    if amount.unit is None:
        return 3, 0
    system = 0 if amount.unit.name in METRIC else 2 if amount.unit.name == "stick" else 1
    return _ORDER.get(amount.unit.measures, 4), system


def kind_of(amount: Amount) -> Measures:
    return amount.unit.measures if amount.unit else Measures.COUNT


def together(first: Amount, second: Amount) -> Amount:
    """Two amounts as one, such as `1 lb 5 oz`: what the second adds is kept beside the first."""
    return replace(first, end=second.end, more=(*first.more, second))


def is_compound(first: Amount, second: Amount) -> bool:
    """Whether two amounts side by side are one, such as `1 lb 2 oz`, but not `1 kg 1000 g`."""
    first = first.more[-1] if first.more else first
    if first.unit is None or second.unit is None or kind_of(first) is not kind_of(second):
        return False
    if kind_of(first) not in (Measures.MASS, Measures.VOLUME):
        return False
    same_system = (first.unit.name in METRIC) == (second.unit.name in METRIC)
    one, other = (convert(Decimal(1), unit, kind_of(first)) for unit in (first.unit, second.unit))
    return same_system and one > other * max(second.low, Decimal(1))


def is_range(first: Amount, second: Amount) -> bool:
    """Whether a dash between two amounts makes a range of them: `100 g - 120 g`."""
    return first.unit == second.unit and first.high is None and second.low > first.low


def ranged(first: Amount, second: Amount) -> Amount:
    """Two amounts of one unit as a range."""
    doubt = doubts.RangeRead(first.low, second.low)
    return replace(
        first, high=second.low, end=second.end, doubts=(*first.doubts, doubt, *second.doubts)
    )


def summed(amounts: Sequence[Amount]) -> Amount:
    """The sum: in the first one's unit if all measure the same, else the rest as `more`."""
    first, *rest = amounts
    if not all(kind_of(a) is kind_of(first) and not a.more for a in amounts):
        return replace(first, more=(*first.more, *rest))
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


def best_of(equals: Sequence[Amount]) -> Amount:
    """The best of several ways to say one amount."""
    return min(equals, key=rank)


def chosen(groups: Groups) -> Amount | None:
    """The best amount of the groups, which are summed; the amounts within one are equals."""
    if not groups:
        return None
    for kind in _ORDER:
        alike = [[a for a in group if kind_of(a) is kind] for group in groups]
        if all(alike):
            return summed([best_of(ones) for ones in alike])
        if any(alike):
            break
    return summed([best_of(group) for group in groups])
