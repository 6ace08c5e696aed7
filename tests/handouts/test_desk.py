"""The print desk: what there is, what was printed, what has changed since, and asking for more."""

import re
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from classes.models import Pack, PrivateLook
from classes.selectors import class_plan
from handouts.catalog import KINDS
from handouts.kind import Material
from handouts.press.packs import make_pack
from handouts.print_desk.selectors import desk_of
from tests.factories import planned_class as bare_class
from tests.handouts.conftest import another_class, planned
from tests.handouts.pdfs import page_texts, plain
from tests.handouts.presses import OncePress
from tests.worlds import anew


@pytest.fixture
def demo(demo_made_once, db):
    return anew(demo_made_once)


def address(session):
    return reverse("handouts:desk", args=[session.code])


def rows_of(session):
    material = Material(class_plan(planned(session)), timezone.now())
    desk = desk_of(material, session.packs.done())
    return {row.kind.name: row for row in desk.rows}


def printed(session, *kinds, at=None, **options):
    fields = {"page_size": "a4", "made_at": at or timezone.now()} | options
    pack = Pack.objects.create(session=session, by=session.instructor, kinds=kinds, **fields)
    return make_pack(pack, OncePress())


def said(client, session):
    return plain(client.get(address(session)).content.decode())


# What has changed


def test_nothing_is_printed_at_first_and_the_usual_kinds_are_chosen(demo):
    rows = rows_of(demo)
    assert list(rows) == [kind.name for kind in KINDS]
    assert {row.state for row in rows.values()} == {"not printed"}
    assert {name for name, row in rows.items() if row.is_wanted} == {
        kind.name for kind in KINDS if kind.usual
    }


def test_what_was_printed_is_right_until_something_changes(demo):
    printed(demo, "at-home", "station-cards")
    rows = rows_of(demo)
    for name in ("at-home", "station-cards"):
        assert (rows[name].state, rows[name].is_wanted) == ("printed", False)


def test_the_hour_of_printing_alone_changes_nothing(demo):
    pack = printed(demo, "at-home", "run-sheet-instructor")
    Pack.objects.filter(pk=pack.pk).update(made_at=timezone.now() - timedelta(days=3))
    assert rows_of(demo)["run-sheet-instructor"].state == "printed"


def test_a_changed_kitchen_at_home_makes_one_handout_stale(demo):
    printed(demo, "at-home", "station-cards")
    student = demo.enrollments.all()[2]
    student.home = {"room_c": "30"}
    student.save()
    rows = rows_of(demo)
    assert rows["at-home"].state == "out of date"
    assert rows["at-home"].changed == (student.name,)
    assert rows["at-home"].is_wanted
    assert rows["station-cards"].state == "printed"


def test_somebody_new_and_somebody_gone_are_told(demo):
    printed(demo, "at-home")
    student = demo.enrollments.first()
    name = student.name
    student.delete()
    newcomer = demo.enrollments.create(name="Zoe Walker")
    row = rows_of(demo)["at-home"]
    assert newcomer.name in row.changed
    assert name not in row.changed
    assert row.gone == 1


def test_a_pack_of_changes_adds_to_the_whole_one_before(demo):
    printed(demo, "at-home", at=timezone.now() - timedelta(hours=1))
    student = demo.enrollments.first()
    student.home = {"room_c": "30"}
    student.save()
    pack = printed(demo, "at-home", only_changed=True)
    row = rows_of(demo)["at-home"]
    assert (row.state, row.printed) == ("printed", pack)


# The page


def test_the_page_names_each_kind_with_its_state(demo, teacher):
    printed(demo, "station-cards")
    page = said(teacher, demo)
    for kind in KINDS:
        assert kind.title in page
    assert "printed" in page
    assert "not printed" in page


