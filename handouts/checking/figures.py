"""The figures of each kind of paper, from its frozen value: totals, degrees, minutes and times.

Each is named in words that all papers share, so that the same thing on two papers is one figure.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from decimal import Decimal
from functools import singledispatch
from typing import NamedTuple

from classes.core.hours.drawing.spans import ActivityKind
from handouts.kinds.at_home import AtHome
from handouts.kinds.handout import Handout
from handouts.kinds.homework import Homework
from handouts.kinds.oven_map import OvenMap
from handouts.kinds.preparation import PreparationList
from handouts.kinds.run_sheet import RunSheet
from handouts.kinds.station_cards import StationCard
from handouts.kinds.temperature_log import OF_BREAD, OF_DOUGH, TemperatureLog
from handouts.kinds.water_table import WaterTable
from handouts.labels.layout import LabelPaper
from handouts.paper import Paper
from handouts.preparing.placed import FROM_TUB, PlacedRecipe
from handouts.recipe_card import RecipeCard
from handouts.run_sheet.course import RunRow
from handouts.station_tables import StationRecipe, StationTable
from recipes.core.heat.core_temperature import Core
from recipes.core.numbers import ZERO
from recipes.core.scaling.amount_lines import AmountLine
from recipes.core.weighing import Weighing
from wording.durations import minutes
from wording.figures import plain
from wording.masses import grams
from wording.writing import PLAIN, Writing

EACH = "Each"


class PaperFigure(NamedTuple):
    """A figure's meaning, its value, and how it is printed."""

    of: str
    value: str
    printed: str = ""


Figures = Iterator[PaperFigure]


class Breads(NamedTuple):
    """The breads of a class by title, to find which one a text is about."""

    titles: tuple[str, ...]
    altitude_m: int
    writing: Writing = PLAIN

    def in_words(self, words: str) -> str:
        """The longest title that the text contains."""
        return max((title for title in self.titles if title in words), key=len, default=words)


def mass(of: str, weighed: Weighing | Decimal) -> PaperFigure:
    value = weighed.grams if isinstance(weighed, Weighing) else weighed
    return PaperFigure(of, f"{plain(value)} g", grams(weighed))


@singledispatch
def figures_of(paper: Paper, breads: Breads) -> Figures:
    """What a paper says that others may say too; nothing for kinds without such figures."""
    yield from ()


# Handouts


@figures_of.register
def _of_handout(paper: Handout, breads: Breads) -> Figures:
    for card in paper.recipes:
        yield from _of_card(card, paper.station, paper.name)
        yield from _of_heat(card, breads)


@figures_of.register
def _of_homework(paper: Homework, breads: Breads) -> Figures:
    """The handout for the week before: about the day it has the steps with their minutes."""
    for card in paper.recipes:
        yield from _of_bakes(card, breads.in_words(card.label), breads.writing)


def _of_card(card: RecipeCard, station: str, name: str) -> Figures:
    at = f"{card.label}, {station}, {name}"
    yield mass(f"{at}, dough", card.sheet.weighed_dough_g)
    yield PaperFigure(f"{at}, dough", f"{plain(_lines_sum(card))} g")
    yield PaperFigure(f"{at}, pieces", f"{plain(card.sheet.dough_g)} g")
    yield PaperFigure(f"{at}, pieces", f"{plain(sum(card.piece_masses_g, ZERO))} g")
    for part in card.parts:
        if part.amounts.tub:
            yield mass(f"{at}, {part.amounts.name} from the tub", part.amounts.tub)
        for line in part.lines:
            yield _of_line(at, part.amounts.name, line.amount)


def _lines_sum(card: RecipeCard) -> Decimal:
    tubs = [part.amounts.tub for part in card.dough_parts if part.amounts.tub]
    lines = [line.amount.weighed for part in card.dough_parts for line in part.lines]
    return sum((weighed.grams for weighed in (*tubs, *lines)), ZERO)


def _of_line(at: str, part: str, line: AmountLine) -> PaperFigure:
    return mass(f"{at}, {part}: {line.ingredient.name}", line.weighed)


def _of_heat(card: RecipeCard, breads: Breads) -> Figures:
    bread = breads.in_words(card.label)
    if card.core:
        yield from _of_core(bread, card.core, breads.writing)
    if card.dough_temperature_c is not None:
        yield _of_dough(bread, card.dough_temperature_c, breads.writing)
    yield from _of_bakes(card, bread, breads.writing)


def _of_bakes(card: RecipeCard, bread: str, writing: Writing) -> Figures:
    bakes = [step for step in card.steps if step.oven_min]
    for step in bakes:
        if step.load_min:
            yield PaperFigure("", "", f"load {minutes(step.load_min)}")
        yield PaperFigure("", "", f"bake {minutes(step.oven_min)}")
    if bakes:
        yield PaperFigure(f"{bread}, in the oven", f"{sum(step.oven_min for step in bakes)} min")
    warm = [step.temperature_c for step in bakes if step.temperature_c is not None]
    if warm:
        yield _of_oven(bread, warm[0], writing)


