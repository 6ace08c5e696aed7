"""Core temperatures by bread kind, and what is lost between mixer and rack."""

from decimal import Decimal

import pytest
from hypothesis import given

from recipes.core.errors import NotDecimal, OutOfRange
from recipes.core.heat.doneness import (
    BAKE_LOSSES,
    CORE_RANGES,
    HANDLING_LOSSES,
    BreadKind,
    after_loss,
    before_loss,
)
from tests.recipes.core.strategies import decimals

masses = decimals("0.1", "100000", 1)
losses = decimals("0", "0.5", 3)
CLOSE = Decimal("1e-18")


@pytest.mark.parametrize(
    ("kind", "fahrenheit", "rounded_celsius"),
    [
        (BreadKind.LEAN, (200, 210), (93, 99)),
        (BreadKind.SOFT, (185, 195), (85, 91)),
        (BreadKind.PAN, (190, None), (88, None)),
        (BreadKind.DENSE, (205, 210), (96, 99)),
    ],
)
def test_every_kind_has_its_core_range(kind, fahrenheit, rounded_celsius):
    core = CORE_RANGES[kind]
    assert (core.least_f, core.most_f) == fahrenheit
    assert (core.least_c, core.most_c) == rounded_celsius
    assert core.source


def test_no_kind_is_without_a_range():
    assert set(CORE_RANGES) == set(BreadKind)


def test_500_g_baked_at_12_percent_are_568_2_g_of_dough_and_not_560():
    assert f"{before_loss(Decimal(500), Decimal('0.12')):.1f}" == "568.2"


@given(masses, losses)
def test_a_loss_taken_off_undoes_one_made_up(mass_g, loss):
    assert abs(after_loss(before_loss(mass_g, loss), loss) - mass_g) < CLOSE
    assert abs(before_loss(after_loss(mass_g, loss), loss) - mass_g) < CLOSE


def test_bake_losses_are_as_published():
    assert [(one.of, str(one.least), str(one.most)) for one in BAKE_LOSSES] == [
        ("bread", "0.10", "0.13"),
        ("bread", "0.098", "0.115"),
        ("bread", "0.10", "0.20"),
        ("pan loaf, 65 % hydration", "0.12", "0.12"),
        ("hearth loaf, 80 % hydration", "0.16", "0.18"),
        ("75 g bun", "0.10", "0.10"),
        ("300 g small loaf", "0.15", "0.15"),
    ]


def test_up_to_half_may_be_lost():
    assert before_loss(Decimal(50), Decimal("0.5")) == 100
    with pytest.raises(OutOfRange) as caught:
        before_loss(Decimal(50), Decimal("0.501"))
    assert caught.value.most == Decimal("0.5")


@pytest.mark.parametrize("published", [*BAKE_LOSSES, *HANDLING_LOSSES], ids=lambda one: one.of)
def test_published_losses_are_shares_with_a_source(published):
    assert 0 <= published.least <= published.most <= Decimal("0.2")
    assert published.source


@pytest.mark.parametrize(
    ("make", "error"),
    [
        pytest.param(lambda: before_loss(Decimal(500), Decimal(12)), OutOfRange, id="percent"),
        pytest.param(lambda: before_loss(Decimal(500), Decimal("-0.1")), OutOfRange, id="gain"),
        pytest.param(lambda: after_loss(Decimal(-1), Decimal("0.1")), OutOfRange, id="minus mass"),
        pytest.param(lambda: after_loss(Decimal(1), 0.12), NotDecimal, id="float loss"),
    ],
)
def test_losses_that_cannot_be_are_refused(make, error):
    with pytest.raises(error):
        make()
