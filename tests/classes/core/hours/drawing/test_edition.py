"""What a drawing of a plan shows and where: everything once, nothing over another thing."""

from collections import Counter
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from itertools import combinations, pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from classes.core.demand import DEMONSTRATION
from classes.core.hours.drawing.edition import MOST_PEOPLE, drawing_of
from classes.core.hours.drawing.pieces import Block, StripRole
from classes.core.hours.drawing.rows import Lanes
from classes.core.hours.drawing.sheets import TALL, WIDE
from classes.core.hours.drawing.values import Anchor, Look, Rect
from classes.core.hours.greedy.placing import CannotPlace
from classes.core.hours.problem.notes import EVERYBODY, Doing
from classes.core.hours.problem.values import Hours, MixerKind, Mixing
from classes.core.hours.problem.work import Baking
from classes.core.keys import Stage
from classes.demo import HEARTH_LOAF, PILLOW_ROLLS, SEEDED_RING
from tests.classes.core.hours.drawn_classes import (
    CLASSES,
    benches,
    demo,
    in_two_loads,
    label,
    many_stations,
    ovens,
    planned,
    recipe_of,
    roomy,
    twelve_stations,
    two_breads,
    two_loads,
    work_of,
)
from wording.lettering import width_of

NEAR = Decimal("0.15")  # two edges, each to the tenth


def drawn(work, **changes):
    """A class's problem, its plan and its drawing."""
    scheduled, solved = planned(work)
    values = {"label": label, "ends": work.hours.minutes, **changes}
    return scheduled, solved.plan, drawing_of(scheduled, solved.plan, **values)


def editions(drawing):
    return (drawing.wide, *drawing.tall)


def lanes(work, *, join=False):
    scheduled, solved = planned(work)
    return scheduled, solved.plan, Lanes(scheduled, solved.plan, label).all(join=join)


def box(word):
    """Where a word lies, at most."""
    width = width_of(word.text, word.size)
    left = {Anchor.START: 0, Anchor.MIDDLE: width / 2, Anchor.END: width}[word.anchor]
    up, down = word.size * Decimal("0.72"), word.size * Decimal("0.2")
    return Rect(word.x - left, word.y - up, width, up + down)


def overlap(one, other, by=NEAR):
    """Whether two rectangles share more than their edges."""
    across = min(one.right, other.right) - max(one.x, other.x)
    down = min(one.bottom, other.bottom) - max(one.y, other.y)
    return across > by and down > by


def within(inner, outer, by=NEAR):
    return (
        outer.x - by <= inner.x
        and inner.right <= outer.right + by
        and outer.y - by <= inner.y
        and inner.bottom <= outer.bottom + by
    )


def extent(bar):
    return bar.whole or bar.rect


@st.composite
def works(draw):
    """Classes of up to ten benches with one or two breads, machines and a break."""
    stations = draw(st.integers(1, 10))
    people = draw(st.integers(1, 4))
    breads = draw(
        st.lists(
            st.sampled_from([HEARTH_LOAF, PILLOW_ROLLS, SEEDED_RING]),
            min_size=1,
            max_size=2,
            unique_by=lambda one: one.title,
        )
    )
    recipes = [
        recipe_of(
            bread,
            benches(stations, people),
            shown=draw(st.integers(0, 1)),
            mixing=draw(st.sampled_from(list(Mixing))),
            pieces_a_place=6 if bread is PILLOW_ROLLS else 1,
            brings=draw(st.sampled_from([frozenset(), frozenset({Stage.SHAPED})])),
        )
        for bread in breads
    ]
    pause = draw(st.none() | st.integers(0, 200))
    hours = Hours(
        draw(st.integers(90, 600)),
        welcome_min=draw(st.sampled_from([0, 10])),
        show_min=draw(st.sampled_from([0, 5])),
        cleanup_min=draw(st.sampled_from([0, 10])),
        break_at=pause,
        break_min=15 if pause is not None else 0,
    )
    return work_of(
        *recipes,
        hours=hours,
        room=roomy(draw(st.sampled_from([0, 100]))),
        ovens=ovens(*draw(st.lists(st.integers(2, 20), min_size=1, max_size=4))),
        mixers=draw(
            st.sampled_from([(), (MixerKind(2000, 3),), (MixerKind(5000, 1), MixerKind(800, 2))])
        ),
    )


