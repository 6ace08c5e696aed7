"""Where run sheets are asked for: who may, and what is said where there is no plan to print."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from classes.models import ClassSession
from handouts import views
from handouts.kinds.run_sheet import Edition
from recipes.models import Step
from tests.factories import planned_class
from tests.handouts.conftest import another_class
from tests.handouts.pdfs import page_texts, plain

# The address


@pytest.fixture
def unprinted(monkeypatch):
    monkeypatch.setattr(views, "pdf_of", lambda *args: b"%PDF-")


def address(session, edition=Edition.INSTRUCTOR):
    return reverse("handouts:papers", args=[session.code, f"run-sheet-{edition}"])


def ask(client, session, edition=Edition.INSTRUCTOR, **query):
    return client.get(address(session, edition), query)


def test_instructor_and_assistant_get_both_editions(unprinted, demo, teacher, helper):
    for client in (teacher, helper):
        for edition in Edition:
            response = ask(client, demo, edition=edition)
            assert (response.status_code, response["Content-Type"]) == (200, "application/pdf")
            name = f"{demo.code}-run-sheet-{edition}-a4.pdf"
            assert response["Content-Disposition"] == f'attachment; filename="{name}"'
            assert response["X-Robots-Tag"] == "noindex, nofollow"


def test_another_sheet_is_refused_in_words(demo, teacher):
    assert ask(teacher, demo, page="a3").status_code == 400


def test_it_is_only_read(demo, teacher):
    for method in (teacher.post, teacher.put, teacher.patch, teacher.delete):
        assert method(address(demo)).status_code == 405


def test_asking_changes_nothing(unprinted, demo, teacher):
    with CaptureQueriesContext(connection) as queries:
        ask(teacher, demo)
    assert {query["sql"].split(" ")[0] for query in queries} <= {"SELECT", "SAVEPOINT", "RELEASE"}


def test_the_number_of_queries_does_not_grow_with_the_roster(unprinted, demo, teacher):
    counts = []
    for students in (2, 12):
        session = another_class(demo, "Hearth loaf", students=students)
        with CaptureQueriesContext(connection) as queries:
            assert ask(teacher, session).status_code == 200
        counts.append(len(queries))
    assert counts[0] == counts[1]


def test_the_print_desk_leads_to_both_editions(demo, teacher):
    html = teacher.get(reverse("handouts:desk", args=[demo.code])).content.decode()
    for edition in Edition:
        assert f'"{address(demo, edition)}?page=a4"' in html


# What cannot be printed yet


def refusal(client, session):
    response = ask(client, session)
    return response.status_code, plain(response.content.decode())


def no_steps(demo):
    Step.objects.filter(revision=demo.taught.get().revision).delete()


def no_oven(demo):
    demo.kitchen.ovens.all().delete()


def small_oven(demo):
    demo.kitchen.ovens.exclude(name="O3").delete()


def no_station(demo):
    demo.stations.clear()


def no_recipe(demo):
    demo.taught.all().delete()


def nobody(demo):
    demo.enrollments.all().delete()
    ClassSession.objects.filter(pk=demo.pk).update(count_empty_seats=False)
    demo.taught.update(demonstration_batches=0)


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (no_steps, "Write the steps of Hearth loaf first."),
        (no_oven, "There is no oven for"),
        (small_oven, "No plan of the hours was found"),
        (no_station, "No station yet"),
        (no_recipe, "Choose a recipe for the class first."),
        (nobody, "Nobody is baking yet"),
    ],
)
def test_a_class_without_a_plan_is_refused_in_words(demo, teacher, spoil, words):
    spoil(demo)
    status, text = refusal(teacher, demo)
    assert status == 409
    assert words in text


def test_a_class_of_a_recipe_that_is_only_mixed_has_a_sheet(teacher, demo):
    session = planned_class(instructor=demo.instructor)
    Step.objects.create(
        revision=session.taught.get().revision, position=0, kind="mix", text="Mix.", hands_on_min=9
    )
    response = ask(teacher, session)
    assert response.status_code == 200
    assert "Mix" in " ".join(page_texts(response.content))
