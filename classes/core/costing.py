"""Whether a class pays: what it costs and brings in, and how many paid seats cover it.

All amounts are in the one currency of the class. What a number of people uses comes from the
amounts of the class, so that every number of seats is costed with its own demonstration, loss
and dusting, and never by a rule of three. Where a price is not known, costs are what they are at
least, and so is the number of seats that covers them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from classes.core.money import Estimate, Money, nothing, total
from recipes.core.numbers import not_negative

# From a number of people to what the ingredients that they use cost: never less for more people.
Ingredients = Callable[[int], Estimate]


@dataclass(frozen=True, slots=True)
class Cost:
    """Something that a class costs beside its ingredients, once or for each person."""

    name: str
    amount: Money
    for_each: bool = False

    def __post_init__(self) -> None:
        not_negative("amount", self.amount.amount_minor)

    def of(self, people: int) -> Money:
        """What it comes to with so many people."""
        return self.amount * people if self.for_each else self.amount


@dataclass(frozen=True, slots=True)
class PayTerms:
    """What decides whether a class pays.

    `booked` seats bring in `income`; each of the others, up to `seats`, would bring in the price.
    `guests` have no booking: now they use up and bring in nothing, in a full class they pay like
    everybody.
    """

    price: Money
    seats: int
    booked: int
    income: Money
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
    ingredients: Estimate
    others: tuple[Money, ...]
    income: Money

    @property
    def costs(self) -> Estimate:
        known = self.ingredients.known + total(self.others, self.income.currency)
        return Estimate(known, self.ingredients.missing)

    @property
    def each(self) -> Estimate:
        """The costs for each person, halves up; nothing where nobody comes."""
        if not self.people:
            return Estimate(nothing(self.income.currency))
        return Estimate(self.costs.known.shared(self.people), self.costs.missing)

    @property
    def left(self) -> Estimate:
        """What is left; negative where something is missing. Unknown prices leave less."""
        return Estimate(self.income - self.costs.known, self.costs.missing, at_most=True)


@dataclass(frozen=True, slots=True)
class BreakEven:
    """A class as it is booked, and with every seat paid.

    `paid` is the smallest number of seats whose price covers the known costs, None where even all
    do not; `price` what a seat would have to cost for those booked now to cover them, None where
    none is. Both are what is needed at least while `missing` names something without a price.
    """

    now: Reckoning
    full: Reckoning
    paid: int | None
    price: Money | None

    @property
    def missing(self) -> tuple[str, ...]:
        """What has no price, now or in a full class."""
        return tuple(dict.fromkeys((*self.full.costs.missing, *self.now.costs.missing)))


def break_even(terms: PayTerms, ingredients: Ingredients) -> BreakEven:
    """What a class comes to now and full, and from how many paid seats it covers its costs."""
    now = _reckoned(terms, ingredients, terms.booked, terms.income, terms.guests)
    more = terms.price * (terms.most - terms.booked)
    full = _reckoned(terms, ingredients, terms.most, terms.income + more)
    price = now.costs.known.covered_by(now.paid) if now.paid else None
    return BreakEven(now, full, _smallest(terms, ingredients), price)


def _reckoned(
    terms: PayTerms, ingredients: Ingredients, paid: int, income: Money, guests: int = 0
) -> Reckoning:
    people = paid + guests
    others = tuple(cost.of(people) for cost in terms.costs)
    used = ingredients(people) if people else Estimate(nothing(income.currency))
    return Reckoning(paid, people, used, others, income)


def _smallest(terms: PayTerms, ingredients: Ingredients) -> int | None:
    """The first number of seats that covers its known costs.

    As more people never cost less, the seats that the costs of a few ask for are needed at least.
    """
    paid = 1
    while paid <= terms.most:
        found = _reckoned(terms, ingredients, paid, terms.price * paid)
        if not found.left.known.is_negative:
            return paid
        if not terms.price.is_something:
            return None
        paid = max(paid + 1, found.costs.known.times_needed(terms.price))
    return None
