"""The labels of what waits in the refrigerator for a class: what, for whom, since when."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from classes.core.demand import TaughtAmounts, brought_in_words
from classes.core.shopping import ShoppingLine
from classes.plan import ClassPlan
from handouts.kind import AHEAD, Leaves, Material, PaperKind, Phase, only
from handouts.labels.label import (
    LONG_BLANK,
    Label,
    LabelBlock,
    Role,
    cold_words,
    day_words,
    discard_words,
    hazards_of_labels,
    holds_words,
)
from handouts.labels.layout import LabelPaper
from handouts.labels.sheets import LabelLayout
from handouts.labels.tubs import Rows
from handouts.paper import PaperHead, paper_head
from handouts.safety.values import Hazard
from recipes.core.allergens import AllergensFound, allergens, found_in
from recipes.core.choices import Storage
from recipes.core.scaling import ComponentAmounts, Division
from wording.figures import NBSP
from wording.masses import about, grams

REFRIGERATOR, FREEZER = "Refrigerator", "Freezer"
FROZEN = LabelBlock("Keep frozen until it is thawed in the refrigerator")
MAY_WAIT = LabelBlock("Cold only if the recipe says so")


@dataclass(frozen=True, kw_only=True)
class RefrigeratorLabels(LabelPaper):
    """A label for everything kept cold for a class, other than the stations' tubs.

    It has no place for anything private.
    """

    name = "Refrigerator labels"
    nothing = "Nothing in this class is kept cold."


def refrigerator_labels(
    plan: ClassPlan, printed_at: datetime, layout: LabelLayout
) -> tuple[RefrigeratorLabels, ...]:
    """The refrigerator labels of a class, for label sheets of some layout. Raises NothingTaught."""
    head = paper_head(plan, printed_at)
    labels = tuple(_labels(plan, head))
    hazards = hazards_of_labels(labels) | head.hazards & {Hazard.COOLED}
    return (RefrigeratorLabels(head=head, hazards=hazards, layout=layout, labels=labels),)


def _labels(plan: ClassPlan, at: PaperHead) -> Iterator[Label]:
    for line in plan.shopping.lines:
        if plan.ingredients[line.ingredient.key].is_kept_cold:
            yield _ingredient(line, at)
    for recipe in plan.amounts.recipes:
        yield from _made_ahead(recipe, plan.ingredients, at)
        yield from _brought(recipe, at)


def _ingredient(line: ShoppingLine, at: PaperHead) -> Label:
    frozen = line.supply.storage == Storage.FROZEN
    own_date = LabelBlock(f"Discard opened packs by {day_words(at)}, others by their own date")
    return _label(
        FREEZER if frozen else REFRIGERATOR,
        line.ingredient.name,
        at.title,
        LabelBlock(line.ingredient.name, grams(line.weighed), Role.CONTENT),
        found_in((line.ingredient,)),
        (FROZEN if frozen else cold_words(at), own_date),
        at,
    )


def _made_ahead(recipe: TaughtAmounts, rows: Rows, at: PaperHead) -> Iterator[Label]:
    """What is made in one tub for everybody; without cold ingredients it may be kept elsewhere."""
    bulk = (part for part in recipe.amounts.pooled.components if part.kind.made_in_bulk)
    for part, division in zip(bulk, recipe.amounts.divisions, strict=True):
        yield _tub(recipe, part, division, rows, at)


def _tub(
    recipe: TaughtAmounts, part: ComponentAmounts, division: Division, rows: Rows, at: PaperHead
) -> Label:
    ingredients = [line.ingredient for line in part.lines]
    must = any(rows[ingredient.key].is_kept_cold for ingredient in ingredients)
    return _label(
        REFRIGERATOR,
        part.name,
        recipe.taught.label,
        LabelBlock(part.name, grams(division.weighed_g), Role.CONTENT),
        found_in(ingredients),
        (*(() if must else (MAY_WAIT,)), cold_words(at), discard_words(at, keeps=False)),
        at,
    )


def _brought(recipe: TaughtAmounts, at: PaperHead) -> Iterator[Label]:
    for dough in recipe.amounts.brought:
        yield _label(
            REFRIGERATOR,
            brought_in_words(recipe, dough),
            recipe.taught.label,
            LabelBlock("Dough", about(dough.sheet.dough_g), Role.CONTENT),
            allergens(recipe.taught.formula),
            (MAY_WAIT, cold_words(at), discard_words(at, keeps=False)),
            at,
        )


def _label(
    holder: str,
    title: str,
    subject: str,
    content: LabelBlock,
    found: AllergensFound,
    lines: tuple[LabelBlock, ...],
    at: PaperHead,
) -> Label:
    since = LabelBlock(f"In since{NBSP}{LONG_BLANK} by{NBSP}{LONG_BLANK}")
    return Label(
        holder=holder,
        title=title,
        about=subject,
        contents=(content,),
        lines=(*holds_words(found, at.region), since, *lines),
        allergens=found,
        sum_g=content.grams,
        is_cold=True,
        title_leads=True,
    )


def _leaves(material: Material) -> Leaves:
    return only(refrigerator_labels(material.plan, material.at, material.sheets.labels))


KIND = PaperKind(
    "refrigerator-labels",
    "Refrigerator labels",
    "For everything that is kept cold: for which class, since and until when.",
    AHEAD,
    _leaves,
    usual=False,
    are_labels=True,
    until=Phase.MORNING,
)
