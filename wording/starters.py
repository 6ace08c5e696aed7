"""What a starter is made of, in words."""

from __future__ import annotations

from recipes.core.formula import FormulaIngredient
from recipes.core.numbers import HUNDRED, ZERO
from wording.figures import percent
from wording.lists import listed


def made_of(ingredient: FormulaIngredient) -> str:
    """`100 % water; 50 % bread flour and 50 % rye flour`, or what of that is not known.

    Empty for other ingredients.
    """
    starter = ingredient.starter
    if starter is None:
        return ""
    water = "cannot say how much water"
    if starter.hydration is not None:
        water = f"{percent(starter.hydration * HUNDRED)} water"
    whole = sum((parts for _, parts in starter.flours), ZERO)
    shares = [f"{percent(parts * HUNDRED / whole)} {flour.name}" for flour, parts in starter.flours]
    if len(shares) == 1:
        shares = [starter.flours[0][0].name]
    return f"{water}; {listed(shares) or 'cannot say which flours'}"
