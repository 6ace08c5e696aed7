"""Rows to frozen values of the baking core, and the queries of the recipe book."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import User
from django.db.models import Model, Prefetch, QuerySet, prefetch_related_objects
from django.shortcuts import get_object_or_404

from recipes.core import formula
from recipes.core.choices import (
    Choice,
    ComponentKind,
    IngredientKind,
    StepKind,
    TemperatureOf,
    Worked,
)
from recipes.core.composition import TAP_WATER, Composition, mixed
from recipes.core.errors import BakingError
from recipes.core.exchange.kinds import FlourProtein
from recipes.core.exchange.sheet import Staples
from recipes.core.formula import Formula
from recipes.core.heat.part_heat import PartHeat, Prepared, part_heat
from recipes.core.numbers import HUNDRED, ONE, ZERO
from recipes.core.pans.sizes import Pan, PanShape
from recipes.core.regions import HomeRegion
from recipes.core.written import (
    NamedFlour,
    NamedIngredient,
    Written,
    WrittenLine,
    WrittenPart,
    WrittenRecipe,
    WrittenStep,
    choices_in,
    formula_of,
    names_of,
)
from recipes.models import Book, Ingredient, Revision, StarterFlour, Step, book_home_region

DISSOLVING = (IngredientKind.YEAST, IngredientKind.SALT, IngredientKind.SUGAR)


def with_flours(rows: Iterable[Ingredient]) -> list[Ingredient]:
    """The rows, starters with their flours: one query if there are starters, else none."""
    found = list(rows)
    starters = [row for row in found if row.kind == IngredientKind.STARTER and row.pk]
    flours = StarterFlour.objects.select_related("flour")
    prefetch_related_objects(starters, Prefetch("made_of", flours))
    return found


def made_of(row: Ingredient) -> list[StarterFlour]:
    """The flours of a starter; none for other ingredients, or before it is saved."""
    if row.kind != IngredientKind.STARTER or row.pk is None:
        return []
    with_flours([row])
    return list(row.made_of.all())


def ingredient_value(row: Ingredient) -> formula.FormulaIngredient:
    """The ingredient as the arithmetic sees it."""
    value = formula.FormulaIngredient(
        key=row.key,
        name=row.name,
        is_flour=row.kind == IngredientKind.FLOUR,
        is_added_liquid=row.kind == IngredientKind.LIQUID,
        water_share=_water_share(row),
        each_g=row.each_g,
        each_name=row.each_name,
        allergens_us=tuple(row.allergens_us),
        allergens_eu=tuple(row.allergens_eu),
        may_contain=row.may_contain,
        allergens_known=row.allergens_known,
        dissolves=row.kind in DISSOLVING,
    )
    return value.as_starter(_starter(row)) if row.kind == IngredientKind.STARTER else value


def _starter(row: Ingredient) -> formula.Starter:
    hydration = row.hydration_percent
    return formula.Starter(
        None if hydration is None else hydration / HUNDRED,
        tuple((ingredient_value(of.flour), of.percent) for of in made_of(row)),
    )


def _water_share(row: Ingredient) -> Decimal:
    """Tap water counts fully: bakers do not subtract its 0.1 % of minerals from the hydration."""
    return ONE if row.tap else (row.water_percent or ZERO) / HUNDRED


def name_of(row: Ingredient) -> NamedIngredient:
    """The ingredient as a written line names it."""
    kind = IngredientKind(row.kind)
    if kind is not IngredientKind.STARTER:
        return NamedIngredient(row.key, row.name, kind)
    flours = (NamedFlour(of.flour.key, of.flour.name, of.percent) for of in made_of(row))
    return NamedIngredient(row.key, row.name, kind, row.hydration_percent, tuple(flours))


def written_of(revision: Revision) -> WrittenRecipe:
    """A revision fetched `with_formula`, as a written recipe."""
    return replace(_without_steps(revision), steps=written_steps(revision))


def written_steps(revision: Revision) -> tuple[WrittenStep, ...]:
    """The steps of a revision, as written."""
    steps = (_values(step, WrittenStep, kind=StepKind) for step in revision.steps.all())
    return tuple(WrittenStep(**step) for step in steps)


def _without_steps(revision: Revision) -> WrittenRecipe:
    _rows_of(revision)  # fetches the flours of all starters at once
    parts = tuple(
        WrittenPart(
            **_values(part, WrittenPart, kind=ComponentKind),
            lines=tuple(
                WrittenLine(name_of(line.ingredient), line.mass_g, line.entered, line.note)
                for line in part.lines.all()
            ),
        )
        for part in revision.components.all()
    )
    head = _values(revision, WrittenRecipe)
    return WrittenRecipe(**head | {"equipment": _unix(revision.equipment)}, parts=parts)


def _values(row: Model, written: type[Written], **kinds: type[Choice]) -> dict[str, Any]:
    return choices_in({name: getattr(row, name) for name in names_of(written)}, **kinds)


def _unix(text: str) -> str:
    return text.replace("\r\n", "\n")


def formula_value(revision: Revision) -> Formula:
    """The formula of a revision fetched `with_formula`; masses in grams."""
    known = {name_of(row): ingredient_value(row) for row in _rows_of(revision).values()}
    return formula_of(_without_steps(revision), known)


def recipe_book(user: User) -> QuerySet[Revision]:
    """The current revision of each recipe that the user owns, by title."""
    return Revision.objects.owned_by(user).current().select_related("recipe")


def revision_of(user: User, slug: str, number: int | None = None) -> Revision:
    """A revision of the user's own recipe, the current one unless numbered; else 404."""
    revisions = Revision.objects.owned_by(user).with_formula().filter(recipe__slug=slug)
    wanted = revisions.current() if number is None else revisions.filter(number=number)
    return get_object_or_404(wanted)


