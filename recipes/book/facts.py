"""What a recipe's page shows beside its card, each computed when it is used."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from recipes.core.allergen_trace import AllergenTrace, TraceEntry, trace
from recipes.core.allergens import AllergensFound, allergens
from recipes.core.batch.nutrition import (
    LabelAmount,
    Nutrient,
    NutritionEstimate,
    label_amounts,
    nutrition,
)
from recipes.core.batch.yields import batch_yield
from recipes.core.bounds import bounds_findings, worded
from recipes.core.errors import BakingError
from recipes.core.formula import Formula
from recipes.core.heat.doneness import BAKE_LOSSES, PublishedLoss
from recipes.core.numbers import HUNDRED
from recipes.core.shares import FlourShare, shares
from recipes.models import Revision
from recipes.selectors import WorkTimes, compositions_of, times_of

NUTRIENT_WORDS = {
    Nutrient.ENERGY: "energy",
    Nutrient.FAT: "fat",
    Nutrient.CARBOHYDRATE: "carbohydrate",
    Nutrient.FIBER: "fiber",
    Nutrient.PROTEIN: "protein",
    Nutrient.SODIUM: "sodium",
}


def kinds_of(revision: Revision) -> dict[str, str]:
    """The kind of each ingredient, by key, of a revision fetched `with_formula`."""
    return {
        line.ingredient.key: line.ingredient.kind
        for part in revision.components.all()
        for line in part.lines.all()
    }


@dataclass(frozen=True, slots=True)
class Unusual:
    """Something outside the usual bounds, in words, with the source of the bounds."""

    words: str
    source: str


def unusual_in(formula: Formula, kinds: Mapping[str, str]) -> tuple[Unusual, ...]:
    """What in a formula is outside the usual bounds; `kinds` are by ingredient key."""
    found = bounds_findings(formula, kinds)
    return tuple(Unusual(_capital(worded(finding)), finding.source) for finding in found)


@dataclass(frozen=True, slots=True)
class NutrientRow:
    """An amount in one piece, rounded as on a US label; `in_part`: some is left out."""

    name: str
    amount: LabelAmount
    in_part: bool


@dataclass(frozen=True, slots=True)
class LeftOut:
    """An ingredient that some sums leave out: grams in a piece, and what is unknown about it."""

    name: str
    mass_g: Decimal
    missing: tuple[str, ...]

    @property
    def is_unknown(self) -> bool:
        return len(self.missing) == len(NUTRIENT_WORDS)


@dataclass(frozen=True, slots=True)
class PieceNutrition:
    """The estimate for one baked piece."""

    estimate: NutritionEstimate
    rows: tuple[NutrientRow, ...]
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True)
class RecipeFacts:
    """Everything to show about a revision fetched `with_formula` and its formula."""

    revision: Revision
    formula: Formula

    @cached_property
    def kinds(self) -> dict[str, str]:
        return kinds_of(self.revision)

    @cached_property
    def times(self) -> WorkTimes:
        return times_of(self.revision.steps.all())

    @cached_property
    def allergens(self) -> AllergensFound:
        return allergens(self.formula)

    @cached_property
    def shares(self) -> tuple[FlourShare, ...]:
        """Salt, sugar, fat and yeast in percent of all flour."""
        return shares(self.formula, self.kinds)

    @cached_property
    def unusual(self) -> tuple[Unusual, ...]:
        """What is outside the usual bounds; it blocks nothing."""
        return unusual_in(self.formula, self.kinds)

    @property
    def bake_loss(self) -> Decimal:
        """The recipe's own baking loss as a share."""
        return self.revision.bake_loss_percent / HUNDRED

    @cached_property
    def baked_g(self) -> Decimal | None:
        """One piece after baking, in grams; None without a sensible baking loss."""
        return batch_yield(self.revision.piece_g, self.bake_loss).baked_g

    @property
    def bake_losses(self) -> tuple[PublishedLoss, ...]:
        return BAKE_LOSSES

    @cached_property
    def trace(self) -> AllergenTrace:
        """Where each allergen comes in, and which steps name it."""
        steps = [(step.get_kind_display(), step.text) for step in self.revision.steps.all()]
        return trace(self.formula, steps)

    @property
    def trace_us(self) -> tuple[TraceEntry, ...]:
        return self.trace.of("us")

    @property
    def trace_eu(self) -> tuple[TraceEntry, ...]:
        return self.trace.of("eu")

    @cached_property
    def nutrition(self) -> PieceNutrition | None:
        """The estimate for a piece; None if the loss entered is more than the dough can lose."""
        try:
            found = nutrition(self.formula, compositions_of(self.revision), self.bake_loss)
        except BakingError:
            return None
        rows = tuple(
            NutrientRow(NUTRIENT_WORDS[nutrient].capitalize(), amount, found.is_partial(nutrient))
            for nutrient, amount in label_amounts(found)
        )
        return PieceNutrition(found, rows, tuple(_left_out(found)))


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _left_out(estimate: NutritionEstimate) -> Iterator[LeftOut]:
    for entry in estimate.unknown:
        missing = tuple(words for key, words in NUTRIENT_WORDS.items() if key in entry.nutrients)
        if missing:
            yield LeftOut(entry.name, entry.mass_g, missing)
