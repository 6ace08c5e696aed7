"""Yolks and whites as whole eggs to buy, the same on page, paper, list, files and in the costs."""

from __future__ import annotations

import csv
import io
import json
import re
from decimal import Decimal

import pytest
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone

from classes.models import ClassSession, StockItem
from classes.selectors import class_plan
from handouts.kinds.preparation import preparation_list
from recipes.ingredients.table import load_ingredients
from recipes.models import Ingredient
from tests.factories import (
    ClassSessionFactory,
    EnrollmentFactory,
    RevisionFactory,
    TaughtRecipeFactory,
)

EGGS = "15 × large egg, 6 of them to beat and weigh"
YOLKS = "9 of them to open for 153 g egg yolk"
WHITES = "about 297 g egg white (9 large whites) left over"


@pytest.fixture
def session(instructor):
    """Nine people with 30 g of whole egg and one yolk of 17 g each."""
    load_ingredients()
    shelf = Ingredient.objects.in_bulk(field_name="key")
    parts = [
        {"lines": {shelf["bread-flour"]: 100, shelf["egg"]: 30}},
        {"kind": "wash", "name": "Wash", "lines": {shelf["egg-yolk"]: 17}, "for_pieces": 1},
    ]
    revision = RevisionFactory(
        recipe__owner=instructor, parts=parts, piece_g=Decimal(130), in_use=True
    )
    session = ClassSessionFactory(
        instructor=instructor, seats=9, handling_loss_percent=0, kitchen__stations=3
    )
    TaughtRecipeFactory(session=session, revision=revision, demonstration_batches=0)
    for _ in range(9):
        EnrollmentFactory(session=session)
    eggs = {"pack_g": 300, "pack_price_minor": 240, "price_currency": "EUR"}
    StockItem.objects.create(kitchen=session.kitchen, ingredient=shelf["egg"], **eggs)
    return session


def words(html):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))


def page(client, name, session):
    return words(client.get(reverse(name, args=[session.code])).content.decode())


def test_the_shopping_says_how_many_eggs_to_buy_and_what_is_left_of_them(
    instructor_client, session
):
    told = page(instructor_client, "classes:amounts", session)
    for said in (EGGS, YOLKS, WHITES, "3 × 300 g"):
        assert said in told
    assert "153 g, loose" not in told
    assert "as egg, whole" in told


def test_the_paper_says_the_same(session):
    planned = ClassSession.objects.with_plan().get(pk=session.pk)
    paper = preparation_list(class_plan(planned), timezone.now())
    told = words(render_to_string("handouts/_list.html", {"paper": paper}))
    for said in (EGGS, YOLKS, WHITES, "3 × 300 g", "as egg, whole"):
        assert said in told


def test_the_preparation_list_has_one_line_for_all_eggs(instructor_client, session):
    told = page(instructor_client, "classes:prepare", session)
    assert f"3 × 300 g; {EGGS}; {YOLKS}; {WHITES}" in told
    assert "loose" not in told.split("Wash")[0].split("Egg, whole")[1]


def test_the_files_say_the_same(instructor_client, session):
    document = json.loads(
        instructor_client.get(reverse("classes:amounts_json", args=[session.code])).content
    )
    lines = {line["ingredient"]: line for line in document["shopping"]}
    egg, yolk = lines["Egg, whole"], lines["Egg yolk"]
    assert (egg["exact_g"], egg["opened_g"], egg["pieces"]) == ("720", "450", 15)
    assert egg["note"] == f"{EGGS}; {YOLKS}; {WHITES}"
    assert (yolk["exact_g"], yolk["short_g"], yolk["buy"]) == ("153", "0", "as egg, whole")
    file = instructor_client.get(reverse("classes:amounts_csv", args=[session.code]))
    (row,) = [
        row
        for row in csv.DictReader(io.StringIO(file.content.decode()))
        if (row["list"], row["ingredient"]) == ("shopping", "Egg, whole")
    ]
    assert (row["pieces"], row["packs"], row["cost"], row["note"]) == (
        "15",
        "3",
        "7.20",
        egg["note"],
    )


def test_the_costs_count_whole_eggs_and_miss_no_price_of_yolks(instructor_client, session):
    """720 g of egg at 2.40 for 300 g are 5.76."""
    told = page(instructor_client, "classes:money", session)
    assert "at least 5.76 EUR" in told
    assert "in the pantry: Bread flour." in told


def test_a_class_without_parts_asks_the_database_nothing_more(
    instructor_client, session, django_assert_max_num_queries
):
    address = reverse("classes:amounts", args=[session.code])
    with django_assert_max_num_queries(100) as with_parts:
        instructor_client.get(address)
    Ingredient.objects.update(part_of=None)
    with django_assert_max_num_queries(100) as without:
        instructor_client.get(address)
    assert len(with_parts) == len(without) + 1