def _of_core(bread: str, core: Core, writing: Writing) -> Figures:
    least, degrees = core.least_c, writing.degrees
    yield PaperFigure(f"{bread}, in the middle", f"{least:.2f} °C", degrees(least))
    if core.most_c is not None:
        yield PaperFigure(
            f"{bread}, in the middle at most", f"{core.most_c:.2f} °C", degrees(core.most_c)
        )


def _of_dough(bread: str, celsius: Decimal, writing: Writing) -> PaperFigure:
    degrees = writing.degrees(celsius)
    return PaperFigure(f"{bread}, dough after mixing", f"{plain(celsius)} °C", degrees)


def _of_oven(bread: str, celsius: Decimal, writing: Writing) -> PaperFigure:
    return PaperFigure(f"{bread}, oven", f"{plain(celsius)} °C", writing.degrees(celsius))


@figures_of.register
def _of_home(paper: AtHome, breads: Breads) -> Figures:
    """Home kitchens differ, but not minutes in the oven, nor core temperatures at one altitude."""
    for recipe in paper.recipes:
        bread, bakes = breads.in_words(recipe.card.label), recipe.heat.bakes
        if bakes:
            yield PaperFigure(f"{bread}, in the oven", f"{sum(bake.minutes for bake in bakes)} min")
            yield _of_oven(bread, bakes[0].class_c, breads.writing)._replace(printed="")
        for bake in bakes:
            yield PaperFigure("", "", f"{minutes(bake.minutes)} in the oven")
        core = recipe.heat.core
        if core and paper.kitchen.altitude_m == breads.altitude_m:
            yield from (said._replace(printed="") for said in _of_core(bread, core, breads.writing))


# Benches


@figures_of.register
def _of_station_card(paper: StationCard, breads: Breads) -> Figures:
    yield from _of_station(paper.recipe, paper.station)
    if paper.water:
        yield PaperFigure(f"{paper.recipe.label}, poured", paper.water.use, paper.water.use)


@figures_of.register
def _of_water(paper: WaterTable, breads: Breads) -> Figures:
    """The water of the students; where they use mixers that differ, no other paper has it."""
    own = [dough for dough in paper.doughs if not dough.is_shown]
    counted = Counter(label for dough in own for label in dough.labels)
    for dough in own:
        use = f"{dough.liquid[:1].upper()}{dough.liquid[1:]}"
        use += f" {dough.today.use}" if dough.today else ""
        for label in dough.labels:
            if counted[label] == 1:
                yield PaperFigure(f"{label}, poured", use, use)


@figures_of.register
def _of_preparation(paper: PreparationList, breads: Breads) -> Figures:
    stations = {bench.name for bench in paper.benches}
    for table in paper.tables:
        at = f"{table.label}, for everybody"
        for part in table.parts:
            yield from (_of_line(at, part.name, row.pooled) for row in part.rows if row.pooled)
        for n, place in enumerate(table.places):
            if place.name in stations:
                yield from _of_place(table, n, f"{table.label}, {place.name}")
    for tub in paper.tubs:
        for line in tub.amounts.lines:
            yield _of_line(f"{tub.recipe}, for everybody", tub.amounts.name, line)
        for taker, share_g in tub.division.shares:
            yield mass(f"{tub.recipe}, {taker}, {tub.amounts.name} from the tub", share_g)
    for item in (item for group in paper.groups for item in group.items):
        if item.bought:
            yield PaperFigure(f"needed, {item.name}", f"{item.bought.needed_g:.6f} g")
    for dough in paper.doughs:
        yield mass(f"{dough.name}, for everybody, dough", dough.uses[0].in_all.weighed)


def _of_place(table: PlacedRecipe, n: int, at: str) -> Figures:
    """What a station weighs, for each person whose name nobody else there has, and together."""
    rows = [("dough", table.total)]
    rows += [(f"{tub.name.removesuffix(FROM_TUB)} from the tub", tub) for tub in table.tubs]
    rows += [(f"{part.name}: {row.ingredient}", row) for part in table.parts for row in part.rows]
    counted = Counter(name for names, _ in table.places[n].sheets for name in names)
    masses: dict[str, Decimal] = {}
    for of, row in rows:
        cell = row.cells[n]
        for one in cell.portions:
            for name in (name for name in one.whose if counted[name] == 1):
                yield mass(f"{at}, {name}, {of}", one.weighed)
        whole = cell.together or cell.portions[0]
        if row is table.total:
            yield mass(f"{at}, dough", whole.weighed)
            continue
        if row in table.tubs:
            yield mass(f"{at}, {of}", whole.weighed)
        name = whole.name or row.name.removesuffix(FROM_TUB)
        masses[name] = masses.get(name, ZERO) + whole.grams
    for name, total_g in masses.items():
        yield PaperFigure(f"{at}, all {name}", f"{plain(total_g)} g")