def check_geometry(edition):
    """Nothing leaves its box, and nothing lies over another thing."""
    sheet = Rect(Decimal(0), Decimal(0), edition.width, edition.height)
    words = [(word, bar) for bar in edition.bars for word in bar.words]
    assert all(within(extent(bar), edition.plot) for bar in edition.bars)
    assert all(within(bar.rect, extent(bar)) for bar in edition.bars)
    assert all(bar.rect.width >= 0 and bar.rect.height >= 0 for bar in edition.bars)
    for one, other in combinations(edition.bars, 2):
        assert not overlap(extent(one), extent(other)), (one.title, other.title)
    for (one, _), (other, _) in combinations(words, 2):
        assert not overlap(box(one), box(other)), (one.text, other.text)
    for word, bar in words:
        assert within(box(word), sheet, by=Decimal(1)), word
        covered = [other for other in edition.bars if other is not bar]
        assert not any(overlap(box(word), extent(one), Decimal(1)) for one in covered), word
    for sample in edition.key:
        assert all(within(box(word), sheet) for word in sample.words)
    assert all(within(box(word), sheet, by=Decimal(2)) for word in edition.names)


def check_times(edition, sheet, pieces, first, last):
    """Every piece has its bar, as long as its minutes and where they lie."""
    assert len(edition.bars) == len(pieces)
    plot = edition.plot
    origin, length = (plot.y, plot.height) if sheet.tall else (plot.x, plot.width)
    for bar, piece in zip(edition.bars, pieces, strict=True):
        rect = extent(bar)
        start, size = (rect.y, rect.height) if sheet.tall else (rect.x, rect.width)
        minutes = piece.ends - piece.starts
        assert abs(size - length * minutes / (last - first)) <= NEAR
        assert abs(start - origin - length * (piece.starts - first) / (last - first)) <= NEAR
        assert (bar.look, bar.title) == (piece.look, piece.title)


def pieces_of(found):
    return [piece for lane in found for strip in lane.strips for piece in strip.pieces]


def check(work):
    scheduled, plan, drawing = drawn(work)
    rows = Lanes(scheduled, plan, label).all(join=False)
    columns = Lanes(scheduled, plan, label).all(join=True)
    if sum(lane.part is Block.PEOPLE for lane in rows) > MOST_PEOPLE:
        rows = columns
    pieces = pieces_of(rows)
    first = min(0, *(piece.starts for piece in pieces))
    last = max(work.hours.minutes, *(piece.ends for piece in pieces))
    for edition in editions(drawing):
        check_geometry(edition)
    check_times(drawing.wide, WIDE, pieces, first, last)
    shown = [bar.title for edition in drawing.tall for bar in edition.bars]
    assert Counter(shown) == Counter(piece.title for piece in pieces_of(columns))
    check_lanes(scheduled, plan, Lanes(scheduled, plan, label).all(join=False))


def check_lanes(scheduled, plan, found):
    """Every task, load and turn of a mixer has one piece; no two of a strip overlap."""
    for lane in found:
        for strip in lane.strips:
            assert all(one.ends <= other.starts for one, other in pairwise(strip.pieces))
            assert all(piece.starts < piece.ends for piece in strip.pieces)
    assert Counter(_tasks(scheduled, plan)) == Counter(_drawn_tasks(found))
    assert Counter(_loads(scheduled, plan)) == Counter(_drawn_loads(found))
    check_mixers(scheduled, plan, found)
    check_doughs(scheduled, plan, found)


def _tasks(scheduled, plan):
    for task in scheduled.problem.tasks:
        slot, who = plan.slots[task.key], scheduled.notes[task.key].who
        name = {DEMONSTRATION: "Instructor"}.get(who, who)
        yield name, slot.start, slot.start + task.ways[slot.way].minutes


def _drawn_tasks(found):
    for lane in found:
        if lane.part is Block.PEOPLE:
            for piece in lane.strips[0].pieces:
                if piece.words != ("Load",):
                    yield lane.name, piece.starts, piece.ends


