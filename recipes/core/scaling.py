"""The scaling service: every list, page and paper takes its numbers from `scale`.

Exact masses are proportional to dough mass and never rounded here; each printed line is weighed
once from its exact mass, so no total is built by adding rounded numbers. A mass is multiplied
first and divided once, so that 28.5 g x 100 / 300 is 9.5 g and not a hair less.

What people and stations weigh is their dough to the gram; of a part that is made in one tub for
everybody they weigh what they take of it. The pooled amounts add, on top of
everybody's dough, the demonstration batches, the doughs that are brought ready-made, the handling
loss (what sticks to bowls and hands between the bulk tub and the stations), and dusting flour.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property

from recipes.core.amount_lines import (
    AmountLine,
    amount_line,
    dissolved,
)
from recipes.core.choices import ComponentKind
from recipes.core.errors import (
    NobodyBakes,
    OutOfRange,
    StationEmpty,
    StationUnknown,
)
from recipes.core.formula import Component, Formula, Ingredient
from recipes.core.numbers import (
    ONE,
    ZERO,
    not_negative,
    positive,
    settled,
    whole,
)
from recipes.core.weighing import (
    BENCH_SCALE,
    COARSE_SHARE,
    Scales,
    Weighing,
    split,
)

MOST_LOSS = Decimal("0.5")
# Steps of scales that a kitchen may have to borrow, in grams.
FINER_G = (Decimal("0.1"), Decimal("0.01"), Decimal("0.001"))


@dataclass(frozen=True, slots=True)
class Baker:
    """Somebody who bakes `pieces` pieces of `piece_g` grams of dough at a station.

    `brought` is the stage at which the instructor brings the dough ready-made, empty where it is
    made in class. `dustings` is how many times the dusting flour of one head is used for it.
    """

    key: str
    name: str
    station: str
    pieces: int
    piece_g: Decimal
    brought: str = ""
    dustings: int = 1

    def __post_init__(self) -> None:
        whole("pieces", self.pieces, least=1)
        positive("piece_g", self.piece_g)
        whole("dustings", self.dustings)

    @property
    def dough_g(self) -> Decimal:
        """Dough mass in grams."""
        return self.pieces * self.piece_g


def _dough(bakers: Iterable[Baker]) -> Decimal:
    return sum((baker.dough_g for baker in bakers), ZERO)


@dataclass(frozen=True)
class Demand:
    """Who bakes what, and what is needed on top of it.

    `demonstrations` are all doughs of the instructor's, the brought ones among them.
    `handling_loss` is a share (0.03 is 3 %) added to the pooled dough; `dusting_g` grams of
    `dusting_flour` are for every head, none where no flour is named.
    Raises NobodyBakes, StationEmpty, StationUnknown or OutOfRange.
    """

    bakers: tuple[Baker, ...]
    demonstrations: tuple[Baker, ...] = ()
    stations: tuple[str, ...] = ()
    handling_loss: Decimal = ZERO
    dusting_g: Decimal = ZERO
    dusting_flour: Ingredient | None = None
    scales: Scales = BENCH_SCALE

    def __post_init__(self) -> None:
        if not self.bakers and not self.demonstrations:
            raise NobodyBakes
        not_negative("dusting_g", self.dusting_g)
        if not_negative("handling_loss", self.handling_loss) > MOST_LOSS:
            raise OutOfRange("handling_loss", self.handling_loss, least=ZERO, most=MOST_LOSS)
        busy = {baker.station for baker in self.bakers}
        for station in self.stations:
            if station not in busy:
                raise StationEmpty(station)
        for baker in self.bakers:
            if self.stations and baker.station not in self.stations:
                raise StationUnknown(baker.station, baker.name)

    @property
    def heads(self) -> int:
        """How many times dusting flour is used: once for each baker and each demonstration."""
        return sum(baker.dustings for baker in (*self.bakers, *self.demonstrations))

    @cached_property
    def bakers_g(self) -> Decimal:
        """All bakers' dough in grams."""
        return _dough(self.bakers)

    @cached_property
    def demonstrations_g(self) -> Decimal:
        """The dough that is shown in class, in grams."""
        return _dough(baker for baker in self.demonstrations if not baker.brought)

    @cached_property
    def brought_g(self) -> Decimal:
        """The dough that is brought ready-made, in grams."""
        return _dough(baker for baker in self.demonstrations if baker.brought)

    @property
    def everybody_g(self) -> Decimal:
        """All dough in grams, without handling loss."""
        return self.bakers_g + self.demonstrations_g + self.brought_g


