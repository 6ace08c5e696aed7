"""Rows to planning values: the only place where a class becomes numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db.models import Prefetch

from classes.core.demand import (
    ClassAmounts,
    ClassNeeds,
    Person,
    Taught,
    class_amounts,
)
from classes.core.keys import PersonKey
from classes.core.shopping import (
    ShoppingList,
    Supply,
    shopping_list,
)
from classes.core.stations import StationPlaces, seat_people
from classes.core.wholes import PartOfWhole, Whole
from classes.diets.decisions import as_decided
from classes.enrollment.models import Enrollment
from classes.models import (
    ClassSession,
    Kitchen,
    Station,
    StockItem,
    TaughtRecipe,
)
from recipes.core.formula import Formula, Ingredient
from recipes.core.numbers import HUNDRED
from recipes.core.weighing import Scales
from recipes.models import Ingredient as IngredientRow
from recipes.models import Variant
from recipes.selectors import formula_value, ingredient_value
from recipes.variants.selectors import varied


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


def places_of(stations: Iterable[Station]) -> tuple[StationPlaces, ...]:
    """Stations as places to work at, in their order."""
    return tuple(StationPlaces(station.name, station.places) for station in stations)


def _wish(enrollment: Enrollment) -> str | None:
    return enrollment.station.name if enrollment.station else None


def expected(session: ClassSession) -> list[Enrollment]:
    """Everybody on the roster who is not marked absent at the door."""
    return [one for one in session.enrollments.all() if one.door != Enrollment.Door.ABSENT]


def people_of(session: ClassSession) -> tuple[Person, ...]:
    """Everybody expected, with a station, then the empty seats if they are planned for."""
    return people_at(session, expected(session), session.stations.all())


def people_at(
    session: ClassSession, enrolled: Iterable[Enrollment], stations: Iterable[Station]
) -> tuple[Person, ...]:
    """The same for stations, and a class, that need not be saved yet.

    Once somebody has come to the door, empty seats are no longer planned for.
    """
    roster = list(enrolled)
    begun = any(one.door == Enrollment.Door.CAME for one in roster)
    planned = session.count_empty_seats and not begun
    empty = max(0, session.seats - len(roster)) if planned else 0
    wanted = [_wish(one) for one in roster] + [None] * empty
    names = [(PersonKey.student(one.pk), one.name) for one in roster]
    names += [(PersonKey.seat(n), f"Seat {n}") for n in range(len(roster) + 1, len(wanted) + 1)]
    seated = seat_people(wanted, places_of(stations)) if wanted else ()
    return tuple(
        Person(key, name, station) for (key, name), station in zip(names, seated, strict=True)
    )


def _main_flour(formula: Formula) -> Ingredient | None:
    """The flour there is most of, in the dough itself when it has any."""
    lines = [line for line in formula.dough_lines() if line.ingredient.is_flour]
    return max(lines, key=lambda line: line.mass_g).ingredient if lines else None


def _bakes_variant(session: ClassSession, row: TaughtRecipe) -> dict[Variant, set[PersonKey]]:
    """Who bakes a variant of a taught recipe, by person's key."""
    people: dict[Variant, set[PersonKey]] = {}
    for student in expected(session):
        for variant in student.variants.all():
            if variant.revision_id == row.revision_id and variant.pk != row.variant_id:
                people.setdefault(variant, set()).add(PersonKey.student(student.pk))
    return people


def taught_values(
    session: ClassSession, row: TaughtRecipe, people: Iterable[Person], *, decided: bool = True
) -> Iterator[Taught]:
    """A taught revision as these people bake it, then its variants with those they are for.

    What the instructor brings ready-made follows what each person bakes: those of a variant are
    brought dough of their variant, so that nobody is handed what they must not eat. What was
    decided about that changes what they bake, unless `decided` is False.
    """
    everybody = frozenset(person.key for person in people)
    for value in _chosen_values(session, row, everybody):
        if decided:
            bakers = everybody if value.only_for is None else value.only_for
            yield from as_decided(session, row, value, bakers)
        else:
            yield value


def _chosen_values(
    session: ClassSession, row: TaughtRecipe, everybody: frozenset[PersonKey]
) -> Iterator[Taught]:
    formula = formula_value(row.revision)
    variants = _bakes_variant(session, row)
    others = everybody & set().union(*variants.values())
    usual = _taught(row, formula, row.variant)
    if others:
        usual = replace(usual, only_for=everybody - others)
    yield usual
    for variant, keys in variants.items():
        own = _taught(row, formula, variant)
        yield replace(own, demonstration_batches=0, only_for=frozenset(keys & everybody))


