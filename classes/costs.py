"""Whether a class pays, from its rows: costs, bookings, and amounts for any number of people."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from classes.accounts import Account
from classes.models import Booking, ClassCost, ClassSession, Enrollment
from classes.planning.costing import BreakEven, Cost, Reckoning, Terms, break_even
from classes.planning.demand import Person, class_amounts
from classes.planning.shopping import ShoppingList, shopping_list
from classes.selectors import class_needs, expected, supplies_of
from classes.templatetags.classes_money import money, places_of
from recipes.baking.errors import NobodyBakes

# Prices in the pantry are kept in hundredths, whatever the currency.
PANTRY_PLACES = 2


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of the sheet: what it is, now and full."""

    name: str
    now_minor: int
    full_minor: int


@dataclass(frozen=True, slots=True)
class CostSheet:
    """What the page on money says: the sums now and full, and what has no price.

    `cash_minor` is what the packs cost that a full class still has to buy.
    """

    session: ClassSession
    terms: Terms
    sums: BreakEven
    lines: tuple[CostLine, ...]
    cash_minor: int
    unpriced: tuple[str, ...]

    @property
    def totals(self) -> tuple[CostLine, ...]:
        """The costs, also for each person, the income, and what is left."""
        now, full = self.sums.now, self.sums.full
        return (
            CostLine("Costs", now.costs_minor, full.costs_minor),
            CostLine("Costs for each person", now.each_minor, full.each_minor),
            CostLine("Income", now.income_minor, full.income_minor),
            CostLine("Left or missing", now.left_minor, full.left_minor),
        )

    @property
    def all_lines(self) -> tuple[CostLine, ...]:
        return (*self.lines, *self.totals)

    @property
    def answer(self) -> str:
        """How many paid seats cover the costs, in words."""
        if not self.terms.price_minor:
            return "No price for a seat is set, so nothing comes in."
        if self.sums.paid is None:
            return "Even with every seat paid, this price does not cover the costs."
        if self.sums.paid == 1:
            return "1 paid seat covers the costs."
        return f"{self.sums.paid} paid seats cover the costs."

    @property
    def stands(self) -> str:
        """What the seats booked now come to beside that."""
        booked = self.terms.booked
        if self.sums.now.left_minor >= 0:
            return f"{_seats(booked)} booked: the costs are covered." if booked else ""
        return f"{_seats(booked)} booked: the costs are not covered yet."

    @property
    def price_words(self) -> str:
        """What a seat would have to cost for those booked now to cover the costs."""
        if self.sums.price_minor is None:
            return ""
        return (
            f"For the {_seats(self.terms.booked)} booked now to cover the costs, a seat would have "
            f"to cost {self._money(self.sums.price_minor)}."
        )

    @property
    def notes(self) -> tuple[str, ...]:
        """What the sums count, and what they cannot."""
        return tuple(note for note in (self._counted(), *self._uncounted()) if note)

    def _counted(self) -> str:
        return (
            "Ingredients are counted at the price of what is used, stock included. What a full "
            f"class still has to buy is {self._money(self.cash_minor)}, in whole packs."
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
        if self.unpriced:
            names = ", ".join(self.unpriced)
            yield f"Without a price in the pantry, and counted as nothing: {names}."

    def _money(self, minor: int) -> str:
        return money(minor, self.session.kitchen.currency)


def cost_sheet(session: ClassSession, account: Account) -> CostSheet:
    """The sheet of a class fetched `with_plan`."""
    kitchen = _Kitchen(session)
    terms = _terms(session, account)
    sums = break_even(terms, kitchen.cost_used)
    full = kitchen.shopping(sums.full.people)
    return CostSheet(
        session,
        terms,
        sums,
        lines=tuple(_lines(terms, sums.now, sums.full)),
        cash_minor=kitchen.in_currency(Decimal(full.cash_out_minor if full else 0)),
        unpriced=full.used_unpriced if full else (),
    )


def _terms(session: ClassSession, account: Account) -> Terms:
    confirmed = [one for one in account.bookings if one.booking.state == Booking.State.CONFIRMED]
    return Terms(
        price_minor=session.price_minor,
        seats=session.seats,
        booked=sum(one.booking.seats for one in confirmed),
        booked_minor=sum(one.asked_minor for one in confirmed),
        guests=sum(map(_is_guest, expected(session))),
        costs=tuple(
            Cost(one.name, one.amount_minor, for_each=one.per == ClassCost.Per.PERSON)
            for one in session.costs.all()
        ),
    )


def _lines(terms: Terms, now: Reckoning, full: Reckoning) -> Iterator[CostLine]:
    yield CostLine("Ingredients, as used", now.ingredients_minor, full.ingredients_minor)
    others = zip(terms.costs, now.others_minor, full.others_minor, strict=True)
    for cost, now_minor, full_minor in others:
        name = f"{cost.name}, for each person" if cost.for_each else cost.name
        yield CostLine(name, now_minor, full_minor)


def _seats(count: int) -> str:
    return "1 seat" if count == 1 else f"{count} seats"


class _Kitchen:
    """The amounts and shopping of a class for other numbers of people than it has."""

    def __init__(self, session: ClassSession) -> None:
        self._session = session
        self._supplies = supplies_of(session)
        roster = sorted(expected(session), key=_is_guest)
        self._people = [Person(f"student-{one.pk}", one.name, "") for one in roster]
        self._places = places_of(session.kitchen.currency)

    def shopping(self, count: int) -> ShoppingList | None:
        """The list for so many people: those who booked, the others, then empty seats.

        None where nobody bakes.
        """
        more = range(len(self._people) + 1, count + 1)
        seats = (Person(f"seat-{number}", f"Seat {number}", "") for number in more)
        needs = class_needs(self._session, (*self._people[:count], *seats))
        try:
            amounts = class_amounts(needs)
        except NobodyBakes:
            return None
        return shopping_list(amounts.needs, self._supplies, needs.scales)

    def cost_used(self, count: int) -> int:
        """What the ingredients that so many people use cost, rounded once."""
        shopping = self.shopping(count)
        return self.in_currency(shopping.cost_used_minor) if shopping else 0

    def in_currency(self, hundredths: Decimal) -> int:
        """Hundredths of the currency in its own minor units."""
        minor = hundredths.scaleb(self._places - PANTRY_PLACES)
        return int(minor.quantize(Decimal(1), ROUND_HALF_UP))


def _is_guest(one: Enrollment) -> bool:
    """Whether somebody was typed into the roster and has no booking."""
    return one.booking_id is None
