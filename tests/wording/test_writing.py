"""How kitchens write, region by region: scale, clock, sheet, dials and ounces."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from classes.core.regions import Region, writing_of
from recipes.core.choices import TemperatureOf
from wording.moments import Moment, Span
from wording.writing import PLAIN, Writing

US = Writing(fahrenheit_first=True, twelve_hours=True, sheet="letter")
CANADA = Writing(twelve_hours=True, sheet="letter")
AUSTRALIA = Writing(twelve_hours=True)
EUROPE = Writing(eu_list_first=True)


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("guidance", "currency", "zone", "writing"),
    [
        (Region.US, "USD", "America/New_York", US),
        (Region.ALL, "EUR", "America/New_York", US),
        (Region.ALL, "EUR", "America/Indiana/Knox", US),
        (Region.ALL, "EUR", "US/Hawaii", US),
        (Region.ALL, "USD", "UTC", US),
        (Region.US, "EUR", "UTC", US),
        (Region.ALL, "EUR", "America/Toronto", CANADA),
        (Region.ALL, "CAD", "UTC", CANADA),
        (Region.ALL, "EUR", "Australia/Sydney", AUSTRALIA),
        (Region.OCEANIA, "NZD", "Pacific/Auckland", AUSTRALIA),
        (Region.EUROPE, "EUR", "Europe/Dublin", EUROPE),
        (Region.ALL, "GBP", "Europe/London", EUROPE),
        (Region.ALL, "USD", "Europe/Berlin", EUROPE),
        (Region.EUROPE, "USD", "UTC", EUROPE),
        (Region.ALL, "JPY", "Asia/Tokyo", PLAIN),
        (Region.ALL, "MXN", "America/Mexico_City", PLAIN),
        (Region.ALL, "EUR", "UTC", PLAIN),
    ],
)
def test_a_kitchen_writes_as_its_guidance_its_clock_or_its_money_says(
    guidance, currency, zone, writing
):
    assert writing_of(guidance, currency, zone, ounces=False) == writing
    assert writing_of(guidance, currency, zone, ounces=True).ounces


@pytest.mark.parametrize(
    ("celsius", "in_c", "in_f"),
    [
        ("25", "25 °C (77 °F)", "77 °F (25 °C)"),
        ("96", "96 °C (205 °F)", "205 °F (96 °C)"),
        ("-18", "−18 °C (0 °F)", "0 °F (−18 °C)"),
        ("119.9", "119.9 °C (248 °F)", "248 °F (119.9 °C)"),
        # Dials: by 5 °C and by 25 °F, halves up
        ("120", "120 °C (250 °F)", "250 °F (120 °C)"),
        ("176.7", "175 °C (350 °F)", "350 °F (175 °C)"),
        ("218.3", "220 °C (425 °F)", "425 °F (220 °C)"),
        ("230", "230 °C (450 °F)", "450 °F (230 °C)"),
        ("232.5", "235 °C (450 °F)", "450 °F (235 °C)"),
        ("250", "250 °C (475 °F)", "475 °F (250 °C)"),
        ("260", "260 °C (500 °F)", "500 °F (260 °C)"),
    ],
)
def test_a_temperature_on_both_scales_the_own_one_first(celsius, in_c, in_f):
    said = Decimal(celsius)
    assert [plain(one.degrees(said)) for one in (EUROPE, CANADA, US)] == [in_c, in_c, in_f]
    assert plain(EUROPE.one_scale(said)) == in_c.partition(" (")[0]
    assert plain(US.one_scale(said)) == in_f.partition(" (")[0]


@dataclass
class Step:
    temperature_c: Decimal | None
    temperature_of: TemperatureOf | str | None


@pytest.mark.parametrize(
    ("step", "said"),
    [
        (Step(Decimal(230), TemperatureOf.OVEN), "oven at 450 °F (230 °C)"),
        (Step(Decimal(25), "Dough"), "dough at 77 °F (25 °C)"),
        (Step(None, TemperatureOf.OVEN), "oven, temperature not stated"),
        (Step(Decimal(25), None), "at 77 °F (25 °C), not stated of what"),
        (Step(None, None), ""),
    ],
)
def test_what_has_a_temperature_is_said_before_it(step, said):
    assert plain(US.heat_of(step)) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("5 °C (41 °F) or colder", "41 °F (5 °C) or colder"),
        ("57 to 21 °C (135 to 70 °F) in 2 hours, 5 °C (41 °F) by hour 6",
         "135 to 70 °F (57 to 21 °C) in 2 hours, 41 °F (5 °C) by hour 6"),
        ("at −18 °C (0 °F)", "at 0 °F (−18 °C)"),
        ("UK law: 8 °C at most.", "UK law: 8 °C at most."),
        ("20 minutes (US advice: 5 to 20)", "20 minutes (US advice: 5 to 20)"),
    ],
)  # fmt: skip
def test_a_sentence_of_ours_is_turned_for_a_kitchen_in_fahrenheit(text, said):
    assert plain(US.in_order(text)) == said
    assert EUROPE.in_order(text) == text
    assert PLAIN.in_order(text) == text


@pytest.mark.parametrize(
    ("grams", "said"),
    [
        ("259", "9.14 oz"),
        ("6.1", "0.22 oz"),
        ("0.9", "0.03 oz"),
        ("907.18", "2 lb 0.00 oz"),
        ("907", "31.99 oz"),
        ("3463", "7 lb 10.15 oz"),
    ],
)
def test_ounces_stand_beside_grams_only_where_they_are_wanted(grams, said):
    assert plain(Writing(ounces=True).beside(Decimal(grams))) == said
    assert US.beside(Decimal(grams)) == ""


NEW_YORK = ZoneInfo("America/New_York")


@pytest.mark.parametrize(
    ("utc", "clock", "in_24"),
    [
        ((4, 0), "12:00 am", "00:00"),
        ((4, 5), "12:05 am", "00:05"),
        ((13, 30), "9:30 am", "09:30"),
        ((16, 0), "12:00 pm", "12:00"),
        ((17, 45), "1:45 pm", "13:45"),
        ((3, 59), "11:59 pm", "23:59"),
    ],
)
def test_a_clock_of_twelve_hours_says_which_half_of_the_day(utc, clock, in_24):
    at = datetime(2030, 5, 4, *utc, tzinfo=UTC)
    assert plain(Moment(at, NEW_YORK, twelve_hours=True).clock) == clock
    assert Moment(at, NEW_YORK).clock == in_24


def test_every_wording_of_a_time_keeps_the_clock_of_its_kitchen():
    starts = Moment(datetime(2030, 5, 4, 14, tzinfo=UTC), NEW_YORK, twelve_hours=True)
    ends = starts.plus(4 * 60)
    day = starts.date
    words = [
        *(starts.words, starts.limit, starts.short, starts.noted, starts.stamp),
        *(starts.on_axis(day), starts.beside(day), starts.exact_clock),
    ]
    assert [word for word in words if "10:00 am" not in plain(word)] == []
    assert plain(Span(starts, ends).hours) == "10:00 am–2:00 pm"
    assert plain(Span(starts, ends).to_hours) == "10:00 am to 2:00 pm"


def test_a_time_that_comes_twice_has_its_offset_on_either_clock():
    at = Moment(datetime(2030, 11, 3, 5, 30, tzinfo=UTC), NEW_YORK, twelve_hours=True)
    assert plain(at.clock) == "1:30 am (UTC−4)"
