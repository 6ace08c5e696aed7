"""Tags with names or hours: for loaves, for what stands and waits, and to take home.

They print on the sheets of labels. What only the day knows is left to be written.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from classes.core.demand import TaughtAmounts
from classes.core.regions import Region
from classes.plan import ClassPlan
from handouts.kind import BENCH, Leaves, Material, PaperKind, Phase, only
from handouts.labels.label import (
    LONG_BLANK,
    Label,
    LabelBlock,
    Role,
    hazards_of_labels,
    holds_words,
)
from handouts.labels.layout import LabelPaper
from handouts.labels.sheets import LabelLayout
from handouts.labels.tubs import FOR_ALL
from handouts.paper import PaperHead, paper_head
from handouts.station_shapes import Shapes, shapes_of
from recipes.core.allergens import AllergensFound, allergens, found_in
from recipes.core.formula import FormulaIngredient
from recipes.core.numbers import ZERO
from recipes.core.scaling import PersonAmounts
from wording.figures import NBSP
from wording.lists import pieces_in_words

_BLANK = f"{NBSP}at{NBSP}{LONG_BLANK} "
NOTHING_ASKED = AllergensFound((), (), ())


@dataclass(frozen=True, kw_only=True)
class LoafTags(LabelPaper):
    """A tag beside each person's pieces. It names people, but nothing that they avoid."""

    name = "Loaf tags"
    is_tallied = False


@dataclass(frozen=True, kw_only=True)
class TimeTags(LabelPaper):
    """A tag for what stands and waits: since when, and until when."""

    name = "Time tags"
    is_tallied = False


@dataclass(frozen=True, kw_only=True)
class TakeHomeTags(LabelPaper):
    """A tag on what each person takes home, with what is in it."""

    name = "Take-home tags"
    is_tallied = False


def loaf_tags(plan: ClassPlan, printed_at: datetime, layout: LabelLayout) -> tuple[LoafTags, ...]:
    """The loaf tags of a class, for label sheets of some layout. Raises NothingTaught."""
    head, shapes, apart = _setting(plan, printed_at)
    labels = tuple(
        _loaf(recipe, person, shapes(person.baker.station), recipe.taught.key in apart)
        for recipe in plan.amounts.recipes
        for person in recipe.amounts.persons
    )
    return (LoafTags(head=head, hazards=hazards_of_labels(labels), layout=layout, labels=labels),)


def _loaf(recipe: TaughtAmounts, person: PersonAmounts, shapes: Shapes, is_apart: bool) -> Label:
    taught, baker = recipe.taught, person.baker
    return Label(
        holder=baker.name,
        title=pieces_in_words(baker.pieces, taught.piece_name),
        about=taught.shown,
        contents=(),
        lines=(
            LabelBlock(baker.station, role=Role.CHECK),
            LabelBlock(f"In{_BLANK}out{_BLANK}".strip(), role=Role.CHECK),
        ),
        allergens=NOTHING_ASKED,
        shapes=shapes,
        marks=("Variant",) * is_apart,
    )


def time_tags(plan: ClassPlan, printed_at: datetime, layout: LabelLayout) -> tuple[TimeTags, ...]:
    """The time tags of a class, for label sheets of some layout. Raises NothingTaught."""
    head, shapes, apart = _setting(plan, printed_at)
    labels = tuple(
        _time(recipe, holder, title, shapes(holder), recipe.taught.key in apart)
        for recipe in plan.amounts.recipes
        for holder, title in _standing(recipe)
    )
    return (TimeTags(head=head, hazards=hazards_of_labels(labels), layout=layout, labels=labels),)


def _standing(recipe: TaughtAmounts) -> Iterator[tuple[str, str]]:
    """What stands and waits: what is made once for everybody, and the dough of each station."""
    for part in recipe.amounts.pooled.components:
        if part.kind.made_in_bulk:
            yield FOR_ALL, part.name
    for at in recipe.amounts.stations:
        yield at.station, "Dough"


