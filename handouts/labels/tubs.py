"""What is weighed into which tub: a recipe at a station, by how its ingredients are kept.

Things that may wait together until the dough is mixed go into one tub. The masses are those of the
class's plan; only the sum of a tub's printed lines is calculated here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from classes.core.demand import Taught, TaughtAmounts, brought_in_words
from classes.plan import IngredientFacts
from recipes.core.choices import ComponentKind, IngredientKind
from recipes.core.formula import FormulaIngredient
from recipes.core.numbers import ZERO
from recipes.core.scaling import ComponentAmounts, Sheet
from recipes.core.scaling.amount_lines import AmountLine
from recipes.core.weighing import Weighing
from wording.masses import grams

FOR_ALL = "For everybody"
WET_FROM_PERCENT = 10

Rows = Mapping[str, IngredientFacts]


class Tub(StrEnum):
    """The tubs of a dough; each cold thing that is not poured has its own, by name."""

    DRY = "Dry"
    POURED = "Liquid"
    THICK = "Oil and syrup"
    COLD = "Cold liquid"


@dataclass(frozen=True, slots=True)
class TubLine:
    """What is weighed, in grams, and as the scale shows it; `how` explains a solution."""

    name: str
    grams: Decimal
    shown: str
    how: str = ""


@dataclass(frozen=True)
class FilledTub:
    """A tub at a station, or for everybody: what is weighed into it and the allergens in that.

    `taught` is the key of the recipe as it is baked.

    `keeps`: it is dry, oil or syrup, and does not spoil before it is used up in class. For a roux,
    `cooked_g` is what to expect on the scale, and `made_up_g` the mass after adding water.
    """

    holder: str
    title: str
    recipe: str
    taught: str
    lines: tuple[TubLine, ...]
    ingredients: tuple[FormulaIngredient, ...]
    keeps: bool = False
    is_cold: bool = False
    cooked_g: Decimal | None = None
    made_up_g: Decimal | None = None

    @property
    def sum_g(self) -> Decimal:
        """Sum of the lines as weighed, in grams."""
        return sum((line.grams for line in self.lines), ZERO)


def tubs_of(recipes: Iterable[TaughtAmounts], rows: Rows) -> Iterator[FilledTub]:
    """The tubs for everybody, then those of each station by name, and the instructor's."""
    taught = tuple(recipes)
    for recipe in taught:
        yield from _for_everybody(recipe, rows)
    names = dict.fromkeys(at.station for recipe in taught for at in recipe.amounts.stations)
    for name in names:
        for recipe in taught:
            for at in recipe.amounts.stations:
                if at.station == name:
                    yield from _at(recipe, name, at.sheet, rows)
    for recipe in taught:
        yield from _instructors(recipe, rows)


def _instructors(recipe: TaughtAmounts, rows: Rows) -> Iterator[FilledTub]:
    for dough in recipe.amounts.demonstrations:
        name = brought_in_words(recipe, dough) if dough.baker.brought else dough.baker.name
        yield from _at(recipe, name, dough.sheet, rows)


def _for_everybody(recipe: TaughtAmounts, rows: Rows) -> Iterator[FilledTub]:
    for part in recipe.amounts.pooled.components:
        if part.kind.made_in_bulk:
            ingredients = tuple(line.ingredient for line in part.lines)
            yield FilledTub(
                holder=FOR_ALL,
                title=part.name,
                recipe=recipe.taught.label,
                taught=recipe.taught.key,
                lines=tuple(_line(line) for line in part.lines),
                ingredients=ingredients,
                is_cold=_any_cold(ingredients, rows),
                cooked_g=part.cooked_g if part.cooking_loss else None,
                made_up_g=part.exact_g if part.cooking_loss else None,
            )


def _at(recipe: TaughtAmounts, holder: str, sheet: Sheet, rows: Rows) -> Iterator[FilledTub]:
    taught = recipe.taught
    is_one = [part.kind for part in sheet.components].count(ComponentKind.DOUGH) == 1
    for part in sheet.components:
        if part.tub:
            yield _share(holder, taught, part, part.tub, rows)
        elif part.kind is ComponentKind.DOUGH:
            for title, lines in _parted(part.lines, rows):
                named = title if is_one else f"{part.name}: {title[0].lower()}{title[1:]}"
                yield _tub(holder, named, taught, lines, rows)
        else:
            yield _tub(holder, part.name, taught, part.lines, rows)


def _share(
    holder: str, taught: Taught, part: ComponentAmounts, tub: Weighing, rows: Rows
) -> FilledTub:
    ingredients = tuple(line.ingredient for line in part.lines)
    return FilledTub(
        holder=holder,
        title=f"{part.name}, share",
        recipe=taught.label,
        taught=taught.key,
        lines=(TubLine(part.name, tub.grams, grams(tub)),),
        ingredients=ingredients,
        is_cold=_any_cold(ingredients, rows),
    )


def _tub(
    holder: str, title: str, taught: Taught, lines: Iterable[AmountLine], rows: Rows
) -> FilledTub:
    held = tuple(lines)
    ingredients = tuple(line.ingredient for line in held)
    return FilledTub(
        holder=holder,
        title=title,
        recipe=taught.label,
        taught=taught.key,
        lines=tuple(_line(line) for line in held),
        ingredients=ingredients,
        keeps=all(_kept(ingredient, rows) in (Tub.DRY, Tub.THICK) for ingredient in ingredients),
        is_cold=_any_cold(ingredients, rows),
    )


def _line(line: AmountLine) -> TubLine:
    return TubLine(line.name, line.weighed.grams, grams(line.weighed), line.how)


def _parted(
    lines: Iterable[AmountLine], rows: Rows
) -> Iterator[tuple[str, tuple[AmountLine, ...]]]:
    """The lines by tub, a tub of one thing under that name; a solution goes with its liquid."""
    every = tuple(lines)
    liquid = next((line for line in every if line.in_stock_g), None)
    tubs: dict[Tub | str, list[AmountLine]] = {}
    for line in every:
        at = (liquid if line.stock and liquid else line).ingredient
        tubs.setdefault(_kept(at, rows) or at.key, []).append(line)
    for tub, held in tubs.items():
        title = held[0].ingredient.name if len(held) == 1 else str(tub)
        yield title, tuple(held)


def _kept(ingredient: FormulaIngredient, rows: Rows) -> Tub | None:
    """The tub in which it waits; None for cold things, which have a tub of their own."""
    row = rows[ingredient.key]
    if row.is_kept_cold:
        return Tub.COLD if row.kind in (IngredientKind.LIQUID, IngredientKind.EGG) else None
    if row.kind == IngredientKind.LIQUID:
        return Tub.POURED
    if row.kind == IngredientKind.FAT or _is_wet(row):
        return Tub.THICK
    return Tub.DRY


def _is_wet(row: IngredientFacts) -> bool:
    """Whether it is wet, such as syrup; flour and fruit count as dry."""
    return row.kind == IngredientKind.SUGAR and (row.composition.water_g or 0) >= WET_FROM_PERCENT


def _any_cold(ingredients: Iterable[FormulaIngredient], rows: Rows) -> bool:
    return any(rows[ingredient.key].is_kept_cold for ingredient in ingredients)
