"""Whether a class pays: what it costs and brings in, and how many paid seats cover it.

Amounts are whole minor units of one currency. What a number of people uses comes from the amounts
of the class, so that every number of seats is reckoned with its own demonstration, loss and
dusting, and never by a rule of three.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from recipes.baking.numbers import whole

# From a number of people to what the ingredients that they use cost: never less for more people.
Ingredients = Callable[[int], int]


@dataclass(frozen=True, slots=True)
class Cost:
    """Something that a class costs beside its ingredients, once or for each person."""

    name: str
    amount_minor: int
    for_each: bool = False

    def __post_init__(self) -> None:
        whole("amount_minor", self.amount_minor)

    def of(self, people: int) -> int:
        """What it comes to with so many people."""
        return self.amount_minor * people if self.for_each else self.amount_minor


@dataclass(frozen=True, slots=True)
class Terms:
    """What decides whether a class pays.

    `booked` seats bring in `booked_minor`; each of the others, up to `seats`, would bring in the
    price. `guests` have no booking: now they use up and bring in nothing, in a full class they
    pay like everybody.
    """

    price_minor: int
    seats: int
    booked: int
    booked_minor: int
    guests: int = 0
    costs: tuple[Cost, ...] = ()

    @property
    def most(self) -> int:
        """The most seats that can be paid for; never fewer than are booked."""
        return max(self.booked, self.seats)


@dataclass(frozen=True, slots=True)
class Reckoning:
    """A class with so many paid seats: what it costs and what it brings in."""

    paid: int
    people: int
    ingredients_minor: int
    others_minor: tuple[int, ...]
    income_minor: int

    @property
    def costs_minor(self) -> int:
        return self.ingredients_minor + sum(self.others_minor)

    @property
    def each_minor(self) -> int:
        """The costs for each person, halves up; nothing where nobody comes."""
        return (2 * self.costs_minor + self.people) // (2 * self.people) if self.people else 0

    @property
    def left_minor(self) -> int:
        """What is left; negative where something is missing."""
        return self.income_minor - self.costs_minor


@dataclass(frozen=True, slots=True)
class BreakEven:
    """A class as it is booked, and with every seat paid.

    `paid` is the smallest number of seats whose price covers the costs, None where even all do
    not; `price_minor` what a seat would have to cost for those booked now to cover them, None
    where none is.
    """

    now: Reckoning
    full: Reckoning
    paid: int | None
    price_minor: int | None


def break_even(terms: Terms, ingredients: Ingredients) -> BreakEven:
    """What a class comes to now and full, and from how many paid seats it covers its costs."""
    now = _reckoned(terms, ingredients, terms.booked, terms.booked_minor, terms.guests)
    more_minor = (terms.most - terms.booked) * terms.price_minor
    full = _reckoned(terms, ingredients, terms.most, terms.booked_minor + more_minor)
    price_minor = -(-now.costs_minor // now.paid) if now.paid else None
    return BreakEven(now, full, _smallest(terms, ingredients), price_minor)


def _reckoned(
    terms: Terms, ingredients: Ingredients, paid: int, income_minor: int, guests: int = 0
) -> Reckoning:
    people = paid + guests
    others = tuple(cost.of(people) for cost in terms.costs)
    return Reckoning(paid, people, ingredients(people) if people else 0, others, income_minor)


def _smallest(terms: Terms, ingredients: Ingredients) -> int | None:
    """The first number of seats that covers its costs.

    As more people never cost less, the seats that the costs of a few ask for are needed at least.
    """
    paid = 1
    while paid <= terms.most:
        found = _reckoned(terms, ingredients, paid, paid * terms.price_minor)
        if found.left_minor >= 0:
            return paid
        if not terms.price_minor:
            return None
        paid = max(paid + 1, -(-found.costs_minor // terms.price_minor))
    return None
