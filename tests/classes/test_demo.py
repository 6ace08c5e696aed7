"""The demo scenario comes out to the numbers worked by hand, through selectors and export."""

from __future__ import annotations

import csv
import io
import json
from decimal import Decimal

import pytest
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command

from classes.amounts.exporting import amounts_csv, amounts_document
from classes.money.accounts import account_of
from classes.money.costs import cost_sheet
from classes.selectors import class_plan
from recipes.models import Recipe
from tests.classes.demo_class import NOW, demo_class

PERSON = {
    "Bread flour": ("258.63", "259"),
    "Whole wheat flour": ("45.64", "46"),
    "Water": ("206.90", "207"),
    "Table salt": ("6.09", "6.1"),
    "Instant yeast": ("2.74", "2.7"),
}
STATION = {
    "Bread flour": "1034.5",
    "Whole wheat flour": "182.6",
    "Water": "827.6",
    "Table salt": "24.3",
    "Instant yeast": "11.0",
}
POOLED = {
    "Bread flour": "3463.1",
    "Whole wheat flour": "611.1",
    "Water": "2770.5",
    "Table salt": "81.5",
    "Instant yeast": "36.7",
}
# needed, packs, left over
SHOPPING = {
    "Bread flour": ("3658.1", 2, "541.9"),
    "Whole wheat flour": ("611.1", 1, "388.9"),
    "Table salt": ("81.5", 0, "318.5"),
    "Instant yeast": ("36.7", 3, "4.3"),
}


def rounds_to(exact: str, written: str) -> bool:
    """Whether an exact amount, to the digits written, is what is written."""
    places = Decimal(1).scaleb(Decimal(written).as_tuple().exponent)
    return Decimal(exact).quantize(places) == Decimal(written)


@pytest.fixture
def document(db):
    return amounts_document(class_plan(demo_class()))


def test_each_student_weighs_the_worked_amounts(document):
    assert len(document["students"]) == 12
    for student in document["students"]:
        lines = {line["ingredient"]: line for line in student["lines"]}
        assert lines.keys() == PERSON.keys()
        for name, (exact, weighed) in PERSON.items():
            assert rounds_to(lines[name]["exact_g"], exact), name
            assert lines[name]["weighed_g"] == weighed, name
        assert (student["dough_exact_g"], student["dough_weighed_g"]) == ("520", "520.8")


def test_each_station_needs_the_worked_amounts(document):
    assert [len(at["people"]) for at in document["stations"]] == [4, 4, 4]
    for station in document["stations"]:
        for line in station["lines"]:
            assert rounds_to(line["exact_g"], STATION[line["ingredient"]]), line


def test_the_pool_holds_everybody_the_demonstration_and_the_loss(document):
    (pooled,) = document["pooled"]
    assert pooled["dough_exact_g"] == "6962.8"
    for line in pooled["lines"]:
        assert rounds_to(line["exact_g"], POOLED[line["ingredient"]]), line


def test_shopping_buys_whole_packs_of_what_is_short(document):
    lines = {line["ingredient"]: line for line in document["shopping"]}
    for name, (needed, packs, left) in SHOPPING.items():
        assert rounds_to(lines[name]["exact_g"], needed), name
        assert lines[name]["packs"] == packs, name
        assert rounds_to(lines[name]["left_g"], left), name
    assert lines["Water"]["from_tap"]


def test_the_packs_cost_what_was_worked_out(db):
    assert str(class_plan(demo_class()).shopping.cash_out) == "5.95 EUR"


def test_every_line_names_its_revision(document):
    for student in document["students"]:
        assert {line["recipe"] for line in student["lines"]} == {"Hearth loaf, revision 1"}


def test_the_csv_holds_the_same_lines_as_the_json(db):
    plan = class_plan(demo_class())
    document = amounts_document(plan)
    rows = list(csv.DictReader(io.StringIO(amounts_csv(plan))))
    for name in ("students", "demonstrations", "stations", "pooled"):
        lines = [line for entry in document[name] for line in entry["lines"]]
        of_list = [row for row in rows if row["list"] == name]
        assert [(row["ingredient"], row["exact_g"], row["weighed_g"]) for row in of_list] == [
            (line["ingredient"], line["exact_g"], line["weighed_g"]) for line in lines
        ]
    shopping = [row for row in rows if row["list"] == "shopping"]
    assert [int(row["packs"]) for row in shopping] == [
        line["packs"] for line in document["shopping"]
    ]


def test_the_class_is_on_a_saturday_three_weeks_ahead(db):
    session = demo_class()
    local = session.starts_at.astimezone(session.kitchen.zone)
    assert f"{local:%A %H:%M}" == "Saturday 10:00"
    assert 21 <= (local.date() - NOW.date()).days < 28


def test_every_recipe_says_that_nobody_has_baked_it(db):
    demo_class()
    for recipe in Recipe.objects.all():
        assert "not tested" in recipe.revisions.get().note


def test_it_is_never_loaded_over_somebody_elses_data(db):
    User.objects.create_user("somebody")
    with pytest.raises(CommandError, match="users already"):
        call_command("load_demo")


class TestTheCommandLine:
    def test_without_a_class_it_lists_codes_and_titles(self, db, capsys):
        session = demo_class()
        call_command("export_amounts")
        assert capsys.readouterr().out == f"{session.code}  Saturday hearth loaf\n"

    def test_it_prints_the_json_of_a_class(self, db, capsys):
        session = demo_class()
        call_command("export_amounts", session.code)
        printed = json.loads(capsys.readouterr().out)
        assert printed == json.loads(json.dumps(amounts_document(class_plan(session))))

    def test_it_prints_the_csv_of_a_class(self, db, capsys):
        session = demo_class()
        call_command("export_amounts", session.code.lower(), format="csv")
        assert capsys.readouterr().out == amounts_csv(class_plan(session))

    def test_an_unknown_code_is_said_to_be_unknown(self, db):
        with pytest.raises(CommandError, match="no class NOPE"):
            call_command("export_amounts", "NOPE")


def test_the_class_pays_from_the_worked_number_of_seats(db):
    session = demo_class()
    sums = cost_sheet(session, account_of(session)).sums
    assert sums.paid == 8
    assert str(sums.full.ingredients) == "6.74 EUR"
    assert sums.full.costs.known.amount_minor == 26800 + 12 * 110 + 674
    assert str(sums.full.each) == "24.00 EUR"