def home_region() -> HomeRegion | None:
    """Whose measures the recipe book's texts mean; None until somebody has said."""
    book = Book.objects.first()
    return HomeRegion(book.home_region) if book else None


def region_of(rows: Iterable[Ingredient]) -> HomeRegion | None:
    """The book's home region, as rows of `shelf_of` come with it."""
    region = next((getattr(row, "home_region", None) for row in rows), None)
    return HomeRegion(region) if region else None


def shelf_of(user: User) -> QuerySet[Ingredient]:
    """The ingredients that lines may name, each with the book's `home_region`."""
    return ingredients_for(user).annotate(home_region=book_home_region())


def ingredients_for(user: User) -> QuerySet[Ingredient]:
    """The shared ingredients and the user's own, by name."""
    return Ingredient.objects.for_user(user)


@dataclass(frozen=True, slots=True)
class WorkTimes:
    """How long a recipe keeps hands busy and how long its dough waits, in minutes."""

    hands_on_min: int
    waiting_min: int

    @property
    def total_min(self) -> int:
        return self.hands_on_min + self.waiting_min


def times_of(steps: Iterable[Step]) -> WorkTimes:
    """The times of all steps added up."""
    listed = list(steps)
    return WorkTimes(
        sum(step.hands_on_min for step in listed), sum(step.waiting_min for step in listed)
    )


def other_revisions(revision: Revision) -> QuerySet[Revision]:
    """The other revisions of the same recipe, newest first."""
    return (
        Revision.objects.filter(recipe_id=revision.recipe_id)
        .exclude(pk=revision.pk)
        .select_related("recipe")
        .order_by("-number")
    )


def composition_value(row: Ingredient) -> Composition:
    """What 100 g of the ingredient consist of; None if it is not known."""
    if row.kind == IngredientKind.STARTER:
        return _starter_composition(row)
    return Composition(
        water_g=row.water_percent,
        protein_g=row.protein_percent,
        fat_g=row.fat_percent,
        carbohydrate_g=row.carbohydrate_percent,
        fiber_g=row.fiber_percent,
        ash_g=row.ash_percent,
        sodium_mg=None if row.sodium_mg is None else Decimal(row.sodium_mg),
        energy_kcal=None if row.energy_kcal is None else Decimal(row.energy_kcal),
    )