@dataclass(frozen=True)
class ComponentAmounts:
    """A component's lines, or what is taken of it from the tub that is made for everybody.

    With a `tub`, the lines only tell what is in it: nobody weighs them.
    """

    name: str
    kind: ComponentKind
    lines: tuple[AmountLine, ...]
    exact_g: Decimal
    cooking_loss: Decimal = ZERO
    tub: Weighing | None = None

    @property
    def to_weigh(self) -> tuple[AmountLine, ...]:
        """The lines, but for a part that comes from a tub."""
        return () if self.tub else self.lines

    @cached_property
    def weighed_g(self) -> Decimal:
        """What is taken from the tub, or the sum of the lines as weighed, in grams."""
        if self.tub:
            return self.tub.grams
        return sum((line.weighed.grams for line in self.lines), ZERO)

    @property
    def cooked_g(self) -> Decimal:
        """What to expect on the scale after cooking, before it is made up again, in grams."""
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


@dataclass(frozen=True, slots=True)
class PersonAmounts:
    """What one baker weighs."""

    baker: Baker
    sheet: Sheet

    def piece_masses(self) -> tuple[Decimal, ...]:
        """The pieces, in whole grams, that the dough is divided into."""
        return split(self.sheet.dough_g, (ONE,) * self.baker.pieces, step_g=ONE)


@dataclass(frozen=True, slots=True)
class StationAmounts:
    """What a station needs together, without handling loss."""

    station: str
    bakers: tuple[Baker, ...]
    sheet: Sheet


@dataclass(frozen=True, slots=True)
class Division:
    """A component made in bulk, divided among stations; the shares keep the weighed total.

    `kept_back_g` is the handling loss that stays in the tub.
    """

    component: str
    exact_g: Decimal
    weighed_g: Decimal
    shares: tuple[tuple[str, Decimal], ...]
    kept_back_g: Decimal
    step_g: Decimal


@dataclass(frozen=True, slots=True)
class IngredientNeed:
    """An ingredient over everything, in exact grams, and where the mass comes from."""

    ingredient: Ingredient
    bakers_g: Decimal
    demonstrations_g: Decimal
    loss_g: Decimal
    dusting_g: Decimal
    brought_g: Decimal = ZERO

    @property
    def exact_g(self) -> Decimal:
        """All of it, in grams, to the nanogram."""
        instructors_g = self.demonstrations_g + self.brought_g
        return settled(self.bakers_g + instructors_g + self.loss_g + self.dusting_g)

    def __add__(self, other: IngredientNeed) -> IngredientNeed:
        return IngredientNeed(
            self.ingredient,
            self.bakers_g + other.bakers_g,
            self.demonstrations_g + other.demonstrations_g,
            self.loss_g + other.loss_g,
            self.dusting_g + other.dusting_g,
            self.brought_g + other.brought_g,
        )


@dataclass(frozen=True)
class Amounts:
    """A formula scaled to a demand.

    `demonstrations` are all doughs of the instructor's: the `shown` and the `brought` ones.
    """

    formula: Formula
    demand: Demand
    persons: tuple[PersonAmounts, ...]
    demonstrations: tuple[PersonAmounts, ...]
    stations: tuple[StationAmounts, ...]
    pooled: Sheet
    divisions: tuple[Division, ...]
    needs: tuple[IngredientNeed, ...]

    @property
    def shown(self) -> tuple[PersonAmounts, ...]:
        """The doughs that the instructor makes in class."""
        return tuple(one for one in self.demonstrations if not one.baker.brought)

    @property
    def brought(self) -> tuple[PersonAmounts, ...]:
        """The doughs that the instructor brings ready-made."""
        return tuple(one for one in self.demonstrations if one.baker.brought)


