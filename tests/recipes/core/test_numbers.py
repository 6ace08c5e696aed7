from decimal import Decimal

import pytest

from recipes.core.errors import BakingError, NotDecimal, NotWhole, OutOfRange
from recipes.core.numbers import MOST, exact, not_negative, positive, settled, whole

NOT_DECIMALS = {
    "float": 1.5,
    "whole float": 2.0,
    "text": "2",
    "nothing": None,
    "true": True,
    "nan": Decimal("NaN"),
    "signaling nan": Decimal("sNaN"),
    "infinity": Decimal("Infinity"),
    "less than everything": Decimal("-Infinity"),
    "complex": 1j,
}


@pytest.mark.parametrize("guard", [exact, positive, not_negative])
@pytest.mark.parametrize("value", NOT_DECIMALS.values(), ids=NOT_DECIMALS)
def test_guards_refuse_what_is_not_an_exact_decimal(guard, value):
    with pytest.raises(NotDecimal) as caught:
        guard("flour_g", value)
    assert caught.value.field == "flour_g"


@pytest.mark.parametrize(
    ("guard", "value"),
    [
        pytest.param(positive, Decimal(0), id="zero where something is needed"),
        pytest.param(positive, Decimal("-0"), id="minus zero where something is needed"),
        pytest.param(positive, 0, id="integer zero where something is needed"),
        pytest.param(positive, Decimal("-0.01"), id="below zero"),
        pytest.param(not_negative, Decimal("-0.01"), id="below zero where zero will do"),
        pytest.param(not_negative, -1, id="integer below zero"),
        pytest.param(exact, Decimal("1e13"), id="beyond all sense"),
        pytest.param(exact, Decimal("-1e13"), id="beyond all sense below zero"),
        pytest.param(positive, Decimal("1e400"), id="400 zeros"),
        pytest.param(exact, 10**13, id="integer beyond all sense"),
    ],
)
def test_guards_refuse_numbers_out_of_range_and_name_the_field(guard, value):
    with pytest.raises(OutOfRange) as caught:
        guard("flour_g", value)
    assert (caught.value.field, caught.value.value) == ("flour_g", value)


@pytest.mark.parametrize(
    ("guard", "value"),
    [
        pytest.param(exact, Decimal("-4.5"), id="any decimal"),
        pytest.param(exact, 7, id="an integer"),
        pytest.param(positive, Decimal("0.001"), id="a milligram"),
        pytest.param(positive, MOST, id="the very most"),
        pytest.param(not_negative, Decimal(0), id="zero"),
    ],
)
def test_guards_hand_back_good_values_as_decimals(guard, value):
    checked = guard("flour_g", value)
    assert checked == value
    assert type(checked) is Decimal


@pytest.mark.parametrize(
    "value", [1.0, Decimal(1), "1", True, None, Decimal("1.5")], ids=lambda value: repr(value)
)
def test_a_whole_number_is_an_integer_and_nothing_else(value):
    with pytest.raises(NotWhole):
        whole("pieces", value)


def test_a_whole_number_keeps_its_least():
    assert whole("pieces", 1, least=1) == 1
    with pytest.raises(OutOfRange) as caught:
        whole("pieces", 0, least=1)
    assert (caught.value.least, caught.value.most) == (1, MOST)


def test_sevenths_settle_to_the_whole_they_came_from():
    sevenths = sum([Decimal(2) / 7] * 7)
    assert sevenths > 2
    assert settled(sevenths) == 2


def test_settling_keeps_a_nanogram():
    assert settled(Decimal("0.000000001")) == Decimal("1e-9")


def test_every_named_error_is_a_value_error_of_the_core():
    assert issubclass(BakingError, ValueError)
    assert issubclass(NotDecimal, BakingError)
