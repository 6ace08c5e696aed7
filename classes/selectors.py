"""Rows to planning values: the only place where a class becomes a value."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal

from classes.access import home_code
from classes.core.demand import Person, StationPlaces, Taught, seat_people
from classes.core.keys import PersonKey
from classes.core.regions import Region, usual_home_region
from classes.core.shopping import Supply
from classes.core.wholes import PartOfWhole, Whole
from classes.diets.decisions import decisions_of, eater_of
from classes.enrollment.models import Enrollment
from classes.hours.plan import KeptHours
from classes.hours.selectors import mixers_of, ovens_of, timed_recipe, work_of
from classes.models import ClassSession, Kitchen, Station, StockItem, TaughtRecipe
from classes.plan import (
    ClassPlan,
    IngredientFacts,
    KitchenFacts,
    MixerFriction,
    Student,
    TaughtRevision,
)
from recipes.book.doneness import core_of
from recipes.core.choices import IngredientKind, Storage
from recipes.core.composition import TAP_WATER
from recipes.core.formula import WATER, Formula, FormulaIngredient
from recipes.core.heat.doneness import BreadKind
from recipes.core.regions import HomeRegion
from recipes.core.weighing import Scales
from recipes.models import Ingredient as IngredientRow
from recipes.models import Variant
from recipes.selectors import (
    composition_value,
    formula_value,
    ingredient_value,
    made_before,
    made_of,
    own_pan,
    with_flours,
)
from recipes.variants.selectors import varied

Instead = Mapping[int, Variant]
"""Variants in the place of what is baked now, by the keys of taught recipes."""


def planned_class(pk: int) -> ClassSession:
    """A class with everything its plan is made from, for somebody whose access was checked."""
    return ClassSession.objects.with_plan().get(pk=pk)


def class_plan(session: ClassSession, *, instead: Instead | None = None) -> ClassPlan:
    """A class fetched `with_plan` as a value; with other variants, as if it used them."""
    kitchen, swapped = session.kitchen, instead or {}
    people = people_of(session)
    stations = {person.key: person.station for person in people}
    rows = list(session.taught.all())
    ingredients = _ingredient_rows(session, swapped.values())
    formulas = {row.pk: formula_value(row.revision) for row in rows}
    timed = {row.pk: timed_recipe(row, formulas[row.pk]) for row in rows}
    return ClassPlan(
        code=session.code,
        title=session.title,
        starts_at=session.starts_at,
        ends_at=session.ends_at,
        seats=session.seats,
        currency=session.currency,
        handling_loss_percent=session.handling_loss_percent,
        kitchen=kitchen_facts(kitchen, getattr(session, "home_region", None)),
        stations=tuple(station.name for station in session.stations.all()),
        students=tuple(_student(enrollment, stations) for enrollment in expected(session)),
        people=people,
        taught=tuple(
            TaughtRevision(
                usual=_taught(row, formulas[row.pk], swapped.get(row.pk, row.variant)),
                variants=tuple(_variants(session, row, formulas[row.pk], swapped.get(row.pk))),
                timed=timed[row.pk],
                label=str(row.revision),
                note=row.revision.note,
                equipment=tuple(row.revision.equipment_list),
                bread_kind=BreadKind(row.revision.bread_kind) if row.revision.bread_kind else None,
                dough_temperature_c=row.revision.dough_temperature_c,
                core_temperature_c=row.revision.core_temperature_c,
                core=core_of(row.revision, kitchen.altitude_m),
                pan=own_pan(row.revision),
                made=tuple(made_before(row.revision)),
            )
            for row in rows
        ),
        ingredients={key: ingredient_facts(row) for key, row in ingredients.items()},
        supplies=_supplies(session, ingredients),
        decisions=decisions_of(session),
        work=work_of(
            session,
            people,
            stations=session.stations.all(),
            taught=[(row, timed[row.pk]) for row in rows],
            assistants=len(session.assistants.all()),
        ),
        kept_hours=kept_hours(session),
    )


def scales_of(kitchen: Kitchen) -> Scales:
    """The kitchen's scales; one of 1 g if none is entered."""
    steps = tuple(Decimal(scale.step_g) for scale in kitchen.scales.all())
    return Scales(steps) if steps else Scales()


