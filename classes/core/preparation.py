"""The preparation list: what to buy, to make ahead and to weigh, each line with a lasting key.

A key contains the weighed grams, so a line whose amount has changed counts as not done.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from classes.core.demand import BROUGHT, DEMONSTRATION, ClassAmounts, TaughtAmounts
from classes.core.keys import PersonKey, TickKey, Work
from classes.core.shopping import ShoppingList
from recipes.core.scaling import Baker, PersonAmounts
from recipes.core.scaling.amount_lines import AmountLine
from recipes.core.weighing import Weighing

TUB = "tub"


@dataclass(frozen=True, slots=True)
class PreparationTask:
    """One line to tick: what, how much, what else to know, and whom it concerns."""

    key: TickKey
    text: str
    grams: Decimal | None = None
    coarse: bool = False
    note: str = ""
    concern: str = ""


@dataclass(frozen=True, slots=True)
class TaskGroup:
    """Lines that are done together, such as one student's bowl."""

    title: str
    tasks: tuple[PreparationTask, ...]


@dataclass(frozen=True, slots=True)
class Preparation:
    """All groups in the order of work; stations come with one group for each person.

    Doughs that the instructor brings come before the stations, since they are made before class.
    """

    buying: TaskGroup
    ahead: tuple[TaskGroup, ...]
    stations: tuple[tuple[str, tuple[TaskGroup, ...]], ...]

    def tasks(self) -> Iterator[PreparationTask]:
        """Every task of the list."""
        yield from self.buying.tasks
        for group in self.ahead:
            yield from group.tasks
        for _, groups in self.stations:
            for group in groups:
                yield from group.tasks


def _buying(shopping: ShoppingList) -> TaskGroup:
    tasks = []
    for line in shopping.lines:
        if line.to_buy:
            note = "; ".join((line.buy_words, *line.notes))
            key = TickKey(Work.BUY, line.ingredient.key, line.buy_words)
            tasks.append(PreparationTask(key, line.ingredient.name, note=note))
    return TaskGroup("Buy", tuple(tasks))


def _task(part: TickKey, line: AmountLine) -> PreparationTask:
    grams = line.weighed.grams
    notes = [f"take {line.count.take} {line.count.of}, beat, weigh" if line.count else "", line.how]
    key = replace(part, ingredient=line.ingredient.key, amount=f"{grams:f}")
    return PreparationTask(
        key, line.name, grams, line.weighed.coarse, "; ".join(filter(None, notes))
    )


def _from_tub(part: TickKey, name: str, tub: Weighing) -> PreparationTask:
    key = replace(part, ingredient=TUB, amount=f"{tub.grams:f}")
    return PreparationTask(key, f"{name}, from the tub", tub.grams, tub.coarse)


def _ahead(recipe: TaughtAmounts) -> Iterator[TaskGroup]:
    for number, part in enumerate(recipe.amounts.pooled.components):
        if part.kind.made_in_bulk:
            key = TickKey(Work.AHEAD, taught=recipe.taught.key, part=number)
            yield TaskGroup(
                f"{part.name} for {recipe.taught.formula.title}",
                tuple(_task(key, line) for line in part.lines),
            )


def _person(recipe: TaughtAmounts, person: PersonAmounts) -> TaskGroup:
    whose, tasks = PersonKey(person.baker.key), []
    for number, part in enumerate(person.sheet.components):
        key = TickKey(Work.WEIGH, taught=recipe.taught.key, person=whose, part=number)
        if part.tub:
            tasks.append(_from_tub(key, part.name, part.tub))
        tasks += [_task(key, line) for line in part.to_weigh]
    return TaskGroup(_title(recipe, person.baker), tuple(tasks))


def _title(recipe: TaughtAmounts, baker: Baker) -> str:
    title = f"{baker.name} · {recipe.taught.formula.title}"
    return f"{title}, {baker.pieces} × {baker.piece_g.normalize():f} g" if baker.brought else title


def _by_place(amounts: ClassAmounts) -> Iterator[tuple[str, TaskGroup]]:
    for recipe in amounts.recipes:
        for dough in recipe.amounts.brought:
            yield BROUGHT, _person(recipe, dough)
    for recipe in amounts.recipes:
        for person in recipe.amounts.persons:
            yield person.baker.station, _person(recipe, person)
        for shown in recipe.amounts.shown:
            yield DEMONSTRATION, _person(recipe, shown)


def preparation(amounts: ClassAmounts, shopping: ShoppingList) -> Preparation:
    """The preparation list of a class; its numbers are those of the amounts."""
    stations: dict[str, list[TaskGroup]] = {}
    for place, group in _by_place(amounts):
        stations.setdefault(place, []).append(group)
    return Preparation(
        buying=_buying(shopping),
        ahead=tuple(group for recipe in amounts.recipes for group in _ahead(recipe)),
        stations=tuple((name, tuple(groups)) for name, groups in stations.items()),
    )
