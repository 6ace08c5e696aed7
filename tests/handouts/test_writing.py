"""Papers are written as their kitchen writes: scale, clock, sheet, and ounces where wanted."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from html import unescape

import pytest

from classes.home_kitchen.values import Degrees, HomeKitchen, PaperSize
from handouts.catalog import BY_NAME, KINDS
from handouts.kind import Material
from handouts.press.render import to_html
from tests.handouts.conftest import NOW, another_class, plan_of
from tests.handouts.pdfs import plain
from tests.worlds import anew

TAGS = re.compile(r"<head>.*?</head>|<svg.*?</svg>|<[^>]+>", re.S)
# 13:45, or 9:30 without the half of the day; not a ratio such as 1:2:2.
# The end of a span may leave out the half of the day that its beginning has.
OF_24_HOURS = re.compile(
    r"(?<![\d:])(?:(?:0\d|1[3-9]|2\d):[0-5]\d|(?<![ap]m )\d{1,2}:[0-5]\d(?!:|\d| [ap]m))"
)
OF_12_HOURS = re.compile(r"\d [ap]m\b")
# On a station card the grams stand between: "53 °F: 79 g (11.9 °C)".
IN_ORDER = re.compile(r"°F(?:: [\d.]+ g)? \([^()]*°C\)")
TEXTS = re.compile(r"<(title|desc|text)[^>]*>([^<]*)<")


@pytest.fixture
def demo(demo_made_once, db):
    return anew(demo_made_once)


def class_in(demo, **kitchen):
    """Two recipes over two days with students who told something, in such a kitchen."""
    for name, value in kitchen.items():
        setattr(demo.kitchen, name, value)
    demo.kitchen.save()
    starts = datetime(2030, 5, 4, 14, tzinfo=UTC)
    session = another_class(
        demo,
        "Pillow rolls",
        "Two-day rye batard",
        students=3,
        starts_at=starts,
        ends_at=starts.replace(hour=22),
    )
    first = session.enrollments.first()
    first.must_not_eat = "sesame"
    first.save()
    return session


def said_on_papers(session):
    """Each kind's papers as somebody reads them, what drawings say included."""
    material = Material(plan_of(session), NOW)
    for kind in KINDS:
        for leaf in kind.leaves(material):
            html = to_html(leaf.paper)
            drawn = " ".join(match[2] for match in TEXTS.finditer(html))
            yield kind.name, plain(unescape(f"{TAGS.sub(' ', html)} {drawn}"))


NEW_YORK = {"time_zone": "America/New_York", "guidance": "us", "currency": "USD"}


@pytest.mark.parametrize("guidance", ["us", "all"])
def test_a_class_in_new_york_has_no_clock_of_24_hours_and_no_celsius_first(demo, guidance):
    session = class_in(demo, **NEW_YORK | {"guidance": guidance})
    wrong, clocks, degrees = [], 0, 0
    for kind, text in said_on_papers(session):
        alone = IN_ORDER.sub("", text).replace("°F or °C", "").replace("UK law: 8 °C", "")
        wrong += [
            (kind, alone[max(0, one.start() - 50) : one.end() + 20])
            for pattern in (OF_24_HOURS, re.compile("°C"))
            for one in pattern.finditer(text if pattern is OF_24_HOURS else alone)
        ]
        clocks += len(OF_12_HOURS.findall(text))
        degrees += len(IN_ORDER.findall(text))
    assert wrong == []
    assert clocks > 100
    assert degrees > 20


def test_a_class_in_dublin_has_24_hours_and_celsius_first(demo):
    session = class_in(demo, time_zone="Europe/Dublin", guidance="europe", currency="EUR")
    found = dict(said_on_papers(session))
    assert [kind for kind, text in found.items() if OF_12_HOURS.search(text)] == []
    assert [kind for kind, text in found.items() if IN_ORDER.search(text)] == []
    assert [kind for kind, text in found.items() if not OF_24_HOURS.search(text)] == []


@pytest.mark.parametrize(
    ("kitchen", "degrees", "page"),
    [
        (NEW_YORK | {"altitude_m": 1600}, Degrees.FAHRENHEIT, PaperSize.LETTER),
        ({"time_zone": "America/Toronto", "altitude_m": 100}, Degrees.CELSIUS, PaperSize.LETTER),
        ({"time_zone": "Europe/Berlin", "altitude_m": 500}, Degrees.CELSIUS, PaperSize.A4),
    ],
)
def test_the_kitchen_at_home_begins_as_the_class_writes(demo, kitchen, degrees, page):
    session = class_in(demo, **kitchen)
    usual = HomeKitchen.near(plan_of(session).kitchen)
    assert (usual.degrees, usual.page) == (degrees, page)
    assert usual.altitude_m == kitchen["altitude_m"]
    (leaf, *_) = BY_NAME["at-home"].leaves(Material(plan_of(session), NOW))
    first = "°F (" if degrees == Degrees.FAHRENHEIT else "°C ("
    assert first in plain(unescape(TAGS.sub(" ", to_html(leaf.paper))))
