"""Moments in words. What a clock shows is worked out by hand from the published rules of zones."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from wording.moments import Moment, Span, offset_words

NEW_YORK, DUBLIN, KATHMANDU = map(ZoneInfo, ("America/New_York", "Europe/Dublin", "Asia/Kathmandu"))


def moment(*parts, zone=DUBLIN):
    """A moment from its parts in UTC."""
    return Moment(datetime(*parts, tzinfo=UTC), zone)


@pytest.mark.parametrize(
    ("at", "words", "whose"),
    [
        (moment(2030, 5, 4, 12, 30, zone=NEW_YORK), "08:30", "New York time, UTC−4"),
        (moment(2030, 1, 5, 13, 30, zone=NEW_YORK), "08:30", "New York time, UTC−5"),
        (moment(2030, 7, 6, 8, 30), "09:30", "Dublin time, UTC+1"),
        (moment(2030, 1, 5, 8, 30), "08:30", "Dublin time, UTC"),
        (moment(2030, 5, 4, 4, 15, zone=KATHMANDU), "10:00", "Kathmandu time, UTC+5:45"),
        (moment(2030, 5, 4, 4, 15, zone=ZoneInfo("UTC")), "04:15", "UTC"),
        (moment(2030, 5, 4, 4, 15, zone=ZoneInfo("Etc/GMT+5")), "23:15", "UTC−5"),
        (moment(2030, 5, 4, 4, 15, zone=ZoneInfo("EST")), "23:15", "UTC−5"),
    ],
)
def test_the_clock_is_that_of_the_zone_and_says_whose_it_is(at, words, whose):
    assert (at.clock, at.zone_words) == (words, whose)


def test_an_instant_is_shown_the_same_whatever_zone_it_was_written_in():
    at = datetime(2030, 5, 4, 12, 30, tzinfo=UTC)
    shown = {Moment(at.astimezone(zone), NEW_YORK).words for zone in (UTC, DUBLIN, KATHMANDU)}
    assert shown == {"Saturday 4 May 2030, 08:30"}


def test_every_word_of_a_moment_is_of_the_same_day():
    """By hand: 03:30 UTC on a Sunday is 23:30 of the Saturday before in New York."""
    at = moment(2030, 5, 5, 3, 30, zone=NEW_YORK)
    assert at.date == date(2030, 5, 4)
    assert at.words == "Saturday 4 May 2030, 23:30"
    assert at.limit == "Saturday 4 May, 23:30"
    assert at.noted == "4 May, 23:30"
    assert at.short == "Sat 4 May 2030, 23:30"
    assert at.stamp == "4 May 2030, 23:30, America/New_York"
    assert at.iso == "2030-05-04T23:30:00-04:00"
    assert (at.iso_date, at.calendar_date) == ("2030-05-04", "4 May 2030")


def test_a_time_that_comes_twice_names_its_offset_both_times():
    """In Dublin clocks go back on 31 October 2027 at 2:00, so 1:30 comes twice."""
    assert moment(2027, 10, 31, 0, 30).clock == "01:30 (UTC+1)"
    assert moment(2027, 10, 31, 1, 30).clock == "01:30 (UTC)"
    assert moment(2027, 10, 31, 2, 30).clock == "02:30"
    assert moment(2027, 10, 30, 0, 30).clock == "01:30"


def test_on_an_axis_its_place_tells_which_of_two_it_is():
    first, second = moment(2027, 10, 31, 0, 30), moment(2027, 10, 31, 1, 30)
    assert {one.on_axis(first.date) for one in (first, second)} == {"01:30"}
    assert moment(2027, 10, 30, 22).on_axis(first.date) == "Sat 23:00"


def test_no_time_after_the_one_that_is_skipped_is_taken_for_one_that_comes_twice():
    """In Dublin clocks go forward on 28 March 2027 from 1:00 to 2:00."""
    assert [moment(2027, 3, 28, 0, 59).clock, moment(2027, 3, 28, 1).clock] == ["00:59", "02:00"]


def test_so_many_minutes_later_are_elapsed_minutes():
    at = moment(2027, 3, 28, 0, 50)
    assert (at.plus(20).clock, at.plus(-20).clock) == ("02:10", "00:30")


def test_a_limit_under_another_offset_than_the_class_names_it():
    """In New York clocks go back on 3 November 2030."""
    starts = moment(2030, 11, 5, 13, 30, zone=NEW_YORK)
    before, after = (moment(2030, 11, n, 13, 30, zone=NEW_YORK) for n in (2, 4))
    assert before.limit_beside(starts) == "Saturday 2 November, 09:30 (UTC−4)"
    assert after.limit_beside(starts) == "Monday 4 November, 08:30"


def test_a_naive_time_is_no_moment():
    with pytest.raises(ValueError, match="aware"):
        Moment(datetime(2030, 5, 4, 10), DUBLIN)  # noqa: DTZ001


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0, "UTC"), (60, "UTC+1"), (-300, "UTC−5"), (345, "UTC+5:45"), (-210, "UTC−3:30")],
)
def test_an_offset_in_words(minutes, words):
    assert offset_words(timedelta(minutes=minutes)) == words


def test_a_span_on_one_day_and_over_midnight():
    day = Span(moment(2030, 7, 6, 8, 30), moment(2030, 7, 6, 14))
    assert day.words == "Saturday 6 July 2030, 09:30 to 15:00"
    assert (day.hours, day.clock_change) == ("09:30–15:00", "")
    night = Span(moment(2030, 7, 6, 21), moment(2030, 7, 7, 1))
    assert night.hours == "22:00–02:00 on Sunday 7 July"


def test_a_span_in_which_clocks_change_names_both_offsets():
    back = Span(moment(2027, 10, 30, 23), moment(2027, 10, 31, 4))
    assert back.words == "Sunday 31 October 2027, 00:00 (UTC+1) to 04:00 (UTC)"
    assert back.clock_change == "The clocks go back by an hour in between."
    forward = Span(moment(2027, 3, 28, 0), moment(2027, 3, 28, 4))
    assert forward.hours == "00:00 (UTC)–05:00 (UTC+1)"
    assert forward.clock_change == "The clocks go forward by an hour in between."


def test_a_change_of_half_an_hour_is_told_as_such():
    """On Lord Howe Island clocks go forward by half an hour on 6 October 2030 at 2:00."""
    zone = ZoneInfo("Australia/Lord_Howe")
    span = Span(moment(2030, 10, 5, 15, zone=zone), moment(2030, 10, 5, 17, zone=zone))
    assert span.clock_change == "The clocks go forward by 30 minutes in between."
    assert span.zone_words == "Lord Howe time, UTC+10:30"