def _loads(scheduled, plan):
    for oven in scheduled.problem.ovens:
        for load in plan.loads:
            if load.oven == oven.key:
                yield oven.name, load.start, load.end, (load.filled, oven.slots)


def _drawn_loads(found):
    for lane in found:
        if lane.part is Block.OVENS:
            for piece in lane.strips[0].pieces:
                if piece.look is Look.BAKE:
                    yield lane.name, piece.starts, piece.ends, piece.share


def check_mixers(scheduled, plan, found):
    mixing = [task for task in scheduled.problem.tasks if len(_uses(task, plan)) > 1]
    mixing = [task for task in mixing if scheduled.notes[task.key].doing is Doing.HANDS]
    turns = [lane.strips[0].pieces for lane in found if lane.part is Block.MIXERS]
    times = [(piece.starts, piece.ends) for pieces in turns for piece in pieces]
    starts = [plan.slots[task.key].start for task in mixing]
    assert Counter(start for start, _ in times) == Counter(starts)
    assert len(turns) <= sum(kind.count for kind in scheduled.work.mixers)


def _uses(task, plan):
    return task.ways[plan.slots[task.key].way].uses


def check_doughs(scheduled, plan, found):
    """Minute by minute: a dough bakes while one of its loads does, else it waits if it has to."""
    problem = scheduled.problem
    by_name = {lane.name: lane for lane in found if lane.part is Block.PEOPLE}
    for key, item in problem.items.items():
        if not isinstance(item, Baking):
            continue
        note = scheduled.notes[key]
        lane = by_name["Instructor" if note.who == DEMONSTRATION else note.who]
        seen = {
            minute: piece.look
            for strip in lane.strips
            if strip.role is StripRole.DOUGH and note.recipe in _recipe(scheduled, strip, lane)
            for piece in strip.pieces
            for minute in range(piece.starts, piece.ends)
        }
        loads = plan.loads_of[key]
        baking = {minute for load in loads for minute in range(load.start, load.end)}
        assert {minute for minute, look in seen.items() if look is Look.BAKE} == baking
        waits = {
            minute
            for wait in scheduled.waits
            if (wait.who, wait.recipe) == (note.who, note.recipe)
            for minute in range(plan.end(problem, wait.after), plan.last_start(problem, wait.until))
        }
        assert {minute for minute, look in seen.items() if look is Look.WAIT} == waits - baking


def _recipe(scheduled, strip, lane):
    """The keys of the recipes that a strip can be of."""
    order = [recipe.key for recipe in scheduled.work.recipes]
    return order if not strip.mark else [order["ABCDEFGH".index(strip.mark)]]


@pytest.mark.parametrize("make", CLASSES.values(), ids=CLASSES)
def test_all_of_a_class_is_drawn_once_and_apart(make):
    check(make())


@settings(max_examples=12, deadline=None)
@given(works())
def test_all_of_any_class_is_drawn_once_and_apart(work):
    try:
        check(work)
    except CannotPlace:
        assume(False)


def test_a_class_of_48_stations_is_drawn_on_rows_that_a_page_holds():
    work = many_stations()
    check(work)
    wide = drawn(work)[2].wide
    assert wide.height * 174 / wide.width < 240


def numbers(value):
    """Every number in a value that is not text, whole or a choice."""
    if is_dataclass(value):
        for field in fields(value):
            yield from numbers(getattr(value, field.name))
    elif isinstance(value, tuple):
        for one in value:
            yield from numbers(one)
    elif not isinstance(value, str | bool | None):
        yield value


def test_every_coordinate_is_decimal_and_none_but_sizes_finer_than_a_tenth():
    for edition in editions(drawn(two_breads())[2]):
        found = list(numbers(edition))
        assert len(found) > 500
        assert all(isinstance(one, Decimal) for one in found)
        assert all(one == one.quantize(Decimal("0.1")) for one in found)


def test_the_same_plan_is_drawn_the_same():
    assert drawn(two_loads())[2] == drawn(two_loads())[2]


# Words and marks


def words(edition):
    told = [word.text for bar in edition.bars for word in bar.words]
    marks = [
        word.text for one in (edition.starts, edition.ends, edition.ready) for word in one.words
    ]
    return told, [word.text for word in edition.names], marks