def _time(recipe: TaughtAmounts, holder: str, title: str, shapes: Shapes, is_apart: bool) -> Label:
    return Label(
        holder=holder,
        title=title,
        about=recipe.taught.shown,
        contents=(),
        lines=(_written("Started at"), _written("Due at")),
        allergens=NOTHING_ASKED,
        shapes=shapes,
        marks=("Variant",) * is_apart,
    )


def take_home_tags(
    plan: ClassPlan, printed_at: datetime, layout: LabelLayout
) -> tuple[TakeHomeTags, ...]:
    """The take-home tags of a class, for label sheets of some layout. Raises NothingTaught."""
    head, _, apart = _setting(plan, printed_at)
    labels = tuple(
        _home(head, recipe, person, recipe.taught.key in apart)
        for recipe in plan.amounts.recipes
        for person in recipe.amounts.persons
    )
    return (
        TakeHomeTags(head=head, hazards=hazards_of_labels(labels), layout=layout, labels=labels),
    )


def _home(head: PaperHead, recipe: TaughtAmounts, person: PersonAmounts, is_apart: bool) -> Label:
    found = allergens(recipe.taught.formula)
    return Label(
        holder=recipe.taught.formula.title,
        title=person.baker.name,
        about=recipe.taught.shown,
        contents=(),
        lines=(
            ingredients_of(person, head.region),
            *holds_words(found, head.region),
            _written("Bake by"),
            _written("Baked on"),
        ),
        allergens=found,
        marks=("Variant",) * is_apart,
    )


def ingredients_of(person: PersonAmounts, region: Region) -> LabelBlock:
    """All ingredients by weight, the heaviest first, those with an allergen of the region bold."""
    masses: dict[str, Decimal] = {}
    rows: dict[str, FormulaIngredient] = {}
    for part in person.sheet.components:
        for line in part.lines:
            name = line.ingredient.name
            masses[name] = masses.get(name, ZERO) + line.exact_g
            rows[name] = line.ingredient
    names = sorted(masses, key=lambda name: (-masses[name], name))
    return LabelBlock(
        f"Ingredients: {', '.join(names)}",
        strong=tuple(name for name in names if _has_allergen(rows[name], region)),
    )


def _has_allergen(ingredient: FormulaIngredient, region: Region) -> bool:
    found = found_in((ingredient,))
    if region is Region.US:
        return bool(found.us)
    return bool(found.eu) if region is Region.EUROPE else bool(found.us or found.eu)


def _written(words: str) -> LabelBlock:
    return LabelBlock(f"{words} {LONG_BLANK}".replace(" ", NBSP), role=Role.CHECK)


def _setting(
    plan: ClassPlan, printed_at: datetime
) -> tuple[PaperHead, Callable[[str], Shapes], frozenset[str]]:
    """The head, the shapes of a station, and what is baked in place of the usual."""
    shapes = shapes_of(plan.stations)
    apart = frozenset(taught.key for taught in plan.apart)
    return paper_head(plan, printed_at), lambda station: shapes.get(station, ()), apart


Tags = Callable[[ClassPlan, datetime, LabelLayout], tuple[LabelPaper, ...]]


def _kind(name: str, title: str, purpose: str, place: str, until: Phase, make: Tags) -> PaperKind:
    def leaves(material: Material) -> Leaves:
        return only(make(material.plan, material.at, material.sheets.labels))

    return PaperKind(name, title, purpose, place, leaves, usual=False, are_labels=True, until=until)


LOAF_TAGS = _kind(
    "loaf-labels",
    "Loaf tags",
    "For each person’s pieces: their name, their station, in and out.",
    BENCH,
    Phase.CLASS,
    loaf_tags,
)
TIME_TAGS = _kind(
    "time-labels",
    "Time tags",
    "For what stands and waits: started at, due at.",
    BENCH,
    Phase.CLASS,
    time_tags,
)
TAKE_HOME_TAGS = _kind(
    "take-home-labels",
    "Take-home tags",
    "For what each person takes home: ingredients by weight, allergens in bold, bake by.",
    BENCH,
    Phase.CLASS,
    take_home_tags,
)
