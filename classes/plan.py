"""A class as one value, the only source for pages, files and papers.

It is made from rows once, by `classes.selectors.class_plan`, and contains none. What follows from
it is worked out when first asked for, and then cached.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from decimal import Decimal
from functools import cached_property
from typing import Any
from zoneinfo import ZoneInfo

from classes.core.demand import (
    ClassAmounts,
    ClassNeeds,
    Person,
    Taught,
    TaughtAmounts,
    class_amounts,
)
from classes.core.diets.conflicts import Concerns, Conflict, Decisions, concerns
from classes.core.diets.decided import Steps, as_decided, baked_of
from classes.core.diets.findings import BakedRecipe, Eater, Finding, avoided_at, findings, has_told
from classes.core.feeding import Feeding, feedings_of
from classes.core.hours.checking.verdict import Verdict, verdict_of
from classes.core.hours.problem.values import ClassWork, MixerKind, TimedRecipe
from classes.core.hours.problem.work import PlannedOven
from classes.core.keys import PersonKey
from classes.core.regions import Region
from classes.core.shopping import ShoppingList, Supply, shopping_list
from classes.hours.plan import ClassHours, KeptHours, hours_of
from recipes.core.allergens import label_of
from recipes.core.choices import ComponentKind, IngredientKind, Storage
from recipes.core.composition import Composition
from recipes.core.errors import NobodyBakes
from recipes.core.heat.core_temperature import Core
from recipes.core.heat.doneness import BreadKind
from recipes.core.heat.part_heat import Prepared
from recipes.core.numbers import HUNDRED
from recipes.core.pans.sizes import Pan
from recipes.core.regions import HomeRegion
from recipes.core.weighing import Scales
from wording.moments import Moment
from wording.writing import PLAIN, Writing


@dataclass(frozen=True, slots=True)
class MixerFriction:
    """A mixer and by how many °C it warms a dough in the bakers' formula, if that was measured."""

    name: str
    friction_c: Decimal | None


@dataclass(frozen=True, slots=True)
class KitchenFacts:
    """A kitchen: where it is, its equipment, its temperatures in °C, and how it writes."""

    name: str
    zone: ZoneInfo
    region: Region
    altitude_m: int
    room_c: Decimal
    flour_c: Decimal
    tap_c: Decimal
    scales: Scales
    ovens: tuple[PlannedOven, ...] = ()
    mixers: tuple[MixerKind, ...] = ()
    frictions: tuple[MixerFriction, ...] = ()
    place: str = ""
    access_facts: str = ""
    first_aid_place: str = ""
    defibrillator_place: str = ""
    extinguisher_place: str = ""
    shutoff_place: str = ""
    meeting_point: str = ""
    emergency_number: str = ""
    home_region: HomeRegion | None = None
    writing: Writing = PLAIN


@dataclass(frozen=True, slots=True)
class IngredientFacts:
    """How an ingredient is kept and what it consists of, in addition to its core value."""

    name: str
    kind: IngredientKind
    storage: Storage
    composition: Composition
    density_g_per_ml: Decimal | None = None

    @property
    def is_kept_cold(self) -> bool:
        """Whether it is kept cold until it is used; a starter is not, since it has been fed."""
        return self.storage.is_cold and self.kind is not IngredientKind.STARTER


@dataclass(frozen=True, slots=True)
class Student:
    """Somebody who is expected.

    `eater` is what they told us, `wrote` whether any of it in words. `has_nothing`: they said that
    there is nothing; `was_asked` is False if nobody asked them yet, and `answers` if they prefer
    not to say. `home` is their saved kitchen at home, and `home_code` is in its short address.
    """

    pk: int
    eater: Eater
    wrote: bool = False
    has_nothing: bool = False
    was_asked: bool = True
    answers: bool = True
    home: Mapping[str, Any] = field(default_factory=dict)
    home_code: str = field(default="", repr=False)

    @property
    def key(self) -> PersonKey:
        return self.eater.key

    @property
    def name(self) -> str:
        return self.eater.name

    @property
    def station(self) -> str:
        return self.eater.station

    @property
    def told(self) -> str:
        """What they must not eat, allergens and words; empty if nothing was told."""
        labels = ", ".join(map(label_of, self.eater.allergens))
        return "; ".join(filter(None, [labels, self.eater.words]))

    @property
    def wants_privacy(self) -> bool:
        """Whether they prefer to say in private what they must not eat."""
        return self.eater.private

    @property
    def is_silent(self) -> bool:
        """Whether they were not asked yet, or did not answer."""
        return not (self.was_asked and self.answers)


