"""Where people stand."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from classes.core.demand import StationPlaces, even_sizes, seat_people

BENCHES = (StationPlaces("A", 4), StationPlaces("B", 4), StationPlaces("C", 4))


def sizes(people: int, stations=BENCHES) -> list[int]:
    counted = Counter(seat_people([None] * people, stations))
    return [counted[at.station] for at in stations]


@pytest.mark.parametrize(
    ("people", "expected"),
    [(12, [4, 4, 4]), (11, [4, 4, 3]), (10, [4, 3, 3]), (4, [2, 1, 1]), (2, [1, 1, 0])],
)
def test_people_spread_evenly(people, expected):
    assert sizes(people) == expected


def test_a_small_station_takes_no_more_than_its_places():
    assert sizes(9, (StationPlaces("A", 2), StationPlaces("B", 8))) == [2, 7]


def test_neighbors_in_the_order_stay_together():
    assert seat_people([None] * 5, BENCHES) == ("A", "A", "B", "B", "C")


def test_a_wish_is_kept_and_the_rest_fill_up_around_it():
    assert seat_people(["C", None, None], BENCHES) == ("C", "A", "B")


def test_those_who_stand_already_are_not_counted_again():
    """One at A and one to come: B has one more and A none more."""
    taken = Counter({"A": 1})
    assert even_sizes(1, BENCHES, taken) == Counter({"B": 1})
    assert taken == Counter({"A": 1})
    assert seat_people(["A", None, None], BENCHES) == ("A", "B", "C")


def test_stations_that_are_all_full_are_filled_evenly_beyond_their_places():
    assert even_sizes(3, BENCHES, Counter({"A": 4, "B": 4, "C": 4})) == Counter("ABC")
    assert even_sizes(2, BENCHES, Counter({"A": 4, "B": 3, "C": 4})) == Counter("AB")


def test_a_wish_for_a_station_out_of_use_is_as_good_as_none():
    assert seat_people(["Z"], BENCHES) == ("A",)


def test_without_stations_nobody_can_stand_anywhere():
    with pytest.raises(ValueError, match="no stations"):
        seat_people([None], ())


wishes = st.lists(st.sampled_from([None, None, "A", "B", "C", "D"]), max_size=30)


@given(wishes)
def test_everybody_stands_somewhere_and_wishes_hold(wanted):
    seated = seat_people(wanted, BENCHES)
    assert len(seated) == len(wanted)
    for wish, station in zip(wanted, seated, strict=True):
        assert station in {"A", "B", "C"}
        assert wish not in {"A", "B", "C"} or station == wish


@given(st.integers(0, 12))
def test_sizes_differ_by_at_most_one_where_places_allow(people):
    counted = sizes(people)
    assert max(counted) - min(counted) <= 1
