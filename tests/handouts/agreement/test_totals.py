"""The total of a dough is one figure: on the page, handout, card, list, label and in the export."""

import csv
import io
from decimal import Decimal

import pytest
from django.urls import reverse

from classes.amounts.exporting import amounts_csv, amounts_document
from handouts.kinds.handout import handouts
from handouts.kinds.preparation import preparation_list
from handouts.kinds.station_cards import station_cards
from handouts.kinds.tub_labels import tub_labels
from handouts.labels.sheets import LabelLayout
from tests.handouts.conftest import NOW, another_class, plan_of
from tests.handouts.pdfs import plain


def totals(plan):
    """Of the first bench: what each weighs by every paper, and what the bench weighs together."""
    document = amounts_document(plan)
    station = document["stations"][0]["station"]
    name = document["stations"][0]["people"][0]
    (handout,) = handouts(plan, [one for one in plan.students if one.name == name], NOW)
    card = station_cards(plan, NOW)[0].recipe.tables[0]
    listed = preparation_list(plan, NOW).tables[0].total.cells[0]
    (labels,) = tub_labels(plan, NOW, LabelLayout.A4_PLAIN)
    in_dough = [label for label in labels.labels if label.title != "Egg wash"]
    each = {
        "export": Decimal(document["students"][0]["dough_weighed_g"]),
        "handout": handout.recipes[0].sheet.weighed_dough_g,
        "handout's lines": _card_sum(handout.recipes[0]),
        "card": card.each_lines_g[0],
        "list": listed.portions[0].grams,
        "csv": _csv_sum(plan, "students", name),
    }
    together = {
        "export": Decimal(document["stations"][0]["dough_weighed_g"]),
        "card": card.together_lines_g,
        "list": listed.together.grams,
        "csv": _csv_sum(plan, "stations", station),
        "labels": sum(Decimal(one.sum_g) for one in in_dough if one.holder == station),
    }
    return each, together


def _card_sum(recipe):
    tubs = [part.amounts.tub for part in recipe.dough_parts if part.amounts.tub]
    lines = [line.amount.weighed for part in recipe.dough_parts for line in part.lines]
    return sum(weighed.grams for weighed in (*tubs, *lines))


def _csv_sum(plan, listed, name):
    rows = [row for row in csv.DictReader(io.StringIO(amounts_csv(plan))) if row["list"] == listed]
    own = [row for row in rows if name in (row["who"], row["station"] if not row["who"] else "")]
    return sum(Decimal(row["weighed_g"]) for row in own if row["component"] != "Egg wash")


@pytest.mark.parametrize(
    ("title", "each_g", "together_g"),
    [("Two-day rye batard", "599.6", "2400.6"), ("Pillow rolls", "420.3", "1680.9")],
)
def test_every_paper_adds_up_to_the_same_total(demo, teacher, title, each_g, together_g):
    session = another_class(demo, title, students=12, demonstration_batches=0)
    each, together = totals(plan_of(session))
    assert each == dict.fromkeys(each, Decimal(each_g))
    assert together == dict.fromkeys(together, Decimal(together_g))
    page = plain(teacher.get(reverse("classes:amounts", args=[session.code])).content.decode())
    assert f'<span class="weigh">{each_g}</span>' in page
    assert f'<span class="weigh">{together_g}</span>' in page
