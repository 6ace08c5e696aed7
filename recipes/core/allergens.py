"""The two closed lists of allergens that food law names, kept separate.

US_NINE: Federal Food, Drug, and Cosmetic Act, section 201(qq), as amended by FALCPA (2004) and
FASTER (2021). EU_FOURTEEN: Annex II of Regulation (EU) No 1169/2011. The labels are our own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from recipes.core.formula import Formula, FormulaIngredient


@dataclass(frozen=True, slots=True)
class Allergen:
    """An entry of one list: the key that ingredients store, and the label people read."""

    key: str
    label: str


US_NINE: tuple[Allergen, ...] = (
    Allergen("milk", "milk"),
    Allergen("egg", "egg"),
    Allergen("fish", "fish"),
    Allergen("crustacean-shellfish", "crustacean shellfish"),
    Allergen("tree-nuts", "tree nuts"),
    Allergen("wheat", "wheat"),
    Allergen("peanuts", "peanuts"),
    Allergen("soybeans", "soybeans"),
    Allergen("sesame", "sesame"),
)

EU_FOURTEEN: tuple[Allergen, ...] = (
    Allergen("gluten-cereals", "cereals containing gluten"),
    Allergen("crustaceans", "crustaceans"),
    Allergen("eggs", "eggs"),
    Allergen("fish", "fish"),
    Allergen("peanuts", "peanuts"),
    Allergen("soybeans", "soybeans"),
    Allergen("milk", "milk"),
    Allergen("nuts", "nuts"),
    Allergen("celery", "celery"),
    Allergen("mustard", "mustard"),
    Allergen("sesame", "sesame"),
    Allergen("sulphites", "sulfur dioxide and sulfites"),
    Allergen("lupin", "lupin"),
    Allergen("molluscs", "mollusks"),
)


@dataclass(frozen=True, slots=True)
class AllergensFound:
    """The allergens entered for the ingredients of a recipe, in the order of the lists.

    Nothing here says what a food lacks: an ingredient may be entered without its allergens.
    `unknown` names the ingredients for which nobody has entered anything.
    """

    us: tuple[Allergen, ...]
    eu: tuple[Allergen, ...]
    may_contain: tuple[tuple[str, str], ...]
    unknown: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.us or self.eu or self.may_contain)


def named(keys: Iterable[str], among: tuple[Allergen, ...]) -> tuple[Allergen, ...]:
    """The entries of a list that have these `keys`, in the list's order, each once."""
    wanted = frozenset(keys)
    return tuple(entry for entry in among if entry.key in wanted)


def label_of(key: str) -> str:
    """The label for an allergen's key in either list; an unknown key is returned as it is."""
    return next(
        (allergen.label for allergen in (*EU_FOURTEEN, *US_NINE) if allergen.key == key), key
    )


def found_in(ingredients: Iterable[FormulaIngredient]) -> AllergensFound:
    """The allergens entered for any of the ingredients; `may_contain` pairs name and words."""
    once = tuple(dict.fromkeys(ingredients))
    return AllergensFound(
        us=named((key for ingredient in once for key in ingredient.allergens_us), US_NINE),
        eu=named((key for ingredient in once for key in ingredient.allergens_eu), EU_FOURTEEN),
        may_contain=tuple(
            (ingredient.name, ingredient.may_contain)
            for ingredient in once
            if ingredient.may_contain
        ),
        unknown=tuple(ingredient.name for ingredient in once if not ingredient.allergens_known),
    )


def allergens(formula: Formula) -> AllergensFound:
    """The allergens entered for the ingredients of all parts of a formula."""
    return found_in(line.ingredient for part in formula.components for line in part.lines)
