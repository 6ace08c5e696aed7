"""The addresses of the papers: who gets them, what they are called, and clear refusals."""

import pytest
from django.core.cache import cache
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from classes.access import student_token
from classes.enrollment.models import Enrollment
from classes.models import TaughtRecipe
from handouts import student_views, views
from tests.factories import ClassSessionFactory, KitchenFactory, UserFactory, planned_class
from tests.handouts.pdfs import page_texts, sizes_mm
from tests.worlds import anew

STAFF = ("handouts", "one", "preparation", "station-cards")
PRIVATE = ("handouts", "one", "preparation")  # they tell what somebody must not eat


def papers_at(session, kind):
    return reverse("handouts:papers", args=[session.code, kind])


def address(session, name):
    if name in ("student", "student_pdf"):
        return reverse(f"handouts:{name}", args=[student_token(session.enrollments.first())])
    if name == "one":
        key = session.enrollments.first().pk
        return reverse("handouts:paper", args=[session.code, "handouts", key])
    return papers_at(session, name)


staff_pages = pytest.mark.parametrize("name", STAFF)
every_page = pytest.mark.parametrize("name", [*STAFF, "student", "student_pdf"])
pdfs = pytest.mark.parametrize("name", [*STAFF, "student_pdf"])


@pytest.fixture
def unprinted(monkeypatch):
    """Views that leave the PDF out, for tests that do not read it."""
    monkeypatch.setattr(views, "pdf_of", lambda *args: b"%PDF-")
    monkeypatch.setattr(student_views, "to_pdf", lambda papers, page_size: b"%PDF-")


@pytest.fixture
def demo(demo_made_once, db):
    return anew(demo_made_once)


# Who may


@staff_pages
def test_instructor_and_assistant_get_the_paper(unprinted, demo, teacher, helper, name):
    for client in (teacher, helper):
        response = client.get(address(demo, name))
        assert (response.status_code, response["Content-Type"]) == (200, "application/pdf")


@staff_pages
def test_other_people_learn_nothing_about_the_class(demo, name):
    outsiders = [UserFactory(), UserFactory(role="assistant"), UserFactory(role="")]
    for user in outsiders:
        client = Client()
        client.force_login(user)
        assert client.get(address(demo, name)).status_code == 404


@staff_pages
def test_a_stranger_is_asked_to_sign_in(demo, stranger, name):
    response = stranger.get(address(demo, name))
    assert response.status_code == 302
    assert response["Location"].startswith("/sign-in/")


@every_page
def test_papers_are_only_read(demo, teacher, name):
    for method in (teacher.post, teacher.put, teacher.patch, teacher.delete):
        assert method(address(demo, name)).status_code == 405


@every_page
def test_asking_changes_nothing(unprinted, demo, teacher, name):
    with CaptureQueriesContext(
        connection,
    ) as queries:
        teacher.get(address(demo, name))
    written = {
        query["sql"]
        for query in queries
        if not query["sql"].startswith(("SELECT", "SAVEPOINT", "RELEASE"))
    }
    journal = {sql for sql in written if sql.startswith('INSERT INTO "classes_privatelook"')}
    assert written == journal
    assert bool(journal) == (name in PRIVATE)


def test_somebody_of_another_class_has_no_handout_in_this_one(unprinted, demo, teacher):
    other = planned_class(instructor=demo.instructor)
    foreign = reverse("handouts:paper", args=[demo.code, "handouts", other.enrollments.first().pk])
    assert teacher.get(foreign).status_code == 404


def test_an_unknown_class_is_not_found(teacher):
    assert teacher.get(reverse("handouts:papers", args=["NOSUCH", "handouts"])).status_code == 404


def test_an_unknown_kind_of_paper_is_not_found(demo, teacher):
    assert teacher.get(papers_at(demo, "napkins")).status_code == 404


# The file


def test_files_are_named_in_plain_letters_from_the_code(unprinted, demo, teacher):
    demo.title = 'Ärger "x"\r\nSet-Cookie: a=b'
    demo.save()
    first, code = demo.enrollments.first(), demo.code
    assert [teacher.get(address(demo, name))["Content-Disposition"] for name in STAFF] == [
        f'attachment; filename="{code}-handouts-a4.pdf"',
        f'attachment; filename="{code}-handouts-{first.pk}-a4.pdf"',
        f'attachment; filename="{code}-preparation-a4.pdf"',
        f'attachment; filename="{code}-station-cards-a4.pdf"',
    ]
    name = teacher.get(address(demo, "student_pdf"), {"page": "letter"})["Content-Disposition"]
    assert name == f'attachment; filename="{code}-handout-letter.pdf"'


@every_page
def test_papers_stay_out_of_caches_and_search_engines(unprinted, demo, teacher, name):
    response = teacher.get(address(demo, name))
    assert "no-store" in response["Cache-Control"]
    assert response["X-Robots-Tag"] == "noindex, nofollow"


@pytest.mark.parametrize(
    ("query", "size"),
    [({}, (210.0, 297.0)), ({"page": "a4"}, (210.0, 297.0)), ({"page": "letter"}, (215.9, 279.4))],
    ids=["none", "a4", "letter"],
)
def test_the_sheet_is_a4_unless_letter_is_asked_for(demo, teacher, query, size):
    assert sizes_mm(teacher.get(address(demo, "one"), query).content) == {size}


@pdfs
def test_another_sheet_is_refused_in_words(demo, teacher, name):
    for page in ("A4", "a3", "", "letter ", "../x", "<b>"):
        response = teacher.get(address(demo, name), {"page": page})
        assert response.status_code == 400
        assert "?page=a4 and as ?page=letter" in response.content.decode()