def _batch_g(formula: Formula, component: Component) -> Decimal:
    """The dough that a component's lines are written for: its own, or that of `for_pieces`."""
    if component.kind.goes_into_dough:
        return formula.dough_g
    return (component.for_pieces or 1) * formula.piece_g


def _component(
    formula: Formula, part: Component, wanted_g: Decimal, scales: Scales
) -> ComponentAmounts:
    batch_g = _batch_g(formula, part)
    exact_g = not_negative("exact_g", part.mass_g * wanted_g / batch_g)
    lines = [
        amount_line(line.ingredient, line.mass_g * wanted_g / batch_g, scales)
        for line in part.lines
    ]
    made = dissolved(lines, scales)
    return ComponentAmounts(part.name, part.kind, made, exact_g, part.cooking_loss)


def _sheet(formula: Formula, dough_g: Decimal, scales: Scales, loss: Decimal = ZERO) -> Sheet:
    """The lines for a dough mass; the handling loss is of dough, wash and topping have none."""
    with_loss_g = dough_g * (ONE + loss)
    components = [
        _component(formula, part, with_loss_g if part.kind.goes_into_dough else dough_g, scales)
        for part in formula.components
    ]
    return Sheet(with_loss_g, tuple(components))


Tubs = tuple[Weighing, ...]
Taker = tuple[str, Decimal]


class _Sheets:
    """Sheets by dough mass and what is taken from the tubs: bakers of the same share one."""

    def __init__(self, formula: Formula, scales: Scales) -> None:
        self._formula = formula
        self._scales = scales
        self._made: dict[Decimal, Sheet] = {}
        self._taken: dict[tuple[Decimal, Tubs], Sheet] = {}

    def of(self, dough_g: Decimal, tubs: Tubs | None = None) -> Sheet:
        """A sheet with these weighings from the tubs; without any, each from its exact mass."""
        sheet = self._made.get(dough_g)
        if sheet is None:
            sheet = self._made[dough_g] = _sheet(self._formula, dough_g, self._scales)
        if tubs is None:
            tubs = tuple(self._scales.weigh(part.exact_g) for part in _bulk(sheet))
        key = dough_g, tubs
        if key not in self._taken:
            self._taken[key] = _from_tubs(sheet, tubs, self._scales)
        return self._taken[key]


def _bulk(sheet: Sheet) -> Iterator[ComponentAmounts]:
    return (part for part in sheet.components if part.kind.made_in_bulk)


def _from_tubs(sheet: Sheet, tubs: Tubs, scales: Scales) -> Sheet:
    """The sheet with what is taken from the tubs, which is never nothing."""
    taken, parts = iter(tubs), []
    for part in sheet.components:
        if part.kind.made_in_bulk:
            tub = next(taken)
            part = replace(part, tub=tub if tub.grams else scales.weigh(part.exact_g))
        parts.append(part)
    return replace(sheet, components=tuple(parts))


def _at_stations(demand: Demand) -> dict[str, list[Baker]]:
    """Who bakes at each station, in its order."""
    names = demand.stations or tuple(dict.fromkeys(baker.station for baker in demand.bakers))
    at: dict[str, list[Baker]] = {name: [] for name in names}
    for baker in demand.bakers:
        at[baker.station].append(baker)
    return at


def _divisions(pooled: Sheet, takers: Sequence[Taker], scales: Scales) -> tuple[Division, ...]:
    """How each bulk component is shared out, by dough mass, with the loss kept back."""
    shared = sum((dough_g for _, dough_g in takers), ZERO)
    parts = [dough_g for _, dough_g in takers] + [pooled.dough_g - shared]
    return tuple(_division(part, takers, parts, scales) for part in _bulk(pooled))