def _starter_composition(row: Ingredient) -> Composition:
    """The composition of its flours and its water together, if both are known."""
    flours = [(composition_value(of.flour), of.percent) for of in made_of(row)]
    if row.hydration_percent is None or not flours:
        return Composition()
    water = sum((percent for _, percent in flours), ZERO) * row.hydration_percent / HUNDRED
    return mixed([*flours, (TAP_WATER, water)])


def _rows_of(revision: Revision) -> dict[str, Ingredient]:
    lines = (line for part in revision.components.all() for line in part.lines.all())
    return {row.key: row for row in with_flours(line.ingredient for line in lines)}


def compositions_of(revision: Revision) -> dict[str, Composition]:
    """What the ingredients of a revision fetched `with_formula` consist of, by key."""
    return {key: composition_value(row) for key, row in _rows_of(revision).items()}


def keys_of_kind(revision: Revision, kind: IngredientKind) -> frozenset[str]:
    """The ingredients of a kind in a revision fetched `with_formula`, by key."""
    return frozenset(key for key, row in _rows_of(revision).items() if row.kind == kind)


def part_heat_of(revision: Revision, room_c: Decimal) -> PartHeat:
    """How warm the parts of a revision go into its dough, as far as its steps say."""
    kinds = [ComponentKind(part.kind) for part in revision.components.all()]
    return part_heat(kinds, made_before(revision), room_c)


def made_before(revision: Revision) -> list[Prepared]:
    """What is prepared before the dough is mixed; resting and cooling belong to what was made."""
    made: list[Prepared] = []
    for step in revision.steps.all():
        in_pan = step.worked == Worked.PAN
        if step.kind == StepKind.MIX and not in_pan:
            break
        known_c = None if step.temperature_of == TemperatureOf.OVEN else step.temperature_c
        its_own = step.temperature_of == TemperatureOf.DOUGH
        if step.kind in (StepKind.PREPARE, StepKind.MIX):
            made.append(Prepared(in_pan, step.waiting_min, known_c, its_own))
        elif made:
            last = made[-1]
            written = (last.temperature_c, last.its_own) if known_c is None else (known_c, its_own)
            made[-1] = Prepared(last.in_pan, last.waiting_min + step.waiting_min, *written)
    return made


def own_pan(revision: Revision) -> Pan | None:
    """The recipe's own pan; None if it has none or its measures are incomplete."""
    if not revision.pan_shape or revision.pan_length_mm is None:
        return None
    others = (
        None if measure is None else Decimal(measure)
        for measure in (revision.pan_width_mm, revision.pan_depth_mm, revision.pan_water_ml)
    )
    try:
        length_mm = Decimal(revision.pan_length_mm)
        return Pan.in_mm(PanShape(revision.pan_shape), length_mm, *others)
    except BakingError:
        return None


def staples_of(revision: Revision) -> Staples:
    """The kinds of a revision's ingredients and its flours' protein; expects lines prefetched."""
    rows = [line.ingredient for part in revision.components.all() for line in part.lines.all()]
    flours = {row.key: _protein(row) for row in rows if row.kind == IngredientKind.FLOUR}
    return Staples({row.key: str(row.kind) for row in rows}, flours)


def flours_for(user: User) -> dict[str, FlourProtein]:
    """The flours that the user may name, with their protein, by key and sorted by name."""
    rows = ingredients_for(user).filter(kind=IngredientKind.FLOUR)
    return {row.key: _protein(row) for row in rows}


def _protein(row: Ingredient) -> FlourProtein:
    return FlourProtein(row.name, row.protein_percent, is_wheat="wheat" in row.allergens_us)
