"""For whom a recipe's amounts are, in words, the same on every page and paper."""

from __future__ import annotations

from classes.core.demand import TaughtAmounts
from recipes.core.scaling import PersonAmounts
from wording.pieces import pieces_in_words


def heads_in_words(recipe: TaughtAmounts) -> str:
    """Such as `12 bakers, 1 demonstration, 12 loaves brought risen`."""
    amounts = recipe.amounts
    counted = ((len(amounts.persons), "baker"), (len(amounts.shown), "demonstration"))
    words = [pieces_in_words(number, name) for number, name in counted if number]
    return ", ".join(
        [*words, *(brought_in_words(recipe, brought_dough) for brought_dough in amounts.brought)]
    )


def brought_in_words(recipe: TaughtAmounts, dough: PersonAmounts) -> str:
    """A dough that the instructor brings, such as `12 loaves brought risen`."""
    baker = dough.baker
    return f"{pieces_in_words(baker.pieces, recipe.taught.piece_name)} brought {baker.brought}"