def test_a_stale_paper_is_told_at_the_top_and_by_name(demo, teacher):
    printed(demo, "at-home")
    student = demo.enrollments.first()
    student.home = {"room_c": "30"}
    student.save()
    page = said(teacher, demo)
    assert "<strong>Out of date:</strong> Handouts for home" in page
    assert f"Changed or new: {student.name}." in page


def test_a_class_without_anything_says_what_each_paper_needs(teacher, demo):
    session = bare_class(instructor=demo.instructor, students=0)
    session.stations.clear()
    page = said(teacher, session)
    assert "No paper can be made yet" in page
    assert "Choose the stations that the class uses first." in page
    assert "Make one file" not in page


def test_asking_leads_to_the_page_of_the_pack(demo, teacher):
    answer = teacher.post(address(demo), {"kinds": ["at-home", "preparation"], "page": "letter"})
    pack = Pack.objects.get()
    assert answer.headers["Location"] == reverse("handouts:pack", args=[demo.code, pack.pk])
    assert (pack.kinds, pack.page_size) == (["at-home", "preparation"], "letter")
    assert (pack.by, pack.state) == (demo.instructor, Pack.State.WAITING)


def test_a_kind_is_asked_for_once_and_in_its_place(demo, teacher):
    teacher.post(address(demo), {"kinds": ["sign-in", "at-home", "sign-in"], "page": "a4"})
    assert Pack.objects.get().kinds == ["at-home", "sign-in"]


@pytest.mark.parametrize(
    ("posted", "words"),
    [
        ({"page": "a4"}, "Choose at least one kind of paper."),
        ({"kinds": ["napkins"], "page": "a4"}, "napkins is not one of the available choices"),
    ],
)
def test_asking_for_nothing_we_have_is_refused_in_words(demo, teacher, posted, words):
    answer = teacher.post(address(demo), posted)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not Pack.objects.exists()


def test_what_was_chosen_stays_chosen_when_something_is_wrong(demo, teacher):
    page = teacher.post(address(demo), {"kinds": ["handouts"], "page": "a3"}).content.decode()
    boxes = [part.partition(">")[0] for part in page.split('name="kinds" value="')[1:]]
    assert [box.partition('"')[0] for box in boxes if "checked" in box] == ["handouts"]


def test_the_sheets_of_the_last_time_are_offered_again(demo, teacher):
    printed(demo, "station-cards", page_size="letter")
    page = teacher.get(address(demo)).content.decode()
    assert '<option value="letter" selected>' in page
    assert "?page=letter" in page


# A pack on its way


def pack_page(client, pack, **headers):
    address = reverse("handouts:pack", args=[pack.session.code, pack.pk])
    return client.get(address, **headers).content.decode()


def waiting(session, **fields):
    fields = {"kinds": ["handouts"], "page_size": "a4", "made_at": timezone.now()} | fields
    return Pack.objects.create(session=session, by=session.instructor, **fields)


def test_progress_is_shown_and_asked_for_again(demo, teacher):
    page = pack_page(teacher, waiting(demo, state="running", done=5, total=12))
    assert "5 of 12 papers" in page
    assert 'data-hx-trigger="load delay:800ms"' in page
    assert '<noscript><meta http-equiv="refresh" content="2"></noscript>' in page


def test_htmx_gets_the_progress_alone(demo, teacher):
    pack = waiting(demo, state="running", done=5, total=12)
    part = pack_page(teacher, pack, headers={"HX-Request": "true"})
    assert "5 of 12 papers" in part
    assert "<html" not in part


def test_a_pack_that_waits_too_long_says_what_may_be_wrong(demo, teacher):
    late = waiting(demo, made_at=timezone.now() - timedelta(minutes=2))
    assert "The background work may not be running" in pack_page(teacher, late)
    assert "The background work" not in pack_page(teacher, waiting(demo))


