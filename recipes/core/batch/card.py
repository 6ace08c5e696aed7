"""The formula card: a batch with grams and baker's percentages side by side.

Masses come from `scaling.batch` and percentages from `formula`; nothing is computed again here.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.core.choices import ComponentKind
from recipes.core.formula import (
    Formula,
    FormulaComponent,
    Line,
    Proportions,
    component_card,
    component_percent,
    merge_masses,
    opened,
    proportions,
)
from recipes.core.numbers import HUNDRED, ZERO
from recipes.core.scaling import ComponentAmounts, batch
from recipes.core.scaling.amount_lines import AmountLine
from recipes.core.weighing import Scales


@dataclass(frozen=True, slots=True)
class FormulaCardLine:
    """One ingredient: what to weigh, its percentages, and how coarse the weighing is."""

    amount: AmountLine
    percent: Decimal | None
    own_percent: Decimal | None
    note: str = ""

    @property
    def step_percent(self) -> Decimal:
        """One step of the scale as a percentage of the exact amount."""
        return self.amount.weighed.step_g / self.amount.exact_g * HUNDRED


@dataclass(frozen=True)
class FormulaCardPart:
    """A component of the batch; `percent` is its mass in percent of all flour.

    A cooked roux is weighed and made up with water to the mass that went in: `amounts.exact_g`.
    """

    name: str
    kind: ComponentKind
    lines: tuple[FormulaCardLine, ...]
    amounts: ComponentAmounts
    percent: Decimal | None
    for_pieces: int | None


@dataclass(frozen=True)
class FormulaCard:
    """Everything on the card of one batch, masses in grams.

    `overall` is empty when a single dough part without a starter is the whole bread. `unopened` are
    starters with unknown water; with any, no percentage is known.
    """

    dough_parts: tuple[FormulaCardPart, ...]
    other_parts: tuple[FormulaCardPart, ...]
    overall: tuple[FormulaCardLine, ...]
    proportions: Proportions
    dough_g: Decimal
    weighed_dough_g: Decimal
    unopened: tuple[str, ...] = ()

    @property
    def has_coarse(self) -> bool:
        """Whether any weighing is too coarse for its scale."""
        return any(line.amount.weighed.coarse for part in self.parts for line in part.lines)

    @property
    def parts(self) -> tuple[FormulaCardPart, ...]:
        return self.dough_parts + self.other_parts

    @property
    def overall_weighed_g(self) -> Decimal:
        """Sum of the printed lines of the overall formula, in grams."""
        return sum((line.amount.weighed.grams for line in self.overall), ZERO)


def formula_card(formula: Formula, dough_g: Decimal, scales: Scales) -> FormulaCard:
    """The card of a batch of `dough_g` grams of dough, weighed on `scales`."""
    sheet = batch(formula, dough_g, scales)
    parts = tuple(
        _part(formula, component, amounts)
        for component, amounts in zip(formula.components, sheet.components, strict=True)
    )
    dough_parts = tuple(part for part in parts if part.kind.goes_into_dough)
    has_overall = len(dough_parts) > 1 or formula.has_starter
    return FormulaCard(
        dough_parts=dough_parts,
        other_parts=tuple(part for part in parts if not part.kind.goes_into_dough),
        overall=_overall(formula, dough_g, scales) if has_overall else (),
        proportions=proportions(formula),
        dough_g=sheet.dough_g,
        weighed_dough_g=sheet.weighed_dough_g,
        unopened=formula.unopened,
    )


def _part(
    formula: Formula, component: FormulaComponent, amounts: ComponentAmounts
) -> FormulaCardPart:
    return FormulaCardPart(
        name=component.name,
        kind=component.kind,
        lines=_lines(formula, component, amounts),
        amounts=amounts,
        percent=component_percent(formula, component, component.mass_g),
        for_pieces=component.for_pieces,
    )


def _lines(
    formula: Formula, component: FormulaComponent, amounts: ComponentAmounts
) -> tuple[FormulaCardLine, ...]:
    percentages = component_card(formula, component)
    return tuple(
        FormulaCardLine(amount, percentage.percent, percentage.own_percent, line.note)
        for line, percentage, amount in zip(
            component.lines, percentages, amounts.lines, strict=True
        )
    )


def _overall(formula: Formula, dough_g: Decimal, scales: Scales) -> tuple[FormulaCardLine, ...]:
    """Each ingredient of the dough once, weighed once from its exact sum; starters opened."""
    merged = merge_masses(opened(formula.dough_lines()))
    lines = tuple(Line(ingredient, mass_g) for ingredient, mass_g in merged.items())
    together = FormulaComponent(ComponentKind.DOUGH, formula.title, lines)
    as_one = Formula(formula.title, (together,), formula.piece_g, formula.pieces)
    return _lines(as_one, together, batch(as_one, dough_g, scales).components[0])