def test_the_demo_shows_its_clock_its_end_and_when_it_is_ready():
    wide = drawn(demo())[2].wide
    _, names, marks = words(wide)
    assert marks == ["starts 10:00", "ends 14:00", "ready 13:55"]
    clock = [name for name in names if ":" in name]
    assert clock == [f"{h}:{m}" for h in (10, 11, 12, 13) for m in ("00", "30")] + ["14:00"]
    assert wide.ends.line.x1 == wide.plot.right
    assert wide.starts.line.x1 == wide.plot.x
    minutes = (wide.ready.line.x1 - wide.plot.x) * 240 / wide.plot.width
    assert round(minutes) == 235


def test_a_tall_drawing_says_the_same_at_its_sides():
    (tall,) = drawn(demo())[2].tall
    _, names, marks = words(tall)
    assert marks == ["14:00", "ends", "ready 13:55"]
    assert "13:30" in names
    assert "14:00" not in names
    assert tall.ends.line.y1 == tall.plot.bottom
    assert tall.width <= 358


def test_every_kind_of_time_has_its_own_look_and_word():
    drawing = drawn(two_loads())[2]
    key = [(sample.look, sample.words[0].text) for sample in drawing.wide.key]
    assert key == [(look, look.word) for look in Look]
    assert len({look.word for look in Look}) == len(Look)


def test_the_key_explains_only_what_is_drawn():
    drawing = drawn(demo())[2]
    assert [sample.look for sample in drawing.wide.key] == [one for one in Look if one != "break"]


def test_two_breads_get_letters_that_the_key_explains():
    drawing = drawn(two_breads())[2]
    for edition in (drawing.wide, drawing.tall[0]):
        told = [[word.text for word in sample.words] for sample in edition.key]
        assert told[-2:] == [["A", "Hearth loaf"], ["B", "Pillow rolls"]]
        _, names, _ = words(edition)
        assert names.count("A") == names.count("B") == 4


def test_one_bread_gets_no_letter():
    drawing = drawn(demo())[2]
    told, names, _ = words(drawing.wide)
    assert "A" not in names
    assert "Mix" in told


def test_bars_say_what_they_are_where_it_fits_and_their_titles_always_do():
    _, _, drawing = drawn(demo())
    told, _, _ = words(drawing.wide)
    for word in ("Weigh", "Mix", "Fold", "Shape", "Load", "Clean up", "rises, 25\u00a0°C"):
        assert word in told
    assert told.count("6\u00a0of\u00a06") == 1
    assert told.count("13\u00a0of\u00a016") == 3
    titles = [bar.title for bar in drawing.wide.bars]
    assert "10:35 to 10:55, Bench 1: Mix, hands on, Hearth loaf, bench" in titles
    assert (
        "13:10 to 13:40, O2: baking, Hearth loaf, 230\u00a0°C, "
        "4\u00a0of\u00a06 places taken: Bench 2 4" in titles
    )
    assert all(bar.title for bar in drawing.wide.bars)


def test_a_break_is_named_above_it_even_when_it_is_short():
    work = two_breads()
    short = replace(work, hours=replace(work.hours, break_min=5))
    wide = drawn(short)[2].wide
    pause = next(bar for bar in wide.bars if bar.look is Look.BREAK)
    word = next(word for word in wide.names if word.text == "break")
    assert abs(word.x - pause.rect.x - pause.rect.width / 2) <= NEAR


def test_a_break_lies_behind_all_lanes_and_watching_behind_the_people():
    _, _, drawing = drawn(two_loads())
    bands = {band.x: band for band in drawing.wide.bands}
    pause = next(bar for bar in drawing.wide.bars if bar.look is Look.BREAK)
    watch = next(bar for bar in drawing.wide.bars if bar.look is Look.WATCH)
    assert bands[pause.rect.x].height == drawing.wide.plot.height
    assert 0 < bands[watch.rect.x].height < drawing.wide.plot.height


def test_what_comes_after_the_end_of_the_class_is_shaded():
    late = drawn(demo(), ends=200)[2].wide
    assert late.bands[0].right == late.plot.right
    assert late.bands[0].x == late.ends.line.x1 < late.ready.line.x1
    assert late.ready.line.x1 == late.plot.right
    assert drawn(demo())[2].wide.bands[0].right < late.plot.right