@dataclass(frozen=True)
class TaughtRevision:
    """A recipe revision that a class teaches, as it is written and as people bake it.

    `usual` is what everybody bakes except those in `variants`, given by their keys. `timed` has its
    steps, without the people who bake it. `made` is what is prepared before its dough.
    """

    label: str
    note: str
    usual: Taught
    variants: tuple[tuple[Taught, frozenset[PersonKey]], ...]
    timed: TimedRecipe
    equipment: tuple[str, ...] = ()
    bread_kind: BreadKind | None = None
    dough_temperature_c: Decimal | None = None
    core_temperature_c: Decimal | None = None
    core: Core | None = None
    pan: Pan | None = None
    made: tuple[Prepared, ...] = ()

    @property
    def key(self) -> str:
        return self.timed.key

    @property
    def title(self) -> str:
        return self.timed.title

    @property
    def pieces(self) -> int:
        """How many pieces it is written for."""
        return self.usual.formula.pieces

    @property
    def part_kinds(self) -> tuple[ComponentKind, ...]:
        """What kinds of parts it is made of."""
        return tuple(part.kind for part in self.usual.formula.components)

    @property
    def read(self) -> Steps:
        """Its steps as searched for what people must not eat."""
        return tuple((step.kind.value, step.text) for step in self.timed.steps)

    def chosen(self, everybody: frozenset[PersonKey]) -> Iterator[Taught]:
        """As these people would bake it without decisions: the usual, then the variants.

        What the instructor brings ready-made follows what each person bakes: those with a variant
        get dough of their variant, so that nobody is handed what they must not eat.
        """
        others = everybody & frozenset[PersonKey]().union(*(keys for _, keys in self.variants))
        yield replace(self.usual, only_for=everybody - others) if others else self.usual
        for variant, keys in self.variants:
            yield replace(variant, only_for=keys & everybody)


