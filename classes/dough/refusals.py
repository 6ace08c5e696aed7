"""Why a water temperature or a rise cannot be worked out, for the person at the bench."""

from __future__ import annotations

from dataclasses import dataclass

from recipes.core.errors import BakingError, NoGrowth, OutOfRange
from recipes.core.heat.dough_batch import NotKnown
from recipes.core.heat.dough_liquid import NotColdEnough
from recipes.core.heat.water import IceNotEnough, ModelsMixed, TooHotForYeast
from wording.lists import either
from wording.writing import Writing


@dataclass(frozen=True, slots=True)
class Refusal:
    """What was refused, and why or what helps."""

    title: str
    reason: str


def refused(error: BakingError, writing: Writing) -> Refusal:
    """The refusal in the words of a kitchen."""
    degrees = writing.degrees
    match error:
        case TooHotForYeast():
            return Refusal(
                f"Refused: it would have to be {degrees(error.temperature_c)}.",
                f"{error.reason} Warm the flour or the room instead, or take a cooler dough and "
                "give it more time.",
            )
        case IceNotEnough():
            return Refusal(
                "Refused: even all of it as ice is not cold enough.",
                f"The model asks for {degrees(error.wanted_c)}, and ice alone counts as "
                f"{degrees(error.coldest_c)}. Chill the flour, or mix slower or by hand.",
            )
        case NotColdEnough():
            return Refusal(
                "Refused: chilling the liquid is not enough, and ice cannot take its place.",
                f"Even at the freezing point the dough comes to {degrees(error.dough_c)}. Chill "
                "the flour or let the rest cool, or mix slower or by hand.",
            )
        case ModelsMixed():
            return Refusal(
                "Refused: two models would be mixed.",
                f"This friction belongs to the {error.given}, and a {error.wanted} needs the rise "
                "of the dough itself. Measure it below with this model chosen, then enter it as "
                "your own figure.",
            )
        case NotKnown():
            return Refusal(
                "Refused: the composition of this dough is unknown.",
                f"Water, protein, fat or carbohydrate of {either(error.names)} is not entered. "
                "Enter it with the ingredient, or use the bakers’ formula.",
            )
        case OutOfRange():
            return Refusal(
                "Refused: a number is outside the model’s range.",
                "A heat balance cannot include anything frozen or above 150 °C.",
            )
        case NoGrowth():
            return Refusal(
                f"Refused: by the {error.rule} nothing grows at {degrees(error.temperature_c)}.",
                "Check the recipe’s own temperature; no other time can be worked out from it.",
            )
    return Refusal("This does not work out.", "Check the numbers.")