def test_the_clock_is_asked_for_its_words():
    odd = drawn(demo(), label=lambda minute: label(minute + 20) + " h")[2].wide
    _, names, marks = words(odd)
    assert marks[0] == "starts 10:20 h"
    assert [name for name in names if ":" in name][:2] == ["10:30 h", "11:00 h"]


def test_a_clock_that_is_put_back_shows_an_hour_twice():
    def turned(minute):
        return label(minute if minute < 120 else minute - 60)

    _, names, _ = words(drawn(demo(), label=turned)[2].wide)
    assert [name for name in names if name == "11:30"] == ["11:30", "11:30"]


@pytest.mark.parametrize(("minutes", "shown"), [(360, 13), (361, 7), (14 * 60, 8)])
def test_a_long_class_shows_fewer_times(minutes, shown):
    work = demo()
    work = replace(work, hours=replace(work.hours, minutes=minutes))
    _, names, _ = words(drawn(work)[2].wide)
    wide_clock = len([name for name in names if ":" in name])
    assert wide_clock == shown


# Lanes


def test_rows_stand_by_people_ovens_mixers_and_stores():
    _, _, found = lanes(demo())
    assert [(lane.part, lane.name, lane.note) for lane in found] == [
        (Block.PEOPLE, "Everybody", ""),
        (Block.PEOPLE, "Instructor", "demonstration"),
        (Block.PEOPLE, "Bench 1", ""),
        (Block.PEOPLE, "Bench 2", ""),
        (Block.PEOPLE, "Bench 3", ""),
        (Block.OVENS, "O1", "oven, 6 places"),
        (Block.OVENS, "O2", "oven, 6 places"),
        (Block.OVENS, "O3", "oven, 3 places"),
        (Block.MIXERS, "Mixer 1, 2\u00a0kg", ""),
        (Block.STORES, "Proof cabinet", "16 places"),
    ]


def test_stations_that_do_the_same_share_a_row_and_others_do_not():
    _, _, found = lanes(two_loads(), join=True)
    people = [(lane.name, lane.note) for lane in found if lane.part is Block.PEOPLE]
    assert people[2:] == [("Bench 1, 2 and 3", "3 stations"), ("Bench 4, 5 and 6", "3 stations")]


def test_more_than_eight_rows_of_people_are_joined():
    names = [word.text for word in drawn(twelve_stations())[2].wide.names]
    assert "3 stations" in names
    assert not any("stations" in word.text for word in drawn(two_loads())[2].wide.names)


def test_a_joined_row_names_all_its_ovens():
    _, _, found = lanes(demo(), join=True)
    (joined,) = [lane for lane in found if lane.name == "Bench 1, 2 and 3"]
    baking = [piece for piece in joined.strips[1].pieces if piece.look is Look.BAKE]
    assert [piece.title for piece in baking] == [
        "13:10 to 13:40, Bench 1, 2 and 3: Bake, baking, Hearth loaf, O1, O2 and O3, 230\u00a0°C"
    ]


def test_two_breads_of_a_station_have_a_strip_each():
    _, _, found = lanes(two_breads())
    bench = next(lane for lane in found if lane.name == "Bench 1")
    assert [(strip.role, strip.mark) for strip in bench.strips] == [
        (StripRole.HANDS, ""),
        (StripRole.DOUGH, "A"),
        (StripRole.DOUGH, "B"),
    ]


def test_mixers_are_told_by_what_they_hold_and_unused_ones_are_left_out():
    _, _, found = lanes(twelve_stations())
    mixers = [lane.name for lane in found if lane.part is Block.MIXERS]
    assert mixers == ["Mixer 1, 2\u00a0kg", "Mixer 2, 2\u00a0kg", "Mixer 3, 5\u00a0kg"]
    by_hand = replace(demo(), mixers=())
    assert not [lane for lane in lanes(by_hand)[2] if lane.part is Block.MIXERS]