@dataclass(frozen=True, kw_only=True)
class ClassPlan:
    """A class with its kitchen, its people and its recipes, and everything that follows from them.

    `stations` are in the kitchen's order. `people` are those expected and the empty seats planned
    for, `students` only those expected.
    """

    code: str
    title: str
    starts_at: datetime
    ends_at: datetime
    seats: int
    currency: str
    handling_loss_percent: Decimal
    kitchen: KitchenFacts
    stations: tuple[str, ...]
    students: tuple[Student, ...]
    people: tuple[Person, ...]
    taught: tuple[TaughtRevision, ...]
    ingredients: Mapping[str, IngredientFacts]
    supplies: Mapping[str, Supply]
    decisions: Decisions
    work: ClassWork
    kept_hours: KeptHours | None = None

    # Who bakes what

    @cached_property
    def revisions(self) -> Mapping[str, TaughtRevision]:
        """What is taught, by its key."""
        return {taught.key: taught for taught in self.taught}

    @cached_property
    def student(self) -> Mapping[PersonKey, Student]:
        """Those who are expected, by their keys."""
        return {student.key: student for student in self.students}

    @cached_property
    def at(self) -> Mapping[PersonKey, str]:
        """Everybody's station, by their key."""
        return {person.key: person.station for person in self.people}

    @cached_property
    def chosen(self) -> tuple[Taught, ...]:
        """What people would bake without decisions about what they must not eat."""
        everybody = frozenset(self.at)
        return tuple(variant for row in self.taught for variant in row.chosen(everybody))

    @cached_property
    def needs(self) -> ClassNeeds:
        """Everything that determines the amounts."""
        return ClassNeeds(
            taught=tuple(self._decided()),
            people=self.people,
            handling_loss=self.handling_loss_percent / HUNDRED,
            scales=self.kitchen.scales,
        )

    def _decided(self) -> Iterator[Taught]:
        for variant in self.chosen:
            steps = self.revisions[variant.revision].read
            yield from as_decided(
                variant, steps, self._bakers(variant), self.eaters, self.decisions
            )

    def _bakers(self, one: Taught) -> frozenset[PersonKey]:
        return frozenset(self.at) if one.only_for is None else one.only_for

    @cached_property
    def apart(self) -> tuple[Taught, ...]:
        """What somebody bakes in place of the usual: a variant, or without what is taken out."""
        return tuple(
            taught
            for taught in self.needs.taught
            if taught.written or taught.bakes != self.revisions[taught.revision].usual.bakes
        )

    # Amounts

    @cached_property
    def amounts(self) -> ClassAmounts:
        """The amounts of every recipe. Raises NobodyBakes."""
        return class_amounts(self.needs)

    def baked_by(self, key: PersonKey) -> tuple[TaughtAmounts, ...]:
        """The recipes that somebody bakes, each as they bake it. Raises NobodyBakes."""
        return tuple(
            recipe
            for recipe in self.amounts.recipes
            if any(person.baker.key == key for person in recipe.amounts.persons)
        )

    @cached_property
    def has_bakers(self) -> bool:
        """Whether anybody bakes, or is shown, any of the recipes."""
        try:
            return bool(self.amounts)
        except NobodyBakes:
            return False

    @cached_property
    def shopping(self) -> ShoppingList:
        """What to buy. Raises NobodyBakes."""
        needed = self.amounts.needs
        return shopping_list(needed, self.supplies, self.kitchen.scales, self.currency)

    @cached_property
    def feedings(self) -> tuple[Feeding, ...]:
        """The starters that the class uses; none if nobody bakes."""
        return feedings_of(self.amounts) if self.has_bakers else ()

    # What people must not eat, only for the staff

    @property
    def eaters(self) -> tuple[Eater, ...]:
        """Everybody who is expected, with what they told us."""
        return tuple(student.eater for student in self.students)

    @cached_property
    def chosen_baked(self) -> tuple[BakedRecipe, ...]:
        """Every recipe and variant with those who chose it."""
        return tuple(map(self._baked, self.chosen))

    @cached_property
    def baked(self) -> tuple[BakedRecipe, ...]:
        """Every recipe and variant with those who bake it."""
        return tuple(map(self._baked, self.needs.taught))

    def _baked(self, one: Taught) -> BakedRecipe:
        keys = self._bakers(one)
        stations = frozenset(self.at[key] for key in keys)
        return baked_of(one, self.revisions[one.revision].read, keys, stations)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What those who told us something must not eat, compared with all that the class bakes."""
        told = tuple(filter(has_told, self.eaters))
        return findings(told, self.baked) if told else ()

    @cached_property
    def concerns(self) -> tuple[Concerns, ...]:
        """Everybody who told us something, with their conflicts and decisions.

        A person may see only their own.
        """
        if not self.findings:
            return ()
        return concerns(self.eaters, self.chosen_baked, self.findings, self.decisions)

    @cached_property
    def concerns_of(self) -> Mapping[PersonKey, Concerns]:
        """The same by the key of the person."""
        return {concern.eater.key: concern for concern in self.concerns}

    @property
    def conflicts(self) -> tuple[Conflict, ...]:
        return tuple(conflict for person in self.concerns for conflict in person.conflicts)

    @property
    def avoided(self) -> Mapping[str, tuple[str, ...]]:
        """What each station avoids, without names."""
        return avoided_at(self.findings)

    # Hours

    @property
    def starts(self) -> Moment:
        """The start on the clock of the kitchen."""
        return Moment(self.starts_at, self.kitchen.zone, self.kitchen.writing.twelve_hours)

    @cached_property
    def hours(self) -> ClassHours:
        """The plan that the class keeps, or a greedy one. Raises NoGrowth."""
        work = replace(self.work, feedings=self.feedings)
        return hours_of(self.starts, work, self.kept_hours)

    @cached_property
    def verdict(self) -> Verdict:
        """Whether the hours fit. Raises NoGrowth."""
        hours = self.hours
        return verdict_of(hours.scheduled, hours.solved, hours.obstacle)