def _of_station(recipe: StationRecipe, station: str) -> Figures:
    at = f"{recipe.label}, {station}"
    for table in recipe.tables:
        if table.leads:
            yield mass(f"{at}, dough", table.together_lines_g)
        for n, column in enumerate(table.columns):
            whose = recipe.people if column == EACH else [column]
            for name in _once_each(whose, recipe.people):
                yield from _of_column(table, n, f"{at}, {name}")
        if table.leads or len(recipe.people) == 1:
            yield from _of_bench(table, at)


def _once_each(names: Iterable[str], people: tuple[str, ...]) -> Iterator[str]:
    """The people of a column, except those whose name somebody else at the bench also has."""
    counted = Counter(people)
    for name in names:
        found = [name] if name in counted else [who for who in name.split(", ") if who in counted]
        yield from (who for who in found if counted[who] == 1)


def _of_column(table: StationTable, n: int, at: str) -> Figures:
    yield mass(f"{at}, dough", table.each_lines_g[n])
    for tub in table.tubs:
        yield mass(f"{at}, {tub.name} from the tub", tub.each[n][0])
    for part in table.parts:
        for row in part.rows:
            yield _of_line(at, part.name, row.each[n])


def _of_bench(table: StationTable, at: str) -> Figures:
    """What the bench weighs in total, by the name of what is weighed, as its labels say."""
    masses: dict[str, Decimal] = {}
    for tub in table.tubs:
        taken = tub.together or tub.each[0]
        yield mass(f"{at}, {tub.name} from the tub", taken[0])
        masses[tub.name] = masses.get(tub.name, ZERO) + taken[0].grams
    for part in table.parts:
        for row in part.rows:
            line = row.together or row.each[0]
            masses[line.name] = masses.get(line.name, ZERO) + line.weighed.grams
    for name, total_g in masses.items():
        yield PaperFigure(f"{at}, all {name}", f"{plain(total_g)} g")


@figures_of.register
def _of_labels(paper: LabelPaper, breads: Breads) -> Figures:
    masses: dict[str, Decimal] = {}
    for label in paper.labels:
        for block in label.contents:
            of = f"{label.about}, {label.holder}, all {block.text.partition(' (')[0]}"
            masses[of] = masses.get(of, ZERO) + Decimal(block.grams)
    for of, total_g in masses.items():
        yield PaperFigure(of, f"{plain(total_g)} g")


# By the clock


@figures_of.register
def _of_run_sheet(paper: RunSheet, breads: Breads) -> Figures:
    for row in paper.rows:
        yield from _of_run_row(row, breads)


def _of_run_row(row: RunRow, breads: Breads) -> Figures:
    bread = breads.in_words(row.recipe)
    for core in row.cores:
        yield from _of_core(bread, core, breads.writing)
    if row.dough_c is not None:
        yield _of_dough(bread, row.dough_c, breads.writing)._replace(printed="")
    if row.oven_time:
        time = row.oven_time
        printed = f"{minutes(time.bake_min)} in the oven"
        yield PaperFigure(f"{bread}, in the oven", f"{time.bake_min} min", printed)
        yield PaperFigure(f"{bread}, loading", f"{time.load_min} min")
    if row.kind is ActivityKind.BAKE:
        if row.temperature_c is not None:
            yield _of_oven(bread, row.temperature_c, breads.writing)
        for load in row.loads:
            yield PaperFigure(f"{load.oven}, in at {row.clock}", f"out {row.until}")


@figures_of.register
def _of_map(paper: OvenMap, breads: Breads) -> Figures:
    for load in paper.loads:
        yield PaperFigure(f"{load.oven}, load {load.number}, in", load.into, load.into)
        yield PaperFigure(f"{load.oven}, load {load.number}, out", load.out, load.out)
        yield PaperFigure(f"{load.oven}, in at {load.into}", f"out {load.out}")
        for title, time in load.breads:
            bread = breads.in_words(title)
            printed = f"{minutes(time.bake_min)} in the oven"
            yield PaperFigure(f"{bread}, in the oven", f"{time.bake_min} min", printed)
            yield PaperFigure(f"{bread}, loading", f"{time.load_min} min")
            if load.temperature_c is not None:
                yield _of_oven(bread, load.temperature_c, breads.writing)


@figures_of.register
def _of_log(paper: TemperatureLog, breads: Breads) -> Figures:
    for part in paper.parts:
        for row in part.rows:
            if row.expected_c is None:
                continue
            bread = breads.in_words(row.what)
            if part.heading == OF_BREAD:
                core = Core(row.expected_c, row.most_c, ZERO, capped=False)
                yield from _of_core(bread, core, breads.writing)
            elif part.heading == OF_DOUGH:
                yield _of_dough(bread, row.expected_c, breads.writing)
