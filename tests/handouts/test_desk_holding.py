"""The print desk before printing: pages, what the day needs, pictures, warnings and the order."""

from __future__ import annotations

import io
from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from classes.models import KeptPaper, Pack, PrivateLook
from handouts.catalog import BY_NAME, KINDS
from handouts.kind import Material, Phase, phase_at
from handouts.press import kept
from handouts.press.packs import make_pack
from handouts.print_desk.holding import Counted, Holding, counted_before, holding_of, together
from handouts.print_desk.selectors import desk_of
from tests.handouts.conftest import NOW, plan_of
from tests.handouts.pdfs import page_texts, plain
from tests.handouts.presses import OncePress
from tests.worlds import anew


@pytest.fixture
def demo(demo_made_once, db):
    return anew(demo_made_once)


def desk(session, at=NOW):
    return desk_of(Material(plan_of(session), at), session.packs.done())


def rows(session, at=NOW):
    return {row.kind.name: row for row in desk(session, at).rows}


def address(session, name="desk", *args):
    return reverse(f"handouts:{name}", args=[session.code, *args])


def printed(session, *kinds, **fields):
    fields = {"page_size": "a4", "made_at": timezone.now()} | fields
    pack = Pack.objects.create(session=session, by=session.instructor, kinds=kinds, **fields)
    return make_pack(pack, OncePress())


# How many pages


@pytest.mark.parametrize(
    ("unchanged", "counted", "words"),
    [
        ("ab", {"a": 3, "b": 2}, "5 pages, 3 sheets two-sided"),
        ("a", {"a": 1}, "About 3 pages, 2 sheets two-sided"),
        ("a", {"a": 3, "b": 2}, "About 5 pages, 3 sheets two-sided"),
        ("", {}, "About 8 pages, 4 sheets two-sided"),
    ],
    ids=["both counted", "one is new, as the other", "one has changed", "none was laid out"],
)
def test_pages_are_counted_where_they_are_known_and_else_about(unchanged, counted, words):
    known = {key: Counted(pages, "a4") for key, pages in counted.items()}
    found = holding_of("ab", frozenset(unchanged), known, "a4", 4)
    if counted == {"a": 1}:
        assert found == Holding(2, 2, is_known=False)
    else:
        assert found.words.capitalize() == words.capitalize()
    other = holding_of("ab", frozenset(unchanged), known, "letter", 4)
    assert (other.pages, other.is_known) == (found.pages, False)


def test_each_paper_takes_sheets_of_its_own():
    found = together(Holding.of_paper(pages, is_known=True) for pages in (1, 2, 3))
    assert (found.pages, found.sheets, found.is_known) == (6, 4, True)
    assert found.words == "6 pages, 4 sheets two-sided"
    assert Holding(1, 1).words == "1 page, 1 sheet two-sided"


def test_a_pack_is_counted_as_it_was_made_and_as_it_will_be_again(demo, teacher):
    assert not rows(demo)["station-cards"].holding.is_known
    pack = printed(demo, "station-cards", "sign-in", "before-we-start")
    assert sum(sum(own.values()) for own in pack.page_counts.values()) == pack.pages
    found = desk(demo).holding(["station-cards", "sign-in", "before-we-start"])
    assert (found.pages, found.is_known) == (pack.pages, True)
    assert counted_before([pack]).keys() == {"station-cards", "sign-in", "before-we-start"}
    posted = {"kinds": ["station-cards", "sign-in", "before-we-start"], "page": "a4", "count": "1"}
    page = plain(teacher.post(address(demo), posted).content.decode())
    assert found.words in page
    assert Pack.objects.count() == 1
    part = teacher.post(address(demo), posted, headers={"HX-Request": "true"}).content.decode()
    assert found.words in part
    assert "<html" not in part


def test_a_file_of_papers_that_leave_something_to_the_wall_is_counted_with_its_sheet(demo):
    pack = printed(demo, "run-sheet-instructor")
    assert list(pack.printed) == ["run-sheet-instructor", "before-we-start"]
    assert desk(demo).holding(["run-sheet-instructor"]).pages == pack.pages
    assert desk(demo).holding(["sign-in"]) == rows(demo)["sign-in"].holding


def test_what_has_changed_is_only_about_known(demo):
    printed(demo, "at-home")
    student = demo.enrollments.first()
    student.home = {"room_c": "30"}
    student.save()
    row = rows(demo)["at-home"]
    assert not row.holding.is_known
    assert row.new.pages < row.holding.pages
    changed = desk(demo).holding(["at-home"], only_changed=True)
    assert changed == row.new


def test_a_two_sided_file_has_each_paper_on_sheets_of_its_own(demo, teacher):
    posted = {"kinds": "station-cards", "page": "a4", "two_sided": "1"}
    teacher.post(address(demo), posted)
    pack = make_pack(Pack.objects.get(), OncePress())
    pages = [n for own in pack.page_counts.values() for n in own.values()]
    assert pack.pages == sum(n + n % 2 for n in pages)
    assert 'name="two_sided" value="1" checked' in teacher.get(address(demo)).content.decode()


# What the day still needs


