"""What a student reads before the day: equipment, ingredients, measuring, and how the day goes."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, fields
from decimal import Decimal
from typing import ClassVar

from handouts.kind import STUDENT, Leaf, Leaves, Material, PaperKind, Phase
from handouts.kinds.handout import Handout, handouts_of
from handouts.recipe_card import RecipeCard
from recipes.core.choices import StepKind


@dataclass(frozen=True, slots=True)
class BeginnerTip:
    """A piece of advice to beginners, with its source."""

    heading: str
    text: str
    source: str


MEASURING: tuple[BeginnerTip, ...] = (
    BeginnerTip(
        "Weigh, do not scoop",
        "The same cup of flour holds 120 g spooned in loosely and 150 g scooped and packed: up to "
        "25 % more, which turns a soft dough into a stiff one. Put the bowl on the scale, set it "
        "to zero, and pour.",
        "Common practice; the masses of a cup are from memory.",
    ),
    BeginnerTip(
        "Yeast and salt on a small scale",
        "A kitchen scale that shows whole grams may be half a gram off. For 3 g of yeast that is a "
        "sixth. A pocket scale that shows 0.1 g is made for such amounts.",
        "Half a step of the scale against the mass, computed.",
    ),
    BeginnerTip(
        "Liquids too",
        "Weigh water and milk like everything else: 1 ml of water weighs 1 g.",
        "Density of water, rounded.",
    ),
)

THE_DAY: tuple[BeginnerTip, ...] = (
    BeginnerTip(
        "Come in closed shoes",
        "With sleeves that roll up, and long hair tied back. Leave rings, watch and bracelets at "
        "home: dough and bacteria hide under them.",
        "Common practice in teaching kitchens.",
    ),
    BeginnerTip(
        "Wash your hands first",
        "20 seconds with soap, when you come in, after each break, and after raw flour or egg.",
        "US FDA Food Code 2-301.12, second-hand, as on the handout.",
    ),
    BeginnerTip(
        "Stay at home when you are ill",
        "With vomiting or diarrhea do not come, and stay away as long as your local rules ask. "
        "Tell the instructor: it is no reason to be shy.",
        "US FDA Food Code 2-201.11, from memory.",
    ),
)


@dataclass(frozen=True, slots=True)
class ToBuy:
    """An ingredient over all parts of one recipe, exact grams for one person."""

    name: str
    mass_g: Decimal


@dataclass(frozen=True, slots=True)
class RecipeBefore:
    """A recipe as homework: its card, what it needs, and its minutes."""

    card: RecipeCard
    ingredients: tuple[ToBuy, ...]
    hands_on_min: int
    waiting_min: int

    @property
    def whole_min(self) -> int:
        """Minutes from the first step to the bread, with steps one after the other."""
        return self.hands_on_min + self.waiting_min


@dataclass(frozen=True, kw_only=True)
class Homework(Handout):
    """The same numbers as on the handout, read the week before."""

    template: ClassVar[str] = "handouts/before_print.html"
    style: ClassVar[str] = "homework"

    @property
    def before(self) -> tuple[RecipeBefore, ...]:
        return tuple(_before(card) for card in self.recipes)

    @property
    def measuring(self) -> tuple[BeginnerTip, ...]:
        return MEASURING

    @property
    def the_day(self) -> tuple[BeginnerTip, ...]:
        return THE_DAY


def homework_of(handout: Handout) -> Homework:
    """A student's homework, from the handout of the same student."""
    return Homework(**{field.name: getattr(handout, field.name) for field in fields(handout)})


def _before(card: RecipeCard) -> RecipeBefore:
    ahead = StepKind.PREPARE.label
    in_class = [step for step in card.steps if step.kind != ahead]
    return RecipeBefore(
        card=card,
        ingredients=_ingredients(card),
        hands_on_min=sum(step.hands_on_min for step in in_class),
        waiting_min=sum(step.waiting_min for step in in_class),
    )


def _ingredients(card: RecipeCard) -> tuple[ToBuy, ...]:
    """Every ingredient once, the heaviest first, with the flour for dusting."""
    masses: dict[str, Decimal] = defaultdict(Decimal)
    for part in card.parts:
        for line in part.amounts.lines:
            masses[line.ingredient.name] += line.exact_g
    if card.dusting_flour:
        masses[card.dusting_flour] += card.dusting_g
    heaviest = sorted(masses.items(), key=lambda pair: (-pair[1], pair[0]))
    return tuple(ToBuy(name, mass_g) for name, mass_g in heaviest)


def _leaves(material: Material) -> Leaves:
    made = material.once(handouts_of)
    for student in material.by_station:
        yield Leaf(str(student.pk), student.name, homework_of(made[student.key]))


KIND = PaperKind(
    "before-the-day",
    "Before the day",
    "What to bring, to read and to know. Students have it behind their own link.",
    STUDENT,
    _leaves,
    private=True,
    usual=False,
    until=Phase.DAYS_BEFORE,
    usual_pages=2,
)
