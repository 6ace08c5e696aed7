"""What an import is unsure of, as named values with fields; pages put them into words."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something to check before saving. `kind` names it: `RangeRead`, `NoAmount`."""

    @property
    def kind(self) -> str:
        return type(self).__name__


@dataclass(frozen=True, slots=True)
class NoAmount(Doubt):
    """A line without any amount, such as `salt to taste`."""


@dataclass(frozen=True, slots=True)
class NoUnit(Doubt):
    """A bare number before something that is not counted, such as `500 flour`."""


@dataclass(frozen=True, slots=True)
class RangeRead(Doubt):
    """An amount from `low` to `high`; the low end is proposed, since adding is easier."""

    low: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True)
class LetterUnit(Doubt):
    """A letter that cooks write for two units; `taken` and `other` are unit names."""

    letter: str
    taken: str
    other: str


@dataclass(frozen=True, slots=True)
class MistypedUnit(Doubt):
    """A word one slip away from a unit's; `taken` is the unit's name."""

    word: str
    taken: str


@dataclass(frozen=True, slots=True)
class TwoReadings(Doubt):
    """A number such as `1,000`, a thousand to some people and one to others."""

    text: str
    taken: Decimal
    other: Decimal


@dataclass(frozen=True, slots=True)
class NumberUnread(Doubt):
    """A number longer than any kitchen amount, or not a number, such as `1.2.3`."""

    text: str


@dataclass(frozen=True, slots=True)
class RoughAmount(Doubt):
    """An amount that its own words call rough, such as `scant` or `heaping`."""

    word: str


@dataclass(frozen=True, slots=True)
class NoDensityKnown(Doubt):
    """A volume of something whose mass per volume is not known, so it has no grams."""

    unit: str


@dataclass(frozen=True, slots=True)
class NoPieceMassKnown(Doubt):
    """A count of something whose mass per piece is not known; `word` is what was counted."""

    word: str


@dataclass(frozen=True, slots=True)
class PacketAssumed(Doubt):
    """A packet whose mass the line does not give, taken as `grams` each."""

    word: str
    grams: Decimal


@dataclass(frozen=True, slots=True)
class SizeAssumed(Doubt):
    """A counted thing without a stated size, or of another size, computed with `grams` each."""

    stated: str
    grams: Decimal


@dataclass(frozen=True, slots=True)
class OunceOfLiquid(Doubt):
    """Ounces of a liquid, taken by mass; fluid ounces may be meant."""


@dataclass(frozen=True, slots=True)
class AmountsDisagree(Doubt):
    """Two amounts on one line that are far apart, in grams."""

    taken_g: Decimal
    other_g: Decimal


@dataclass(frozen=True, slots=True)
class OtherChoice(Doubt):
    """Another ingredient offered on the same line, kept in the note."""

    text: str


@dataclass(frozen=True, slots=True)
class AlsoNamed(Doubt):
    """A note that names further ingredients, by key, such as `beaten with 1 tbsp milk`."""

    text: str
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LikelyIngredient(Doubt):
    """A name that fits `key` but could mean something else; `reason` may say why."""

    name: str
    key: str
    candidates: tuple[str, ...]
    reason: str = ""


@dataclass(frozen=True, slots=True)
class UnknownIngredient(Doubt):
    """A name that fits no known ingredient; `candidates` are keys of similar ones."""

    name: str
    candidates: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OtherHydration(Doubt):
    """A starter that a file and the book give different water, in percent; None is unknown."""

    said_percent: Decimal
    book_percent: Decimal | None


@dataclass(frozen=True, slots=True)
class OtherFlours(Doubt):
    """A starter that a file and the book feed with other flours: percent and names, in words."""

    said: tuple[str, ...]
    book: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartOfRecipe(Doubt):
    """A line that names another part of the recipe, such as `all of the poolish`."""

    part: int


@dataclass(frozen=True, slots=True)
class PiecesForPart(Doubt):
    """A filling, wash or topping that does not say for how many pieces it is."""

    part: int


@dataclass(frozen=True, slots=True)
class TextCut(Doubt):
    """Text longer than its field; `rest` did not fit."""

    rest: str


@dataclass(frozen=True, slots=True)
class LineTooLong(Doubt):
    """A line too long to be an ingredient; only its text is kept."""


@dataclass(frozen=True, slots=True)
class NothingRead(Doubt):
    """A recipe without `what`: ingredients or method."""

    what: str


@dataclass(frozen=True, slots=True)
class YieldRange(Doubt):
    """A yield from `low` to `high` pieces; the low end is proposed."""

    low: int
    high: int


@dataclass(frozen=True, slots=True)
class YieldUnclear(Doubt):
    """A yield in servings or in words, which says nothing about pieces of dough."""

    text: str


@dataclass(frozen=True, slots=True)
class SeveralRecipes(Doubt):
    """A page with more than one recipe, of which the first was read."""

    found: int


@dataclass(frozen=True, slots=True)
class DietIgnored(Doubt):
    """Diets that the page claims. They are not an allergen list, so they were left out."""

    diets: tuple[str, ...]
