"""What is different at home from in class, and why, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from classes.home_kitchen.amounts import HomeAmounts
from classes.home_kitchen.filled_pans import PanAtHome
from classes.home_kitchen.heat import HomeHeat
from classes.home_kitchen.values import HomeKitchen
from classes.home_kitchen.water import CHILLED_C, HomeWater, WaterUnknown
from classes.home_kitchen.words import in_pans, warmth
from handouts.recipe_card import RecipeCard
from recipes.core.exchange.kinds import YeastForm
from recipes.core.heat.core_temperature import Core
from wording.durations import total_minutes
from wording.lists import pieces_in_words
from wording.masses import about, exact, grams

# A sheet by home-baking educators: 95 to 100 °F for active dry yeast.
DISSOLVED = " Dissolve it first in a little of the water at 35 to 38 °C (95 to 100 °F)."


@dataclass(frozen=True, slots=True)
class HomeChange:
    """One difference, and why."""

    what: str
    why: str


def changes_of(
    card: RecipeCard,
    pieces: int,
    amounts: HomeAmounts,
    heat: HomeHeat,
    kitchen: HomeKitchen,
    pan: PanAtHome | None = None,
    water: HomeWater | WaterUnknown | None = None,
    *,
    class_by_mixer: bool | None,
) -> Iterator[HomeChange]:
    """The differences between a card of the class and the same recipe at home.

    `class_by_mixer` None: whether students mixed by mixer is not known.
    """
    yield from _amount_changes(card, pieces, amounts, kitchen)
    yield from _pan_changes(pan, kitchen)
    yield from _water_changes(water, kitchen)
    yield from _mixing_changes(kitchen, class_by_mixer)
    yield from _time_changes(heat, kitchen)
    yield from _oven_changes(heat, kitchen)
    yield from _loads(pan.pan.count if pan else pieces, heat, kitchen)
    yield from _core_changes(card.core, heat.core, kitchen)


def _amount_changes(
    card: RecipeCard, pieces: int, amounts: HomeAmounts, kitchen: HomeKitchen
) -> Iterator[HomeChange]:
    in_class = len(card.piece_masses_g)
    if pieces != in_class:
        yield HomeChange(
            f"{pieces_in_words(pieces, card.piece_name)} instead of {in_class}.",
            "That is how many you want to bake; every amount is scaled with them.",
        )
    for name in (part.amounts.name for part in card.parts if part.amounts.tub):
        yield HomeChange(
            f"You make the part “{name}” yourself.", "In class one tub was made for everybody."
        )
    for line in amounts.lines:
        if line.yeast:
            is_dry = line.yeast.form is YeastForm.ACTIVE_DRY
            taken = exact(line.exact_g) if line.how else grams(line.weighed)
            yield HomeChange(
                f"{taken} g {line.yeast.form} yeast instead of "
                f"{about(line.yeast.given_g)} g {line.yeast.given}.",
                "It is the yeast you have."
                + (kitchen.writing.in_order(DISSOLVED) if is_dry else ""),
            )
        if line.instead_of:
            yield HomeChange(
                f"{line.name} instead of {line.instead_of}: the same grams.",
                "How much a spoon of it holds differs by make, so weigh it."
                if line.weigh_it
                else "It is the salt you have, and a gram of salt is a gram of salt.",
            )


def _pan_changes(pan: PanAtHome | None, kitchen: HomeKitchen) -> Iterator[HomeChange]:
    if pan is None:
        return
    where = f"In {in_pans(pan.pan, kitchen)}."
    if pan.follows:
        yield HomeChange(
            where,
            "The amounts follow what it takes. Heavier pieces bake longer, lighter ones shorter.",
        )
    else:
        yield HomeChange(where, "The pieces are as heavy as in class.")


def _water_changes(
    water: HomeWater | WaterUnknown | None, kitchen: HomeKitchen
) -> Iterator[HomeChange]:
    if water is None:
        return
    if isinstance(water, WaterUnknown):
        yield HomeChange(
            f"We cannot say how warm to make the {water.name}.",
            f"{water.why[0].upper()}{water.why[1:]}.",
        )
        return
    if water.by_balance:
        yield _balanced(water, kitchen)
        return
    mixed = "a mixer" if kitchen.by_mixer else "hands"
    warm = f"{water.name.capitalize()} at {warmth(water.use_c, kitchen)}"
    yield HomeChange(
        "Ice and water to mix with." if water.melts_in_dough else f"{warm} to mix with.",
        f"By the bakers’ formula for your room: flour as warm as it, {mixed} counted as "
        f"{kitchen.writing.difference(water.friction_c)}, usual figures. Measure your dough.",
    )


def _balanced(water: HomeWater, kitchen: HomeKitchen) -> HomeChange:
    cold = warmth(CHILLED_C, kitchen)
    hot = f", the roux at {warmth(water.roux_c, kitchen)}" if water.roux_c is not None else ""
    machine = " What the mixer adds comes on top: we cannot say how much." * water.mixer_unknown
    return HomeChange(
        f"{water.name.capitalize()} at {warmth(water.use_c, kitchen)} to mix with.",
        "By heat balance of all that goes in: flour as warm as your room, eggs and other cold "
        f"liquids at {cold}{hot}. Bowl and air take some heat. Measure your dough."
        f"{machine}",
    )


def _mixing_changes(kitchen: HomeKitchen, class_by_mixer: bool | None) -> Iterator[HomeChange]:
    if class_by_mixer is None:
        yield HomeChange(
            "Mixed by machine." if kitchen.by_mixer else "Kneaded by hand.",
            "The recipe does not say whether a machine mixed in class. Go by the dough: stop when "
            "it is smooth and stretches thin without tearing (common practice).",
        )
    elif kitchen.by_mixer and not class_by_mixer:
        yield HomeChange(
            "Mixed by machine, where you kneaded by hand.",
            "It is quicker: stop when the dough is smooth and comes off the bowl (common "
            "practice).",
        )
    elif class_by_mixer and not kitchen.by_mixer:
        yield HomeChange(
            "Kneaded by hand, where a machine mixed in class.",
            "It takes longer; go on until the dough stretches thin without tearing (common "
            "practice).",
        )


def _time_changes(heat: HomeHeat, kitchen: HomeKitchen) -> Iterator[HomeChange]:
    room = warmth(kitchen.room_c, kitchen)
    for rise in heat.rises:
        if rise.minutes is None:
            yield HomeChange(
                f"{rise.name} does not work at {room}.", "Find the dough a warmer place."
            )
    carried = "; ".join(
        f"{rise.name.lower()} {total_minutes(rise.minutes)}, in class "
        f"{total_minutes(rise.class_min)} at {warmth(rise.class_c, kitchen)}"
        for rise in heat.rises
        if rise.minutes is not None
        and not rise.refrigerated
        and _minute(rise.minutes) != _minute(rise.class_min)
    )
    if carried:
        yield HomeChange(f"{carried[0].upper()}{carried[1:]}.", f"Your room is at {room}.")


def _minute(minutes: Decimal) -> int:
    return int(minutes.to_integral_value())


def _oven_changes(heat: HomeHeat, kitchen: HomeKitchen) -> Iterator[HomeChange]:
    for bake in heat.bakes:
        if bake.fan:
            yield HomeChange(
                f"Oven at {warmth(bake.oven_c, kitchen)} instead of "
                f"{warmth(bake.class_c, kitchen)}.",
                "A fan bakes faster (common practice).",
            )


def _loads(count: int, heat: HomeHeat, kitchen: HomeKitchen) -> Iterator[HomeChange]:
    takes = kitchen.oven_takes
    if takes is None or count <= takes:
        return
    minutes = sum(bake.minutes for bake in heat.bakes)
    each = f"A load has the oven for about {total_minutes(Decimal(minutes))}, " if minutes else ""
    yield HomeChange(
        f"Bake in {-(-count // takes)} loads, {takes} at a time.",
        f"{each}{'and' if each else 'Then'} it has to get hot again. Keep what waits covered and "
        "cold, shaped, so that it does not rise too far (common practice).",
    )


def _core_changes(
    in_class: Core | None, at_home: Core | None, kitchen: HomeKitchen
) -> Iterator[HomeChange]:
    if in_class and at_home and in_class.least_c != at_home.least_c:
        lower = at_home if at_home.capped else in_class
        where = "your height" if at_home.capped else "the height of the class"
        yield HomeChange(
            f"Done at {warmth(at_home.least_c, kitchen)} in the middle instead of "
            f"{warmth(in_class.least_c, kitchen)}.",
            f"At {where} water boils at {warmth(lower.boiling_c, kitchen)}, and the middle stays "
            "below that.",
        )
