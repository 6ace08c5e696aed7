"""The papers' own filters only format."""

from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal

import pytest

from handouts.templatetags.papers import large_clock
from recipes.core.weighing import Count
from wording.masses import counted, tenth
from wording.moments import instant


@pytest.mark.parametrize(("grams", "text"), [("541.914", "541.9"), ("4.329", "4.3"), ("0", "0.0")])
def test_stock_is_told_to_the_tenth(grams, text):
    assert tenth(Decimal(grams)) == text


def test_counted_things_say_how_many_to_take():
    words = counted(Count(6, "large egg", Decimal("5.698")))
    assert words == "about 5.7 × large egg: take 6, beat or cut, weigh"


def test_a_large_time_has_its_day_and_its_offset_small_beside_it():
    assert large_clock("10:30") == "10:30"
    assert large_clock("01:30 (UTC−4)") == '01:30 <span class="offset">(UTC−4)</span>'
    assert large_clock("Sun 01:30") == '<span class="offset">Sun</span> 01:30'
    assert large_clock("<b>") == "&lt;b&gt;"


def test_a_moment_is_written_in_utc():
    at = datetime(2030, 4, 11, 9, 30, tzinfo=timezone(timedelta(hours=1)))
    assert instant(at) == instant(at.astimezone(UTC)) == "2030-04-11T08:30:00Z"
