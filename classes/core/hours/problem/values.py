"""A class as needed to plan its hours: what is done, by whom, where and with what."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from classes.core.feeding import Feeding
from classes.core.hours.problem.work import PlannedOven
from classes.core.keys import Stage
from recipes.core.choices import Choice, StepKind
from recipes.core.rise.fermentation import DOUBLING, Rule
from recipes.core.written import WrittenStep
from wording.writing import PLAIN, Writing

USUAL_DOUGH_C = Decimal(25)
STIFF_BELOW_PERCENT = Decimal(60)


RISES = frozenset({StepKind.BULK, StepKind.PROOF})


class Mixing(Choice):
    """Who mixes with a machine."""

    HAND = "hand", "Everybody by hand"
    SHOWN = "shown", "Students by hand, the demonstration by mixer"
    MIXER = "mixer", "Everybody by mixer"


class RisesIn(Choice):
    """Where dough rises in class."""

    BENCH = "bench", "On the bench, in the room"
    CABINET = "cabinet", "In the proof cabinet"


@dataclass(frozen=True, slots=True)
class Group:
    """The people at a station who bake a recipe: how many, their pieces, and dough in grams."""

    station: str
    people: int
    pieces: int
    dough_g: Decimal


@dataclass(frozen=True, slots=True)
class TimedRecipe:
    """A recipe of a class with its steps and those who bake it.

    `pieces_a_place` is how many pieces share a place in the oven. The instructor brings doughs at
    the stages in `brings`, with as many pieces at each as everybody makes. `slug` is its name in
    addresses.
    """

    key: str
    title: str
    steps: tuple[WrittenStep, ...]
    groups: tuple[Group, ...]
    demonstration: Group | None = None
    mixing: Mixing = Mixing.HAND
    stiff: bool = False
    pieces_a_place: int = 1
    dough_c: Decimal = USUAL_DOUGH_C
    brings: frozenset[Stage] = frozenset()
    softens_butter: bool = False
    chills: bool = False
    slug: str = ""

    @property
    def doughs(self) -> tuple[Group, ...]:
        """Those who have a dough: the demonstration, and then the stations."""
        return (self.demonstration, *self.groups) if self.demonstration else self.groups

    @property
    def pieces(self) -> int:
        """Everybody's pieces, including the demonstration's."""
        return sum(group.pieces for group in self.doughs)


@dataclass(frozen=True, slots=True)
class MixerKind:
    """Mixers that hold the same mass of dough, in grams, and how many there are."""

    capacity_g: int
    count: int


@dataclass(frozen=True, slots=True)
class Room:
    """Where the class is: temperatures in °C, places, and the rule by which dough rises.

    `cabinet_c` None: the cabinet is set to what each recipe says. `night_c` is where preferments
    stand overnight, `writing` how tasks and drawings write here.
    """

    room_c: Decimal
    night_c: Decimal
    rises_in: RisesIn = RisesIn.BENCH
    cabinet_c: Decimal | None = None
    cabinet_places: int = 0
    refrigerator_places: int = 0
    bowls: int = 0
    rule: Rule = DOUBLING
    writing: Writing = PLAIN


@dataclass(frozen=True, slots=True)
class Hours:
    """The length of a class and its fixed points, in minutes; `break_at` is from the start."""

    minutes: int
    welcome_min: int = 10
    weighing_min: int = 20
    show_min: int = 5
    cleanup_min: int = 10
    break_at: int | None = None
    break_min: int = 0


@dataclass(frozen=True)
class ClassWork:
    """Everything that determines when things happen in a class; `feedings` are its starters."""

    hours: Hours
    room: Room
    recipes: tuple[TimedRecipe, ...]
    stations: tuple[str, ...]
    ovens: tuple[PlannedOven, ...] = ()
    mixers: tuple[MixerKind, ...] = ()
    assistants: int = 0
    feedings: tuple[Feeding, ...] = ()

    @property
    def doughs(self) -> int:
        """Doughs in bowls at the same time: everybody's, and the demonstrations."""
        groups = [group for recipe in self.recipes for group in recipe.groups]
        shown = sum(1 for recipe in self.recipes if recipe.demonstration)
        return shown + sum(group.people for group in groups)
