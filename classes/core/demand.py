"""What a class needs: its recipes, its people and who stands where, turned into amounts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from classes.core.keys import PersonKey, Stage
from recipes.core.formula import Formula, FormulaIngredient
from recipes.core.numbers import ZERO, whole
from recipes.core.scaling import Amounts, Baker, Demand, IngredientNeed, PersonAmounts, pool, scale
from recipes.core.weighing import BENCH_SCALE, Scales
from wording.lists import pieces_in_words

DEMONSTRATION = "Demonstration"
BROUGHT = "Brought by the instructor"


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody on the roster, or an empty seat that is planned for."""

    key: PersonKey
    name: str
    station: str


@dataclass(frozen=True, slots=True)
class Taught:
    """A recipe revision, or a variant of it, as a class teaches it.

    `revision` is the key of the revision, also for a variant; `only_for` has the keys of the people
    who bake it, None means everybody. `brings` holds the stages at which the instructor brings
    dough of it, at each stage as many pieces as the people who bake it make. `bakes` identifies the
    revision with its variant; if something is taken out for those people, `written` is the label
    without that.
    """

    key: str
    label: str
    formula: Formula
    pieces_each: int
    piece_g: Decimal
    demonstration_batches: int = 1
    dusting_g: Decimal = ZERO
    dusting_flour: FormulaIngredient | None = None
    revision: str = ""
    only_for: frozenset[PersonKey] | None = None
    piece_name: str = "piece"
    brings: tuple[Stage, ...] = ()
    bakes: str = ""
    written: str = ""

    @property
    def shown(self) -> str:
        """The label on papers that others read, which hides what is taken out for somebody."""
        return self.written or self.label

    def __post_init__(self) -> None:
        whole("demonstration_batches", self.demonstration_batches)


@dataclass(frozen=True, slots=True)
class ClassNeeds:
    """Everything that determines a class's amounts."""

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
    """The demand of a class for one of its recipes."""
    bakers = tuple(
        Baker(person.key, person.name, person.station, taught.pieces_each, taught.piece_g)
        for person in needs.people
        if taught.only_for is None or person.key in taught.only_for
    )
    return Demand(
        bakers=bakers,
        demonstrations=(*_shown(taught), *_brought(taught, bakers)),
        handling_loss=needs.handling_loss,
        dusting_g=taught.dusting_g,
        dusting_flour=taught.dusting_flour,
        scales=needs.scales,
    )


def _shown(taught: Taught) -> Iterator[Baker]:
    for n in range(1, taught.demonstration_batches + 1):
        name = DEMONSTRATION if taught.demonstration_batches == 1 else f"{DEMONSTRATION} {n}"
        key = PersonKey.demonstration(n)
        yield Baker(key, name, "", taught.pieces_each, taught.piece_g)


def _brought(taught: Taught, bakers: Sequence[Baker]) -> Iterator[Baker]:
    """For each stage one dough for all pieces, including the demonstrations'.

    Dough brought mixed or risen is shaped in class with its baker's usual dusting flour, since the
    dough made in class goes home unshaped. Dough brought shaped was dusted at home, once for each
    baker, in addition to the dough that the baker shapes in class.
    """
    heads = [*bakers, *_shown(taught)]
    pieces = sum(head.pieces for head in heads)
    for stage in taught.brings if pieces else ():
        yield Baker(
            key=PersonKey.brought(stage),
            name=f"Brought, {stage}",
            station="",
            pieces=pieces,
            piece_g=taught.piece_g,
            brought=stage,
            dustings=len(heads) if stage is Stage.SHAPED else 0,
        )


def _somebody_bakes(taught: Taught) -> bool:
    return taught.only_for is None or bool(taught.only_for) or taught.demonstration_batches > 0


def class_amounts(needs: ClassNeeds) -> ClassAmounts:
    """Scale every recipe of a class and pool the ingredients.

    A recipe is left out if all its people bake a variant and it is not shown. Raises NobodyBakes if
    there are neither people nor demonstrations.
    """
    recipes = tuple(
        TaughtAmounts(taught, scale(taught.formula, demand_for(taught, needs)))
        for taught in needs.taught
        if _somebody_bakes(taught)
    )
    needs_of_all = (need for recipe in recipes for need in recipe.amounts.needs)
    return ClassAmounts(recipes, pool(needs_of_all))


def heads_in_words(recipe: TaughtAmounts, *, brought: bool = True) -> str:
    """Such as `12 bakers, 1 demonstration, 12 loaves brought risen`; or only who is in class."""
    amounts = recipe.amounts
    counted = ((len(amounts.persons), "baker"), (len(amounts.shown), "demonstration"))
    words = [pieces_in_words(number, name) for number, name in counted if number]
    doughs = amounts.brought if brought else ()
    return ", ".join([*words, *(brought_in_words(recipe, dough) for dough in doughs)])


def brought_in_words(recipe: TaughtAmounts, dough: PersonAmounts) -> str:
    """A dough that the instructor brings, such as `12 loaves brought risen`."""
    baker = dough.baker
    return f"{pieces_in_words(baker.pieces, recipe.taught.piece_name)} brought {baker.brought}"


@dataclass(frozen=True, slots=True)
class StationPlaces:
    """A station and how many people it holds."""

    station: str
    places: int


def even_sizes(people: int, stations: Sequence[StationPlaces], taken: Counter[str]) -> Counter[str]:
    """How many more people go to each station so that all are as equal as possible.

    A full station takes more only if every other is full too; earlier stations come first.
    """
    sizes = Counter(taken)
    for _ in range(people):
        free = [at for at in stations if sizes[at.station] < at.places] or list(stations)
        sizes[min(free, key=lambda at: sizes[at.station]).station] += 1
    return sizes - taken


def seat_people(wanted: Sequence[str | None], stations: Sequence[StationPlaces]) -> tuple[str, ...]:
    """A station for everybody, in order; None in the wishes means any station with room.

    A wish for a station that is not in `stations` counts as None. Neighbors in the order stay
    together: 11 people at three stations are 4, 4 and 3. Raises ValueError without any station.
    """
    if not stations:
        raise ValueError("no stations")
    known = {at.station for at in stations}
    kept = [wish if wish in known else None for wish in wanted]
    taken = Counter(wish for wish in kept if wish is not None)
    more = even_sizes(kept.count(None), stations, taken)
    free = iter([at.station for at in stations for _ in range(more[at.station])])
    return tuple(wish if wish is not None else next(free) for wish in kept)
