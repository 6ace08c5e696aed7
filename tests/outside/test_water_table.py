"""The printed water table against worked examples in °F, and its ice against the trade's formula.

data/ddt_examples.csv, see data/README.md. The formula for ice, (tap - wanted) / (tap + 112) in °F,
is that of the printed table in data/ice_table_published.csv.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from classes.management.commands.load_demo import load_demo
from classes.plan import MixerFriction
from handouts.kinds.water_table import water_table
from recipes.core.heat.water import difference_c
from tests.handouts.conftest import NOW, another_class, plan_of
from tests.outside.test_dough_temperature import SOUND, celsius
from tests.worlds import made_once
from wording.writing import Writing

TAP_F = 64
EXAMPLES = [row for row in SOUND if not row["preferment_F"]]


def make_plan():
    session = another_class(load_demo(now=NOW), "Hearth loaf", students=3, demonstration_batches=0)
    session.taught.update(mixing="mixer")
    return plan_of(session)


plan = made_once(make_plan)


def table_for(plan, row):
    kitchen = replace(
        plan.kitchen,
        writing=Writing(fahrenheit_first=True),
        room_c=celsius(row["room_F"]),
        flour_c=celsius(row["flour_F"]),
        tap_c=celsius(str(TAP_F)),
        frictions=(MixerFriction("Mixer", difference_c(Decimal(row["friction_F"]))),),
    )
    (taught,) = plan.taught
    taught = replace(taught, dough_temperature_c=celsius(row["ddt_F"]))
    (paper,) = water_table(replace(plan, kitchen=kitchen, taught=(taught,)), NOW)
    (dough,) = paper.doughs
    return dough


def number(words):
    return int(words.partition("\N{NO-BREAK SPACE}")[0].replace("−", "-"))


@pytest.mark.parametrize("row", EXAMPLES, ids=lambda row: row["source"])
def test_the_middle_is_the_published_water_and_each_square_the_formula(db, plan, row):
    dough, middles = table_for(plan, row), []
    ddt, friction = int(row["ddt_F"]), int(row["friction_F"])
    for line in dough.rows:
        for flour, cell in zip(dough.flours, line.cells, strict=True):
            wanted = 3 * ddt - number(line.room) - number(flour) - friction
            if cell.why:
                assert cell.why == "too hot"
                assert wanted > 122
                continue
            assert number(cell.use) == wanted
            middles += [cell] if cell.is_expected else []
            if cell.ice:
                ice_g = Decimal(dough.ice_of) * (TAP_F - wanted) / (TAP_F + 112)
                assert abs(Decimal(cell.ice) - ice_g) <= Decimal("0.5")
            else:
                assert wanted >= TAP_F - 1
    assert [number(cell.use) for cell in middles] == [int(row["published_water_F"])]


def test_there_are_examples_with_and_without_ice(db, plan):
    tables = [table_for(plan, row) for row in EXAMPLES]
    assert len(tables) == 6
    assert {table.has_ice for table in tables} == {True, False}
