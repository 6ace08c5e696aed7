"""The handouts, the station cards and the assistant's list of a class, from its plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Set
from dataclasses import replace
from datetime import datetime
from itertools import groupby

from django.conf import settings
from django.urls import reverse

from classes.core.demand import TaughtAmounts
from classes.core.diets.heeds import beside_of, heeds_of
from classes.core.hours.problem.oven_time import in_the_oven
from classes.core.shopping import ShoppingList
from classes.heads import heads_in_words
from classes.plan import ClassPlan, Student, TaughtRevision
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
from handouts.safety.hazards import hazards_of
from handouts.safety.heeds import (
    card_heeds,
    conflicts_at,
    on_station,
    with_marks,
)
from handouts.worked import way_in_words
from recipes.core.allergens import allergens, found_in
from recipes.core.choices import StepKind
from recipes.core.formula import (
    Component,
    Formula,
    component_card,
    component_percent,
)
from recipes.core.scaling import ComponentAmounts, PersonAmounts

IN_PRIVATE = "wants to tell you in private: ask"


def paper_head(plan: ClassPlan, printed_at: datetime) -> PaperHead:
    """What every paper of a class says in its head. Raises NoRecipe."""
    return PaperHead(
        title=plan.title,
        code=plan.code,
        kitchen=plan.kitchen.name,
        starts_at=plan.starts_at,
        ends_at=plan.ends_at,
        printed_at=printed_at,
        zone=plan.kitchen.zone,
        revisions=tuple(dict.fromkeys(recipe.taught.shown for recipe in plan.amounts.recipes)),
        hazards=hazards_of(plan),
        region=plan.kitchen.region,
    )


# The student's handout


def handouts(
    plan: ClassPlan, students: Iterable[Student], printed_at: datetime
) -> tuple[Handout, ...]:
    """A handout for each of the students. Raises NoRecipe."""
    head, told = paper_head(plan, printed_at), plan.concerns_of
    return tuple(
        Handout(
            head=head,
            name=student.name,
            station=student.station,
            home_address=home_address(student),
            recipes=tuple(
                with_marks(
                    _recipe_card(plan, recipe, person),
                    recipe.taught.revision,
                    told.get(student.key),
                )
                for recipe in plan.amounts.recipes
                for person in recipe.amounts.persons
                if person.baker.key == student.key
            ),
            heeds=heeds_of(told.get(student.key)),
            beside=beside_of(told.get(student.key)),
        )
        for student in students
    )


def home_address(student: Student) -> str:
    """Where a student's recipes for their kitchen at home are."""
    path = reverse("handouts:at_home", args=[student.home_token])
    return settings.SITE_URL.rstrip("/") + path


def _recipe_card(plan: ClassPlan, recipe: TaughtAmounts, person: PersonAmounts) -> RecipeCard:
    taught, sheet = recipe.taught, person.sheet
    revision = plan.revisions[taught.revision]
    parts = zip(taught.formula.components, sheet.components, strict=True)
    return RecipeCard(
        title=taught.formula.title,
        label=taught.label,
        note=revision.note,
        piece_name=taught.piece_name,
        piece_masses_g=person.piece_masses(),
        sheet=sheet,
        parts=tuple(_card_part(taught.formula, part, amounts) for part, amounts in parts),
        dough_percent=taught.formula.percent(taught.formula.dough_g),
        dusting_g=taught.dusting_g,
        dusting_flour=taught.dusting_flour.name if taught.dusting_flour else "",
        dough_temperature_c=revision.dough_temperature_c,
        core=revision.core,
        steps=_steps(plan, revision, set(StepKind)),
        equipment=revision.equipment,
        allergens=allergens(taught.formula),
    )


def _steps(plan: ClassPlan, taught: TaughtRevision, kinds: Set[StepKind]) -> tuple[Step, ...]:
    steps = taught.timed.steps
    return tuple(
        Step(
            kind=step.kind.label,
            text=step.text,
            hands_on_min=step.hands_on_min,
            waiting_min=step.waiting_min,
            temperature_c=step.temperature_c,
            temperature_of=step.temperature_of.label if step.temperature_of else "",
            worked=way_in_words(plan, taught, step),
            oven_min=oven_min,
        )
        for step, oven_min in zip(steps, in_the_oven(steps), strict=True)
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


def _stations(plan: ClassPlan, columns: Columns, *, on_wall: bool) -> tuple[StationSheet, ...]:
    """The stations with somebody at them, in the kitchen's order; marked for the wall or not."""
    told = plan.concerns
    people: dict[str, list[str]] = {}
    for person in plan.people:
        people.setdefault(person.station, []).append(person.name)
    names = [name for name in plan.stations if name in people]
    return tuple(
        StationSheet(
            name=name,
            people=tuple(people[name]),
            recipes=tuple(
                on_station(station_recipe(recipe, name, columns), name, told, on_wall=on_wall)
                for recipe in plan.amounts.recipes
                if any(at.station == name for at in recipe.amounts.stations)
            ),
        )
        for name in names
    )


def station_cards(plan: ClassPlan, printed_at: datetime) -> tuple[StationCard, ...]:
    """A card for each recipe at each station with somebody at it. Raises NoRecipe."""
    head, avoided = paper_head(plan, printed_at), plan.avoided
    told = plan.concerns
    return tuple(
        StationCard(
            head=head,
            station=station.name,
            people=recipe.people,
            recipe=recipe,
            avoids=avoided.get(station.name, ()),
            heeds=card_heeds(told, station.name, recipe.taught),
        )
        for station in _stations(plan, one_a_dough, on_wall=True)
        for recipe in station.recipes
    )


# The assistant's list


def preparation_list(plan: ClassPlan, printed_at: datetime) -> PreparationList:
    """The assistant's list, with what people must not eat. Raises NoRecipe."""
    recipes, shopping = plan.amounts.recipes, plan.shopping
    told = plan.concerns
    return PreparationList(
        head=paper_head(plan, printed_at),
        aisles=_aisles(shopping),
        tap=tuple(line for line in shopping.lines if line.supply.tap),
        cash_out=shopping.cash_out,
        handling_loss_percent=plan.handling_loss_percent,
        allergens=found_in(line.ingredient for line in shopping.lines),
        pooled=tuple(
            PooledRecipe(
                title=recipe.taught.formula.title,
                label=recipe.taught.label,
                sheet=recipe.amounts.pooled,
                heads=heads_in_words(recipe),
                ahead=tuple(_ahead(recipe)),
                prepare=_steps(plan, plan.revisions[recipe.taught.revision], {StepKind.PREPARE}),
            )
            for recipe in recipes
        ),
        stations=tuple(
            replace(
                station,
                private=_must_not_eat(plan, station.name),
                conflicts=conflicts_at(told, station.name),
            )
            for station in _stations(plan, one_each, on_wall=False)
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


def _must_not_eat(plan: ClassPlan, station: str) -> tuple[tuple[str, str], ...]:
    return tuple(
        (student.name, student.told or IN_PRIVATE)
        for student in plan.students
        if (student.told or student.wants_privacy) and student.station == station
    )
