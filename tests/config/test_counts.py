"""Counts that processes share."""

from __future__ import annotations

import multiprocessing
from collections import defaultdict

import pytest
from hypothesis import given
from hypothesis import strategies as st

from config import counts
from config.counts import SharedCounts

START = 1_900_000_000


@pytest.fixture
def clock(monkeypatch):
    """The moment it is; call it to set another."""

    def set_to(seconds):
        monkeypatch.setattr(counts, "time", lambda: START + seconds)

    set_to(0)
    return set_to


def test_it_counts_each_thing_for_itself(clock):
    shared = SharedCounts()
    assert [shared.add("one", 60) for _ in range(3)] == [1, 2, 3]
    assert shared.add("other", 60) == 1


def test_it_can_be_asked_without_counting(clock):
    shared = SharedCounts()
    assert shared.so_far("one", 60) == 0
    shared.add("one", 60)
    shared.add("one", 60)
    assert [shared.so_far("one", 60) for _ in range(2)] == [2, 2]
    assert shared.so_far("other", 60) == 0
    clock(60)
    assert shared.so_far("one", 60) == 0


def test_one_thing_can_be_dropped(clock):
    shared = SharedCounts(buckets=1)
    shared.add("one", 60)
    shared.add("other", 60)
    shared.drop("one")
    shared.drop("nothing")
    assert (shared.so_far("one", 60), shared.so_far("other", 60)) == (0, 1)


def test_a_count_ends_its_seconds_after_it_began(clock):
    shared = SharedCounts()
    shared.add("one", 60)
    clock(59.9)
    assert shared.add("one", 60) == 2
    clock(60)
    assert shared.add("one", 60) == 1


def test_a_clock_set_back_begins_anew(clock):
    shared = SharedCounts()
    shared.add("one", 60)
    clock(-3600)
    assert shared.add("one", 60) == 1


def test_of_more_than_there_is_room_for_the_oldest_is_forgotten(clock):
    shared = SharedCounts(buckets=1)
    for second, name in enumerate("abcd"):
        clock(second)
        shared.add(name, 60)
    clock(10)
    assert shared.add("b", 60) == 2
    assert shared.add("e", 60) == 1
    assert [shared.add(name, 60) for name in "bcd"] == [3, 2, 2]
    assert shared.add("a", 60) == 1


@given(st.lists(st.text(max_size=8), max_size=60))
def test_it_counts_as_a_dictionary_does(words):
    shared, plain = SharedCounts(), defaultdict[str, int](int)
    for word in words:
        plain[word] += 1
        assert shared.add(word, 3600) == plain[word]


def test_processes_that_split_off_count_together():
    shared = SharedCounts()
    split_off = multiprocessing.get_context("fork")
    for _ in range(3):
        other = split_off.Process(target=shared.add, args=("one", 3600))
        other.start()
        other.join()
    assert shared.add("one", 3600) == 4