def _division(
    part: ComponentAmounts, takers: Sequence[Taker], parts: Sequence[Decimal], scales: Scales
) -> Division:
    """In steps of the scale that weighs the tub, or finer where somebody would get nothing."""
    weighed = scales.weigh(part.exact_g)
    first_g = max(weighed.step_g, FINER_G[-1])
    finer = {step_g for step_g in (*scales.steps_g, *FINER_G) if step_g < first_g}
    for step_g in (first_g, *sorted(finer, reverse=True)):
        *shares, kept_g = split(weighed.grams, parts, step_g)
        if all(shares):
            break
    named = tuple((name, share_g) for (name, _), share_g in zip(takers, shares, strict=True))
    # Not what the scale showed: a tub of milligrams has digits that no step here can divide.
    return Division(part.name, part.exact_g, sum(shares, kept_g), named, kept_g, step_g)


def _shares(divisions: Sequence[Division], taker: int) -> Tubs:
    """What a taker weighs from each tub."""
    return tuple(
        Weighing(
            grams=tub.shares[taker][1],
            step_g=tub.step_g,
            coarse=tub.step_g > COARSE_SHARE * tub.shares[taker][1],
        )
        for tub in divisions
    )


def _line_needs(formula: Formula, demand: Demand) -> Iterator[IngredientNeed]:
    for part in formula.components:
        batch_g = _batch_g(formula, part)
        lost_g = demand.everybody_g * demand.handling_loss if part.kind.goes_into_dough else ZERO
        for line in part.lines:
            yield IngredientNeed(
                line.ingredient,
                bakers_g=line.mass_g * demand.bakers_g / batch_g,
                demonstrations_g=line.mass_g * demand.demonstrations_g / batch_g,
                loss_g=line.mass_g * lost_g / batch_g,
                dusting_g=ZERO,
                brought_g=line.mass_g * demand.brought_g / batch_g,
            )
    if demand.dusting_flour and demand.dusting_g:
        dusting_g = demand.dusting_g * demand.heads
        yield IngredientNeed(demand.dusting_flour, ZERO, ZERO, ZERO, dusting_g)


def pool(needs: Iterable[IngredientNeed]) -> tuple[IngredientNeed, ...]:
    """Needs of the same ingredient, by key, added up, in the order of first appearance."""
    pooled: dict[str, IngredientNeed] = {}
    for need in needs:
        seen = pooled.get(need.ingredient.key)
        pooled[need.ingredient.key] = seen + need if seen else need
    return tuple(pooled.values())


def scale(formula: Formula, demand: Demand) -> Amounts:
    """Scale a formula to a demand: per person, per station and pooled, exact and as weighed.

    Masses are grams. Persons and stations carry no handling loss; `pooled` and `needs` do.
    """
    sheets, at = _Sheets(formula, demand.scales), _at_stations(demand)
    pooled = _sheet(formula, demand.everybody_g, demand.scales, demand.handling_loss)
    takers = [(name, _dough(bakers)) for name, bakers in at.items()]
    takers += [(baker.name, baker.dough_g) for baker in demand.demonstrations]
    divisions = _divisions(pooled, takers, demand.scales)
    stations = tuple(
        StationAmounts(name, tuple(bakers), sheets.of(_dough(bakers), _shares(divisions, taker)))
        for taker, (name, bakers) in enumerate(at.items())
    )
    alone = {one.bakers[0].key: one.sheet for one in stations if len(one.bakers) == 1}
    return Amounts(
        formula=formula,
        demand=demand,
        persons=tuple(
            PersonAmounts(baker, alone.get(baker.key) or sheets.of(baker.dough_g))
            for baker in demand.bakers
        ),
        demonstrations=tuple(
            PersonAmounts(baker, sheets.of(baker.dough_g, _shares(divisions, taker)))
            for taker, baker in enumerate(demand.demonstrations, start=len(stations))
        ),
        stations=stations,
        pooled=pooled,
        divisions=divisions,
        needs=pool(_line_needs(formula, demand)),
    )


def batch(formula: Formula, dough_g: Decimal, scales: Scales | None = None) -> Sheet:
    """The amounts for one dough mass in grams, for a recipe page or a kitchen at home."""
    return _sheet(formula, positive("dough_g", dough_g), scales or BENCH_SCALE)
