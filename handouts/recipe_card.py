"""A recipe scaled for somebody, as papers show it: its parts, its lines, its steps.

Masses are the core's, in grams; nothing is computed here. Steps are done as in the hours of the
class, not as at home.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Set
from dataclasses import dataclass
from decimal import Decimal

from classes.core.demand import TaughtAmounts
from classes.core.hours.problem.oven_time import in_the_oven
from classes.core.hours.problem.steps import students_use_mixer, worked_in_class
from classes.core.hours.problem.values import Mixing
from classes.plan import ClassPlan, TaughtRevision
from recipes.core.allergens import AllergensFound, allergens
from recipes.core.choices import StepKind, Worked
from recipes.core.formula import Formula, FormulaComponent, component_card, component_percent
from recipes.core.heat.core_temperature import Core
from recipes.core.scaling import ComponentAmounts, PersonAmounts, Sheet
from recipes.core.scaling.amount_lines import AmountLine
from recipes.core.weighing import Weighing
from recipes.core.written import WrittenStep

_IN_CLASS = {
    Mixing.HAND: Worked.HAND.label,
    Mixing.SHOWN: Mixing.SHOWN.label,
    Mixing.MIXER: Worked.MACHINE.label,
}


@dataclass(frozen=True, slots=True)
class RecipeLine:
    """One ingredient of a part: the amount and its percentage of all flour, if that is known.

    `concern` is what the person must know about it; parts and steps have it too.
    """

    amount: AmountLine
    percent: Decimal | None
    note: str = ""
    concern: str = ""


@dataclass(frozen=True, slots=True)
class RecipePart:
    """A component on a formula card, `percent` of all flour, if that is known.

    It has no lines if it comes from the class's tub, `amounts.tub`.
    """

    amounts: ComponentAmounts
    lines: tuple[RecipeLine, ...]
    percent: Decimal | None
    concern: str = ""


@dataclass(frozen=True, slots=True)
class StepGrams:
    """One thing that goes in at a step, as the scale shows it."""

    name: str
    weighed: Weighing


@dataclass(frozen=True, slots=True)
class RecipeStep:
    """One step: hands-on minutes, minutes of waiting, and degrees Celsius of what.

    `temperature_of` is in words, and so is `worked`: how the class does the step. Both are empty if
    the recipe does not say. For `oven_min` of the minutes bread is in the oven. `grams`
    are what goes in, once `step_grams.with_grams` has read that.
    """

    kind: str
    text: str
    hands_on_min: int
    waiting_min: int
    temperature_c: Decimal | None
    concern: str = ""
    temperature_of: str = ""
    worked: str = ""
    oven_min: int = 0
    grams: tuple[StepGrams, ...] = ()

    @property
    def load_min(self) -> int:
        """Minutes at the oven before the bread is in it; 0 if none is baked."""
        return self.hands_on_min + self.waiting_min - self.oven_min if self.oven_min else 0


@dataclass(frozen=True)
class RecipeCard:
    """A recipe scaled for one person.

    `unopened` are starters with unknown water, so that no percentage is known.
    """

    title: str
    label: str
    note: str
    piece_name: str
    piece_masses_g: tuple[Decimal, ...]
    sheet: Sheet
    parts: tuple[RecipePart, ...]
    dough_percent: Decimal | None
    dusting_g: Decimal
    dusting_flour: str
    dough_temperature_c: Decimal | None
    core: Core | None
    steps: tuple[RecipeStep, ...]
    equipment: tuple[str, ...]
    allergens: AllergensFound
    dusting_concern: str = ""
    unopened: tuple[str, ...] = ()

    @property
    def dough_parts(self) -> tuple[RecipePart, ...]:
        """The parts that are mixed into the dough."""
        return tuple(part for part in self.parts if part.amounts.kind.goes_into_dough)

    @property
    def other_parts(self) -> tuple[RecipePart, ...]:
        """Filling, wash and topping."""
        return tuple(part for part in self.parts if not part.amounts.kind.goes_into_dough)

    @property
    def pieces(self) -> tuple[tuple[int, Decimal], ...]:
        """How many pieces of which mass in whole grams, the heaviest first."""
        counted = Counter(self.piece_masses_g)
        return tuple((counted[mass_g], mass_g) for mass_g in sorted(counted, reverse=True))

    @property
    def has_parts(self) -> bool:
        """Whether the dough has several parts that need their names."""
        return len(self.dough_parts) > 1

    @property
    def has_coarse(self) -> bool:
        tubs = (part.amounts.tub for part in self.parts if part.amounts.tub)
        lines = (line.amount.weighed for part in self.parts for line in part.lines)
        return any(weighed.coarse for weighed in (*tubs, *lines))


def recipe_card(plan: ClassPlan, recipe: TaughtAmounts, person: PersonAmounts) -> RecipeCard:
    taught, sheet = recipe.taught, person.sheet
    revision = plan.revisions[taught.revision]
    both = zip(taught.formula.components, sheet.components, strict=True)
    parts = tuple(_card_part(taught.formula, part, amounts) for part, amounts in both)
    return RecipeCard(
        title=taught.formula.title,
        label=taught.label,
        note=revision.note,
        piece_name=taught.piece_name,
        piece_masses_g=person.piece_masses(),
        sheet=sheet,
        parts=parts,
        dough_percent=taught.formula.percent(taught.formula.dough_g),
        dusting_g=taught.dusting_g,
        dusting_flour=taught.dusting_flour.name if taught.dusting_flour else "",
        dough_temperature_c=revision.dough_temperature_c,
        core=revision.core,
        steps=steps_of(plan, revision, set(StepKind)),
        equipment=revision.equipment,
        allergens=allergens(taught.formula),
        unopened=taught.formula.unopened,
    )


def _card_part(formula: Formula, part: FormulaComponent, amounts: ComponentAmounts) -> RecipePart:
    rows = zip(part.lines, amounts.lines, component_card(formula, part), strict=True)
    lines = tuple(RecipeLine(amount, of.percent, line.note) for line, amount, of in rows)
    return RecipePart(
        amounts=amounts,
        lines=() if amounts.tub else lines,
        percent=component_percent(formula, part, part.mass_g),
    )


def steps_of(
    plan: ClassPlan, taught: TaughtRevision, kinds: Set[StepKind]
) -> tuple[RecipeStep, ...]:
    steps = taught.timed.steps
    return tuple(
        RecipeStep(
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


def way_in_words(plan: ClassPlan, taught: TaughtRevision, step: WrittenStep) -> str:
    """How a class does a step of a recipe; empty if that is not stated."""
    in_class = worked_in_class(taught.timed, step, has_mixers=bool(plan.kitchen.mixers))
    if in_class is not None:
        return _IN_CLASS[in_class]
    return step.worked.label if step.worked else ""


def mixed_by_machine(plan: ClassPlan, taught: TaughtRevision) -> bool | None:
    """Whether the students of a class mix a recipe by mixer; None if that is not stated."""
    return students_use_mixer(taught.timed, has_mixers=bool(plan.kitchen.mixers))
