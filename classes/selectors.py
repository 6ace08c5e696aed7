"""Rows to planning values: the only place where a class becomes numbers."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from classes.models import ClassSession, Enrollment, Kitchen, StockItem, TaughtRecipe
from classes.planning.demand import ClassAmounts, ClassNeeds, Person, Taught, class_amounts
from classes.planning.shopping import ShoppingList, Supply, shopping_list
from classes.planning.stations import Place, seat_people
from recipes.baking.formula import Formula, Ingredient
from recipes.baking.numbers import HUNDRED
from recipes.baking.weighing import Scales
from recipes.models import Ingredient as IngredientRow
from recipes.selectors import formula_value, ingredient_value


@dataclass(frozen=True)
class ClassNumbers:
    """A class with everything computed from it; every page and paper reads these."""

    session: ClassSession
    amounts: ClassAmounts
    shopping: ShoppingList
    people: tuple[Person, ...]


def scales_of(kitchen: Kitchen) -> Scales:
    """The kitchen's scales; one of 1 g where none is entered."""
    steps = tuple(Decimal(scale.step_g) for scale in kitchen.scales.all())
    return Scales(steps) if steps else Scales()


def station_places(session: ClassSession) -> tuple[Place, ...]:
    """The stations a class uses, in the kitchen's order."""
    return tuple(Place(station.name, station.places) for station in session.stations.all())


def _wish(enrollment: Enrollment) -> str | None:
    return enrollment.station.name if enrollment.station else None


def people_of(session: ClassSession) -> tuple[Person, ...]:
    """Everybody on the roster with a station, then the empty seats if they are planned for."""
    roster = list(session.enrollments.all())
    empty = max(0, session.seats - len(roster)) if session.count_empty_seats else 0
    wanted = [_wish(one) for one in roster] + [None] * empty
    names = [(f"student-{one.pk}", one.name) for one in roster]
    names += [(f"seat-{n}", f"Seat {n}") for n in range(len(roster) + 1, len(wanted) + 1)]
    seated = seat_people(wanted, station_places(session)) if wanted else ()
    return tuple(
        Person(key, name, station) for (key, name), station in zip(names, seated, strict=True)
    )


def _main_flour(formula: Formula) -> Ingredient | None:
    """The flour there is most of, in the dough itself when it has any."""
    lines = [line for line in formula.dough_lines() if line.ingredient.is_flour]
    return max(lines, key=lambda line: line.mass_g).ingredient if lines else None


def taught_value(row: TaughtRecipe) -> Taught:
    """A taught revision with its formula."""
    formula = formula_value(row.revision)
    chosen = row.dusting_flour
    return Taught(
        key=str(row.pk),
        label=str(row.revision),
        formula=formula,
        pieces_each=row.pieces_each,
        piece_g=row.piece_g,
        demonstration_batches=row.demonstration_batches,
        dusting_g=row.dusting_g,
        dusting_flour=ingredient_value(chosen) if chosen else _main_flour(formula),
    )


def class_needs(session: ClassSession) -> ClassNeeds:
    """All that decides the amounts of a class fetched `with_plan`."""
    return ClassNeeds(
        taught=tuple(taught_value(row) for row in session.taught.all()),
        people=people_of(session),
        handling_loss=session.handling_loss_percent / HUNDRED,
        scales=scales_of(session.kitchen),
    )


def _supply(ingredient_row: IngredientRow, stock: StockItem | None) -> Supply:
    return Supply(
        on_hand_g=stock.on_hand_g if stock else Decimal(0),
        pack_g=(stock.pack_g if stock and stock.pack_g else ingredient_row.pack_g),
        pack_price_minor=stock.pack_price_minor if stock and stock.pack_g else None,
        aisle=ingredient_row.aisle,
        storage=ingredient_row.storage,
        tap=ingredient_row.tap,
    )


def supplies_of(session: ClassSession) -> dict[str, Supply]:
    """Stock and packs by ingredient key, for every ingredient the class uses."""
    stock = {item.ingredient_id: item for item in session.kitchen.stock.all()}
    rows = {}
    for taught in session.taught.all():
        for part in taught.revision.components.all():
            rows |= {line.ingredient.key: line.ingredient for line in part.lines.all()}
        if taught.dusting_flour:
            rows[taught.dusting_flour.key] = taught.dusting_flour
    return {key: _supply(row, stock.get(row.pk)) for key, row in rows.items()}


def class_numbers(session: ClassSession) -> ClassNumbers:
    """Amounts and shopping of a class fetched `with_plan`.

    Raises NobodyBakes when it has neither people nor demonstrations.
    """
    needs = class_needs(session)
    amounts = class_amounts(needs)
    shopping = shopping_list(amounts.needs, supplies_of(session), needs.scales)
    return ClassNumbers(session, amounts, shopping, needs.people)
