"""Random classes of the demo's breads: stations, mixing, places, ovens and hours of all sorts."""

from decimal import Decimal

from hypothesis import strategies as st

from classes.core.hours.problem.values import Hours, MixerKind, Mixing, RisesIn, Room
from classes.core.keys import Stage
from classes.demo import HEARTH_LOAF, PILLOW_ROLLS, RYE_BATARD, SEEDED_RING
from tests.classes.core.hours.drawn_classes import ovens, recipe_of, work_of

BREADS = (HEARTH_LOAF, RYE_BATARD, PILLOW_ROLLS, SEEDED_RING)


@st.composite
def recipes(draw, at_stations):
    """A bread for some stations, mixed by hand or not, perhaps with prepared dough."""
    return recipe_of(
        draw(st.sampled_from(BREADS)),
        at_stations,
        shown=draw(st.integers(0, 1)),
        mixing=draw(st.sampled_from(Mixing)),
        brings=draw(st.just(frozenset()) | st.sets(st.sampled_from(Stage)).map(frozenset)),
    )


rooms = st.builds(
    Room,
    room_c=st.integers(16, 30).map(Decimal),
    night_c=st.just(Decimal(16)),
    rises_in=st.sampled_from(RisesIn),
    cabinet_c=st.none() | st.just(Decimal(28)),
    cabinet_places=st.sampled_from([0, 4, 12, 40]),
    refrigerator_places=st.sampled_from([0, 8]),
    bowls=st.sampled_from([0, 8, 30]),
)
hours = st.builds(
    Hours,
    minutes=st.integers(18, 60).map(lambda fives: 5 * fives),
    welcome_min=st.sampled_from([0, 10]),
    weighing_min=st.sampled_from([0, 20]),
    show_min=st.integers(0, 6),
    break_at=st.none() | st.integers(20, 150),
    break_min=st.just(10),
)


@st.composite
def class_works(draw, most_stations=4):
    """A class of one or two breads; each is baked at every station."""
    sizes = draw(st.lists(st.integers(1, 4), min_size=1, max_size=most_stations))
    at_stations = [(f"Bench {n}", people) for n, people in enumerate(sizes, 1)]
    breads = draw(st.lists(recipes(at_stations), min_size=1, max_size=2, unique_by=_key))
    return work_of(
        *breads,
        hours=draw(hours),
        room=draw(rooms),
        ovens=ovens(*draw(st.lists(st.integers(2, 8), min_size=1, max_size=3))),
        mixers=draw(st.sampled_from([(), (MixerKind(2000, 1),), (MixerKind(2000, 3),)])),
        assistants=draw(st.integers(0, 2)),
    )


def _key(recipe):
    return recipe.key