def places_of(stations: Iterable[Station]) -> tuple[StationPlaces, ...]:
    """Stations as places to work at, in their order."""
    return tuple(StationPlaces(station.name, station.places) for station in stations)


def _wish(enrollment: Enrollment) -> str | None:
    return enrollment.station.name if enrollment.station else None


def expected(session: ClassSession) -> list[Enrollment]:
    """Everybody on the roster who is not marked absent at the door."""
    return [
        enrollment
        for enrollment in session.enrollments.all()
        if enrollment.door != Enrollment.Door.ABSENT
    ]


def people_of(session: ClassSession) -> tuple[Person, ...]:
    """Everybody expected, with a station, then the empty seats if they are planned for.

    Nobody if the class has no station yet.
    """
    stations = session.stations.all()
    return people_at(session, expected(session), stations) if stations else ()


def people_at(
    session: ClassSession, enrolled: Iterable[Enrollment], stations: Iterable[Station]
) -> tuple[Person, ...]:
    """The same for stations and a class that may be unsaved.

    Once somebody has been marked at the door, empty seats are no longer planned for.
    """
    roster = list(enrolled)
    begun = any(enrollment.door == Enrollment.Door.CAME for enrollment in roster)
    planned = session.count_empty_seats and not begun
    empty = max(0, session.seats - len(roster)) if planned else 0
    wanted = [_wish(enrollment) for enrollment in roster] + [None] * empty
    names = [(PersonKey.student(enrollment.pk), enrollment.name) for enrollment in roster]
    names += [(PersonKey.seat(n), f"Seat {n}") for n in range(len(roster) + 1, len(wanted) + 1)]
    seated = seat_people(wanted, places_of(stations)) if wanted else ()
    return tuple(
        Person(key, name, station) for (key, name), station in zip(names, seated, strict=True)
    )


def kitchen_facts(kitchen: Kitchen, home_region: str | None) -> KitchenFacts:
    """A kitchen with its equipment, and the recipe book's home region, if any."""
    guidance = Region(kitchen.guidance)
    usual = usual_home_region(guidance, kitchen.currency, kitchen.time_zone)
    return KitchenFacts(
        name=kitchen.name,
        zone=kitchen.zone,
        region=guidance,
        altitude_m=kitchen.altitude_m,
        room_c=kitchen.room_c,
        flour_c=kitchen.flour_c,
        tap_c=kitchen.tap_c,
        scales=scales_of(kitchen),
        ovens=ovens_of(kitchen),
        mixers=mixers_of(kitchen),
        frictions=tuple(
            MixerFriction(mixer.name, mixer.friction_c) for mixer in kitchen.mixers.all()
        ),
        place=kitchen.place,
        access_facts=kitchen.access_facts,
        first_aid_place=kitchen.first_aid_place,
        defibrillator_place=kitchen.defibrillator_place,
        extinguisher_place=kitchen.extinguisher_place,
        shutoff_place=kitchen.shutoff_place,
        meeting_point=kitchen.meeting_point,
        emergency_number=kitchen.emergency_number,
        home_region=HomeRegion(home_region) if home_region else usual,
        writing=kitchen.writing,
    )


def kept_hours(session: ClassSession) -> KeptHours | None:
    """The plan that a class keeps, if any."""
    kept = getattr(session, "kept_plan", None)
    return KeptHours(kept.made_for, kept.document, kept.made_at) if kept else None


def _student(one: Enrollment, stations: Mapping[PersonKey, str]) -> Student:
    eater = eater_of(one)
    return Student(
        pk=one.pk,
        eater=replace(eater, station=stations.get(eater.key, "")),
        wrote=bool(one.must_not_eat),
        has_nothing=one.diet == Enrollment.Diet.NOTHING,
        was_asked=one.diet != Enrollment.Diet.NOT_ASKED,
        answers=one.diet != Enrollment.Diet.SILENT,
        home=one.home,
        home_code=home_code(one),
    )


