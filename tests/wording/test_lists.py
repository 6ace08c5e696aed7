"""Names said together."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wording.lists import joined, listed, numbers_of


@pytest.mark.parametrize(
    ("names", "said"),
    [
        ([], ""),
        (["Bench 1"], "Bench 1"),
        (["Bench 1", "Bench 2"], "Bench 1 and 2"),
        (["Bench 3", "Bench 1", "Bench 2"], "Bench 1, 2 and 3"),
        (["Bench 1", "Bench 2", "Bench 3", "Bench 4"], "Bench 1 to 4"),
        ([f"Bench {n}" for n in (1, 2, 3, 4, 7, 9, 10, 11, 12)], "Bench 1 to 4, 7 and 9 to 12"),
        (["Bench 1", "Bench 1"], "Bench 1"),
        (["Instructor", "Bench 3"], "Instructor and Bench 3"),
        (["Window", "Door", "Sink"], "Window, Door and Sink"),
        (["Instructor", "Bench 1", "Bench 2"], "Instructor, Bench 1 and 2"),
        (["Table 01", "Table 02"], "Table 01 and Table 02"),
        (["Bench ", "Bench 1"], "Bench  and Bench 1"),
        (["1", "2"], "1 and 2"),
        (["Bench ٣", "Bench 2"], "Bench ٣ and Bench 2"),
    ],
)
def test_names_are_said_together(names, said):
    assert joined(names) == said


@given(st.sets(st.integers(1, 60), min_size=1))
def test_no_number_is_lost_and_none_is_added(numbers):
    said = joined(f"Bench {n}" for n in numbers).removeprefix("Bench ").replace(" and ", ", ")
    found = set()
    for part in said.split(", "):
        first, _, last = part.partition(" to ")
        found |= set(range(int(first), int(last or first) + 1))
    assert found == numbers


def test_a_list_of_words_ends_with_and():
    assert [listed(["a", "b", "c"][:n]) for n in range(4)] == ["", "a", "a and b", "a, b and c"]


@pytest.mark.parametrize(
    ("names", "numbers"),
    [
        (["Bench 1", "Bench 20"], {"Bench 1": "1", "Bench 20": "20"}),
        (["Bench 1", "Table 1"], {}),
        (["Bench 1", "Window"], {}),
        (["Window"], {}),
        ([], {}),
    ],
)
def test_numbers_stand_for_names_only_where_they_tell_them_apart(names, numbers):
    assert numbers_of(names) == numbers