def taught_as(row: TaughtRecipe, variant: Variant | None) -> Taught:
    """A taught recipe as a variant, or as it is written."""
    return _taught(row, formula_value(row.revision), variant)


def _taught(row: TaughtRecipe, formula: Formula, variant: Variant | None) -> Taught:
    shown = varied(formula, variant).formula if variant else formula
    chosen = row.dusting_flour
    return Taught(
        key=f"{row.pk}-{variant.pk}" if variant else str(row.pk),
        label=f"{row.revision}, variant {variant}" if variant else str(row.revision),
        formula=shown,
        pieces_each=row.pieces_each,
        piece_g=row.piece_g,
        demonstration_batches=row.demonstration_batches,
        dusting_g=row.dusting_g,
        dusting_flour=ingredient_value(chosen) if chosen else _main_flour(shown),
        revision=str(row.revision_id),
        piece_name=row.revision.piece_name,
        brings=row.brings,
        bakes=f"{row.revision_id}-{variant.pk if variant else 0}",
    )


def class_needs(
    session: ClassSession, people: tuple[Person, ...] | None = None, *, decided: bool = True
) -> ClassNeeds:
    """All that decides the amounts of a class fetched `with_plan`, for its people or for these.

    Unless `decided` is False, as it was decided about what people must not eat.
    """
    those = people_of(session) if people is None else people
    return ClassNeeds(
        taught=tuple(
            value
            for row in session.taught.all()
            for value in taught_values(session, row, those, decided=decided)
        ),
        people=those,
        handling_loss=session.handling_loss_percent / HUNDRED,
        scales=scales_of(session.kitchen),
    )


def _supply(
    ingredient_row: IngredientRow, stock: StockItem | None, part_of: Whole | None = None
) -> Supply:
    return Supply(
        on_hand_g=stock.on_hand_g if stock else Decimal(0),
        pack_g=(stock.pack_g if stock and stock.pack_g else ingredient_row.pack_g),
        pack_price=stock.pack_price if stock and stock.pack_g else None,
        aisle=ingredient_row.aisle,
        storage=ingredient_row.storage,
        tap=ingredient_row.tap,
        part_of=part_of,
    )


def ingredient_rows(session: ClassSession) -> dict[str, IngredientRow]:
    """Every ingredient the class uses, swapped in or dusted with too, by its key."""
    rows = {}
    for taught in session.taught.all():
        for part in taught.revision.components.all():
            rows |= {line.ingredient.key: line.ingredient for line in part.lines.all()}
        if taught.dusting_flour:
            rows[taught.dusting_flour.key] = taught.dusting_flour
        if taught.variant:
            rows |= {swap.by.key: swap.by for swap in taught.variant.swaps.all()}
    for student in session.enrollments.all():
        for variant in student.variants.all():
            rows |= {swap.by.key: swap.by for swap in variant.swaps.all()}
    return rows


def supplies_of(session: ClassSession) -> dict[str, Supply]:
    """Stock and packs by ingredient key, for all the class uses and what its parts come out of."""
    stock = {item.ingredient_id: item for item in session.kitchen.stock.all()}
    rows = ingredient_rows(session)
    opened = _wholes({row.part_of_id for row in rows.values() if row.part_of_id})
    wholes = {row.pk: _whole(row) for row in opened}
    rows |= {row.key: row for row in opened}
    return {
        key: _supply(row, stock.get(row.pk), wholes.get(row.part_of_id))
        for key, row in rows.items()
    }


def _wholes(keys: set[int]) -> list[IngredientRow]:
    """What parts come out of, with all shared parts; asks nothing where there is none."""
    if not keys:
        return []
    shared = Prefetch("parts", IngredientRow.objects.filter(owner=None))
    wholes = IngredientRow.objects.filter(pk__in=keys, each_g__isnull=False)
    return list(wholes.prefetch_related(shared))


def _whole(row: IngredientRow) -> Whole:
    parts = (
        PartOfWhole(part.key, part.name, row.each_g * part.part_share, part.each_name)
        for part in row.parts.all()
    )
    return Whole(ingredient_value(row), row.each_g, tuple(parts))


def class_numbers(session: ClassSession) -> ClassNumbers:
    """Amounts and shopping of a class fetched `with_plan`.

    Raises NobodyBakes when it has neither people nor demonstrations.
    """
    needs = class_needs(session)
    amounts = class_amounts(needs)
    shopping = shopping_list(amounts.needs, supplies_of(session), needs.scales, session.currency)
    return ClassNumbers(session, amounts, shopping, needs.people)
