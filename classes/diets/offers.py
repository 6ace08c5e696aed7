"""Variants that a class could bake instead: what each brings in, buys, leaves over and reprints.

Everything is worked out from the class with the variant in place, on a copy that is never saved.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from classes.amounts.changes import BUY, lines_of
from classes.core.diets.findings import Finding, Occurrence
from classes.core.money import Estimate
from classes.models import ClassSession, TaughtRecipe
from classes.selectors import ClassNumbers, class_numbers
from recipes.core.numbers import ZERO
from recipes.models import Variant

Find = Callable[[ClassSession], tuple[Finding, ...]]


@dataclass(frozen=True, slots=True)
class Bought:
    """An ingredient whose need changes: grams before and after, and what is bought for it."""

    name: str
    before_g: Decimal
    after_g: Decimal
    buy_before: str
    buy_after: str

    @property
    def word(self) -> str:
        return "more" if self.after_g > self.before_g else "less"


@dataclass(frozen=True, slots=True)
class Concern:
    """A person and a place where something that concerns them comes in."""

    name: str
    place: Occurrence


@dataclass(frozen=True, slots=True)
class Offer:
    """A variant for the whole class.

    `goes` are concerns it takes away, `stays` those that remain, `comes` those that it brings.
    `labels` names the tubs whose labels are no longer right; `bakers` counts everybody who would
    bake it, demonstrations included.
    """

    variant: Variant
    bakers: int
    goes: tuple[Concern, ...]
    stays: tuple[Concern, ...]
    comes: tuple[Concern, ...]
    bought: tuple[Bought, ...]
    cash_before: Estimate
    cash_after: Estimate
    labels: tuple[str, ...]


def offers_for(numbers: ClassNumbers, found: tuple[Finding, ...], find: Find) -> tuple[Offer, ...]:
    """The variants of what a class teaches that take a concern away, as if all baked them.

    `find` searches a class for what concerns its people. Those who bake another variant of the
    recipe keep it.
    """
    trial = ClassSession.objects.with_plan().get(pk=numbers.session.pk)
    rows = list(trial.taught.all())
    variants = Variant.objects.filter(revision__in=[row.revision_id for row in rows])
    offers = [
        _offer(trial, row, variant, numbers, found, find)
        for variant in variants.prefetch_related("swaps__replaced", "swaps__by")
        for row in rows
        if variant.revision_id == row.revision_id and variant.pk != row.variant_id
    ]
    return tuple(offer for offer in offers if offer.goes)


def _offer(
    trial: ClassSession,
    row: TaughtRecipe,
    variant: Variant,
    numbers: ClassNumbers,
    found: tuple[Finding, ...],
    find: Find,
) -> Offer:
    usual, row.variant = row.variant, variant
    try:
        then, left = class_numbers(trial), find(trial)
    finally:
        row.variant = usual
    before, after = _concerns(found), _concerns(left)
    return Offer(
        variant=variant,
        bakers=_bakers(then, row, variant),
        goes=tuple(one for key, one in before.items() if key not in after),
        stays=tuple(one for key, one in after.items() if key in before),
        comes=tuple(one for key, one in after.items() if key not in before),
        bought=tuple(_bought(numbers, then)),
        cash_before=numbers.shopping.cash_out,
        cash_after=then.shopping.cash_out,
        labels=_labels(numbers, then),
    )


def _concerns(found: tuple[Finding, ...]) -> dict[tuple[str, ...], Concern]:
    """Concerns by what makes them the same with and without a variant: not by whose bread it is."""
    return {
        (
            finding.eater.key,
            place.component,
            place.ingredient_key,
            place.because,
            place.traces,
        ): Concern(finding.eater.name, place)
        for finding in found
        for place in finding.places
        if not place.is_unknown
    }


def _bought(numbers: ClassNumbers, then: ClassNumbers) -> Iterator[Bought]:
    before = {line.ingredient.key: line for line in numbers.shopping.lines}
    after = {line.ingredient.key: line for line in then.shopping.lines}
    names = {key: line.ingredient.name for key, line in {**after, **before}.items()}
    for key in {**before, **after}:
        old, new = before.get(key), after.get(key)
        before_g, after_g = (line.weighed.grams if line else ZERO for line in (old, new))
        if before_g != after_g:
            buy_before, buy_after = (line.buy_words if line else "nothing" for line in (old, new))
            yield Bought(names[key], before_g, after_g, buy_before, buy_after)


def _labels(numbers: ClassNumbers, then: ClassNumbers) -> tuple[str, ...]:
    """The tubs in which something else is weighed, or other grams of it."""
    before, after = lines_of(numbers), lines_of(then)
    changed = [
        line.place
        for key, line in {**before, **after}.items()
        if line.where != BUY and before.get(key) != after.get(key)
    ]
    return tuple(dict.fromkeys(changed))


def _bakers(then: ClassNumbers, row: TaughtRecipe, variant: Variant) -> int:
    key = f"{row.pk}-{variant.pk}"
    return sum(
        len(recipe.amounts.persons) + len(recipe.amounts.shown)
        for recipe in then.amounts.recipes
        if recipe.taught.key == key
    )