def test_an_idle_oven_keeps_its_row():
    work = replace(demo(), ovens=ovens(12, 12, 3))
    _, plan, found = lanes(work)
    idle = {lane.name: lane.strips[0].pieces for lane in found if lane.part is Block.OVENS}
    used = {load.oven for load in plan.loads}
    assert len(idle) == 3
    assert sum(1 for pieces in idle.values() if pieces) == len(used) < 3


def check_cabinet(scheduled, plan):
    """Minute by minute: what stands in it stays until the last load that it is for."""
    problem, lane = scheduled.problem, Lanes(scheduled, plan, label).all(join=False)[-1]
    for minute in range(300):
        taken = sum(
            stay.amount
            for stay in problem.stays
            if plan.end(problem, stay.after) <= minute < plan.last_start(problem, stay.until)
        )
        shown = [one.share for one in lane.strips[0].pieces if one.starts <= minute < one.ends]
        assert shown == ([(taken, problem.capacity["cabinet"])] if taken else [])


def test_the_cabinet_is_as_full_as_what_stands_in_it():
    scheduled, solved = planned(two_loads())
    check_cabinet(scheduled, solved.plan)


def test_a_dough_in_two_loads_waits_between_them_and_is_drawn_in_both():
    scheduled, solved = planned(demo())
    plan, key = in_two_loads(solved.plan)
    found = Lanes(scheduled, plan, label).all(join=False)
    check_lanes(scheduled, plan, found)
    check_cabinet(scheduled, plan)
    name = scheduled.notes[key].who
    dough = next(lane for lane in found if lane.name == name).strips[1].pieces
    looks = [(piece.look, piece.ends - piece.starts) for piece in dough[-4:]]
    assert looks == [(Look.BAKE, 30), (Look.WAIT, 5), (Look.BAKE, 30), (Look.COOL, 15)]
    for edition in editions(drawing_of(scheduled, plan, label=label, ends=240)):
        check_geometry(edition)


def test_an_oven_that_changes_its_heat_says_so_before_the_next_load():
    _, plan, found = lanes(two_breads())
    heats = [
        (piece.title, piece.ends)
        for lane in found
        if lane.part is Block.OVENS
        for piece in lane.strips[0].pieces
        if piece.look is Look.HEAT
    ]
    starts = {load.start for load in plan.loads}
    assert all(ends in starts for _, ends in heats)
    assert sum("Change the heat" in title for title, _ in heats) == 3
    assert sum("Preheat" in title for title, _ in heats) == 3


def test_a_drawing_begins_before_the_class_where_an_oven_is_heated_then():
    brought = recipe_of(HEARTH_LOAF, benches(2), brings=frozenset({Stage.SHAPED}))
    work = work_of(brought, hours=Hours(240, welcome_min=0, weighing_min=0, show_min=0))
    work = replace(work, ovens=tuple(replace(one, preheat_min=150) for one in work.ovens))
    _, plan, drawing = drawn(work)
    assert min(load.start for load in plan.loads) < 150
    assert drawing.wide.starts.line.x1 > drawing.wide.plot.x
    check(work)


def test_a_narrow_screen_gets_two_drawings_where_one_would_be_too_wide():
    one = drawn(demo())[2].tall
    two = drawn(two_breads())[2].tall
    assert [edition.name for edition in one] == ["tall"]
    assert [edition.name for edition in two] == ["tall-people", "tall-machines"]
    assert all(edition.width <= TALL.width for edition in (*one, *two))


def test_a_name_too_long_for_its_row_is_cut_and_its_bars_tell_it():
    long = "The long bench by the northern window where the light is good"
    work = work_of(recipe_of(HEARTH_LOAF, [(long, 2)], shown=0))
    _, _, drawing = drawn(work)
    check(work)
    assert not any(word.text == long for word in drawing.wide.names)
    assert any(word.text.endswith("…") for word in drawing.tall[0].names)
    assert any(long in bar.title for bar in drawing.wide.bars)


def test_nothing_is_drawn_for_everybody_where_nothing_is_for_everybody():
    work = work_of(recipe_of(HEARTH_LOAF, benches(1), shown=0), hours=Hours(240, welcome_min=0))
    _, _, found = lanes(work)
    assert EVERYBODY not in [lane.name for lane in found]
    check(work)
