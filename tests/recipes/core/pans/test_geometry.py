"""The decimal functions against the machine's own, and against identities."""

import math
from decimal import Decimal

import pytest
from hypothesis import given

from recipes.core.pans.geometry import PI, cosine, cube_root, sine
from tests.recipes.core.strategies import decimals

LAST_DIGITS = Decimal("1e-26")
A_FLOATS_LAST_DIGIT = Decimal("1e-15")


@given(decimals("-20", "20", 6))
def test_sine_and_cosine_keep_the_circle_and_follow_each_other(angle):
    assert abs(sine(angle) ** 2 + cosine(angle) ** 2 - 1) < A_FLOATS_LAST_DIGIT
    assert abs(sine(angle + PI / 2) - cosine(angle)) < 20 * A_FLOATS_LAST_DIGIT


@pytest.mark.parametrize(
    ("got", "exact"),
    [
        pytest.param(sine(PI / 6), Decimal("0.5"), id="sine of 30 degrees"),
        pytest.param(cosine(PI / 3), Decimal("0.5"), id="cosine of 60 degrees"),
        pytest.param(sine(PI / 4), Decimal(2).sqrt() / 2, id="sine of 45 degrees"),
        pytest.param(cosine(PI), Decimal(-1), id="cosine of 180 degrees"),
        pytest.param(sine(Decimal(0)), Decimal(0), id="sine of nothing"),
        pytest.param(cosine(Decimal(0)), Decimal(1), id="cosine of nothing"),
    ],
)
def test_known_angles_are_good_to_15_digits(got, exact):
    assert abs(got - exact) < A_FLOATS_LAST_DIGIT


def test_pi_is_the_machines_with_more_digits():
    assert float(PI) == math.pi


@given(decimals("0", "1e9", 3))
def test_a_cube_root_cubed_is_the_number_again(value):
    assert abs(cube_root(value) ** 3 - value) <= value * LAST_DIGITS