@pytest.mark.parametrize(
    ("at", "phase"),
    [
        (datetime(2030, 5, 3, 22, 59, tzinfo=UTC), Phase.DAYS_BEFORE),
        (datetime(2030, 5, 3, 23, 1, tzinfo=UTC), Phase.MORNING),
        (datetime(2030, 5, 4, 8, 59, tzinfo=UTC), Phase.MORNING),
        (datetime(2030, 5, 4, 9, 0, tzinfo=UTC), Phase.CLASS),
        (datetime(2030, 5, 4, 13, 0, tzinfo=UTC), Phase.AFTER),
    ],
)
def test_the_day_begins_at_midnight_on_the_clock_of_the_kitchen(demo, at, phase):
    plan = plan_of(demo)
    assert (str(plan.starts), plan.kitchen.zone.key) == (
        "Saturday 4 May 2030, 10:00",
        "Europe/Dublin",
    )
    assert phase_at(plan, at) is phase
    wanted = {name for name, row in rows(demo, at).items() if row.is_wanted}
    assert wanted == {kind.name for kind in KINDS if kind.usual and kind.until >= phase}
    assert ("tub-labels" in wanted) == (phase <= Phase.MORNING)
    assert "at-home" in wanted


@pytest.mark.parametrize("phase", Phase)
def test_the_papers_of_a_part_of_the_day_are_chosen_at_once(demo, teacher, phase):
    page = teacher.get(address(demo), {"for": phase.slug}).content.decode()
    boxes = [part.partition(">")[0] for part in page.split('name="kinds" value="')[1:]]
    chosen = {box.partition('"')[0] for box in boxes if "checked" in box}
    assert chosen == {kind.name for kind in KINDS if kind.usual and kind.until is phase}


# Pictures


def test_a_page_is_seen_as_a_picture_and_laid_out_once(demo, teacher, monkeypatch):
    where = address(demo, "picture", "oven-map", first_key(demo, "oven-map"), 1)
    answer = teacher.get(where)
    picture = Image.open(io.BytesIO(answer.content))
    assert (answer.headers["Content-Type"], picture.mode) == ("image/png", "L")
    assert (picture.width, picture.height) == (794, 1123)
    assert min(picture.getdata()) < 40 < 215 < max(picture.getdata())
    assert "private" in answer.headers["Cache-Control"]
    monkeypatch.setattr(kept, "print_html", None)
    assert teacher.get(where).content == answer.content
    assert KeptPaper.objects.count() == 1
    assert teacher.get(where.replace("/1.png", "/2.png")).status_code == 404
    assert teacher.get(where.replace("/1.png", "/0.png")).status_code == 404


def first_key(session, kind):
    return BY_NAME[kind].leaves(Material(plan_of(session), NOW))[0].key


def test_every_page_of_a_paper_is_shown_and_a_private_one_is_written_down(demo, helper):
    key = first_key(demo, "at-home")
    page = helper.get(address(demo, "look", "at-home", key)).content.decode()
    (kept_one,) = KeptPaper.objects.all()
    assert page.count("<img ") == len(page_texts(bytes(kept_one.pdf)))
    assert [look.what for look in PrivateLook.objects.all()] == ["Handouts for home, as a paper"]
    helper.get(address(demo, "look", "oven-map", first_key(demo, "oven-map")))
    assert PrivateLook.objects.count() == 1


def test_no_picture_is_fetched_before_somebody_looks(demo, teacher):
    page = teacher.get(address(demo)).content.decode()
    pictures = [part.partition(">")[0] for part in page.split("<img ")[1:]]
    assert len(pictures) > 10
    assert [one for one in pictures if 'loading="lazy"' not in one] == []
    assert page.count('<details class="glance">') == len(pictures)


# Warnings


def warned(session):
    return {warning.title for warning in desk(session).warnings}


def test_a_class_in_order_is_not_warned_of(demo):
    assert warned(demo) == set()


def test_open_conflicts_and_hours_that_do_not_fit_are_told_before_printing(demo, teacher):
    demo.enrollments.filter(pk=demo.enrollments.first().pk).update(diet="told", allergens=["wheat"])
    demo.ends_at = demo.starts_at + timedelta(hours=2)
    demo.save()
    assert warned(demo) == {"1 open conflict:", "The class does not fit its hours:"}
    page = plain(teacher.get(address(demo)).content.decode())
    assert f"{demo.enrollments.first().name}. The papers say so in a black box" in page


def test_sheets_of_two_sizes_are_told_before_they_are_mixed(demo):
    printed(demo, "sign-in")
    assert warned(demo) == set()
    printed(demo, "station-cards", page_size="letter", made_at=timezone.now())
    assert warned(demo) == {"Other sheets than usual:", "Mixed sheet sizes:"}


# Order


@pytest.mark.parametrize("kind", ["handouts", "at-home", "before-the-day"])
def test_papers_for_students_lie_in_the_order_of_the_stations(demo, kind):
    last = demo.stations.order_by("position").last()
    demo.enrollments.filter(pk=demo.enrollments.first().pk).update(station=last)
    plan = plan_of(demo)
    where = {str(student.pk): student.station for student in plan.students}
    leaves = BY_NAME[kind].leaves(Material(plan, NOW))
    stations = [where[leaf.key] for leaf in leaves]
    assert stations == sorted(stations, key=plan.stations.index)
    assert [where[str(student.pk)] for student in plan.students] != stations
