"""The water of a class's doughs, by the models and usual figures of the page on water.

What is not known is not guessed: `Ask` names what is missing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from classes.core.demand import TaughtAmounts
from classes.core.hours.problem.steps import is_for_machine, mixing_of, students_use_mixer
from classes.core.hours.problem.values import Mixing
from classes.plan import ClassPlan, MixerFriction, TaughtRevision
from recipes.core.choices import ComponentKind, IngredientKind
from recipes.core.errors import BakingError
from recipes.core.heat.dough_batch import (
    DoughBatch,
    Liquid,
    NotKnown,
    Temperatures,
    liquid_of,
)
from recipes.core.heat.dough_liquid import LiquidPlan, Means, NotColdEnough, plan_liquid
from recipes.core.heat.in_kitchen import HAND_C, bench_of, model_for, usual_temperatures
from recipes.core.heat.part_heat import part_heat
from recipes.core.heat.water import Friction, IceNotEnough, Model, ModelsMixed, TooHotForYeast
from recipes.core.numbers import ZERO
from recipes.core.scaling import Sheet
from wording.lists import either, listed
from wording.writing import Writing


@dataclass(frozen=True, slots=True)
class Mixed:
    """How a dough is mixed: by hand, or by mixers that warm it alike.

    `mixers` names them, `friction_c` is what they add, None if that was not measured.
    """

    mixers: tuple[str, ...] = ()
    friction_c: Decimal | None = None

    @property
    def by_hand(self) -> bool:
        return not self.mixers

    @property
    def words(self) -> str:
        """Such as `by hand` or `by Mixer 1 or Mixer 2`."""
        return f"by {either(self.mixers)}" if self.mixers else "by hand"

    def friction(self, model: Model) -> Friction | None:
        """What mixing adds; a mixer's is always of the bakers' formula."""
        if self.by_hand:
            return Friction(HAND_C[model], model)
        return None if self.friction_c is None else Friction(self.friction_c, Model.TRADE_SUM)


BY_HAND = Mixed()


@dataclass(frozen=True, slots=True)
class Ask:
    """The liquid of a dough whose temperature is not known; `why` says what is missing.

    `short` is that for a table: out of reach, or to be asked.
    """

    liquid: str
    why: str
    short: str = "ask"


@dataclass(frozen=True, slots=True)
class DoughWater:
    """The liquid of a dough as it is weighed, in grams, and the °C it must have.

    Of `liquid_g`, `ice_g` may be ice. `comes_c` is how warm it is at first, `dough_c` what the
    dough is to come to.
    """

    liquid: str
    use_c: Decimal
    means: Means
    liquid_g: Decimal
    comes_c: Decimal
    dough_c: Decimal
    at: Temperatures
    model: Model
    ice_g: Decimal = ZERO

    @property
    def tap_g(self) -> Decimal:
        """What is left to pour from the tap beside the ice."""
        return self.liquid_g - self.ice_g

    @property
    def is_iced(self) -> bool:
        return self.means is Means.ICE


Water = DoughWater | Ask


# How a class mixes


def mixed_by_students(plan: ClassPlan, taught: TaughtRevision) -> tuple[Mixed, ...]:
    """How students mix a recipe, a value for each friction; none if that is not stated."""
    by_mixer = students_use_mixer(taught.timed, has_mixers=bool(plan.kitchen.mixers))
    return _mixed(plan, by_mixer=by_mixer)


def mixed_for_showing(plan: ClassPlan, taught: TaughtRevision) -> tuple[Mixed, ...]:
    """The same for the demonstration."""
    is_shown = mixing_of(taught.timed) is Mixing.SHOWN and bool(plan.kitchen.mixers)
    if is_shown and any(map(is_for_machine, taught.timed.steps)):
        return _mixed(plan, by_mixer=True)
    return mixed_by_students(plan, taught)


def _mixed(plan: ClassPlan, *, by_mixer: bool | None) -> tuple[Mixed, ...]:
    if by_mixer is None:
        return ()
    return tuple(_by_friction(plan.kitchen.frictions)) if by_mixer else (BY_HAND,)


def _by_friction(mixers: tuple[MixerFriction, ...]) -> Iterator[Mixed]:
    names: dict[Decimal | None, list[str]] = {}
    for mixer in mixers:
        names.setdefault(mixer.friction_c, []).append(mixer.name)
    for friction_c, alike in names.items():
        yield Mixed(tuple(alike), friction_c)


# The water


def students_water(plan: ClassPlan, recipe: TaughtAmounts, sheet: Sheet) -> Water | None:
    """The liquid of a student's dough; None if none is poured into it.

    Where mixers warm a dough differently, nobody can say which one a student takes.
    """
    ways = mixed_by_students(plan, plan.revisions[recipe.taught.revision])
    if len(ways) == 1:
        return dough_water(plan, recipe, sheet, ways[0])
    liquid = liquid_of(sheet)
    if liquid is None:
        return None
    return Ask(liquid.name, "which mixer: they warm the dough differently" if ways else UNSAID_HOW)


UNSAID_HOW = "by hand or by mixer, the recipe does not say"


def dough_water(
    plan: ClassPlan,
    recipe: TaughtAmounts,
    sheet: Sheet,
    mixed: Mixed,
    *,
    room_c: Decimal | None = None,
    flour_c: Decimal | None = None,
) -> Water | None:
    """The liquid of a dough mixed in some way, also in a room or with flour of another warmth.

    None if none is poured into the final dough.
    """
    liquid = liquid_of(sheet)
    if liquid is None:
        return None
    taught, kitchen = plan.revisions[recipe.taught.revision], plan.kitchen
    room_c = kitchen.room_c if room_c is None else room_c
    heat = part_heat(taught.part_kinds, taught.made, room_c)
    model = model_for(heat, room_c)
    friction = mixed.friction(model)
    if taught.dough_temperature_c is None:
        return Ask(liquid.name, "the recipe names no dough temperature")
    if heat.cannot_say:
        parts = " and ".join(f"the {kind.value}" for kind in heat.cannot_say)
        return Ask(liquid.name, f"how warm {parts} will be, the recipe does not say")
    if friction is None:
        return Ask(liquid.name, f"how much {listed(mixed.mixers)} warms the dough: measure it")
    at = usual_temperatures(
        heat,
        room_c=room_c,
        flour_c=kitchen.flour_c if flour_c is None else flour_c,
        tap_c=kitchen.tap_c,
    )
    if ComponentKind.PREFERMENT not in taught.part_kinds:
        at = replace(at, preferment_c=None)
    bench = bench_of(model, at, _batch(plan, sheet), liquid, friction)
    try:
        found = plan_liquid(bench, taught.dough_temperature_c, liquid, at)
    except BakingError as error:
        return Ask(liquid.name, *_why(error, kitchen.writing))
    return _water(found, liquid, at, taught.dough_temperature_c)


def _batch(plan: ClassPlan, sheet: Sheet) -> DoughBatch:
    rows = plan.ingredients
    eggs = frozenset(key for key, row in rows.items() if row.kind is IngredientKind.EGG)
    return DoughBatch(sheet, {key: row.composition for key, row in rows.items()}, eggs)


def _water(found: LiquidPlan, liquid: Liquid, at: Temperatures, dough_c: Decimal) -> DoughWater:
    return DoughWater(
        liquid=liquid.name,
        use_c=found.wanted.temperature_c,
        means=found.means,
        liquid_g=sum((line.weighed.grams for line in liquid.lines), ZERO),
        comes_c=at.tap_c if liquid.is_water else at.milk_c,
        dough_c=dough_c,
        at=at,
        model=found.wanted.model,
        ice_g=found.ice_g,
    )


def _why(error: BakingError, writing: Writing) -> tuple[str, str]:
    """Why there is no answer, in a sentence and for a table."""
    match error:
        case TooHotForYeast():
            needed = writing.degrees(error.temperature_c)
            return f"it would be {needed}, too hot for yeast", "too hot"
        case IceNotEnough():
            return "even all of it as ice is not cold enough", "too cold"
        case NotColdEnough():
            warm = writing.degrees(error.dough_c)
            return f"even ice-cold it makes a dough of {warm}: cool the rest", "too cold"
        case ModelsMixed():
            return "what a mixer adds is not known for a dough with hot or cold parts", "ask"
        case NotKnown():
            return f"what {listed(error.names)} consists of is not entered", "ask"
    return "a temperature is out of the model’s range", "ask"
