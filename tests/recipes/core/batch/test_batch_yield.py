"""Dough, bread and what is lost between them."""

from decimal import Decimal

import pytest
from hypothesis import given

from recipes.core.batch.yields import batch_yield
from recipes.core.errors import OutOfRange
from recipes.core.heat.doneness import after_loss
from tests.recipes.core.strategies import decimals


def test_half_a_kilo_of_bread_takes_more_dough_than_the_loss_on_top():
    made = batch_yield(Decimal(500), Decimal("0.12"))
    assert made.baked_g == 440
    assert f"{made.dough_for_same_g:.1f}" == "568.2"  # not 560


@pytest.mark.parametrize("loss", ["0", "0.6", "1"])
def test_without_a_likely_loss_nothing_is_said_of_the_bread(loss):
    made = batch_yield(Decimal(500), Decimal(loss))
    assert (made.baked_g, made.dough_for_same_g) == (None, None)


def test_every_published_handling_loss_leaves_the_dough():
    for one in batch_yield(Decimal(520), Decimal(0)).handling:
        assert round(after_loss(one.least_g, one.loss.least), 9) == 520
        assert round(after_loss(one.most_g, one.loss.most), 9) == 520


def test_no_dough_is_refused():
    with pytest.raises(OutOfRange):
        batch_yield(Decimal(0), Decimal("0.1"))


@given(decimals("1", "90000"), decimals("0.01", "0.5"))
def test_the_dough_for_as_much_bread_bakes_to_it(dough_g, loss):
    needed = batch_yield(dough_g, loss).dough_for_same_g
    assert abs(batch_yield(needed, loss).baked_g - dough_g) < Decimal("1e-18")
