"""Variants that a class could bake instead: the allergens, shopping and labels each changes.

Everything is worked out from the class with the variant in place; nothing is saved.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from classes.amounts.changes import BUY, lines_of
from classes.core.diets.findings import Finding, Occurrence
from classes.core.money import Estimate
from classes.models import ClassSession, TaughtRecipe
from classes.plan import ClassPlan
from classes.selectors import class_plan
from recipes.core.numbers import ZERO
from recipes.models import Variant


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


def offers_for(session: ClassSession, plan: ClassPlan) -> tuple[Offer, ...]:
    """The variants that remove a concern, for what a class fetched `with_plan` teaches.

    Each as if everybody baked it, except those who already bake another variant.
    """
    rows = list(session.taught.all())
    variants = Variant.objects.filter(revision__in=[row.revision_id for row in rows])
    swaps = variants.prefetch_related("swaps__replaced", "swaps__by__part_of__parts")
    offers = [
        _offer(plan, class_plan(session, instead={row.pk: variant}), row, variant)
        for variant in swaps
        for row in rows
        if variant.revision_id == row.revision_id and variant.pk != row.variant_id
    ]
    return tuple(offer for offer in offers if offer.goes)


def _offer(plan: ClassPlan, then: ClassPlan, row: TaughtRecipe, variant: Variant) -> Offer:
    before, after = _concerns(plan.findings), _concerns(then.findings)
    return Offer(
        variant=variant,
        bakers=_bakers(then, row, variant),
        goes=tuple(allergen for key, allergen in before.items() if key not in after),
        stays=tuple(allergen for key, allergen in after.items() if key in before),
        comes=tuple(allergen for key, allergen in after.items() if key not in before),
        bought=tuple(_bought(plan, then)),
        cash_before=plan.shopping.cash_out,
        cash_after=then.shopping.cash_out,
        labels=_labels(plan, then),
    )


def _concerns(found: tuple[Finding, ...]) -> dict[tuple[str, ...], Concern]:
    """Concerns by what identifies them with and without a variant: not by whose bread it is."""
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


def _bought(plan: ClassPlan, then: ClassPlan) -> Iterator[Bought]:
    before = {line.ingredient.key: line for line in plan.shopping.lines}
    after = {line.ingredient.key: line for line in then.shopping.lines}
    names = {key: line.ingredient.name for key, line in {**after, **before}.items()}
    for key in {**before, **after}:
        old, new = before.get(key), after.get(key)
        before_g, after_g = (line.weighed.grams if line else ZERO for line in (old, new))
        if before_g != after_g:
            buy_before, buy_after = (line.buy_words if line else "nothing" for line in (old, new))
            yield Bought(names[key], before_g, after_g, buy_before, buy_after)


def _labels(plan: ClassPlan, then: ClassPlan) -> tuple[str, ...]:
    """The tubs whose contents or grams change."""
    before, after = lines_of(plan), lines_of(then)
    changed = [
        line.place
        for key, line in {**before, **after}.items()
        if line.where != BUY and before.get(key) != after.get(key)
    ]
    return tuple(dict.fromkeys(changed))


def _bakers(then: ClassPlan, row: TaughtRecipe, variant: Variant) -> int:
    key = f"{row.pk}-{variant.pk}"
    return sum(
        len(recipe.amounts.persons) + len(recipe.amounts.shown)
        for recipe in then.amounts.recipes
        if recipe.taught.key == key
    )
