"""What an amount of an ingredient weighs, in the measures of its region."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.batch.flour_cups import FlourDensity, flour_density
from recipes.core.errors import BakingError
from recipes.core.exchange.kinds import US_LARGE
from recipes.core.numbers import MOST, ZERO, settled
from recipes.core.reading import read_number
from recipes.core.regions import (
    EGG_SIZE_WORDS,
    HomeRegion,
    egg_size,
    is_guess,
    knows_egg,
    regional,
)
from recipes.core.units import Measures, Unit, convert, to_grams
from recipes.importing import doubts
from recipes.importing.amounts import measure_doubts
from recipes.importing.amounts.measures import summed
from recipes.importing.doubts import Doubt
from recipes.importing.text.numbers import Amount
from recipes.importing.text.words import EACH, NOT_MEASURED, PACKETS
from recipes.importing.values import KnownIngredient

_UNCOUNTED = {"flour", "liquid", "salt", "yeast", "sugar", "fat", "grain"}
_COUNTED_LIKE_STICKS = {"fat"}
_PLACES_ENTERED = 4
_LONGEST_ENTERED = 40
# A drink or cream without a density of its own.
_LIKE_WATER = Decimal(1)
_DIPPED = {"dipped", "scooped"}


@dataclass(frozen=True, slots=True)
class Substance:
    """What is measured: an ingredient, if known, the words beside it, and whose measures."""

    known: KnownIngredient | None
    words: tuple[str, ...] = ()
    region: HomeRegion | None = HomeRegion.US

    @property
    def kind(self) -> str:
        return self.known.kind if self.known else ""

    @property
    def flour(self) -> FlourDensity | None:
        """Its densities as flour, for both ways of filling a cup."""
        if self.known is None or self.kind != "flour" or self.known.density_g_per_ml is None:
            return None
        return flour_density(self.known.key, self.known.density_g_per_ml)

    @property
    def density_g_per_ml(self) -> Decimal | None:
        """As measured here: flour is spooned unless the words say that it is dipped."""
        if flour := self.flour:
            return flour.spooned if _DIPPED.isdisjoint(self.words) else flour.dipped
        return self.known.density_g_per_ml if self.known else None


def local(amount: Amount, region: HomeRegion | None) -> Amount:
    """An amount in its region's units, what is added to it counted in where it is alike."""
    if amount.more:
        parts = (replace(amount, more=()), *amount.more)
        return summed([local(part, region) for part in parts])
    if amount.unit is None:
        return amount
    unit, told = regional(amount.unit, region), amount.doubts
    if is_guess(amount.unit, region):
        holds = convert(Decimal(1), unit, unit.measures)
        told = (*told, measure_doubts.MeasureAssumed(amount.unit.name, holds))
    return replace(amount, unit=unit, doubts=told)


def fitted(amount: Amount, thing: Substance) -> Amount:
    """The amount with the unit its ingredient makes of it: pieces, or no unit at all."""
    if amount.more:
        rest = tuple(fitted(added, thing) for added in amount.more)
        return replace(fitted(replace(amount, more=()), thing), more=rest)
    is_stick = amount.unit is not None and amount.unit.name == "stick"
    if is_stick and thing.known and thing.kind not in _COUNTED_LIKE_STICKS:
        return replace(amount, unit=EACH, word="stick")
    if amount.unit is not None:
        return amount
    if thing.kind in _UNCOUNTED:
        return replace(amount, doubts=(*amount.doubts, doubts.NoUnit()))
    return replace(amount, unit=EACH)


@dataclass(frozen=True, slots=True)
class Weight:
    """Grams of an amount, None if they are not known, and the doubts about them."""

    grams: Decimal | None
    doubts: tuple[Doubt, ...] = ()


