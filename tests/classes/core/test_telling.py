"""Since when what somebody must not eat has been known."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from classes.core.diets.words import known_by, told_since

MONDAY, TUESDAY, WEDNESDAY = (datetime(2030, 5, day, 18, tzinfo=UTC) for day in (6, 7, 8))


def told(*sayings):
    """What stands after allergens and words were told one after the other."""
    since = {}
    for allergens, words, at in sayings:
        since = told_since(since, allergens, words, at=at)
    return since


@pytest.mark.parametrize(
    ("sayings", "things", "known"),
    [
        ([(["sesame"], "", TUESDAY)], ["sesame"], False),
        ([(["sesame"], "", MONDAY)], ["sesame"], True),
        ([(["sesame"], "", TUESDAY)], ["milk"], False),
        ([(["sesame"], "", MONDAY), (["sesame", "milk"], "", WEDNESDAY)], ["sesame"], True),
        ([(["sesame"], "", MONDAY), (["sesame", "milk"], "", WEDNESDAY)], ["milk"], False),
        (
            [(["sesame"], "", MONDAY), (["sesame", "milk"], "", WEDNESDAY)],
            ["sesame", "milk"],
            False,
        ),
        ([([], "no sesame", MONDAY)], ["sesame"], True),
        ([([], "no sesame", MONDAY), ([], "sesame, not a trace", WEDNESDAY)], ["sesame"], False),
        ([(["milk"], "", MONDAY), (["milk"], "and kiwi", WEDNESDAY)], ["milk"], True),
        ([(["milk"], "", MONDAY), (["milk"], "and kiwi", WEDNESDAY)], ["and kiwi"], False),
        ([([], "no sesame", MONDAY), (["sesame"], "", WEDNESDAY)], ["sesame"], True),
        (
            [(["sesame"], "", MONDAY), ([], "", MONDAY), (["sesame"], "", WEDNESDAY)],
            ["sesame"],
            False,
        ),
        ([(["egg"], "", MONDAY)], ["eggs"], True),
    ],
    ids=[
        "told later",
        "told before",
        "never told",
        "another thing is added",
        "the thing that is added",
        "one of two is added",
        "in words",
        "words that say more",
        "words of another thing",
        "the words themselves",
        "words become a mark",
        "taken back and told again",
        "a key of the other list",
    ],
)
def test_a_thing_is_known_from_the_time_it_was_told(sayings, things, known):
    noon = TUESDAY.replace(hour=12)
    assert known_by(told(*sayings), things, noon) is known


def test_what_is_told_no_more_is_dated_no_more():
    assert told((["sesame"], "no butter", MONDAY), ([], "", TUESDAY)) == {}


def test_what_was_told_in_the_same_moment_is_known():
    assert known_by(told((["sesame"], "", MONDAY)), ["sesame"], MONDAY)
