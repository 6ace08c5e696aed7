"""The flours of a starter as somebody writes them: one per line, with its share in percent."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal

from django import forms
from django.contrib.auth.models import User

from recipes.core.choices import IngredientKind
from recipes.core.errors import BakingError
from recipes.core.numbers import HUNDRED, ZERO
from recipes.core.reading import read_number
from recipes.core.written import NamedFlour, NamedIngredient
from recipes.forms.words import in_words, quoted
from recipes.ingredients.services import Flours
from recipes.ingredients.shelf import Shelf
from recipes.models import Ingredient
from recipes.selectors import ingredients_for
from wording.figures import plain

_SHARE = re.compile(r"(?P<share>[0-9][0-9.,]*)\s*%?\s+(?P<name>\S.*)")
# Three thirds, as people write them, add up to 99.9 %.
CLOSE = Decimal("0.5")
PLACES = Decimal("0.01")


def written_flours(flours: Sequence[NamedFlour], user: User) -> str:
    """The flours as the user's form shows them: `80 % Bread flour`."""
    if not flours:
        return ""
    label = flour_shelf(user).label
    return "\n".join(
        f"{plain(flour.percent)} % {label(NamedIngredient(flour.key, flour.name))}"
        for flour in flours
    )


def flour_shelf(user: User) -> Shelf:
    return Shelf(ingredients_for(user).filter(kind=IngredientKind.FLOUR))


def read_flours(text: str, shelf: Shelf) -> Flours:
    """The flours of a shelf that were written, with their shares. Raises ValidationError."""
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    found: dict[Ingredient, Decimal] = {}
    for line in lines:
        share, name = _parted(line)
        flour = shelf.find(name)
        if share is None and len(lines) > 1:
            raise forms.ValidationError(f"Say the share of {quoted(name)} in percent.")
        if flour in found:
            raise forms.ValidationError(f"{quoted(flour.name)} is there twice.")
        found[flour] = HUNDRED if share is None else share
    total = sum(found.values(), ZERO)
    if abs(total - HUNDRED) > CLOSE:
        raise forms.ValidationError(f"The shares come to {plain(total)} %: they must make 100 %.")
    return found


def _parted(line: str) -> tuple[Decimal | None, str]:
    match = _SHARE.fullmatch(line)
    if match is None:
        return None, line
    try:
        share = read_number(match["share"])
    except BakingError as error:
        raise forms.ValidationError(in_words(error)) from error
    if not ZERO < share <= HUNDRED or share != share.quantize(PLACES):
        raise forms.ValidationError(
            f"{quoted(match['share'])} is no share: enter 0.01 to 100, with two places at most."
        )
    return share, match["name"]