# What is baked


def _main_flour(formula: Formula) -> FormulaIngredient | None:
    """The largest flour, in the dough itself if that has any."""
    lines = [line for line in formula.dough_lines() if line.ingredient.is_flour]
    return max(lines, key=lambda line: line.mass_g).ingredient if lines else None


def _variants(
    session: ClassSession, row: TaughtRecipe, formula: Formula, usual: Variant | None
) -> Iterable[tuple[Taught, frozenset[PersonKey]]]:
    """The variants of a taught recipe, each with the keys of those who bake it."""
    usual_pk = usual.pk if usual else row.variant_id
    people: dict[Variant, set[PersonKey]] = {}
    for student in expected(session):
        for variant in student.variants.all():
            if variant.revision_id == row.revision_id and variant.pk != usual_pk:
                people.setdefault(variant, set()).add(PersonKey.student(student.pk))
    for variant, keys in people.items():
        own = _taught(row, formula, variant)
        yield replace(own, demonstration_batches=0), frozenset(keys)


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


# What is in it


def ingredient_facts(row: IngredientRow) -> IngredientFacts:
    """How an ingredient is kept and what it consists of."""
    return IngredientFacts(
        name=row.name,
        kind=IngredientKind(row.kind),
        storage=Storage(row.storage),
        composition=composition_value(row),
        density_g_per_ml=row.density_g_per_ml,
    )


def _ingredient_rows(session: ClassSession, others: Iterable[Variant]) -> dict[str, IngredientRow]:
    """Every ingredient the class uses, also for variants and dusting, by its key.

    Wholes from which parts are taken are included, and what starters are fed with.
    """
    rows: dict[str, IngredientRow] = {}
    variants = list(others)
    for enrollment in session.enrollments.all():
        variants += enrollment.variants.all()
    for taught in session.taught.all():
        for part in taught.revision.components.all():
            rows |= {line.ingredient.key: line.ingredient for line in part.lines.all()}
        if taught.dusting_flour:
            rows[taught.dusting_flour.key] = taught.dusting_flour
        if taught.variant:
            variants.append(taught.variant)
    for variant in variants:
        rows |= {swap.by.key: swap.by for swap in variant.swaps.all()}
    wholes = (row.part_of for row in rows.values())
    fed_with = {of.flour.key: of.flour for row in with_flours(rows.values()) for of in made_of(row)}
    if any(row.kind == IngredientKind.STARTER for row in rows.values()):
        rows.setdefault(WATER.key, _tap_water())
    return fed_with | rows | {row.key: row for row in wholes if row and row.each_g}


def _tap_water() -> IngredientRow:
    """The water for feeding a starter in a class that uses no other water."""
    water = TAP_WATER.water_g
    kind = IngredientKind.LIQUID.value
    return IngredientRow(
        key=WATER.key, name=WATER.name, kind=kind, tap=True, water_percent=water, aisle="tap"
    )


def _supplies(session: ClassSession, rows: Mapping[str, IngredientRow]) -> dict[str, Supply]:
    """Stock and packs by ingredient key, of these; parts come with what they are taken out of."""
    stock = {item.ingredient_id: item for item in session.kitchen.stock.all()}
    opened = {row.part_of_id for row in rows.values()}
    wholes: dict[int | None, Whole] = {
        row.pk: _whole(row, row.each_g) for row in rows.values() if row.pk in opened and row.each_g
    }
    return {
        key: _supply(row, stock.get(row.pk), wholes.get(row.part_of_id))
        for key, row in rows.items()
    }


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


def _whole(row: IngredientRow, each_g: Decimal) -> Whole:
    """A whole with all its shared parts."""
    parts = (
        PartOfWhole(part.key, part.name, each_g * part.part_share, part.each_name)
        for part in row.parts.all()
        if part.owner_id is None and part.part_share
    )
    return Whole(ingredient_value(row), each_g, tuple(parts))
