"""`check_papers`: the papers of three very different classes agree, and planted faults are seen."""

import re
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from io import StringIO
from zoneinfo import ZoneInfo

import pytest
from django.core.management import CommandError, call_command

from classes.core.hours.drawing.spans import ActivityKind
from handouts.checking import comparing as checking
from handouts.checking.agreement import PlacedFigure, compare, text_of
from handouts.kinds import handout
from handouts.kinds.handout import Handout
from handouts.kinds.oven_map import OvenMap
from handouts.kinds.run_sheet import RunSheet
from handouts.kinds.station_cards import StationCard
from handouts.kinds.tub_labels import TubLabels
from recipes.core.heat.core_temperature import Core
from recipes.models import Ingredient, Revision
from tests.handouts.conftest import another_class
from tests.worlds import anew

SUMMARY = re.compile(r"(\d+) figures compared, (\d+) read in print, (\d+) differ\.")
DENVER_M = 1600


@pytest.fixture
def demo(demo_made_once, db):
    return anew(demo_made_once)


def rye_in_new_york(demo):
    """Two days of rye with a variant, at 1,600 m, on Letter, for US cups and Fahrenheit."""
    kitchen = demo.kitchen
    kitchen.time_zone, kitchen.altitude_m, kitchen.currency = "America/New_York", DENVER_M, "USD"
    kitchen.save()
    begins = datetime(2030, 5, 4, 9, tzinfo=ZoneInfo("America/New_York"))
    session = another_class(
        demo,
        "Two-day rye batard",
        students=6,
        starts_at=begins,
        ends_at=begins.replace(hour=15),
    )
    revision = Revision.objects.get(title="Two-day rye batard")
    variant = revision.variants.create(name="Without rye")
    rows = {row.key: row for row in Ingredient.objects.all()}
    variant.swaps.create(
        component_name="Final dough",
        position=0,
        replaced=rows["rye-flour"],
        by=rows["whole-wheat-flour"],
        parts=Decimal(1),
    )
    students = list(session.enrollments.all())
    students[0].variants.add(variant)
    for student in students:
        student.home = {
            "measured": "cups",
            "degrees": "F",
            "sizes_in": "in",
            "altitude_m": DENVER_M,
            "page": "letter",
            "yeast": "fresh",
        }
        student.save()
    return session


def rolls(demo):
    """Rolls with a roux from one tub and an egg wash, shown, with a loss, on 1 g scales."""
    demo.kitchen.scales.exclude(step_g=1).delete()
    begins = datetime(2030, 5, 4, 9, tzinfo=ZoneInfo("Europe/Dublin"))
    session = another_class(
        demo, "Pillow rolls", students=5, starts_at=begins, ends_at=begins.replace(hour=17)
    )
    session.handling_loss_percent = Decimal(3)
    session.save()
    return session


def checked(session):
    """What the command prints, and what it ends with."""
    out = StringIO()
    try:
        call_command("check_papers", session.code, stdout=out)
    except SystemExit as end:
        return out.getvalue(), end.code
    return out.getvalue(), 0


@pytest.mark.parametrize(
    "make", [lambda demo: demo, rye_in_new_york, rolls], ids=["demo", "rye", "rolls"]
)
def test_the_papers_of_a_class_agree(demo, make):
    told, code = checked(make(demo))
    compared, read, differ = map(int, SUMMARY.fullmatch(told.strip()).groups())
    assert (differ, code) == (0, 0)
    assert compared > 50
    assert read > 100


# Planted faults


@pytest.fixture
def planted(monkeypatch):
    """Change the papers of some type before they are read."""

    def plant(kind, change):
        papers = checking._papers

        def changed(material):
            for where, paper in papers(material):
                yield where, change(paper) if isinstance(paper, kind) else paper

        monkeypatch.setattr(checking, "_papers", changed)

    return plant


def _hotter(paper):
    card = paper.recipes[0]
    core = Core(Decimal(97), None, card.core.boiling_c, capped=False)
    return replace(paper, recipes=(replace(card, core=core),))


def _lighter(paper):
    sheet = paper.recipes[0].sheet
    first, *others = sheet.components
    line = first.lines[0]
    lines = (
        replace(line, weighed=replace(line.weighed, grams=line.weighed.grams - 1)),
        *first.lines[1:],
    )
    made = replace(sheet, components=(replace(first, lines=lines), *others))
    return replace(paper, recipes=(replace(paper.recipes[0], sheet=made),))


def _longer(paper):
    steps = tuple(
        replace(step, oven_min=step.oven_min + 3) if step.oven_min else step
        for step in paper.recipes[0].steps
    )
    return replace(paper, recipes=(replace(paper.recipes[0], steps=steps),))


