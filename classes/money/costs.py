"""Whether a class pays, from its rows: costs, bookings, and amounts for any number of people."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from classes.core.costing import BreakEven, Cost, PayTerms, Reckoning, break_even
from classes.core.demand import Person
from classes.core.keys import PersonKey
from classes.core.money import Estimate, nothing, total
from classes.core.shopping import ShoppingList
from classes.enrollment.models import Booking, Enrollment
from classes.models import ClassCost, ClassSession
from classes.money.accounts import Account
from classes.selectors import class_plan, expected

NO_RECIPE = "the ingredients, for no recipe is chosen"


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of the sheet: what it is, with the amounts now and for a full class."""

    name: str
    now: Estimate
    full: Estimate

    @property
    def missing(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys((*self.full.missing, *self.now.missing)))


@dataclass(frozen=True, slots=True)
class CostSheet:
    """What the page on money says: the sums now and for a full class, and what has no price.

    `cash` is the cost of the packs that a full class still has to buy.
    """

    session: ClassSession
    terms: PayTerms
    sums: BreakEven
    lines: tuple[CostLine, ...]
    cash: Estimate

    @property
    def totals(self) -> tuple[CostLine, ...]:
        """The costs, also for each person, the income, and what is left."""
        now, full = self.sums.now, self.sums.full
        return (
            CostLine("Costs", now.costs, full.costs),
            CostLine("Costs for each person", now.each, full.each),
            CostLine("Income", Estimate(now.income), Estimate(full.income)),
            CostLine("Left or missing", now.left, full.left),
        )

    @property
    def all_lines(self) -> tuple[CostLine, ...]:
        return (*self.lines, *self.totals)

    @property
    def answer(self) -> str:
        """How many paid seats cover the costs, in words; or what is missing to know that."""
        if not self.terms.price.is_something:
            return "No price for a seat is set, so nothing comes in."
        if self.sums.paid is None:
            return "Even with every seat paid, this price does not cover the costs."
        seats = f"{self.sums.paid} paid seat{'' if self.sums.paid == 1 else 's'}"
        if self.sums.missing:
            least = f"at least {seats} {'is' if self.sums.paid == 1 else 'are'} needed"
            return f"We cannot say how many paid seats cover the costs; {least}."
        covered = "costs" if self.terms.costs else "ingredients"
        return f"{seats} cover{'s' if self.sums.paid == 1 else ''} the {covered}."

    @property
    def stands(self) -> str:
        """What the seats booked now amount to, compared with that."""
        booked = self.terms.booked
        if self.sums.now.left.known.is_negative:
            return f"{_seats(booked)} booked: the costs are not covered yet."
        if not booked:
            return ""
        if self.sums.now.left.missing:
            return f"{_seats(booked)} booked: we cannot say whether the costs are covered."
        return f"{_seats(booked)} booked: the costs are covered."

    @property
    def price_words(self) -> str:
        """What a seat must cost for those booked now to cover the costs."""
        if self.sums.price is None:
            return ""
        price = Estimate(self.sums.price, self.sums.now.costs.missing)
        if price.says_nothing:
            return ""
        return (
            f"For the {_seats(self.terms.booked)} booked now to cover the costs, a seat would have "
            f"to cost {price}."
        )

    @property
    def notes(self) -> tuple[str, ...]:
        """What the sums count, and what they cannot."""
        return tuple(note for note in (*self._unpriced(), self._counted(), *self._uncounted()))

    def _unpriced(self) -> Iterator[str]:
        missing = [name for name in self.sums.missing if name != NO_RECIPE]
        if missing:
            yield (
                f"Without a price in {self.session.currency} in the pantry: {'; '.join(missing)}. "
                "So costs may be higher than shown here, and less may be left."
            )
        if NO_RECIPE in self.sums.missing:
            yield "No recipe is chosen yet, so we cannot say what the ingredients cost."

    def _counted(self) -> str:
        return (
            "Ingredients are costed from what is used, stock included. What a full "
            f"class still has to buy, in whole packs: {self.cash}."
        )

    def _uncounted(self) -> Iterator[str]:
        if not self.terms.costs:
            yield "No other costs are entered yet."
        if guests := self.terms.guests:
            who = "1 person has" if guests == 1 else f"{guests} people have"
            yield (
                f"On the roster {who} no booking: now their share of the costs counts and nothing "
                "comes in for them; in a full class every seat is paid."
            )


def cost_sheet(session: ClassSession, account: Account) -> CostSheet:
    """The sheet of a class fetched `with_plan`."""
    kitchen = _Kitchen(session)
    terms = _terms(session, account)
    sums = break_even(terms, kitchen.cost_used)
    full = kitchen.shopping(sums.full.people)
    cash = full.cash_out if full else kitchen.unknown
    return CostSheet(session, terms, sums, tuple(_lines(terms, sums.now, sums.full)), cash)


def _terms(session: ClassSession, account: Account) -> PayTerms:
    confirmed = [
        booking for booking in account.bookings if booking.booking.state == Booking.State.CONFIRMED
    ]
    return PayTerms(
        price=session.price,
        seats=session.seats,
        booked=sum(account.booking.seats for account in confirmed),
        income=total((account.asked for account in confirmed), session.currency),
        guests=sum(map(_is_guest, expected(session))),
        costs=tuple(
            Cost(cost.name, cost.amount, for_each=cost.per == ClassCost.Per.PERSON)
            for cost in session.costs.all()
        ),
    )


def _lines(terms: PayTerms, now: Reckoning, full: Reckoning) -> Iterator[CostLine]:
    yield CostLine("Ingredients, as used", now.ingredients, full.ingredients)
    for cost, of_now, of_full in zip(terms.costs, now.others, full.others, strict=True):
        name = f"{cost.name}, for each person" if cost.for_each else cost.name
        yield CostLine(name, Estimate(of_now), Estimate(of_full))


def _seats(count: int) -> str:
    return "1 seat" if count == 1 else f"{count} seats"


class _Kitchen:
    """The amounts and shopping of a class for other numbers of people."""

    def __init__(self, session: ClassSession) -> None:
        self._plan = class_plan(session)
        roster = sorted(expected(session), key=_is_guest)
        self._people = [
            Person(PersonKey.student(enrollment.pk), enrollment.name, "") for enrollment in roster
        ]

    def shopping(self, count: int) -> ShoppingList | None:
        """The list for a number of people: those who booked, the others, then empty seats.

        None if nobody bakes anything.
        """
        more = range(len(self._people) + 1, count + 1)
        seats = (Person(PersonKey.seat(number), f"Seat {number}", "") for number in more)
        plan = replace(self._plan, people=(*self._people[:count], *seats))
        return plan.shopping if plan.has_bakers and plan.shopping.lines else None

    def cost_used(self, count: int) -> Estimate:
        """The cost of the ingredients that a number of people use, rounded once."""
        shopping = self.shopping(count)
        return shopping.cost_used if shopping else self.unknown

    @property
    def unknown(self) -> Estimate:
        """What is known about the cost of ingredients if nobody bakes anything."""
        return Estimate(nothing(self._plan.currency), (NO_RECIPE,))


def _is_guest(one: Enrollment) -> bool:
    """Whether somebody was typed into the roster and has no booking."""
    return one.booking_id is None
