"""Which of a line's amounts is taken, and whether two ways to give it agree.

If a line gives an amount twice, the two may differ by 6 %; spoons of what packs, and pieces, by
more (from memory). Volumes are the region's, unless only another region's agree with the rest.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.regions import HomeRegion
from recipes.core.units import Measures, convert
from recipes.importing import doubts
from recipes.importing.amounts.measures import Groups, best_of, chosen, kind_of, rank
from recipes.importing.amounts.weights import Substance, fitted, local, weight
from recipes.importing.doubts import Doubt
from recipes.importing.text.numbers import Amount
from recipes.importing.values import KnownIngredient

_APART, _SPOONS_APART, _PIECES_APART = Decimal("0.06"), Decimal("0.2"), Decimal("0.4")
_SPOONS = ("tsp", "tbsp")
_POURED = {"liquid", "fat"}


@dataclass(frozen=True, slots=True)
class Settled:
    """A line's final amount and what it is of; `summed` are the amounts it is the sum of."""

    amount: Amount
    thing: Substance
    summed: tuple[Amount, ...] = ()
    doubts: tuple[Doubt, ...] = ()


def settle(groups: Groups, whole: Sequence[Amount], thing: Substance) -> Settled | None:
    """The amount to take of groups that are summed; `whole` says their sum again.

    A bracket behind a sum may also say its last amount again: the nearer of the two counts.
    """
    if not groups:
        return None
    ours = [[local(amount, thing.region) for amount in group] for group in groups]
    thing = _with_own_density(ours, thing) if len(ours) > 1 else thing
    taken = chosen(ours)
    if whole and taken:
        again, last = local(best_of(whole), thing.region), best_of(ours[-1])
        told = disagreement(again, taken, thing)
        if told and last.unit and not disagreement(again, last, thing):
            return settle([*groups[:-1], [*groups[-1], *whole]], (), thing)
        if told or rank(again) < rank(taken):
            return Settled(again, thing, doubts=told)
    parts = tuple(map(best_of, ours)) if len(ours) > 1 else ()
    pairs = ((best_of(group), n, m) for n, group in enumerate(ours) for m in range(len(group)))
    told = tuple(doubt for best, n, m in pairs for doubt in _apart(best, groups[n][m], thing))[:1]
    return Settled(taken, thing, parts, told) if taken else None


def _apart(taken: Amount, written: Amount, thing: Substance) -> tuple[Doubt, ...]:
    """A doubt if two amounts side by side agree by no region's measures."""
    told = disagreement(taken, local(written, thing.region), thing)
    for region in HomeRegion if told else ():
        if not disagreement(taken, local(written, region), thing):
            return ()
    return told


def _with_own_density(groups: Groups, thing: Substance) -> Substance:
    """What is as dense as the line itself says: of `3 cups (360 g)`, 120 g a cup."""
    for group in groups:
        by_kind = {kind_of(amount): amount for amount in group if not amount.more}
        mass, volume = by_kind.get(Measures.MASS), by_kind.get(Measures.VOLUME)
        if mass and volume and mass.unit and volume.unit and mass.low > 0 < volume.low:
            density = convert(mass.low, mass.unit, Measures.MASS) / convert(
                volume.low, volume.unit, Measures.VOLUME
            )
            known = thing.known or KnownIngredient("", "")
            return replace(thing, known=replace(known, key="", density_g_per_ml=density))
    return thing


def disagreement(taken: Amount, other: Amount, thing: Substance) -> tuple[Doubt, ...]:
    """A doubt if two ways to give an amount are too far apart, in grams."""
    masses = [_extent(fitted(amount, thing), thing) for amount in (taken, other)]
    if not all(masses):
        return ()
    (low, high), (other_low, other_high) = masses
    gap = max(low, other_low) - min(high, other_high)
    if gap <= low * _allowed(taken, other, thing):
        return ()
    return (doubts.AmountsDisagree(low, other_low),)


def _extent(amount: Amount, thing: Substance) -> tuple[Decimal, ...]:
    """Least and most grams of an amount; empty if they are not known."""
    ends = (amount.low, amount.high or amount.low)
    low, high = (weight(replace(amount, low=end), thing).grams for end in ends)
    if not low or not high:
        return ()
    if kind_of(amount) is Measures.VOLUME and not amount.more and (flour := thing.flour):
        density = thing.density_g_per_ml or flour.spooned
        return low * flour.spooned / density, high * flour.dipped / density
    return low, high


def _allowed(taken: Amount, other: Amount, thing: Substance) -> Decimal:
    kinds = {kind_of(taken), kind_of(other)}
    if Measures.COUNT in kinds and len(kinds) > 1:
        return _PIECES_APART
    spooned = any(amount.unit and amount.unit.name.endswith(_SPOONS) for amount in (taken, other))
    packs = thing.known is not None and thing.kind not in _POURED
    return _SPOONS_APART if len(kinds) > 1 and spooned and packs else _APART
