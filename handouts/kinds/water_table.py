"""The water table: how warm the water of each dough must be, around what is expected today.

The middle of each table is the water of the station cards; all of it comes from
`classes.dough.in_class`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import ClassVar

from classes.core.demand import TaughtAmounts
from classes.dough.in_class import (
    UNSAID_HOW,
    Ask,
    DoughWater,
    Mixed,
    Water,
    dough_water,
    mixed_by_students,
    mixed_for_showing,
)
from classes.plan import ClassPlan, KitchenFacts
from handouts.kind import BENCH, Leaves, Material, NotPrinted, PaperKind, only
from handouts.paper import Paper, paper_head
from handouts.safety.values import Hazard
from recipes.core.heat.dough_batch import liquid_of
from recipes.core.heat.dough_liquid import Means
from recipes.core.heat.water import Model, difference_c
from recipes.core.numbers import ZERO
from recipes.core.scaling import PersonAmounts
from wording.lists import listed
from wording.masses import grams
from wording.writing import Writing

HAZARDS = frozenset({Hazard.HANDS, Hazard.FLOOR})
# Steps of a table around what is expected, in the degrees that the kitchen reads first.
STEPS = (-2, -1, 0, 1, 2)
STEP_C, STEP_F = Decimal(2), Decimal(4)

NO_WATER = NotPrinted(
    409,
    "No water to warm or cool",
    "No recipe of the class pours a liquid into its final dough.",
)


@dataclass(frozen=True, slots=True)
class WaterCell:
    """The liquid at one room and flour temperature; `ice` in grams, `why` if there is no answer."""

    use: str = ""
    ice: str = ""
    as_it_comes: bool = False
    why: str = ""
    is_expected: bool = False


@dataclass(frozen=True, slots=True)
class WaterRow:
    """A room temperature, and a cell for each temperature of the flour."""

    room: str
    cells: tuple[WaterCell, ...]
    is_expected: bool


@dataclass(frozen=True, slots=True)
class WaterToday:
    """The liquid at what is expected: on the kitchen's scale and the other one, and for each."""

    use: str
    other: str
    each: str
    means: str


@dataclass(frozen=True, slots=True)
class DoughTable:
    """The table of a dough as it is mixed; without `rows` nothing is known but what is missing.

    `labels` are the recipes and variants whose water it is, `poured_g` what each person pours;
    `is_shown` marks a demonstration's. `ice_of` is the liquid in which a cell's ice is counted,
    `friction_sum` how to work out what mixing adds, empty for a heat balance.
    """

    title: str
    labels: tuple[str, ...]
    mixed: str
    liquid: str
    poured_g: tuple[Decimal, ...] = ()
    is_shown: bool = False
    why: str = ""
    dough: str = ""
    today: WaterToday | None = None
    flours: tuple[str, ...] = ()
    rows: tuple[WaterRow, ...] = ()
    ice_of: str = ""
    friction_sum: str = ""

    @property
    def amounts(self) -> str:
        """What one of them weighs at what is expected, and all of them."""
        each, count = self.today.each if self.today else "", len(self.poured_g)
        return (
            f"{each} each, {grams(sum(self.poured_g, ZERO))} g for {count}" if count > 1 else each
        )

    @property
    def poured(self) -> str:
        """A short word for the liquid."""
        return self.liquid if self.liquid == "water" else "liquid"

    @property
    def has_ice(self) -> bool:
        return any(cell.ice for row in self.rows for cell in row.cells)


@dataclass(frozen=True, kw_only=True)
class WaterTable(Paper):
    """The water of all doughs of a class, for whoever draws it in the morning."""

    template: ClassVar[str] = "handouts/water_table.html"
    style: ClassVar[str] = "water-table"

    expected: str
    doughs: tuple[DoughTable, ...]


def water_table(plan: ClassPlan, printed_at: datetime) -> tuple[WaterTable, ...]:
    """The water table of a class; none if no dough takes a liquid. Raises NothingTaught."""
    doughs = tuple(_joined(_doughs(plan)))
    head, expected = paper_head(plan, printed_at), _expected(plan.kitchen)
    if not doughs:
        return ()
    return (WaterTable(head=head, hazards=HAZARDS, expected=expected, doughs=doughs),)


def _expected(kitchen: KitchenFacts) -> str:
    said = (("room", kitchen.room_c), ("flour", kitchen.flour_c), ("tap water", kitchen.tap_c))
    return ", ".join(f"{name} {kitchen.writing.one_scale(celsius)}" for name, celsius in said)


def _joined(doughs: Iterable[DoughTable]) -> Iterator[DoughTable]:
    """Variants whose water is the same share a table; those that differ are told apart."""
    groups: dict[DoughTable, list[DoughTable]] = {}
    for dough in doughs:
        groups.setdefault(replace(dough, labels=(), poured_g=()), []).append(dough)
    alike = Counter((dough.title, dough.mixed) for dough in groups)
    for dough, group in groups.items():
        labels = tuple(label for one in group for label in one.labels)
        title = listed(labels) if alike[dough.title, dough.mixed] > 1 else dough.title
        poured_g = tuple(mass for one in group for mass in one.poured_g)
        yield replace(dough, title=title, labels=labels, poured_g=poured_g)


