"""What is different at home from the class, and why, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from classes.at_home import HomeKitchen
from handouts.documents import RecipeCard
from handouts.home_amounts import HomeAmounts
from handouts.home_heat import HomeHeat
from handouts.templatetags.at_home import total_minutes, warmth
from recipes.pieces import pieces_in_words
from recipes.templatetags.amounts import about, grams


@dataclass(frozen=True, slots=True)
class Change:
    """One difference, and why."""

    what: str
    why: str


def changes_of(
    card: RecipeCard,
    pieces: int,
    amounts: HomeAmounts,
    heat: HomeHeat,
    kitchen: HomeKitchen,
    *,
    class_by_mixer: bool,
) -> Iterator[Change]:
    """The differences between a card of the class and the same recipe at home."""
    yield from _amount_changes(card, pieces, amounts)
    yield from _mixing_changes(kitchen, class_by_mixer)
    yield from _time_changes(heat, kitchen)
    yield from _oven_changes(heat, kitchen)


def _amount_changes(card: RecipeCard, pieces: int, amounts: HomeAmounts) -> Iterator[Change]:
    in_class = len(card.piece_masses_g)
    if pieces != in_class:
        yield Change(
            f"{pieces_in_words(pieces, card.piece_name)} instead of {in_class}.",
            "So many you want to bake; every amount is scaled with them.",
        )
    for name in (part.amounts.name for part in card.parts if part.tub):
        yield Change(
            f"You make the part “{name}” yourself.", "In class one tub was made for everybody."
        )
    for line in amounts.lines:
        if line.yeast:
            yield Change(
                f"{grams(line.weighed)} g {line.yeast.form} yeast instead of "
                f"{about(line.yeast.given_g)} g {line.yeast.given}.",
                "It is the yeast you have. Published factors put it between "
                f"{about(line.yeast.least_g)} and {about(line.yeast.most_g)} g.",
            )
        if line.instead_of:
            yield Change(
                f"{line.name} instead of {line.instead_of}: the same grams.",
                "How much a spoon of it holds differs by make, so weigh it."
                if line.weigh_it
                else "It is the salt you have, and a gram of salt is a gram of salt.",
            )


def _mixing_changes(kitchen: HomeKitchen, class_by_mixer: bool) -> Iterator[Change]:
    if kitchen.by_mixer and not class_by_mixer:
        yield Change(
            "Mixed by machine, where you kneaded by hand.",
            "It is quicker and warms the dough: take cooler water, and stop when the dough is "
            "smooth and comes off the bowl (common practice).",
        )
    elif class_by_mixer and not kitchen.by_mixer:
        yield Change(
            "Kneaded by hand, where a machine mixed in class.",
            "It takes longer; go on until the dough stretches thin without tearing (common "
            "practice).",
        )


def _time_changes(heat: HomeHeat, kitchen: HomeKitchen) -> Iterator[Change]:
    for rise in heat.rises:
        room = warmth(rise.room_c, kitchen)
        if rise.minutes is None:
            yield Change(f"{rise.name} does not work at {room}.", "Find the dough a warmer place.")
        elif not rise.refrigerated and _minute(rise.minutes) != _minute(rise.class_min):
            yield Change(
                f"{rise.name}: {total_minutes(rise.class_min)} at {warmth(rise.class_c, kitchen)} "
                f"becomes {total_minutes(rise.minutes)} at a steady {room}.",
                "Your room is not the class’s.",
            )


def _minute(minutes: Decimal) -> int:
    return int(minutes.to_integral_value())


def _oven_changes(heat: HomeHeat, kitchen: HomeKitchen) -> Iterator[Change]:
    for bake in heat.bakes:
        if bake.fan:
            yield Change(
                f"Oven at {warmth(bake.oven_c, kitchen)} instead of "
                f"{warmth(bake.class_c, kitchen)}.",
                "A fan bakes faster: 20 °C lower (common practice).",
            )
    if heat.core and heat.core.capped:
        yield Change(
            f"Done at {warmth(heat.core.aim_c, kitchen)} in the middle instead of "
            f"{warmth(heat.core.wanted_c, kitchen)}.",
            f"At your height water boils at {warmth(heat.core.boiling_c, kitchen)}, and the "
            "middle stays below that.",
        )