# What cannot be printed yet


def refusal(client, session, name):
    response = client.get(papers_at(session, name))
    return response.status_code, response.content.decode()


PAPERS = pytest.mark.parametrize("name", ["handouts", "preparation", "station-cards"])


@PAPERS
def test_a_class_in_which_nobody_bakes_says_so(demo, teacher, name):
    demo.enrollments.all().delete()
    demo.count_empty_seats = False
    demo.save()
    TaughtRecipe.objects.filter(session=demo).update(demonstration_batches=0)
    status, page = refusal(teacher, demo, name)
    assert status == 409
    assert ("Nobody is baking yet" in page) or (name == "handouts" and "No students yet" in page)
    assert reverse("classes:detail", args=[demo.code]) in page


@PAPERS
def test_a_class_without_a_recipe_says_so(demo, teacher, name):
    demo.taught.all().delete()
    assert refusal(teacher, demo, name)[0] == 409
    assert "No recipe yet" in refusal(teacher, demo, name)[1]


@PAPERS
def test_a_class_without_a_station_says_so(demo, teacher, name):
    demo.stations.clear()
    assert refusal(teacher, demo, name)[0] == 409
    assert "No station yet" in refusal(teacher, demo, name)[1]


def test_empty_seats_get_no_handouts(demo, teacher):
    demo.enrollments.all().delete()
    status, page = refusal(teacher, demo, "handouts")
    assert (status, "No students yet" in page) == (409, True)


def test_a_demonstration_alone_has_a_list_but_no_cards(demo, teacher):
    demo.enrollments.all().delete()
    demo.count_empty_seats = False
    demo.save()
    assert teacher.get(address_of_list(demo)).status_code == 200
    status, page = refusal(teacher, demo, "station-cards")
    assert (status, "Nobody is at a station yet" in page) == (409, True)


def address_of_list(session):
    return papers_at(session, "preparation")


# The student


def test_a_student_reads_the_own_page_without_signing_in(demo, stranger):
    response = stranger.get(address(demo, "student"))
    page = response.content.decode()
    assert response.status_code == 200
    for words in ("Ada Fennimore", "Bench 1", "258.63", "520.8", "Wash hands", "step by step"):
        assert words in page
    assert '<meta name="robots" content="noindex, nofollow">' in page
    assert page.count("handout.pdf?page=a4") == page.count("handout.pdf?page=letter") == 1


def test_a_student_reads_nobody_elses_name_and_nothing_private(demo, stranger):
    page = stranger.get(address(demo, "student")).content.decode()
    others = [one.name for one in demo.enrollments.all()[1:]]
    people = [*others, demo.instructor.username, *(one.username for one in demo.assistants.all())]
    assert [name for name in people if f">{name}<" in page or f"{name} " in page] == []
    assert "must not eat" not in page.lower()


def test_an_own_note_on_food_is_not_on_the_own_page_either(demo, stranger):
    student = demo.enrollments.get(name="Gwen Marlow")
    link = reverse("handouts:student", args=[student_token(student)])
    assert "walnuts" not in stranger.get(link).content.decode()


def test_a_student_gets_the_own_handout_as_pdf(demo, stranger):
    pages = page_texts(stranger.get(address(demo, "student_pdf")).content)
    assert "Ada Fennimore" in pages[0]
    assert "Bram Okell" not in " ".join(pages)


def test_markup_in_a_name_is_text_on_the_students_page(demo, stranger):
    first = demo.enrollments.first()
    Enrollment.objects.filter(pk=first.pk).update(name="<b>Bo</b><script>")
    page = stranger.get(address(demo, "student")).content.decode()
    assert "<bdi>&lt;b&gt;Bo&lt;/b&gt;&lt;script&gt;</bdi>" in page


@pytest.mark.parametrize("name", ["student", "student_pdf"])
def test_a_link_with_any_character_changed_opens_nothing(demo, stranger, name):
    token = student_token(demo.enrollments.first())
    for n in range(len(token)):
        forged = token[:n] + ("b" if token[n] == "a" else "a") + token[n + 1 :]
        cache.clear()  # wrong links are counted, and after some of them answered with 429
        assert stranger.get(reverse(f"handouts:{name}", args=[forged])).status_code == 404


@pytest.mark.parametrize("name", ["student", "student_pdf"])
def test_a_revoked_link_opens_nothing(demo, stranger, name):
    old = address(demo, name)
    Enrollment.objects.filter(pk=demo.enrollments.first().pk).update(link_nonce="0" * 32)
    assert stranger.get(old).status_code == 404


def test_a_student_of_a_class_without_recipe_is_told(db, stranger):
    session = planned_class()
    session.taught.all().delete()
    response = stranger.get(address(session, "student"))
    assert response.status_code == 409
    assert "Not ready yet" in response.content.decode()


# Queries


@every_page
def test_a_paper_takes_the_same_queries_for_6_and_for_60_students(unprinted, db, name):
    counts = []
    for students in (6, 60):
        session = planned_class(
            students=students, seats=students, kitchen=KitchenFactory(stations=15)
        )
        client = Client()
        client.force_login(session.instructor)
        link = address(session, name)
        with CaptureQueriesContext(connection) as queries:
            assert client.get(link).status_code == 200
        counts.append(len(queries))
    assert counts[0] == counts[1]


def test_a_class_without_anything_is_told_what_to_do_first(db, teacher, demo):
    empty = ClassSessionFactory(instructor=demo.instructor)
    assert refusal(teacher, empty, "preparation")[0] == 409
