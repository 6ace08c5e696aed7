"""What an amount of an ingredient weighs, and whether two ways to say it agree.

Where a line gives an amount twice, the two may differ by 6 %, or by what rounding to a quarter
of an ounce explains; cups and spoons of what packs, and pieces, by more (from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.errors import BakingError
from recipes.core.numbers import MOST, ZERO, settled
from recipes.core.reading import read_number
from recipes.core.units import Measures, convert, to_grams
from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.text.measures import Groups, best_of, chosen, kind_of, rank
from recipes.importing.text.numbers import Amount
from recipes.importing.text.words import EACH, EGG_SIZES_G, NOT_MEASURED, PACKETS
from recipes.importing.values import KnownIngredient

_UNCOUNTED = {"flour", "liquid", "salt", "yeast", "sugar", "fat", "grain"}
_COUNTED_LIKE_STICKS = {"fat"}
_SPOONS = {"tsp", "tbsp"}
_POURED = {"liquid", "fat"}
_PLACES_ENTERED = 4
_LONGEST_ENTERED = 40
_APART, _SPOONS_APART, _PIECES_APART = Decimal("0.06"), Decimal("0.2"), Decimal("0.4")
_EIGHTH_OUNCE_G = Decimal("28.349523125") / 8
_MOST_BY_ROUNDING = Decimal("0.15")


def fitted(amount: Amount, known: KnownIngredient | None) -> Amount:
    """The amount with the unit its ingredient makes of it: pieces, or no unit at all."""
    if amount.more:
        rest = tuple(fitted(one, known) for one in amount.more)
        return replace(fitted(replace(amount, more=()), known), more=rest)
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
    if amount.more:
        return _total(amount, known, list(states))
    if amount.unit is None or amount.low > MOST:
        return Weight(None)
    if amount.unit.name in NOT_MEASURED:
        return Weight(None, (doubts.NotMeasured(amount.unit.name),))
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


def _total(amount: Amount, known: KnownIngredient | None, states: list[str]) -> Weight:
    """What an amount weighs with all that is added to it; nothing where one part is unknown."""
    parts = (replace(amount, more=()), *amount.more)
    weights = [weight(part, known, states) for part in parts]
    told = (
        *(doubt for part in amount.more for doubt in part.doubts),
        *(doubt for found in weights for doubt in found.doubts),
    )
    masses = [found.grams for found in weights if found.grams is not None]
    return Weight(sum(masses, ZERO) if len(masses) == len(parts) else None, told)


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


def entered_sum(amounts: Sequence[Amount]) -> str:
    """A sum as it was written, `1 stick + 2 tbsp`; empty where that is too long to keep."""
    parts = (f"{_number(a.low)} {a.unit.name if a.unit else ''}".strip() for a in amounts)
    text = " + ".join(parts)
    return text if len(text) <= _LONGEST_ENTERED else ""


@dataclass(frozen=True, slots=True)
class Settled:
    """The amount that a line comes to; `summed` are the amounts it is the sum of, if any."""

    amount: Amount
    known: KnownIngredient | None
    summed: tuple[Amount, ...] = ()
    doubts: tuple[Doubt, ...] = ()


def settle(
    groups: Groups, whole: Sequence[Amount], known: KnownIngredient | None, states: Sequence[str]
) -> Settled | None:
    """The amount to take of groups that are summed; `whole` says their sum again.

    A bracket behind a sum may also say its last amount again: the nearer of the two counts.
    """
    if not groups:
        return None
    known = _with_own_density(groups, known) if len(groups) > 1 else known

    def apart(taken: Amount, other: Amount) -> tuple[Doubt, ...]:
        return disagreement(fitted(taken, known), fitted(other, known), known, states)

    taken = chosen(groups)
    if whole and taken:
        again, last = best_of(whole), best_of(groups[-1])
        if apart(again, taken) and last.unit and not apart(again, last):
            return settle([*groups[:-1], [*groups[-1], *whole]], (), known, states)
        told = apart(again, taken)
        if told or rank(again) < rank(taken):
            return Settled(again, known, doubts=told)
    summed = tuple(map(best_of, groups)) if len(groups) > 1 else ()
    pairs = ((best_of(group), other) for group in groups for other in group)
    told = tuple(doubt for pair in pairs for doubt in apart(*pair))[:1]
    return Settled(taken, known, summed, told) if taken else None


def _with_own_density(groups: Groups, known: KnownIngredient | None) -> KnownIngredient | None:
    """The ingredient as dense as the line itself says: of `3 cups (360 g)`, 120 g a cup."""
    for group in groups:
        by_kind = {kind_of(amount): amount for amount in group if not amount.more}
        mass, volume = by_kind.get(Measures.MASS), by_kind.get(Measures.VOLUME)
        if mass and volume and mass.unit and volume.unit and mass.low > 0 < volume.low:
            density = convert(mass.low, mass.unit, Measures.MASS) / convert(
                volume.low, volume.unit, Measures.VOLUME
            )
            return replace(known or KnownIngredient("", ""), density_g_per_ml=density)
    return known


def disagreement(
    taken: Amount, other: Amount, known: KnownIngredient | None, states: Sequence[str]
) -> tuple[Doubt, ...]:
    """A doubt where two ways to say an amount are too far apart, in grams."""
    masses = [_extent(amount, known, states) for amount in (taken, other)]
    if not all(masses):
        return ()
    (low, high), (other_low, other_high) = masses[0], masses[1]
    gap = max(low, other_low) - min(high, other_high)
    same = kind_of(taken) is kind_of(other)
    by_rounding = same and gap <= min(_EIGHTH_OUNCE_G, low * _MOST_BY_ROUNDING)
    if gap <= low * _allowed(taken, other, known) or by_rounding:
        return ()
    return (doubts.AmountsDisagree(low, other_low),)


def _extent(
    amount: Amount, known: KnownIngredient | None, states: Sequence[str]
) -> tuple[Decimal, ...]:
    """Grams of both ends of an amount; nothing where they are not known."""
    ends = (amount.low, amount.high or amount.low)
    grams = [weight(replace(amount, low=end), known, states).grams for end in ends]
    return tuple(found for found in grams if found) if all(grams) else ()


def _allowed(taken: Amount, other: Amount, known: KnownIngredient | None) -> Decimal:
    kinds = {kind_of(taken), kind_of(other)}
    if Measures.COUNT in kinds and len(kinds) > 1:
        return _PIECES_APART
    spooned = any(amount.unit and amount.unit.name in _SPOONS for amount in (taken, other))
    packs = known is not None and known.kind not in _POURED
    return _SPOONS_APART if len(kinds) > 1 and spooned and packs else _APART
