"""The amounts page and its files: the worked numbers, for staff, in a fixed number of queries."""

from __future__ import annotations

import json

import pytest
from django.urls import reverse

from tests.classes.demo_class import demo_class
from tests.factories import ClassSessionFactory, TaughtRecipeFactory, planned_class
from tests.worlds import anew, made_once


def text_of(response) -> str:
    import re
    from html import unescape

    return " ".join(unescape(re.sub(r"<[^>]+>", " ", response.content.decode())).split())


demo_made_once = made_once(demo_class)


@pytest.fixture
def demo(client, demo_made_once, db):
    session = anew(demo_made_once)
    client.force_login(session.instructor)
    return client, session


@pytest.mark.parametrize(
    "figures",
    [
        "259 258.63",
        "46 45.64",
        "207 206.90",
        "6.1 6.09",
        "2.7 2.74",
        "520.8 520.00",
        "1035 1034.5",
        "183 182.6",
        "828 827.6",
        "24.3 24.3",
        "11.0 10.95",
        "3463.1 3463",
        "611.1 611",
        "2770.5 2770",
        "81.5 81",
        "36.7 36.7",
        "6962.8 6961.7",
        "3658.1 1200 2 × 1500 g 541.9 3.60",
        "611.1 0 1 × 1000 g 388.9 1.60",
        "81.5 400 nothing 318.5",
        "36.7 20 3 × 7 g 4.3 0.75",
        "Cash out 5.95",
    ],
)
def test_the_demo_shows_the_worked_numbers(demo, figures):
    client, session = demo
    page = text_of(client.get(reverse("classes:amounts", args=[session.code])))
    page = page.replace("◆ coarse weighing ", "")
    assert figures in page


@pytest.mark.parametrize(
    "figures",
    [
        "12 bakers, 1 demonstration, 13 loaves brought risen, 3 % handling loss",
        "Brought by the instructor",
        "Brought, risen 13 × 520 g 3362 3362.20",
        "13925.6 13925",  # (13 + 13) × 520 g and 3 % more; beside it the lines as weighed
        "6926.1 6926",
        "7121.1 1200 4 × 1500 g 78.9 7.20",
        "163.0 400 nothing 237.0",
    ],
)
def test_dough_that_is_brought_is_counted_shown_and_bought(demo, figures):
    client, session = demo
    session.taught.update(brings_risen=True)
    page = text_of(client.get(reverse("classes:amounts", args=[session.code])))
    page = page.replace("◆ coarse weighing ", "").replace("\N{NO-BREAK SPACE}", " ")
    assert figures in page


def test_nothing_is_said_of_brought_dough_where_none_is_brought(demo):
    client, session = demo
    assert "rought" not in text_of(client.get(reverse("classes:amounts", args=[session.code])))


def test_a_coarse_weighing_is_marked_in_words(demo):
    client, session = demo
    page = text_of(client.get(reverse("classes:amounts", args=[session.code])))
    assert "◆ coarse weighing 2.7" in page
    assert "◆ coarse weighing 6.1" not in page


def test_the_json_file_is_the_document(demo):
    client, session = demo
    response = client.get(reverse("classes:amounts_json", args=[session.code]))
    assert response.headers["Content-Disposition"] == (
        f'attachment; filename="amounts-{session.code}.json"'
    )
    assert json.loads(response.content)["class"]["code"] == session.code


def test_the_csv_file_is_a_table(demo):
    client, session = demo
    response = client.get(reverse("classes:amounts_csv", args=[session.code]))
    assert response.headers["Content-Type"].startswith("text/csv")
    assert response.content.decode().startswith("list,who,station,recipe")


def test_what_somebody_must_not_eat_is_on_none_of_them(demo):
    client, session = demo
    for name in ("amounts", "amounts_json", "amounts_csv"):
        body = client.get(reverse(f"classes:{name}", args=[session.code])).content.decode()
        assert "walnuts" not in body
        assert "sesame" not in body


@pytest.mark.parametrize("name", ["amounts", "amounts_json", "amounts_csv", "prepare"])
def test_a_class_in_which_nobody_bakes_says_what_to_do(client, name, db):
    session = ClassSessionFactory(count_empty_seats=False)
    TaughtRecipeFactory(session=session, demonstration_batches=0)
    client.force_login(session.instructor)
    response = client.get(reverse(f"classes:{name}", args=[session.code]))
    assert response.status_code == 409
    assert "Fill the roster" in response.content.decode()


def test_empty_seats_are_planned_for_until_somebody_takes_them(client, db):
    session = planned_class(students=1, seats=4)
    client.force_login(session.instructor)
    page = text_of(client.get(reverse("classes:amounts", args=[session.code])))
    assert "Seat 2" in page
    assert "Seat 4" in page
    assert "Seat 1" not in page


@pytest.mark.parametrize("name", ["amounts", "prepare", "detail"])
def test_six_and_sixty_students_take_the_same_queries(
    client, name, db, django_assert_max_num_queries
):
    counts = []
    for students in (6, 60):
        session = planned_class(students=students, seats=60, kitchen__stations=15)
        client.force_login(session.instructor)
        with django_assert_max_num_queries(30) as seen:
            client.get(reverse(f"classes:{name}", args=[session.code]))
        counts.append(len(seen))
    assert counts[0] == counts[1]
