"""A mass by cups and spoons, and whether that is far off."""

from decimal import Decimal

import pytest

from recipes.core.batch.spoons import Scoops


@pytest.mark.parametrize(
    ("error_percent", "is_far_off"),
    [("5", False), ("-5", False), ("5.01", True), ("-5.01", True), ("0", False)],
)
def test_more_than_five_percent_off_is_said(error_percent, is_far_off):
    assert Scoops((), Decimal(error_percent)).is_far_off is is_far_off