def test_a_finished_pack_is_opened_and_asks_no_more(demo, teacher):
    pack = printed(demo, "station-cards")
    page = pack_page(teacher, pack)
    assert "hx-get" not in page
    file = reverse("handouts:pack_pdf", args=[demo.code, pack.pk])
    assert f'href="{file}"' in page
    answer = teacher.get(file)
    assert answer.content == bytes(pack.pdf)
    assert answer.headers["Content-Disposition"].endswith(f'-papers-{pack.pk}-a4.pdf"')


def test_who_opens_a_file_with_private_papers_is_written_down(demo, helper):
    for kinds in (["station-cards"], ["station-cards", "preparation"]):
        pack = printed(demo, *kinds)
        helper.get(reverse("handouts:pack_pdf", args=[demo.code, pack.pk]))
    (look,) = PrivateLook.objects.all()
    assert look.what == "Shopping and mise en place, as a paper"
    assert look.user in demo.assistants.all()


def test_a_pack_whose_file_is_gone_says_so(demo, teacher):
    pack = printed(demo, "station-cards")
    Pack.objects.update(pdf=None)
    assert "The file is no longer kept." in pack_page(teacher, pack)
    assert teacher.get(reverse("handouts:pack_pdf", args=[demo.code, pack.pk])).status_code == 404


def test_a_pack_of_another_class_is_not_found_here(demo, teacher):
    other = another_class(demo, "Hearth loaf", students=1)
    pack = printed(other, "station-cards")
    for name in ("handouts:pack", "handouts:pack_pdf"):
        assert teacher.get(reverse(name, args=[demo.code, pack.pk])).status_code == 404


def test_the_desk_takes_the_same_queries_for_6_and_for_24_students(demo, teacher):
    counts = []
    for students in (6, 24):
        session = another_class(demo, "Hearth loaf", students=students)
        teacher.get(address(session))
        with CaptureQueriesContext(connection) as queries:
            assert teacher.get(address(session)).status_code == 200
        counts.append(len(queries))
    assert counts[0] == counts[1]


# The order of the assistant's list


def words_of(pdf):
    return " ".join(page_texts(pdf))


def test_the_chosen_order_is_kept_with_the_pack_and_compared_with_what_was_printed(demo, teacher):
    asked = {"kinds": ["preparation"], "page": "a4", "list_by": "ingredient"}
    teacher.post(address(demo), asked)
    pack = make_pack(Pack.objects.get(), OncePress())
    assert pack.list_by == "ingredient"
    assert "each 259 × 13" in words_of(pack.pdf)
    row = rows_of(demo)["preparation"]
    assert (row.state, row.query) == ("printed", "page=a4&by=ingredient")
    page = said(teacher, demo)
    assert re.search(r'<option value="ingredient" selected>By ingredient</option>', page)
    assert "preparation.pdf?page=a4&amp;by=ingredient" in page
    demo.handling_loss_percent = 9
    demo.save()
    assert rows_of(demo)["preparation"].state == "out of date"


def test_a_pack_without_the_list_does_not_change_the_order_it_is_compared_in(demo, teacher):
    printed(demo, "preparation", list_by="ingredient")
    teacher.post(address(demo), {"kinds": ["notes"], "page": "a4", "list_by": "station"})
    make_pack(Pack.objects.exclude(state=Pack.State.DONE).get(), OncePress())
    assert rows_of(demo)["preparation"].state == "printed"


def test_the_list_alone_comes_in_the_order_of_its_address(demo, teacher):
    link = reverse("handouts:papers", args=[demo.code, "preparation"])
    by_station, by_ingredient = (
        words_of(teacher.get(f"{link}?{query}").content) for query in ("", "by=ingredient")
    )
    assert "Grams, and exactly" in by_station
    assert "Grams, and exactly" not in by_ingredient
    assert "each 259 × 13" in by_ingredient
    assert teacher.get(f"{link}?by=color").status_code == 400
    answer = teacher.post(address(demo), {"kinds": ["notes"], "page": "a4", "list_by": "color"})
    assert answer.status_code == 422
