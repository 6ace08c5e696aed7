"""Canceling under a class's rule, by the clock of the kitchen."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from classes.core.money import Money
from classes.core.terms import CancelTerms, canceling, days_before

DUBLIN = ZoneInfo("Europe/Dublin")
TERMS = CancelTerms(refund_days=7, transfer_days=2)
STARTS = datetime(2030, 5, 18, 10, tzinfo=DUBLIN)


def at(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=DUBLIN)


@pytest.mark.parametrize(
    ("moment", "refund", "may_move"),
    [
        pytest.param("2030-05-01T12:00", 3800, True, id="weeks before"),
        pytest.param("2030-05-11T10:00", 3800, True, id="the last minute of the refund"),
        pytest.param("2030-05-11T10:01", 0, True, id="a minute later"),
        pytest.param("2030-05-16T10:00", 0, True, id="the last minute of a move"),
        pytest.param("2030-05-16T10:01", 0, False, id="too late for both"),
        pytest.param("2030-05-18T11:00", 0, False, id="during the class"),
    ],
)
def test_the_clock_decides_what_canceling_brings(moment, refund, may_move):
    found = canceling(TERMS, STARTS, DUBLIN, at=at(moment), paid=Money(3800, "EUR"))
    assert (found.refund_due.amount_minor, found.may_move) == (refund, may_move)
    assert found.is_refunded is (refund > 0)


def test_what_was_not_paid_is_not_refunded():
    assert canceling(
        TERMS, STARTS, DUBLIN, at=at("2030-05-01T12:00"), paid=Money(0, "EUR")
    ) == canceling(TERMS, STARTS, DUBLIN, at=at("2030-05-01T12:00"), paid=Money(-500, "EUR"))


def test_no_days_before_means_until_the_class_starts():
    found = canceling(CancelTerms(0, 0), STARTS, DUBLIN, at=STARTS, paid=Money(100, "EUR"))
    assert (found.refund_due.amount_minor, found.may_move) == (100, True)


@pytest.mark.parametrize(
    ("starts", "limit_utc"),
    [
        pytest.param("2030-04-06T10:00", "2030-03-30T10:00", id="spring, an hour of UTC apart"),
        pytest.param("2030-11-02T10:00", "2030-10-26T09:00", id="autumn"),
    ],
)
def test_a_limit_keeps_the_time_of_day_across_a_clock_change(starts, limit_utc):
    """Europe/Dublin changes on 31 March and 27 October 2030 (the system's time zone data)."""
    limit = days_before(at(starts), 7, DUBLIN)
    assert limit.astimezone(UTC) == datetime.fromisoformat(limit_utc).replace(tzinfo=UTC)
    assert limit.hour == 10


def test_a_limit_in_a_skipped_hour_is_an_hour_later_and_exists():
    limit = days_before(at("2030-04-07T01:30"), 7, DUBLIN)
    assert (limit.hour, limit.minute) == (2, 30)
    assert limit.astimezone(UTC).astimezone(DUBLIN) == limit


def test_the_viewers_zone_plays_no_part():
    moment = at("2030-05-11T10:00")
    elsewhere = moment.astimezone(ZoneInfo("Pacific/Auckland"))
    assert canceling(TERMS, STARTS, DUBLIN, at=elsewhere, paid=Money(1, "EUR")) == canceling(
        TERMS, STARTS.astimezone(UTC), DUBLIN, at=moment, paid=Money(1, "EUR")
    )


@pytest.mark.parametrize("days", [-1, True, 1.5])
def test_days_are_whole_numbers_from_zero(days):
    with pytest.raises(Exception, match="days"):
        CancelTerms(days, 0)


def test_a_later_limit_of_refund_than_of_move_is_kept_as_it_is():
    found = canceling(
        CancelTerms(1, 3), STARTS, DUBLIN, at=STARTS - timedelta(days=2), paid=Money(9, "EUR")
    )
    assert (found.refund_due.amount_minor, found.may_move) == (9, False)
