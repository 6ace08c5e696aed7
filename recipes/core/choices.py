"""The choices in a recipe, each with the label that people see."""

from __future__ import annotations

from enum import StrEnum
from typing import Self


class Choice(StrEnum):
    """A stored word and its label: the capitalized word unless another is given."""

    label: str

    def __new__(cls, word: str, label: str = "") -> Self:
        member = str.__new__(cls, word)
        member._value_ = word
        member.label = label or word.capitalize()
        return member

    @classmethod
    def choices(cls) -> list[tuple[str, str]]:
        """Words and labels, for a model field or a form field."""
        return [(member.value, member.label) for member in cls]


class IngredientKind(Choice):
    FLOUR = "flour"
    LIQUID = "liquid"
    SALT = "salt"
    YEAST = "yeast"
    STARTER = "starter"
    SUGAR = "sugar", "Sugar and syrup"
    FAT = "fat"
    EGG = "egg"
    DAIRY = "dairy"
    SEED = "seed"
    NUT = "nut"
    GRAIN = "grain"
    FRUIT = "fruit"
    VEGETABLE = "vegetable"
    SPICE = "spice", "Spice and herb"
    OTHER = "other"


class Storage(Choice):
    """How an ingredient is kept."""

    AMBIENT = "ambient"
    CHILLED = "chilled"
    FROZEN = "frozen"

    @property
    def is_cold(self) -> bool:
        return self is not Storage.AMBIENT


class ComponentKind(Choice):
    """The parts a bread is made of."""

    DOUGH = "dough"
    PREFERMENT = "preferment"
    ROUX = "roux"
    SOAKER = "soaker"
    FILLING = "filling"
    WASH = "wash"
    TOPPING = "topping"

    @property
    def goes_into_dough(self) -> bool:
        """Whether its mass is part of the dough that is divided into pieces."""
        return self not in (ComponentKind.FILLING, ComponentKind.WASH, ComponentKind.TOPPING)

    @property
    def made_in_bulk(self) -> bool:
        """Whether it is usually made ahead in one vessel and divided among the stations."""
        return self in (ComponentKind.PREFERMENT, ComponentKind.ROUX, ComponentKind.SOAKER)


class StepKind(Choice):
    """What a step of a recipe is."""

    PREPARE = "prepare"
    MIX = "mix"
    BULK = "bulk", "Bulk fermentation"
    DIVIDE = "divide", "Divide and shape"
    REST = "rest", "Bench rest"
    PROOF = "proof"
    SCORE = "score"
    BAKE = "bake"
    COOL = "cool"


# Only these steps record how they are worked.
WORKED_KINDS = frozenset({StepKind.PREPARE, StepKind.MIX})
RISING_KINDS = frozenset({StepKind.BULK, StepKind.REST, StepKind.PROOF})


class Worked(Choice):
    """What a step of mixing or preparing is done with."""

    HAND = "hand", "By hand"
    MACHINE = "machine", "By machine"
    PAN = "pan", "In a pan, on heat"


class TemperatureOf(Choice):
    """What a step's temperature is the temperature of."""

    DOUGH = "dough"
    ROOM = "room", "Room or cabinet"
    REFRIGERATOR = "refrigerator"
    OVEN = "oven"
