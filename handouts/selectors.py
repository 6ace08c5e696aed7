"""A class and its numbers to papers: rows are read here, amounts come from `class_numbers`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import replace
from datetime import datetime
from itertools import groupby

from django.conf import settings
from django.urls import reverse

from classes.access import home_token
from classes.core.demand import TaughtAmounts
from classes.core.diets.heeds import beside_of, heeds_of
from classes.core.hours.problem.oven_time import in_the_oven
from classes.core.keys import PersonKey
from classes.core.regions import Region
from classes.core.shopping import ShoppingList
from classes.enrollment.models import Enrollment
from classes.heads import heads_in_words
from classes.models import ClassSession
from classes.selectors import ClassNumbers
from handouts.documents import (
    Ahead,
    Aisle,
    CardLine,
    CardPart,
    Handout,
    PooledRecipe,
    PreparationList,
    RecipeCard,
    StationCard,
    Step,
)
from handouts.kinds.stations import (
    Columns,
    StationSheet,
    brought_sheet,
    demonstration_sheet,
    one_a_dough,
    one_each,
    station_recipe,
)
from handouts.paper import PaperHead
from handouts.safety.hazards import hazards_of, revisions_of
from handouts.safety.heeds import (
    card_heeds,
    conflicts_at,
    on_station,
    with_marks,
)
from handouts.worked import ways_of_working
from recipes.book.doneness import core_of
from recipes.core.allergens import allergens, found_in
from recipes.core.choices import StepKind
from recipes.core.formula import (
    Component,
    Formula,
    component_card,
    component_percent,
)
from recipes.core.scaling import ComponentAmounts, PersonAmounts
from recipes.models import Revision

IN_PRIVATE = "wants to tell you in private: ask"


def planned_class(pk: int) -> ClassSession:
    """A class with all that its papers need, for somebody whose access has been checked."""
    return ClassSession.objects.with_plan().get(pk=pk)


def paper_head(numbers: ClassNumbers, printed_at: datetime) -> PaperHead:
    """What every paper of a class says in its head. Raises NoRecipe."""
    session = numbers.session
    return PaperHead(
        title=session.title,
        code=session.code,
        kitchen=session.kitchen.name,
        starts_at=session.starts_at,
        ends_at=session.ends_at,
        printed_at=printed_at,
        zone=session.kitchen.zone,
        revisions=tuple(dict.fromkeys(recipe.taught.shown for recipe in numbers.amounts.recipes)),
        hazards=hazards_of(numbers),
        region=Region(session.kitchen.guidance),
    )


# The student's handout


def handouts(
    numbers: ClassNumbers, students: Sequence[Enrollment], printed_at: datetime
) -> tuple[Handout, ...]:
    """A handout for each of the students, who are on the roster of the class.

    Raises NoRecipe.
    """
    head, revisions = paper_head(numbers, printed_at), revisions_of(numbers.session)
    ways = ways_of_working(numbers.session)
    stations = {person.key: person.station for person in numbers.people}
    altitude_m = numbers.session.kitchen.altitude_m
    told = {one.eater.key: one for one in numbers.plan.concerns}
    return tuple(
        Handout(
            head=head,
            name=student.name,
            station=stations[PersonKey.student(student.pk)],
            home_address=home_address(student),
            recipes=tuple(
                with_marks(
                    _recipe_card(
                        recipe, person, revisions[recipe.taught.revision], ways, altitude_m
                    ),
                    recipe.taught.revision,
                    told.get(person.baker.key),
                )
                for recipe in numbers.amounts.recipes
                for person in recipe.amounts.persons
                if person.baker.key == PersonKey.student(student.pk)
            ),
            heeds=heeds_of(told.get(PersonKey.student(student.pk))),
            beside=beside_of(told.get(PersonKey.student(student.pk))),
        )
        for student in students
    )


def home_address(student: Enrollment) -> str:
    """Where a student's recipes for their kitchen at home are."""
    path = reverse("handouts:at_home", args=[home_token(student)])
    return settings.SITE_URL.rstrip("/") + path


def _recipe_card(
    recipe: TaughtAmounts,
    person: PersonAmounts,
    revision: Revision,
    ways: Mapping[str, Sequence[str]],
    altitude_m: int,
) -> RecipeCard:
    taught, sheet = recipe.taught, person.sheet
    parts = zip(taught.formula.components, sheet.components, strict=True)
    return RecipeCard(
        title=taught.formula.title,
        label=taught.label,
        note=revision.note,
        piece_name=revision.piece_name,
        piece_masses_g=person.piece_masses(),
        sheet=sheet,
        parts=tuple(_card_part(taught.formula, part, amounts) for part, amounts in parts),
        dough_percent=taught.formula.percent(taught.formula.dough_g),
        dusting_g=taught.dusting_g,
        dusting_flour=taught.dusting_flour.name if taught.dusting_flour else "",
        dough_temperature_c=revision.dough_temperature_c,
        core=core_of(revision, altitude_m),
        steps=_steps(revision, ways, set(StepKind)),
        equipment=tuple(revision.equipment_list),
        allergens=allergens(taught.formula),
    )


