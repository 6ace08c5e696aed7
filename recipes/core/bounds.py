"""Usual bounds, which explain themselves and block nothing.

Percentages are of all flour. The bounds say what most breads have, with their sources; plenty of
good breads are outside.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from recipes.core.exchange.kinds import TEXTBOOK, YEAST_FORMS, YeastFactors, YeastForm
from recipes.core.formula import Formula, proportions
from recipes.core.heat.doneness import BreadKind
from recipes.core.numbers import ZERO
from recipes.core.weighing import nearest


@dataclass(frozen=True, slots=True)
class UsualBound:
    """What most breads have of something, in percent of all flour, with the source.

    `only_if_any` bounds say nothing about breads that have none of it.
    """

    what: str
    least: Decimal
    most: Decimal
    source: str
    only_if_any: bool = False
    among: str = "most breads"


def _bound(
    what: str, least: str, most: str, source: str, *, if_any_among: str = ""
) -> tuple[str, UsualBound]:
    """A bound by its name; one that says nothing at zero names the breads it is for."""
    among = if_any_among or "most breads"
    return what, UsualBound(what, Decimal(least), Decimal(most), source, bool(if_any_among), among)


BOUNDS: dict[str, UsualBound] = dict(
    (
        _bound("salt", "1.5", "2.5", "a baking textbook, quoted"),
        _bound("hydration", "50", "90", "a table of dough types, bagel to rye; not authoritative"),
        _bound(
            "yeast, as fresh",
            "0.1",
            "5",
            "a hobby survey of more than 350 recipes, taken to mean fresh yeast",
            if_any_among="most breads",
        ),
        _bound("fat", "0", "60", "brioche has 50 to 60 % butter; a hobby survey goes to 100 %"),
        _bound("sugar", "0", "25", "from memory, no source"),
        _bound(
            "prefermented flour",
            "15",
            "40",
            "a hobby handbook",
            if_any_among="most breads with a preferment",
        ),
        _bound(
            "roux flour",
            "5",
            "10",
            "an encyclopedia and several pages",
            if_any_among="most roux breads",
        ),
    )
)


def _of_kind(
    kind: BreadKind, what: str, least: str, most: str
) -> tuple[tuple[str, BreadKind], UsualBound]:
    among = f"most breads of the kind “{kind.label.lower()}”"
    return (what, kind), UsualBound(
        what, Decimal(least), Decimal(most), COMMON_PRACTICE, among=among
    )


COMMON_PRACTICE = "common practice, no published source"
KIND_BOUNDS: dict[tuple[str, BreadKind], UsualBound] = dict(
    (
        _of_kind(BreadKind.LEAN, "hydration", "55", "85"),
        _of_kind(BreadKind.SOFT, "hydration", "10", "70"),
        _of_kind(BreadKind.SOFT, "salt", "1", "2.2"),
        _of_kind(BreadKind.PAN, "hydration", "50", "75"),
        _of_kind(BreadKind.DENSE, "hydration", "65", "100"),
    )
)


def usual_of(what: str, kind: BreadKind | None = None) -> UsualBound:
    """The bound for breads of a kind if one is known, else for all breads."""
    own = KIND_BOUNDS.get((what, kind)) if kind else None
    return own or BOUNDS[what]


@dataclass(frozen=True, slots=True)
class BoundFinding:
    """Something outside its bounds, in percent of all flour."""

    what: str
    value: Decimal
    least: Decimal
    most: Decimal
    source: str
    among: str


def bounds_findings(
    formula: Formula,
    kinds: Mapping[str, str],
    *,
    bounds: Mapping[str, UsualBound] = BOUNDS,
    factors: YeastFactors = TEXTBOOK,
) -> tuple[BoundFinding, ...]:
    """What in a formula is outside the bounds, in their order.

    `kinds` says by ingredient key what is `salt`, `yeast`, `fat` or `sugar`; other kinds are
    ignored. Yeast is converted to fresh by `factors` if its key tells its form. What cannot be said
    gives no finding.
    """
    values = dict(compared(formula, kinds, factors))
    return tuple(
        BoundFinding(bound.what, values[what], bound.least, bound.most, bound.source, bound.among)
        for what, bound in bounds.items()
        if what in values and is_outside(bound, values[what])
    )


def is_outside(bound: UsualBound, value: Decimal) -> bool:
    """Whether a value is outside what most breads have."""
    if bound.only_if_any and value == ZERO:
        return False
    return not bound.least <= value <= bound.most


def compared(
    formula: Formula, kinds: Mapping[str, str], factors: YeastFactors = TEXTBOOK
) -> Iterator[tuple[str, Decimal]]:
    """The values that the bounds compare, by name, in percent of all flour.

    What cannot be said is left out.
    """
    for what, percent in _percents(formula, kinds, factors):
        if percent is not None:
            yield what, percent


def _percents(
    formula: Formula, kinds: Mapping[str, str], factors: YeastFactors
) -> Iterator[tuple[str, Decimal | None]]:
    shares = proportions(formula)
    masses = {"salt": ZERO, "yeast": ZERO, "fat": ZERO, "sugar": ZERO}
    for line in formula.dough_lines():
        kind = kinds.get(line.ingredient.key, "")
        if kind == "yeast":
            masses[kind] += _as_fresh(line.ingredient.key, line.mass_g, factors)
        elif kind in masses:
            masses[kind] += line.mass_g
    for kind, mass_g in masses.items():
        yield ("yeast, as fresh" if kind == "yeast" else kind), formula.percent(mass_g)
    yield "hydration", shares.hydration
    yield "prefermented flour", shares.prefermented_flour
    yield "roux flour", shares.roux_flour


def _as_fresh(key: str, mass_g: Decimal, factors: YeastFactors) -> Decimal:
    form = YEAST_FORMS.get(key, YeastForm.FRESH)
    return mass_g / factors.factor(form) if factors.knows(form) else mass_g


def worded(finding: BoundFinding) -> str:
    """`salt 3.4 %: most breads 1.5 to 2.5 %`, with enough decimals to see why."""
    from_least = f"{_plain(finding.least)} to" if finding.least else "up to"
    most = _plain(finding.most)
    return f"{finding.what} {_shown(finding)} %: {finding.among} {from_least} {most} %"


def _plain(number: Decimal) -> str:
    return f"{number.normalize():f}"


def _shown(finding: BoundFinding) -> str:
    """The value to one decimal, or more if it would round to zero or into the bounds."""
    for places in range(1, 6):
        rounded = nearest(finding.value, Decimal(1).scaleb(-places))
        if not finding.least <= rounded <= finding.most and bool(rounded) == bool(finding.value):
            return _plain(rounded)
    return _plain(finding.value)
