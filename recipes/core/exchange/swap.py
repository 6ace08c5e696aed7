"""A variant of a formula: one ingredient of a component is replaced by others, by mass.

The component keeps its mass, and so do the dough, the pieces and every list.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.core.allergens import AllergensFound, allergens
from recipes.core.errors import NotInFormula, OutOfRange
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line, merge_masses
from recipes.core.numbers import ONE, ZERO, not_negative, positive


@dataclass(frozen=True, slots=True)
class MixPart:
    """An ingredient and its parts of a mixture; only the proportion of the parts matters."""

    ingredient: FormulaIngredient
    parts: Decimal

    def __post_init__(self) -> None:
        not_negative("parts", self.parts)


@dataclass(frozen=True, slots=True)
class MassChange:
    """An ingredient of a component whose mass, in grams as written, changes."""

    component: str
    ingredient: FormulaIngredient
    before_g: Decimal
    after_g: Decimal


@dataclass(frozen=True)
class Swap:
    """The variant and what it changes.

    `brings` are allergens that were not entered for the first formula's ingredients. An empty list
    says nothing about what the food contains: read the labels.
    """

    formula: Formula
    changes: tuple[MassChange, ...]
    before: AllergensFound
    after: AllergensFound

    @property
    def brings(self) -> AllergensFound:
        """Allergens entered only for the variant."""
        return _more(self.after, self.before)

    @property
    def no_longer_entered(self) -> AllergensFound:
        """Allergens entered only for the first formula."""
        return _more(self.before, self.after)


def _more(one: AllergensFound, other: AllergensFound) -> AllergensFound:
    return AllergensFound(
        us=tuple(entry for entry in one.us if entry not in other.us),
        eu=tuple(entry for entry in one.eu if entry not in other.eu),
        may_contain=tuple(pair for pair in one.may_contain if pair not in other.may_contain),
        unknown=tuple(name for name in one.unknown if name not in other.unknown),
    )


def replace_ingredient(
    formula: Formula, key: str, by: Sequence[MixPart], *, component: str | None = None
) -> Swap:
    """Replace the ingredient `key` with others, in the named component or in all.

    Its mass goes to `by` in proportion to the parts; an ingredient already there grows. Raises
    NotInFormula when it is not there, OutOfRange for parts that add to nothing, NoFlour when no
    flour would be left.
    """
    _total(by)
    touched = [
        part
        for part in formula.components
        if component in (None, part.name) and any(line.ingredient.key == key for line in part.lines)
    ]
    if not touched:
        raise NotInFormula(key, component)
    parts = tuple(
        replace(part, lines=_replaced(part.lines, key, by)) if part in touched else part
        for part in formula.components
    )
    return _swap(formula, parts)


def compare(first: Formula, variant: Formula) -> Swap:
    """What a series of replacements has changed in a formula."""
    return _swap(first, variant.components)


def _total(parts: Sequence[MixPart]) -> Decimal:
    if not parts:
        raise OutOfRange("parts", ZERO, least=ONE)
    return positive("parts", sum((part.parts for part in parts), ZERO))


def _shared_out(mass_g: Decimal, parts: Sequence[MixPart]) -> tuple[Line, ...]:
    total = _total(parts)
    lines = (Line(part.ingredient, mass_g * part.parts / total) for part in parts if part.parts)
    return tuple(Line(ingredient, share_g) for ingredient, share_g in merge_masses(lines).items())


def _replaced(lines: Sequence[Line], key: str, by: Sequence[MixPart]) -> tuple[Line, ...]:
    """The lines without `key`; what replaces it joins its own line or takes the place of `key`."""
    mass_g = sum((line.mass_g for line in lines if line.ingredient.key == key), ZERO)
    coming = {line.ingredient.key: line for line in _shared_out(mass_g, by)}
    made: list[Line] = []
    for line in lines:
        if line.ingredient.key == key:
            present = {other.ingredient.key for other in lines} - {key}
            made += [coming.pop(name) for name in tuple(coming) if name not in present]
        else:
            more = coming.pop(line.ingredient.key, None)
            made.append(replace(line, mass_g=line.mass_g + more.mass_g) if more else line)
    return tuple(made)


def _swap(formula: Formula, parts: tuple[FormulaComponent, ...]) -> Swap:
    variant = replace(formula, components=parts)
    changes = [
        change
        for before, after in zip(formula.components, parts, strict=True)
        for change in _changes(before, after)
    ]
    return Swap(variant, tuple(changes), allergens(formula), allergens(variant))


def _changes(before: FormulaComponent, after: FormulaComponent) -> list[MassChange]:
    old, new = merge_masses(before.lines), merge_masses(after.lines)
    ingredients = {ingredient.key: ingredient for ingredient in (*old, *new)}
    old_g = {ingredient.key: mass_g for ingredient, mass_g in old.items()}
    new_g = {ingredient.key: mass_g for ingredient, mass_g in new.items()}
    return [
        MassChange(before.name, ingredient, old_g.get(key, ZERO), new_g.get(key, ZERO))
        for key, ingredient in ingredients.items()
        if old_g.get(key, ZERO) != new_g.get(key, ZERO)
    ]