def _another_tub(paper):
    table = paper.recipe.tables[0]
    rows = table.parts[0].rows
    line = rows[0].each[0]
    each = (replace(line, weighed=replace(line.weighed, grams=Decimal(260))), *rows[0].each[1:])
    part = replace(table.parts[0], rows=(replace(rows[0], each=each), *rows[1:]))
    made = replace(table, parts=(part, *table.parts[1:]))
    return replace(paper, recipe=replace(paper.recipe, tables=(made, *paper.recipe.tables[1:])))


def _later(paper):
    return replace(paper, loads=(replace(paper.loads[0], into="12:34"), *paper.loads[1:]))


def _cooler(paper):
    rows = (
        replace(row, temperature_c=Decimal(220)) if row.kind is ActivityKind.BAKE else row
        for row in paper.rows
    )
    return replace(paper, rows=tuple(rows))


def _wrong_label(paper):
    label = paper.labels[0]
    block = replace(label.contents[0], grams="1000")
    return replace(
        paper, labels=(replace(label, contents=(block, *label.contents[1:])), *paper.labels[1:])
    )


@pytest.mark.parametrize(
    ("kind", "change", "words"),
    [
        (Handout, _hotter, " / 97.00 °C (Handouts for the class, Ada Fennimore"),
        (Handout, _lighter, "Ada Fennimore, dough: "),
        (Handout, _longer, " / 28 min (Handouts for the class, Ada Fennimore"),
        (StationCard, _another_tub, "Ada Fennimore, Dough: Bread flour: "),
        (OvenMap, _later, "load 1, in: "),
        (RunSheet, _cooler, "Hearth loaf, oven: "),
        (TubLabels, _wrong_label, "Bench 1, all Bread flour: "),
    ],
)
def test_a_planted_fault_is_printed_and_ends_with_1(demo, planted, kind, change, words):
    planted(kind, change)
    told, code = checked(demo)
    assert code == 1
    assert words in told
    assert int(SUMMARY.search(told)[3]) == len(told.splitlines()) - 1 > 0


def test_a_figure_that_a_template_prints_wrongly_is_seen(demo, monkeypatch):
    to_html = checking.to_html
    monkeypatch.setattr(
        checking,
        "to_html",
        lambda paper: (
            to_html(paper).replace("520.8", "519.7")
            if isinstance(paper, Handout)
            else to_html(paper)
        ),
    )
    told, code = checked(demo)
    assert code == 1
    assert "dough: 520.8 is not in print (Handouts for the class, Ada Fennimore)" in told


def test_the_old_line_model_would_be_seen(demo, monkeypatch):
    """A handout whose poolish is its own lines adds up to another total than card and list."""
    session = another_class(demo, "Two-day rye batard", students=2, demonstration_batches=0)
    sheet_of = handout.recipe_card

    def by_lines(*args):
        card = sheet_of(*args)
        parts = tuple(replace(part, tub=None) for part in card.sheet.components)
        return replace(card, sheet=replace(card.sheet, components=parts))

    monkeypatch.setattr(handout, "recipe_card", by_lines)
    told, code = checked(session)
    assert code == 1
    assert re.search(r"Bench 1, Student \d+, dough: 59\d\.\d g \(Handouts", told)


# Nothing to compare


def test_an_unknown_class_is_told(db):
    with pytest.raises(CommandError, match="There is no class NOSUCH"):
        call_command("check_papers", "NOSUCH")


def test_a_class_without_station_says_what_is_missing(demo):
    demo.stations.clear()
    with pytest.raises(CommandError, match="No station yet"):
        call_command("check_papers", demo.code)


def test_comparing_nothing_is_an_error(demo, monkeypatch):
    monkeypatch.setattr(checking, "_papers", lambda material: iter(()))
    monkeypatch.setattr(checking, "_of_hours", lambda material, breads: iter(()))
    with pytest.raises(CommandError, match="nothing was compared"):
        call_command("check_papers", demo.code)


# Comparing


def test_what_is_said_once_is_not_counted_and_what_differs_names_where():
    figures = [
        PlacedFigure("dough", "599.6 g", "card"),
        PlacedFigure("dough", "598.7 g", "handout"),
        PlacedFigure("salt", "7 g", "card"),
        PlacedFigure("yeast", "1 g", "card"),
        PlacedFigure("yeast", "1 g", "card"),
    ]
    found = compare(figures, {})
    assert found.compared == 1
    assert [str(one) for one in found.differences] == ["dough: 599.6 g (card) / 598.7 g (handout)"]


@pytest.mark.parametrize(
    ("text", "is_there"),
    [("weigh 7 g", True), ("weigh 17 g", False), ("7.5 g", False), ("0.7 g", False), ("7", True)],
)
def test_a_figure_is_looked_for_as_a_whole(text, is_there):
    found = compare([PlacedFigure("salt", "7 g", "card", "7")], {"card": text})
    assert (found.differences == ()) == is_there


def test_the_text_of_a_paper_is_what_is_read():
    markup = "<head><title>9</title></head><b>7</b>&nbsp;g<svg><title>8</title></svg> salt"
    assert text_of(markup) == "7 g salt"
