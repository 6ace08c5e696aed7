"""Whether a class pays: what it costs and brings in, and how many paid seats cover it.

All amounts are in the one currency of the class. What people use comes from the amounts of the
class, so that every number of seats is costed with its own demonstration, loss and dusting, and
never in proportion. If a price is not known, the costs are a minimum, and so is the number of seats
that covers them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from classes.core.money import Estimate, Money, nothing, total
from recipes.core.numbers import not_negative

# The cost of the ingredients that a number of people use: never less for more people.
Ingredients = Callable[[int], Estimate]


@dataclass(frozen=True, slots=True)
class Cost:
    """A cost of a class besides its ingredients, once or for each person."""

    name: str
    amount: Money
    for_each: bool = False

    def __post_init__(self) -> None:
        not_negative("amount", self.amount.amount_minor)

    def of(self, people: int) -> Money:
        """The cost for a number of people."""
        return self.amount * people if self.for_each else self.amount


@dataclass(frozen=True, slots=True)
class PayTerms:
    """What decides whether a class pays.

    `booked` seats bring in `income`; each of the others, up to `seats`, would bring in the price.
    `guests` have no booking: now they use ingredients without paying, in a full class they pay like
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
    """What a class costs and brings in with a number of paid seats."""

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
        """The costs for each person, halves up; zero if nobody comes."""
        if not self.people:
            return Estimate(nothing(self.income.currency))
        return Estimate(self.costs.known.shared(self.people), self.costs.missing)

    @property
    def left(self) -> Estimate:
        """What is left; negative if there is a loss. With unknown prices it is in truth less."""
        return Estimate(self.income - self.costs.known, self.costs.missing, at_most=True)


@dataclass(frozen=True, slots=True)
class BreakEven:
    """A class as it is booked, and with every seat paid.

    `paid` is the smallest number of seats whose price covers the known costs, None if even all
    seats do not; `price` is what a seat must cost for those booked now to cover them, None if none
    is booked. Both are minimums while `missing` names something without a price.
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
    """The result of a class now and full, and how many paid seats cover its costs."""
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

    More people never cost less, so the search can start from the seats that fewer people need.
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
