"""Permanent keys: of somebody who bakes in a class, and of a line of its preparation list.

Both have a text form for rows and addresses; only this module makes and reads it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Self


class Stage(StrEnum):
    """How far along a dough is that the instructor brings."""

    MIXED = "mixed"
    RISEN = "risen"
    SHAPED = "shaped"


class PersonKey(str):
    """Whose dough it is, such as `student-12` or `brought-risen`."""

    __slots__ = ()

    @classmethod
    def student(cls, pk: int) -> Self:
        """Somebody on the roster, by the key of their row."""
        return cls(f"student-{pk}")

    @classmethod
    def seat(cls, number: int) -> Self:
        """An empty seat that is planned for."""
        return cls(f"seat-{number}")

    @classmethod
    def demonstration(cls, number: int) -> Self:
        """What the instructor makes in class."""
        return cls(f"demonstration-{number}")

    @classmethod
    def brought(cls, stage: Stage) -> Self:
        """What the instructor makes at home."""
        return cls(f"brought-{stage}")

    @property
    def student_pk(self) -> int:
        """The key of a student's row; raises ValueError for anybody else."""
        kind, _, pk = self.partition("-")
        if kind != "student":
            raise ValueError(f"{self} is no student")
        return int(pk)


class Work(StrEnum):
    """What is done to a line of the preparation list."""

    BUY = "buy"
    AHEAD = "ahead"
    WEIGH = "weigh"


# How many parts of the text are between what is done and how much of it.
_PIECES = {Work.BUY: 1, Work.AHEAD: 3, Work.WEIGH: 4}


@dataclass(frozen=True, slots=True)
class TickKey:
    """A line of the preparation list: what is done, with how much of which ingredient.

    `amount` is in grams, or what is bought in words. `taught` is the key of the recipe, `person`
    the owner of the tub, and `part` the number of the part within the recipe.
    """

    work: Work
    ingredient: str = ""
    amount: str = ""
    taught: str = ""
    person: PersonKey | None = None
    part: int = 0

    @classmethod
    def parse(cls, text: str) -> Self:
        """The key from its text. Raises ValueError for any other text."""
        word, _, rest = text.partition("|")
        work = Work(word)
        *place, ingredient, amount = [*rest.split("|", _PIECES[work]), ""][: _PIECES[work] + 1]
        if len(place) != _PIECES[work] - 1 or not ingredient:
            raise ValueError(f"{text} is no line of the preparation list")
        taught, *person, part = place or ("", "0")
        return cls(
            work=work,
            ingredient=ingredient,
            amount=amount,
            taught=taught,
            person=PersonKey(person[0]) if person else None,
            part=int(part),
        )

    def __str__(self) -> str:
        person = [self.person] if self.person else []
        place = [] if self.work is Work.BUY else [self.taught, *person, str(self.part)]
        amount = [self.amount] if self.amount else []
        return "|".join([self.work, *place, self.ingredient, *amount])

    @property
    def of_any_amount(self) -> Self:
        """The key of the same line at any amount."""
        return replace(self, amount="")

    @property
    def lasting(self) -> Self:
        """The key of the same line at any amount and for any variant of the recipe."""
        return replace(self, amount="", taught=self.taught.partition("-")[0])
