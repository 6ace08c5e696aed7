"""The amounts for one dough mass, and what is taken from tubs made for everybody."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property

from recipes.core.choices import ComponentKind
from recipes.core.formula import Formula, FormulaComponent
from recipes.core.numbers import ONE, ZERO, not_negative
from recipes.core.scaling.amount_lines import AmountLine, amount_line, dissolved
from recipes.core.weighing import Scales, Weighing


@dataclass(frozen=True)
class ComponentAmounts:
    """A component's lines, or what is taken from the tub of it made for everybody.

    With a `tub`, the lines only show what is in it: nobody weighs them.
    """

    name: str
    kind: ComponentKind
    lines: tuple[AmountLine, ...]
    exact_g: Decimal
    cooking_loss: Decimal = ZERO
    tub: Weighing | None = None

    @property
    def to_weigh(self) -> tuple[AmountLine, ...]:
        """The lines; none for a part that comes from a tub."""
        return () if self.tub else self.lines

    @cached_property
    def weighed_g(self) -> Decimal:
        """What is taken from the tub, or the sum of the lines as weighed, in grams."""
        if self.tub:
            return self.tub.grams
        return sum((line.weighed.grams for line in self.lines), ZERO)

    @property
    def cooked_g(self) -> Decimal:
        """What the scale should show after cooking, before water is added back, in grams."""
        return self.exact_g * (ONE - self.cooking_loss)


@dataclass(frozen=True)
class Sheet:
    """The amounts for one dough mass, component by component."""

    dough_g: Decimal
    components: tuple[ComponentAmounts, ...]

    @cached_property
    def weighed_dough_g(self) -> Decimal:
        """Sum of the printed lines that go into the dough, in grams."""
        into_dough = (part for part in self.components if part.kind.goes_into_dough)
        return sum((part.weighed_g for part in into_dough), ZERO)


def batch_g_of(formula: Formula, component: FormulaComponent) -> Decimal:
    """The dough a component's lines are for: the formula's, or that of `for_pieces`."""
    if component.kind.goes_into_dough:
        return formula.dough_g
    return (component.for_pieces or 1) * formula.piece_g


def _component(
    formula: Formula, part: FormulaComponent, wanted_g: Decimal, scales: Scales
) -> ComponentAmounts:
    batch_g = batch_g_of(formula, part)
    exact_g = not_negative("exact_g", part.mass_g * wanted_g / batch_g)
    lines = [
        amount_line(line.ingredient, line.mass_g * wanted_g / batch_g, scales)
        for line in part.lines
    ]
    made = dissolved(lines, scales)
    return ComponentAmounts(part.name, part.kind, made, exact_g, part.cooking_loss)


def sheet_of(formula: Formula, dough_g: Decimal, scales: Scales, loss: Decimal = ZERO) -> Sheet:
    """The lines for a dough mass; the handling loss applies only to dough."""
    with_loss_g = dough_g * (ONE + loss)
    components = [
        _component(formula, part, with_loss_g if part.kind.goes_into_dough else dough_g, scales)
        for part in formula.components
    ]
    return Sheet(with_loss_g, tuple(components))


Tubs = tuple[Weighing, ...]


class Sheets:
    """Sheets by dough mass and what is taken from tubs: bakers with equal ones share a sheet."""

    def __init__(self, formula: Formula, scales: Scales) -> None:
        self._formula = formula
        self._scales = scales
        self._made: dict[Decimal, Sheet] = {}
        self._taken: dict[tuple[Decimal, Tubs], Sheet] = {}

    def of(self, dough_g: Decimal, tubs: Tubs | None = None) -> Sheet:
        """A sheet with these weighings from the tubs; without any, each is from its exact mass."""
        sheet = self._made.get(dough_g)
        if sheet is None:
            sheet = self._made[dough_g] = sheet_of(self._formula, dough_g, self._scales)
        if tubs is None:
            tubs = tuple(self._scales.weigh(part.exact_g) for part in bulk_parts(sheet))
        key = dough_g, tubs
        if key not in self._taken:
            self._taken[key] = _from_tubs(sheet, tubs, self._scales)
        return self._taken[key]


def bulk_parts(sheet: Sheet) -> Iterator[ComponentAmounts]:
    return (part for part in sheet.components if part.kind.made_in_bulk)


def _from_tubs(sheet: Sheet, tubs: Tubs, scales: Scales) -> Sheet:
    """The sheet with what is taken from the tubs, which is never zero."""
    taken, parts = iter(tubs), []
    for part in sheet.components:
        if part.kind.made_in_bulk:
            tub = next(taken)
            part = replace(part, tub=tub if tub.grams else scales.weigh(part.exact_g))
        parts.append(part)
    return replace(sheet, components=tuple(parts))
