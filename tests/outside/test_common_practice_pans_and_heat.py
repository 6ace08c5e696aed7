"""What home bakers and teachers go by. Common practice, no source: every figure here.

They check that the defaults of the models lead where hands lead; none is a measurement.
"""

from decimal import Decimal

import pytest

from recipes.core.composition import Composition
from recipes.core.heat.balance import Portion, mix
from recipes.core.pans.balls import BallModel, Touch, will_touch
from recipes.core.pans.packing import arrange, arrangements, rings
from recipes.core.pans.sizes import Pan, PanShape, bowl_for

INCH_CM = Decimal("2.54")
CUP_ML = Decimal("236.5882365")

NINE_INCH_ROUND = Pan.in_cm(PanShape.ROUND, 9 * INCH_CM)
NINE_BY_THIRTEEN = Pan.in_cm(PanShape.RECTANGULAR, 13 * INCH_CM, 9 * INCH_CM)
ROLL_G = Decimal(58)

# SR28 rows 20083, 01077 and 01123.
FLOUR = Composition(*map(Decimal, ("13.36", "11.98", "1.66", "72.53", "2.4", "0.47")))
MILK = Composition(*map(Decimal, ("88.13", "3.15", "3.25", "4.80", "0", "0.67")))
EGG = Composition(*map(Decimal, ("76.15", "12.56", "9.51", "0.72", "0", "1.06")))

REFRIGERATED_C = Decimal(4)
EVAPORATED = Decimal("0.08")


@pytest.mark.parametrize("flour_g", [10, 15, 20])
@pytest.mark.parametrize("scraped_c", [65, 70, 75])
def test_a_hot_roux_in_cold_milk_and_egg_comes_to_about_room_temperature(
    flour_g: int, scraped_c: int
) -> None:
    """Common practice, no source: 20 to 31 °C.

    One part flour to six of milk, less 8 % steam, goes into 1.2 times its mass of milk from the
    refrigerator with one large egg.
    """
    flour = Decimal(flour_g)
    roux_g = 7 * flour * (1 - EVAPORATED)
    mixed = mix(
        [
            Portion(flour, Decimal(scraped_c), FLOUR),
            Portion(roux_g - flour, Decimal(scraped_c), MILK),
            Portion(roux_g * Decimal("1.2"), REFRIGERATED_C, MILK),
            Portion(Decimal(50), REFRIGERATED_C, EGG),
        ]
    )
    assert 20 <= mixed.temperature_c <= 31


def test_eleven_rolls_lie_in_a_nine_inch_round_pan_as_eight_around_three() -> None:
    """Common practice, no source."""
    best, *others = arrangements(NINE_INCH_ROUND, 11)
    assert best.counts == (8, 3)
    assert (8, 3) in [other.counts for other in others]


@pytest.mark.parametrize(
    "found",
    [arrange(NINE_INCH_ROUND, 11), rings(NINE_INCH_ROUND, 8, 3)],
    ids=["best known places", "even rings"],
)
def test_eleven_rolls_fit_a_nine_inch_round_pan_and_touch_when_baked(found) -> None:
    """Common practice, no source: rolls of about 58 g."""
    met = will_touch(found, ROLL_G)
    assert met.fits
    assert met.touch is Touch.TOUCH


def test_twelve_rolls_in_nine_by_thirteen_stay_apart() -> None:
    """Common practice, no source: rolls of about 58 g."""
    found = arrange(NINE_BY_THIRTEEN, 12)
    assert found.counts == (4, 4, 4)
    met = will_touch(found, ROLL_G)
    assert met.fits
    assert met.touch is Touch.APART
    assert met.gap_mm > 5


@pytest.mark.parametrize("height", ["0.65", "0.75", "0.85"])
@pytest.mark.parametrize("growth", ["2.3", "2.5", "2.7"])
def test_other_usual_shapes_do_not_turn_the_two_pans_round(height: str, growth: str) -> None:
    """Common practice, no source: rounder or flatter rolls, more or less oven spring."""
    model = BallModel(height_to_diameter=Decimal(height), baked_volume=Decimal(growth))
    assert will_touch(arrange(NINE_INCH_ROUND, 11), ROLL_G, model).touch is Touch.TOUCH
    assert will_touch(arrange(NINE_BY_THIRTEEN, 12), ROLL_G, model).touch is not Touch.TOUCH


def test_about_690_grams_of_dough_want_at_least_a_five_cup_bowl_to_double_in() -> None:
    """Common practice, no source."""
    bowl = bowl_for(Decimal(690))
    assert 5 <= bowl.risen_ml / CUP_ML < bowl.bowl_ml / CUP_ML < 6
