"""What a class needs: its recipes, its people and its stations, turned into amounts."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.baking.formula import Formula, Ingredient
from recipes.baking.numbers import ZERO, whole
from recipes.baking.scaling import Amounts, Baker, Demand, IngredientNeed, pool, scale
from recipes.baking.weighing import BENCH_SCALE, Scales

DEMONSTRATION = "Demonstration"


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody on the roster, or an empty seat that is planned for."""

    key: str
    name: str
    station: str


@dataclass(frozen=True, slots=True)
class Taught:
    """A recipe revision, or a variant of it, as a class teaches it.

    `revision` is the key of what a variant varies; `only_for` names the keys of the people who
    bake it, None is everybody.
    """

    key: str
    label: str
    formula: Formula
    pieces_each: int
    piece_g: Decimal
    demonstration_batches: int = 1
    dusting_g: Decimal = ZERO
    dusting_flour: Ingredient | None = None
    revision: str = ""
    only_for: frozenset[str] | None = None

    def __post_init__(self) -> None:
        whole("demonstration_batches", self.demonstration_batches)


@dataclass(frozen=True, slots=True)
class ClassNeeds:
    """All that decides a class's amounts."""

    taught: tuple[Taught, ...]
    people: tuple[Person, ...]
    handling_loss: Decimal = ZERO
    scales: Scales = BENCH_SCALE


@dataclass(frozen=True, slots=True)
class TaughtAmounts:
    """One recipe of the class with its amounts."""

    taught: Taught
    amounts: Amounts


@dataclass(frozen=True, slots=True)
class ClassAmounts:
    """The amounts of every recipe, and the ingredients pooled over all of them."""

    recipes: tuple[TaughtAmounts, ...]
    needs: tuple[IngredientNeed, ...]


def demand_for(taught: Taught, needs: ClassNeeds) -> Demand:
    """The demand that a class puts on one of its recipes."""
    bakers = tuple(
        Baker(person.key, person.name, person.station, taught.pieces_each, taught.piece_g)
        for person in needs.people
        if taught.only_for is None or person.key in taught.only_for
    )
    demonstrations = tuple(
        Baker(
            f"demonstration-{n}",
            DEMONSTRATION if taught.demonstration_batches == 1 else f"{DEMONSTRATION} {n}",
            "",
            taught.pieces_each,
            taught.piece_g,
        )
        for n in range(1, taught.demonstration_batches + 1)
    )
    return Demand(
        bakers=bakers,
        demonstrations=demonstrations,
        handling_loss=needs.handling_loss,
        dusting_g=taught.dusting_g,
        dusting_flour=taught.dusting_flour,
        scales=needs.scales,
    )


def _somebody_bakes(taught: Taught) -> bool:
    return taught.only_for is None or bool(taught.only_for) or taught.demonstration_batches > 0


def class_amounts(needs: ClassNeeds) -> ClassAmounts:
    """Scale every recipe of a class and pool the ingredients.

    A recipe whose people all bake a variant, and that is not shown either, is left out.
    Raises NobodyBakes when there are neither people nor demonstrations.
    """
    recipes = tuple(
        TaughtAmounts(taught, scale(taught.formula, demand_for(taught, needs)))
        for taught in needs.taught
        if _somebody_bakes(taught)
    )
    needs_of_all = (need for recipe in recipes for need in recipe.amounts.needs)
    return ClassAmounts(recipes, pool(needs_of_all))
