"""Files for spreadsheets do nothing but hold the numbers."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

import pytest

from classes.amounts.exporting import amounts_csv, amounts_document, harmless, plain
from classes.management.commands.load_demo import load_demo
from classes.models import ClassSession
from classes.selectors import class_plan
from tests.factories import EnrollmentFactory, planned_class
from tests.handouts.conftest import NOW, another_class, plan_of


@pytest.mark.parametrize(
    "cell",
    ["=1+1", "+1", "-2+3", "@x", "\t=1", "\r=1", "  =1", "＝1+1", "＋1", "－1", "＠x", "\0=1"],
)
def test_a_cell_that_a_spreadsheet_would_run_gets_a_quote(cell):
    assert harmless(cell) == f"'{cell}"


@pytest.mark.parametrize("cell", ["Ada", "Bench 1", "a=b", "", None, 3])
def test_an_ordinary_cell_stays_as_it_is(cell):
    assert harmless(cell) == cell


@pytest.mark.parametrize(
    ("number", "text"),
    [("520.0", "520"), ("6.10", "6.1"), ("0.0000004", "0"), ("1E+3", "1000"), ("-2.5", "-2.5")],
)
def test_numbers_are_plain_digits(number, text):
    assert plain(Decimal(number)) == text


def test_a_name_that_is_a_formula_arrives_as_text(db):
    session = planned_class(students=0)
    EnrollmentFactory(session=session, name='=HYPERLINK("x")')
    session = ClassSession.objects.with_plan().get(pk=session.pk)
    rows = list(csv.DictReader(io.StringIO(amounts_csv(class_plan(session)))))
    assert any(row["who"] == '\'=HYPERLINK("x")' for row in rows)
    assert not any(cell.startswith("=") for row in rows for cell in row.values())


@pytest.fixture
def brought(db):
    session = planned_class(students=2, seats=2)
    session.taught.update(brings_risen=True, brings_shaped=True)
    return class_plan(ClassSession.objects.with_plan().get(pk=session.pk))


def test_brought_doughs_are_a_list_of_their_own_beside_the_demonstrations(brought):
    document = amounts_document(brought)
    assert [one["name"] for one in document["demonstrations"]] == ["Demonstration"]
    assert [(one["stage"], one["pieces"], one["dough_exact_g"]) for one in document["brought"]] == [
        ("risen", 3, "480"),
        ("shaped", 3, "480"),
    ]


def test_shopping_says_how_much_of_a_need_is_brought_and_its_parts_add_up(brought):
    for line in amounts_document(brought)["shopping"]:
        parts = ("bakers_g", "demonstrations_g", "brought_g", "loss_g", "dusting_g")
        assert abs(sum(Decimal(line[part]) for part in parts) - Decimal(line["exact_g"])) < 1
        assert Decimal(line["brought_g"]) == 6 * Decimal(line["demonstrations_g"])


def test_the_table_names_what_is_brought(brought):
    rows = list(csv.DictReader(io.StringIO(amounts_csv(brought))))
    assert {row["who"] for row in rows if row["list"] == "brought"} == {
        "Brought, risen",
        "Brought, shaped",
    }


def test_what_is_divided_is_exported_with_what_stays_in_the_tub(db):
    demo = load_demo(now=NOW)
    session = another_class(demo, "Pillow rolls", students=5)
    plan = plan_of(session)
    (tub,) = amounts_document(plan)["divided"]
    assert tub["component"] == "Roux"
    assert Decimal(tub["cooked_g"]) < Decimal(tub["exact_g"])
    shares = [Decimal(share["weighed_g"]) for share in tub["shares"]]
    assert sum(shares) + Decimal(tub["kept_back_g"]) == Decimal(tub["weighed_g"])
    rows = csv.DictReader(io.StringIO(amounts_csv(plan)))
    divided = [row for row in rows if row["list"] == "divided"]
    assert sum(Decimal(row["weighed_g"]) for row in divided) == Decimal(tub["weighed_g"])
    assert [row["who"] for row in divided[:-1]] == [share["name"] for share in tub["shares"]]


def test_each_student_is_told_the_dusting_flour_that_comes_on_top(db):
    session = planned_class(students=2)
    document = amounts_document(class_plan(ClassSession.objects.with_plan().get(pk=session.pk)))
    taught = session.taught.get()
    for student in document["students"]:
        assert Decimal(student["dusting_g"]) == taught.dusting_g