def _steps(
    revision: Revision, ways: Mapping[str, Sequence[str]], kinds: Set[str]
) -> tuple[Step, ...]:
    rows, worked = list(revision.steps.all()), ways[str(revision.pk)]
    return tuple(
        Step(
            kind=step.get_kind_display(),
            text=step.text,
            hands_on_min=step.hands_on_min,
            waiting_min=step.waiting_min,
            temperature_c=step.temperature_c,
            temperature_of=step.get_temperature_of_display(),
            worked=way,
            oven_min=oven_min,
        )
        for step, way, oven_min in zip(rows, worked, in_the_oven(rows), strict=True)
        if step.kind in kinds
    )


def _card_part(formula: Formula, part: Component, amounts: ComponentAmounts) -> CardPart:
    rows = zip(part.lines, amounts.lines, component_card(formula, part), strict=True)
    lines = tuple(CardLine(amount, of.percent, line.note) for line, amount, of in rows)
    return CardPart(
        amounts=amounts,
        lines=() if amounts.tub else lines,
        percent=component_percent(formula, part, part.mass_g),
    )


# Stations


def _stations(
    numbers: ClassNumbers, columns: Columns, *, on_wall: bool
) -> tuple[StationSheet, ...]:
    """The stations with somebody at them, in the kitchen's order; marked for the wall or not."""
    told = numbers.plan.concerns
    people: dict[str, list[str]] = {}
    for person in numbers.people:
        people.setdefault(person.station, []).append(person.name)
    names = [station.name for station in numbers.session.stations.all() if station.name in people]
    return tuple(
        StationSheet(
            name=name,
            people=tuple(people[name]),
            recipes=tuple(
                on_station(station_recipe(recipe, name, columns), name, told, on_wall=on_wall)
                for recipe in numbers.amounts.recipes
                if any(at.station == name for at in recipe.amounts.stations)
            ),
        )
        for name in names
    )


def station_cards(numbers: ClassNumbers, printed_at: datetime) -> tuple[StationCard, ...]:
    """A card for each recipe at each station with somebody at it. Raises NoRecipe."""
    head, avoided = paper_head(numbers, printed_at), numbers.plan.avoided
    told = numbers.plan.concerns
    return tuple(
        StationCard(
            head=head,
            station=station.name,
            people=recipe.people,
            recipe=recipe,
            avoids=avoided.get(station.name, ()),
            heeds=card_heeds(told, station.name, recipe.taught),
        )
        for station in _stations(numbers, one_a_dough, on_wall=True)
        for recipe in station.recipes
    )


# The assistant's list


def preparation_list(numbers: ClassNumbers, printed_at: datetime) -> PreparationList:
    """The assistant's list, with what people must not eat. Raises NoRecipe."""
    recipes, shopping = numbers.amounts.recipes, numbers.shopping
    revisions, told = revisions_of(numbers.session), numbers.plan.concerns
    ways = ways_of_working(numbers.session)
    return PreparationList(
        head=paper_head(numbers, printed_at),
        aisles=_aisles(shopping),
        tap=tuple(line for line in shopping.lines if line.supply.tap),
        cash_out=shopping.cash_out,
        handling_loss_percent=numbers.session.handling_loss_percent,
        allergens=found_in(line.ingredient for line in shopping.lines),
        pooled=tuple(
            PooledRecipe(
                title=recipe.taught.formula.title,
                label=recipe.taught.label,
                sheet=recipe.amounts.pooled,
                heads=heads_in_words(recipe),
                ahead=tuple(_ahead(recipe)),
                prepare=_steps(revisions[recipe.taught.revision], ways, {StepKind.PREPARE}),
            )
            for recipe in recipes
        ),
        stations=tuple(
            replace(
                station,
                private=_must_not_eat(numbers, station.name),
                conflicts=conflicts_at(told, station.name),
            )
            for station in _stations(numbers, one_each, on_wall=False)
        ),
        demonstration=demonstration_sheet(recipes),
        brought=brought_sheet(recipes),
    )


def _aisles(shopping: ShoppingList) -> tuple[Aisle, ...]:
    bought = (line for line in shopping.lines if not line.supply.tap)
    by_aisle = groupby(bought, key=lambda line: line.supply.aisle)
    return tuple(Aisle(name, tuple(lines)) for name, lines in by_aisle)


def _ahead(recipe: TaughtAmounts) -> Iterator[Ahead]:
    bulk = (part for part in recipe.amounts.pooled.components if part.kind.made_in_bulk)
    for part, division in zip(bulk, recipe.amounts.divisions, strict=True):
        yield Ahead(part, division)


def _must_not_eat(numbers: ClassNumbers, station: str) -> tuple[tuple[str, str], ...]:
    at = {person.key for person in numbers.people if person.station == station}
    return tuple(
        (student.name, student.told or IN_PRIVATE)
        for student in numbers.session.enrollments.all()
        if (student.told or student.wants_privacy) and PersonKey.student(student.pk) in at
    )