def weight(amount: Amount, thing: Substance) -> Weight:
    """What an amount of an ingredient weighs."""
    if amount.more:
        return _total(amount, thing)
    if amount.unit is None or amount.low > MOST:
        return Weight(None)
    if amount.unit.name in NOT_MEASURED:
        return Weight(None, (measure_doubts.NotMeasured(amount.unit.name),))
    each_g: Decimal | None = None
    told: tuple[Doubt, ...] = ()
    if amount.unit.measures is Measures.COUNT:
        each_g, told = _each(amount, thing)
        if each_g is None:
            return Weight(None, told)
    density = thing.density_g_per_ml
    if amount.unit.measures is Measures.VOLUME and density is None:
        if thing.kind != "liquid":
            return Weight(None, (doubts.NoDensityKnown(amount.unit.name),))
        density, told = _LIKE_WATER, (measure_doubts.TakenLikeWater(amount.unit.name),)
    try:
        grams = to_grams(amount.low, amount.unit, density_g_per_ml=density, each_g=each_g)
    except BakingError:
        return Weight(None)
    told = (*told, *_of_measure(amount, amount.unit, thing))
    return Weight(settled(grams) if grams <= MOST else None, told)


def _of_measure(amount: Amount, unit: Unit, thing: Substance) -> Iterator[Doubt]:
    """What is unsure about the measure itself: a cup of flour, ounces of liquid."""
    if unit.measures is Measures.VOLUME and (flour := thing.flour):
        milliliters = amount.low * convert(Decimal(1), unit, Measures.VOLUME)
        yield measure_doubts.FlourByVolume(milliliters * flour.spooned, milliliters * flour.dipped)
    if thing.kind == "liquid" and unit.name == "oz":
        yield doubts.OunceOfLiquid()


def _total(amount: Amount, thing: Substance) -> Weight:
    """What an amount weighs with everything added to it; no grams if one part is unknown."""
    parts = (replace(amount, more=()), *amount.more)
    weights = [weight(part, thing) for part in parts]
    told = (
        *(doubt for part in amount.more for doubt in part.doubts),
        *(doubt for found in weights for doubt in found.doubts),
    )
    masses = [found.grams for found in weights if found.grams is not None]
    return Weight(sum(masses, ZERO) if len(masses) == len(parts) else None, told)


def _each(amount: Amount, thing: Substance) -> tuple[Decimal | None, tuple[Doubt, ...]]:
    """Grams of one piece, by its container, size or the ingredient's usual piece."""
    word, known = amount.word, thing.known
    if known and word in PACKETS and known.packet_g:
        return known.packet_g, (doubts.PacketAssumed(word, known.packet_g),)
    usual = known.each_name.lower().split() if known else []
    if known is None or known.each_g is None or (word and word.rstrip("s") not in usual):
        return None, (doubts.NoPieceMassKnown(word),)
    sizes = [state for state in thing.words if state in EGG_SIZE_WORDS]
    if known.kind == "egg":
        return _egg(known.each_g, sizes[0] if sizes else "", thing.region)
    named = [size for size in sizes if len(size) > 1]
    told = (doubts.SizeAssumed(named[0], known.each_g),) if set(named) - set(usual) else ()
    return known.each_g, told


def _egg(
    large_g: Decimal, word: str, region: HomeRegion | None
) -> tuple[Decimal, tuple[Doubt, ...]]:
    """An egg, white or yolk of the stated size, or of the usual one if none is stated."""
    size = egg_size(word, region)
    each_g = (large_g * size.edible_g / US_LARGE.edible_g).quantize(Decimal("0.1"))
    sure = bool(word) and knows_egg(size, region)
    return each_g, () if sure else (doubts.SizeAssumed(word, each_g),)


def entered(amount: Amount, thing: Substance, grams: Decimal | None) -> str:
    """The amount as a form writes it, `1 1/3 cup`; empty if that gives other grams."""
    known = thing.known
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
    """A number as cooks write it: `2.25`, or a fraction if the decimals never end."""
    if value == round(value, _PLACES_ENTERED):
        return format(value.normalize(), "f")
    for under in (3, 6, 7, 9, 12):
        over = (value * under).quantize(Decimal("1e-6"))
        if over == over.to_integral_value() and abs(over / under - value) < Decimal("1e-9"):
            whole, part = divmod(int(over), under)
            return f"{whole or ''} {part}/{under}".strip() if part else str(whole)
    return format(value.normalize(), "f")


def entered_sum(amounts: Sequence[Amount]) -> str:
    """A sum as it was written, `1 stick + 2 tbsp`; empty if that is too long to store."""
    parts = (f"{_number(a.low)} {a.unit.name if a.unit else ''}".strip() for a in amounts)
    text = " + ".join(parts)
    return text if len(text) <= _LONGEST_ENTERED else ""
