"""Money: whole minor units of one currency, read, written and added up."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from classes.core.money import (
    MOST_MINOR,
    PLACES,
    Estimate,
    Money,
    OtherCurrency,
    TooFine,
    TooMuch,
    TwoCurrencies,
    UnknownCurrency,
    nothing,
    read_money,
    rounded,
    total,
)
from recipes.core.errors import NotWhole, OutOfRange
from recipes.core.reading import AmbiguousNumber, TooManyDigits, Unreadable

EURO, YEN = Money(595, "EUR"), Money(180, "JPY")


@pytest.mark.parametrize(
    ("minor", "currency", "plain", "words"),
    [
        (3800, "EUR", "38.00", "38.00 EUR"),
        (5, "USD", "0.05", "0.05 USD"),
        (-1195, "EUR", "-11.95", "−11.95 EUR"),
        (-5, "EUR", "-0.05", "−0.05 EUR"),
        (180, "JPY", "180", "180 JPY"),
        (-180, "JPY", "-180", "−180 JPY"),
        (1805, "KWD", "1.805", "1.805 KWD"),
        (7, "BHD", "0.007", "0.007 BHD"),
        (12345, "CLF", "1.2345", "1.2345 CLF"),
        (0, "EUR", "0.00", "0.00 EUR"),
    ],
)
def test_money_is_written_with_the_places_of_its_currency(minor, currency, plain, words):
    money = Money(minor, currency)
    assert (money.plain, str(money)) == (plain, words)


@pytest.mark.parametrize(
    ("typed", "currency", "minor"),
    [
        ("180", "JPY", 180),
        ("180", "EUR", 18000),
        ("1.80", "EUR", 180),
        ("1,80", "EUR", 180),
        ("1.8", "EUR", 180),
        (".5", "USD", 50),
        (" 38 ", "EUR", 3800),
        ("1.800", "KWD", 1800),
        ("1.8", "KWD", 1800),
        ("0", "JPY", 0),
        ("1.80 EUR", "EUR", 180),
        ("eur 1.80", "EUR", 180),
        ("１８０", "JPY", 180),
        ("-3", "EUR", -300),
    ],
)
def test_amounts_are_read_as_people_type_them(typed, currency, minor):
    assert read_money(typed, currency) == Money(minor, currency)


@pytest.mark.parametrize(
    ("typed", "currency", "error"),
    [
        ("180.5", "JPY", TooFine),
        ("180.0", "JPY", TooFine),
        ("1.805", "EUR", TooFine),
        ("1.800", "EUR", TooFine),
        ("1.8055", "KWD", TooFine),
        ("1,800", "EUR", AmbiguousNumber),
        ("1,000", "JPY", AmbiguousNumber),
        ("1,800", "KWD", AmbiguousNumber),
        ("", "EUR", Unreadable),
        ("much", "EUR", Unreadable),
        ("1/2", "EUR", Unreadable),
        ("½", "EUR", Unreadable),
        ("€3", "EUR", Unreadable),
        ("1e3", "EUR", Unreadable),
        ("٣", "EUR", Unreadable),
        ("1 000", "EUR", Unreadable),
        ("EUR 3 EUR", "EUR", Unreadable),
        ("NaN", "EUR", Unreadable),
        ("3 USD", "EUR", OtherCurrency),
        ("9999999999999", "EUR", TooManyDigits),
        ("1000000000.01", "EUR", TooMuch),
    ],
)
def test_what_a_currency_cannot_hold_or_could_mean_two_things_is_refused(typed, currency, error):
    with pytest.raises(error):
        read_money(typed, currency)


def test_a_code_that_is_asked_for_too_is_read_in_its_own_currency():
    assert read_money("1.80 EUR", "JPY", also=("EUR",)) == Money(180, "EUR")
    assert read_money("180", "JPY", also=("EUR",)) == Money(180, "JPY")
    with pytest.raises(OtherCurrency):
        read_money("1.80 USD", "JPY", also=("EUR",))


@given(st.integers(-MOST_MINOR, MOST_MINOR), st.sampled_from(sorted(PLACES)))
def test_what_is_written_is_read_again(minor, currency):
    money = Money(minor, currency)
    assert read_money(money.plain, currency) == money
    assert read_money(str(money), "EUR", also=(currency,)) == money


@pytest.mark.parametrize(
    "together",
    [
        lambda: EURO + YEN,
        lambda: EURO - YEN,
        lambda: EURO < YEN,
        lambda: EURO <= YEN,
        lambda: EURO > YEN,
        lambda: EURO >= YEN,
        lambda: EURO.times_needed(YEN),
        lambda: total([EURO, YEN], "EUR"),
        lambda: total([YEN], "EUR"),
    ],
    ids=["sum", "difference", "<", "<=", ">", ">=", "how often", "total", "total of another"],
)
def test_two_currencies_never_meet(together):
    with pytest.raises(TwoCurrencies):
        together()


def test_the_same_figure_in_two_currencies_is_not_the_same():
    assert Money(180, "EUR") != Money(180, "JPY")


@pytest.mark.parametrize("amount", [1.8, Decimal("1.80"), True, "180", None])
def test_nothing_but_a_whole_number_is_taken(amount):
    with pytest.raises(NotWhole):
        Money(amount, "EUR")


@pytest.mark.parametrize("code", ["", "eur", "EURO", "ABC", "XXX", "XAU"])
def test_a_code_without_known_places_is_no_currency(code):
    with pytest.raises(UnknownCurrency):
        Money(1, code)


def test_a_sum_that_no_column_keeps_is_refused():
    with pytest.raises(OutOfRange):
        Money(10**18, "EUR") + Money(1, "EUR")


def test_sums_and_parts_by_hand():
    assert total([Money(1, "KWD"), Money(999, "KWD")], "KWD") == Money(1000, "KWD")
    assert Money(7140, "EUR") == EURO * 12
    assert Money(28794, "EUR").shared(12) == Money(2400, "EUR")  # 23.995
    assert (-EURO).is_negative
    assert Money(1, "EUR") < Money(2, "EUR")
    assert not Money(2, "EUR") < Money(2, "EUR")
    assert Money(2, "EUR") <= Money(2, "EUR")
    assert (-EURO).at_least_nothing() == nothing("EUR")
    assert Money(13000, "EUR").covered_by(3) == Money(4334, "EUR")
    assert Money(12001, "EUR").times_needed(Money(4000, "EUR")) == 4
    assert rounded(Decimal("673.5"), "EUR") == Money(674, "EUR")
    assert rounded(Decimal("-673.5"), "EUR") == Money(-674, "EUR")


@pytest.mark.parametrize(
    ("estimate", "words"),
    [
        (Estimate(EURO), "5.95 EUR"),
        (Estimate(nothing("EUR")), "0.00 EUR"),
        (Estimate(EURO, ("Salt",)), "at least 5.95 EUR"),
        (Estimate(nothing("EUR"), ("Salt",)), "cannot say"),
        (Estimate(nothing("EUR"), ("Salt",), at_most=True), "at most 0.00 EUR"),
        (Estimate(-YEN, ("Salt",), at_most=True), "at most −180 JPY"),
    ],
)
def test_an_estimate_says_what_is_known_and_no_more(estimate, words):
    assert str(estimate) == words