def _doughs(plan: ClassPlan) -> Iterator[DoughTable]:
    """For each recipe the students' dough, and the demonstration's where it is mixed otherwise."""
    for recipe in plan.amounts.recipes:
        taught, amounts = plan.revisions[recipe.taught.revision], recipe.amounts
        ways = mixed_by_students(plan, taught) if amounts.persons else ()
        shown = mixed_for_showing(plan, taught) if amounts.shown else ()
        for mixed in ways:
            yield from _dough(plan, recipe, mixed, amounts.persons)
        for mixed in shown:
            if mixed not in ways:
                for dough in _dough(plan, recipe, mixed, amounts.shown):
                    how = f"demonstration, {mixed.words}"
                    yield replace(dough, mixed=how, is_shown=True)
        heads = amounts.persons or amounts.shown
        if heads and not (ways or shown) and (liquid := liquid_of(heads[0].sheet)):
            yield DoughTable(*_named(recipe), "", liquid.name, why=UNSAID_HOW)


def _named(recipe: TaughtAmounts) -> tuple[str, tuple[str, ...]]:
    return recipe.taught.formula.title, (recipe.taught.label,)


def _dough(
    plan: ClassPlan,
    recipe: TaughtAmounts,
    mixed: Mixed,
    heads: Sequence[PersonAmounts],
) -> Iterator[DoughTable]:
    """The table of those who mix a recipe in one way; none if it takes no liquid."""
    sheet, kitchen = heads[0].sheet, plan.kitchen
    around = [_step(kitchen, by) for by in STEPS]
    grid: list[list[Water]] = []
    for room in around:
        row = (
            dough_water(
                plan,
                recipe,
                sheet,
                mixed,
                room_c=kitchen.room_c + room,
                flour_c=kitchen.flour_c + flour,
            )
            for flour in around
        )
        grid.append([water for water in row if water])
    if not any(grid):
        return
    today = grid[len(STEPS) // 2][len(STEPS) // 2]
    known = next((water for row in grid for water in row if isinstance(water, DoughWater)), None)
    table = DoughTable(*_named(recipe), mixed.words, today.liquid, tuple(_poured(heads)))
    if isinstance(today, Ask):
        table = replace(table, why=today.why)
    else:
        table = replace(table, today=_today(today, kitchen.writing))
    if known:
        table = replace(
            table,
            dough=kitchen.writing.one_scale(known.dough_c),
            flours=tuple(kitchen.writing.one_scale(kitchen.flour_c + by) for by in around),
            rows=tuple(_rows(kitchen, around, grid)),
            ice_of=grams(known.liquid_g),
            friction_sum=_friction_sum(known),
        )
    yield table


def _step(kitchen: KitchenFacts, by: int) -> Decimal:
    """A number of steps away from what is expected, in °C."""
    return by * (difference_c(STEP_F) if kitchen.writing.fahrenheit_first else STEP_C)


def _rows(
    kitchen: KitchenFacts, around: Sequence[Decimal], grid: Sequence[Sequence[Water]]
) -> Iterator[WaterRow]:
    for room, waters in zip(around, grid, strict=True):
        yield WaterRow(
            room=kitchen.writing.one_scale(kitchen.room_c + room),
            cells=tuple(
                replace(_cell(water, kitchen.writing), is_expected=room == flour == ZERO)
                for flour, water in zip(around, waters, strict=True)
            ),
            is_expected=room == ZERO,
        )


def _cell(water: Water, writing: Writing) -> WaterCell:
    if isinstance(water, Ask):
        return WaterCell(why=water.short)
    return WaterCell(
        use=writing.one_scale(water.use_c),
        ice=grams(water.ice_g) if water.is_iced else "",
        as_it_comes=water.means is Means.AS_IT_IS,
    )


_MEANS = {
    Means.AS_IT_IS: "as it comes",
    Means.WARM: "warmed",
    Means.CHILL: "chilled, not iced",
    Means.ICE: "with ice",
}


def _today(water: DoughWater, writing: Writing) -> WaterToday:
    each = f"{grams(water.tap_g)} g"
    other = replace(writing, fahrenheit_first=not writing.fahrenheit_first)
    return WaterToday(
        use=writing.one_scale(water.use_c),
        other=other.one_scale(water.use_c),
        each=f"{each} and {grams(water.ice_g)} g ice" if water.is_iced else each,
        means=_MEANS[water.means],
    )


def _poured(heads: Iterable[PersonAmounts]) -> Iterator[Decimal]:
    for head in heads:
        if liquid := liquid_of(head.sheet):
            yield sum((line.weighed.grams for line in liquid.lines), ZERO)


def _friction_sum(water: DoughWater) -> str:
    """The bakers' formula solved for what mixing adds."""
    if water.model is not Model.TRADE_SUM:
        return ""
    around = water.at.around
    preferment = " − preferment" if around.preferment_c is not None else ""
    return f"{around.terms} × dough − room − flour{preferment} − {water.liquid}"


def _leaves(material: Material) -> Leaves:
    papers = water_table(material.plan, material.at)
    if not papers:
        raise NO_WATER
    return only(papers)


KIND = PaperKind(
    "water-table",
    "Water table",
    "How warm the water must be this morning, by room and flour, with ice.",
    BENCH,
    _leaves,
)
