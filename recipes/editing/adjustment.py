"""A formula before and after an edit, side by side."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from recipes.book.facts import Unusual, unusual_in
from recipes.core.adjusting import percent_at, places
from recipes.core.formula import Formula, proportions
from recipes.core.shares import shares


@dataclass(frozen=True, slots=True)
class LineBeforeAfter:
    """One line in grams and in percent of all flour; `opens_part` names the part it begins.

    Percentages are None if they cannot be said.
    """

    name: str
    before_g: Decimal
    after_g: Decimal
    before_percent: Decimal | None
    after_percent: Decimal | None
    opens_part: str

    @property
    def is_changed(self) -> bool:
        return _differ(self.before_g, self.after_g)


@dataclass(frozen=True, slots=True)
class FigureBeforeAfter:
    """A figure of the whole formula, in grams or in percent of all flour; None: cannot say."""

    name: str
    before: Decimal | None
    after: Decimal | None
    in_grams: bool = False

    @property
    def is_changed(self) -> bool:
        return _differ(self.before, self.after)


@dataclass(frozen=True, slots=True)
class BeforeAfter:
    """The whole comparison, and what of the result is outside the usual bounds."""

    lines: tuple[LineBeforeAfter, ...]
    figures: tuple[FigureBeforeAfter, ...]
    unusual: tuple[Unusual, ...]


def _differ(one: Decimal | None, other: Decimal | None) -> bool:
    if one is None or other is None:
        return one is not other
    return abs(one - other) >= Decimal("0.0001")


def before_after(before: Formula, after: Formula, kinds: Mapping[str, str]) -> BeforeAfter:
    """Two formulas of the same lines; `kinds` are by ingredient key."""
    pairs = zip(places(before), places(after), strict=True)
    return BeforeAfter(
        lines=tuple(
            LineBeforeAfter(
                name=old.ingredient.name,
                before_g=old.mass_g,
                after_g=new.mass_g,
                before_percent=percent_at(before, place),
                after_percent=percent_at(after, place),
                opens_part=part.name if place.line == 0 else "",
            )
            for (place, part, old), (_, _, new) in pairs
        ),
        figures=_figures(before, after, kinds),
        unusual=unusual_in(after, kinds),
    )


def _figures(
    before: Formula, after: Formula, kinds: Mapping[str, str]
) -> tuple[FigureBeforeAfter, ...]:
    old, new = _named(before, kinds), _named(after, kinds)
    return (
        FigureBeforeAfter("Dough", before.dough_g, after.dough_g, in_grams=True),
        FigureBeforeAfter("All flour", before.flour_g, after.flour_g, in_grams=True),
        *(FigureBeforeAfter(name, old[name], new[name]) for name in old if old[name] or new[name]),
    )


def _named(formula: Formula, kinds: Mapping[str, str]) -> dict[str, Decimal | None]:
    parts = proportions(formula)
    return {
        "Hydration by added liquid": parts.hydration,
        "With hidden water": parts.hydration_with_hidden_water,
        "Flour in a preferment": parts.prefermented_flour,
        "Flour in the roux": parts.roux_flour,
        **{share.what: share.percent for share in shares(formula, kinds)},
    }
