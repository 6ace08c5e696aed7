"""The notes sheet and the sign-in sheet: who and what, room to write, and nothing private."""

import pytest

from classes.enrollment.models import Enrollment
from handouts.kinds.notes_sheet import NotePage, NoteStep, notes_sheet
from handouts.kinds.sign_in import sign_in_sheet
from handouts.press.render import PageSize, to_html, to_pdf
from tests.factories import EnrollmentFactory
from tests.handouts.conftest import NOW, another_class, plan_of
from tests.handouts.layouts import faults, laid_out
from tests.handouts.pdfs import page_texts, plain


def notes_of(session):
    (paper,) = notes_sheet(plan_of(session), NOW)
    return paper


def sheet_of(session):
    (paper,) = sign_in_sheet(plan_of(session), NOW)
    return paper


# Notes


def test_each_recipe_has_its_page_of_notes(demo):
    paper = notes_of(another_class(demo, "Pillow rolls", "Seeded ring", students=4))
    assert [page.label for page in paper.pages] == [
        "Pillow rolls, revision 1",
        "Seeded ring, revision 1",
    ]
    pages = page_texts(to_pdf([paper], PageSize.A4))
    assert len(pages) == 3
    for page, label in zip(pages, ("Pillow rolls", "Seeded ring"), strict=False):
        for words in (label, "What went well", "Change next time", "Times as they were"):
            assert words in page
    assert "More notes" in pages[-1]


def test_the_steps_stand_beside_room_for_the_times_as_they_were(demo):
    (page,) = notes_of(demo).pages
    assert [(step.kind, step.planned_min) for step in page.steps] == [
        ("Mix", 20),
        ("Bulk fermentation", 80),
        ("Divide and shape", 15),
        ("Proof", 40),
        ("Score", 2),
        ("Bake", 28),
        ("Cool", 15),
    ]
    told = page_texts(to_pdf([notes_of(demo)], PageSize.A4))[0].replace("\u00a0", " ")
    assert "Bulk fermentation 1 h 20 min, 25 °C (77 °F)" in told


def test_a_recipe_without_steps_has_empty_rows(demo):
    revision = demo.taught.get().revision
    revision.steps.all().delete()
    (page,) = notes_of(demo).pages
    assert (page.steps, len(page.spare_rows)) == ((), 6)


def test_there_are_lines_to_write_on(demo):
    html = to_html(notes_of(demo))
    assert html.count("<div></div>") == 5 + 5 + 23


@pytest.mark.parametrize(("steps", "lines"), [(0, 5), (1, 8), (7, 5), (12, 3), (30, 2)])
def test_more_steps_leave_fewer_lines(steps, lines):
    page = NotePage("Loaf", (NoteStep("Mix", 10, None),) * steps)
    assert len(page.ruled) == lines


def test_a_variant_has_no_page_of_its_own(demo):
    session = another_class(demo, "Seeded ring", students=4)
    variant = session.taught.get().revision.variants.create(name="No sesame")
    session.enrollments.first().variants.add(variant)
    assert [page.label for page in notes_of(session).pages] == ["Seeded ring, revision 1"]


# Sign in


def test_names_stand_in_order_with_their_stations(demo):
    guests = sheet_of(demo).guests
    names = [guest.name for guest in guests]
    assert names == sorted(one.name for one in demo.enrollments.all())
    assert (guests[0].station, guests[-1].station) == ("Bench 1", "Bench 3")


def test_small_letters_do_not_come_last(demo):
    demo.enrollments.filter(name="Edie Quill").update(name="ada Aachen")
    assert sheet_of(demo).guests[0].name == "ada Aachen"


def test_two_people_of_one_name_both_sign(demo):
    demo.enrollments.filter(name="Edie Quill").update(name="Ada Fennimore")
    names = [guest.name for guest in sheet_of(demo).guests]
    assert names.count("Ada Fennimore") == 2


def test_nobody_who_is_known_to_be_absent_is_listed(demo):
    demo.enrollments.filter(name="Edie Quill").update(door=Enrollment.Door.ABSENT)
    assert "Edie Quill" not in [guest.name for guest in sheet_of(demo).guests]


def test_every_line_has_boxes_for_came_and_left(demo):
    sheet = sheet_of(demo)
    boxes = to_html(sheet).count('<span class="box">')
    assert boxes == 2 * len(sheet.guests) + 3 * sheet.spare


def test_walk_ins_are_asked_before_anything_else(demo):
    text = " ".join(page_texts(to_pdf([sheet_of(demo)], PageSize.A4)))
    asked = text.index("ask before they touch anything")
    question = text.index("Is there anything you must not eat or touch?")
    assert asked < question < text.index("Asked Name Station")
    assert "write the answer on the instructor’s allergen sheet, never here" in text


@pytest.mark.parametrize(("seats", "rows"), [(12, 6), (14, 8), (40, 10)])
def test_open_seats_have_rows_to_spare(demo, seats, rows):
    demo.seats = seats
    demo.save()
    sheet = sheet_of(demo)
    assert (len(sheet.guests), sheet.spare) == (12, rows)


def test_an_open_seat_is_nobody_to_sign(demo):
    demo.seats = 14
    demo.save()
    assert "Seat 13" not in to_html(sheet_of(demo))


def test_a_class_without_people_still_has_rows_for_them(demo):
    Enrollment.objects.filter(session=demo).delete()
    told = plain(to_html(sheet_of(demo)))
    assert "Nobody is on the roster yet." in told
    assert "Not on the list" in told


def test_what_somebody_must_not_eat_is_not_on_it(demo):
    EnrollmentFactory(session=demo, name="Zed", must_not_eat="peanut butter", allergens=["celery"])
    html = to_html(sheet_of(demo)).lower()
    assert "zed" in html
    assert not [words for words in ("peanut butter", "celery", "sesame", "walnut") if words in html]


def test_names_are_never_split_between_pages(demo):
    session = another_class(demo, "Hearth loaf", students=40)
    pages = page_texts(to_pdf([sheet_of(session)], PageSize.A4))
    for guest in sheet_of(session).guests:
        assert any(f"{guest.name} {guest.station}" in page for page in pages)


@pytest.mark.parametrize("people", [12, 24])
def test_no_page_of_the_sign_in_sheet_holds_a_lone_name(demo, people):
    sheet = sheet_of(another_class(demo, "Hearth loaf", students=people))
    pages = laid_out(sheet, PageSize.LETTER)
    assert list(faults(pages)) == []
    assert len(pages) == people // 12
