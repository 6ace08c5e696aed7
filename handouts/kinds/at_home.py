"""A student's recipes rewritten for the kitchen at home, with cautions and what was changed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

from classes.core.demand import Taught
from classes.core.diets.heeds import Heed
from classes.home_kitchen.amounts import Home, HomeAmounts, home_amounts
from classes.home_kitchen.filled_pans import PanAtHome, dough_for, pan_at_home
from classes.home_kitchen.forms import BakedAtHome
from classes.home_kitchen.heat import HomeHeat, home_heat
from classes.home_kitchen.selectors import shelf_of
from classes.home_kitchen.steps import HomeStep, home_steps
from classes.home_kitchen.values import HomeKitchen
from classes.home_kitchen.water import Foods, HomeWater, WaterUnknown, home_water
from classes.plan import ClassPlan, IngredientFacts, Student, TaughtRevision
from handouts.home.changes import HomeChange, changes_of
from handouts.home.shaping import BATARD, RING, Shaping, shaping_of
from handouts.kind import STUDENT, Leaf, Leaves, Material, PaperKind, Phase
from handouts.kinds.handout import Handout, handouts_of
from handouts.paper import Paper
from handouts.recipe_card import RecipeCard, mixed_by_machine
from handouts.safety.values import Hazard
from recipes.core.choices import IngredientKind
from recipes.core.heat.part_heat import part_heat
from recipes.core.pans.balls import RING as RING_MODEL
from recipes.core.pans.balls import USUAL_BALL, BallModel

# Common practice.
STORING = (
    "Cool it through on a rack, wrap it in cloth or paper, and eat it within two or three days; a "
    "refrigerator makes it stale faster."
)
FREEZING = (
    "Slice and freeze the rest, wrapped tightly, on the day of baking; use it up within about a "
    "month."
)

# The drawing of a piece seen from above; a batard is not round.
MODELS: dict[Shaping | None, BallModel | None] = {BATARD: None, RING: RING_MODEL}


@dataclass(frozen=True, slots=True)
class HomeRecipe:
    """One recipe at home; `card` is the same recipe as it was in class."""

    card: RecipeCard
    pieces: int
    piece_masses_g: tuple[Decimal, ...]
    amounts: HomeAmounts
    heat: HomeHeat
    steps: tuple[HomeStep, ...]
    changes: tuple[HomeChange, ...]
    water: HomeWater | WaterUnknown | None = None
    pan: PanAtHome | None = None
    shaping: Shaping | None = None

    @property
    def dusts(self) -> bool:
        """Whether there is flour for dusting."""
        return bool(self.card.dusting_flour and self.card.dusting_g)

    @property
    def shapes_in_a_step(self) -> bool:
        """Whether one of the steps shows the drawings."""
        return any(step.shapes for step in self.steps)

    @property
    def counted(self) -> tuple[tuple[int, Decimal], ...]:
        """How many pieces of which mass in whole grams, the heaviest first."""
        found = Counter(self.piece_masses_g)
        return tuple((found[mass_g], mass_g) for mass_g in sorted(found, reverse=True))


@dataclass(frozen=True, kw_only=True)
class AtHome(Paper):
    """A student's recipes for their own kitchen."""

    template: ClassVar[str] = "handouts/at_home_print.html"
    style: ClassVar[str] = "at-home"
    kept: ClassVar[frozenset[Hazard]] = frozenset(Hazard)

    name: str
    kitchen: HomeKitchen
    recipes: tuple[HomeRecipe, ...]
    heeds: tuple[Heed, ...] = ()

    @property
    def storing(self) -> str:
        return STORING

    @property
    def freezing(self) -> str:
        return FREEZING


def baked_by(plan: ClassPlan, student: Student) -> list[BakedAtHome]:
    """The recipes whose pieces the form asks for, each with its written number of pieces."""
    own = [plan.revisions[recipe.taught.revision] for recipe in plan.baked_by(student.key)]
    return [BakedAtHome(revision.key, revision.title, revision.pieces) for revision in own]


def at_home(
    plan: ClassPlan,
    student: Student,
    kitchen: HomeKitchen,
    handout: Handout,
    shelf: Mapping[str, IngredientFacts],
) -> AtHome:
    """The recipes of a student for a kitchen, from their handout and the class's `shelf_of`."""
    return AtHome(
        head=handout.head,
        hazards=_hazards(handout, kitchen),
        name=student.name,
        kitchen=kitchen,
        recipes=tuple(_recipes(plan, student, handout, Home(kitchen, shelf))),
        heeds=handout.heeds,
    )


def _hazards(handout: Handout, kitchen: HomeKitchen) -> frozenset[Hazard]:
    """What the handout warns of, with a mixer only if there is one at home."""
    others = handout.hazards - {Hazard.MIXER}
    return others | {Hazard.MIXER} if kitchen.by_mixer else others


def _recipes(
    plan: ClassPlan, student: Student, handout: Handout, home: Home
) -> Iterator[HomeRecipe]:
    own = plan.baked_by(student.key)
    for recipe, card in zip(own, handout.recipes, strict=True):
        revision = plan.revisions[recipe.taught.revision]
        yield _recipe(recipe.taught, card, revision, home, mixed_by_machine(plan, revision))


def _recipe(
    taught: Taught, card: RecipeCard, revision: TaughtRevision, home: Home, by_mixer: bool | None
) -> HomeRecipe:
    kitchen = home.kitchen
    pieces = kitchen.pieces.get(taught.revision, revision.pieces)
    own = kitchen.pans.get(taught.revision)
    dough_g = dough_for(revision, own, pieces * taught.piece_g)
    shaping = shaping_of(taught.piece_name, fills_tin=False)
    pan = None
    if own:
        pan = pan_at_home(revision, own, pieces, dough_g, MODELS.get(shaping, USUAL_BALL))
        shaping = shaping_of(taught.piece_name, fills_tin=pan.fills_tin)
    amounts = home_amounts(taught.formula, dough_g, home)
    heat = home_heat(revision, kitchen, in_tin=pan is not None and pan.is_loaf_tin)
    water = home_water(
        amounts.sheet,
        revision.dough_temperature_c,
        kitchen,
        part_heat(revision.part_kinds, revision.made, kitchen.room_c),
        _foods(home),
    )
    return HomeRecipe(
        card=card,
        pieces=pieces,
        piece_masses_g=amounts.piece_masses(pieces),
        amounts=amounts,
        heat=heat,
        steps=home_steps(revision, heat, fills_tin=pan is not None and pan.fills_tin),
        changes=tuple(
            changes_of(card, pieces, amounts, heat, kitchen, pan, water, class_by_mixer=by_mixer)
        ),
        water=water,
        pan=pan,
        shaping=shaping,
    )


def _foods(home: Home) -> Foods:
    rows = home.rows
    eggs = (key for key, row in rows.items() if row.kind is IngredientKind.EGG)
    return Foods({key: row.composition for key, row in rows.items()}, frozenset(eggs))


def _leaves(material: Material) -> Leaves:
    plan, made = material.plan, material.once(handouts_of)
    usual, shelf = HomeKitchen.near(plan.kitchen), shelf_of(plan)
    for student in material.by_station:
        kitchen, handout = HomeKitchen.of(student.home, usual), made[student.key]
        paper = at_home(plan, student, kitchen, handout, shelf)
        yield Leaf(str(student.pk), student.name, paper)


KIND = PaperKind(
    "at-home",
    "Handouts for home",
    "The recipes for each student’s own kitchen, theirs to keep.",
    STUDENT,
    _leaves,
    private=True,
    until=Phase.AFTER,
    usual_pages=2,
)
