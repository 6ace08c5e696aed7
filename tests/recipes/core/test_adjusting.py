"""What is written stands, what is held stays, and an edit can be taken back."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.core.adjusting import (
    DoughMissed,
    FlourMissed,
    Held,
    LineAt,
    percent_at,
    places,
    scale_to_dough,
    set_grams,
    set_percents,
)
from recipes.core.errors import NotDecimal, OutOfRange
from recipes.core.formula import Formula, proportions
from tests.recipes.core.breads import (
    BREAD_FLOUR,
    HEARTH_LOAF,
    PILLOW_ROLLS,
    RYE_BATARD,
    SEEDED_RING,
    WATER,
    dough,
)
from tests.recipes.core.strategies import decimals, formulas

BREAD, WHEAT, WATER_AT, SALT = (LineAt(0, n) for n in range(4))
either = pytest.mark.parametrize("held", list(Held))


def masses(formula):
    return {place: line.mass_g for place, _, line in places(formula)}


def same(one, other):
    """Equal but for the last digits of divisions."""
    return abs(one - other) <= Decimal("1e-18") * max(abs(one), abs(other), Decimal(1))


def all_same(formula, other):
    first, second = masses(formula), masses(other)
    return first.keys() == second.keys() and all(same(first[at], second[at]) for at in first)


def test_with_the_flour_held_more_water_makes_more_dough():
    wetter = set_percents(HEARTH_LOAF, {WATER_AT: Decimal(72)}, Held.FLOUR)
    assert wetter.flour_g == 1000
    assert masses(wetter) == masses(HEARTH_LOAF) | {WATER_AT: Decimal(720)}
    assert wetter.dough_g == HEARTH_LOAF.dough_g + 40


def test_with_the_dough_held_more_water_leaves_less_of_everything_else():
    wetter = set_percents(HEARTH_LOAF, {WATER_AT: Decimal(72)}, Held.DOUGH)
    assert same(wetter.dough_g, Decimal(1709))
    assert f"{wetter.flour_g:.2f}" == "977.13"  # 1709 / 1.749
    assert f"{percent_at(wetter, SALT):.6f}" == "2.000000"
    assert proportions(wetter).hydration.quantize(Decimal("1e-9")) == 72


def test_grams_with_the_dough_held_leave_the_others_in_proportion():
    wetter = set_grams(HEARTH_LOAF, {WATER_AT: Decimal(709)}, Held.DOUGH)
    assert masses(wetter)[WATER_AT] == 709
    assert wetter.dough_g == 1709
    others = 1000 / Decimal(1029)
    assert same(masses(wetter)[BREAD], 850 * others)
    assert same(masses(wetter)[SALT], 20 * others)


@either
def test_flours_make_room_for_a_flour_and_the_rest_of_the_bread_stays(held):
    wheatier = set_percents(HEARTH_LOAF, {WHEAT: Decimal(25)}, held)
    changed = {BREAD: Decimal(750), WHEAT: Decimal(250)}
    assert masses(wheatier) == masses(HEARTH_LOAF) | changed


def test_grams_of_a_flour_with_the_flour_held_come_from_the_other_flours():
    made = set_grams(HEARTH_LOAF, {WHEAT: Decimal(200)}, Held.FLOUR)
    assert masses(made) == masses(HEARTH_LOAF) | {BREAD: Decimal(800), WHEAT: Decimal(200)}


def test_flour_in_a_preferment_makes_room_too():
    rye = LineAt(1, 1)
    made = set_percents(RYE_BATARD, {rye: Decimal(20)}, Held.FLOUR)
    assert made.flour_g == RYE_BATARD.flour_g
    assert f"{masses(made)[LineAt(0, 0)]:.4f}" == "266.6667"
    assert f"{masses(made)[LineAt(1, 0)]:.4f}" == "533.3333"


def test_several_lines_are_written_at_once():
    made = set_percents(
        HEARTH_LOAF, {BREAD: Decimal(70), WHEAT: Decimal(30), SALT: Decimal("2.2")}, Held.FLOUR
    )
    assert masses(made) == masses(HEARTH_LOAF) | {
        BREAD: Decimal(700),
        WHEAT: Decimal(300),
        SALT: Decimal(22),
    }


@either
def test_a_wash_takes_its_mass_and_moves_nothing_else(held):
    yolk = LineAt(2, 0)
    made = set_grams(PILLOW_ROLLS, {yolk: Decimal(34)}, held)
    assert masses(made) == masses(PILLOW_ROLLS) | {yolk: Decimal(34)}


@either
def test_a_topping_by_percentage_reads_the_same_on_the_card(held):
    sesame = LineAt(1, 0)
    made = set_percents(SEEDED_RING, {sesame: Decimal(9)}, held)
    assert same(percent_at(made, sesame), Decimal(9))
    assert made.dough_g == SEEDED_RING.dough_g


def test_the_only_flour_cannot_change_while_the_flour_stays():
    with pytest.raises(FlourMissed) as caught:
        set_grams(SEEDED_RING, {LineAt(0, 0): Decimal(1100)}, Held.FLOUR)
    assert (caught.value.written_g, caught.value.flour_g) == (1100, 1000)
    assert caught.value in {caught.value}


@pytest.mark.parametrize("percent", ["100", "120"])
@either
def test_a_flour_that_leaves_nothing_for_the_others_is_refused(held, percent):
    with pytest.raises(FlourMissed):
        set_percents(HEARTH_LOAF, {WHEAT: Decimal(percent)}, held)


def test_flours_that_are_all_written_must_add_up():
    with pytest.raises(FlourMissed):
        set_percents(HEARTH_LOAF, {BREAD: Decimal(80), WHEAT: Decimal(15)}, Held.FLOUR)


@pytest.mark.parametrize("grams", ["1709", "5000"])
def test_a_line_that_fills_the_dough_is_refused(grams):
    with pytest.raises(DoughMissed) as caught:
        set_grams(HEARTH_LOAF, {WATER_AT: Decimal(grams)}, Held.DOUGH)
    assert caught.value.dough_g == 1709


def test_all_lines_written_must_add_up_to_the_dough_that_is_held():
    small = Formula("Bread", (dough((BREAD_FLOUR, "100"), (WATER, "60")),), Decimal(160))
    wanted = {LineAt(0, 0): Decimal(90), LineAt(0, 1): Decimal(70)}
    assert masses(set_grams(small, wanted, Held.DOUGH)) == wanted
    with pytest.raises(DoughMissed):
        set_grams(small, wanted | {LineAt(0, 1): Decimal(80)}, Held.DOUGH)


@pytest.mark.parametrize(
    ("value", "error"), [(Decimal(0), OutOfRange), (Decimal(-1), OutOfRange), (1.5, NotDecimal)]
)
@pytest.mark.parametrize("change", [set_grams, set_percents])
@either
def test_nothing_and_less_are_refused(change, value, error, held):
    with pytest.raises(error):
        change(HEARTH_LOAF, {SALT: value}, held)


@pytest.mark.parametrize("place", [LineAt(1, 0), LineAt(0, 5), LineAt(-1, 0), LineAt(0, -1)])
@pytest.mark.parametrize("change", [set_grams, set_percents])
def test_a_line_that_is_not_there_is_refused(change, place):
    with pytest.raises(OutOfRange):
        change(HEARTH_LOAF, {place: Decimal(1)}, Held.FLOUR)


def test_a_dough_of_nothing_is_refused():
    with pytest.raises(OutOfRange):
        scale_to_dough(HEARTH_LOAF, Decimal(0))


# Properties


@st.composite
def edited(draw):
    """A formula and the place of a line that is no flour of its dough."""
    formula = draw(formulas())
    free = [
        place
        for place, part, line in places(formula)
        if not (part.kind.goes_into_dough and line.ingredient.is_flour)
    ]
    return (formula, draw(st.sampled_from(free))) if free else (PILLOW_ROLLS, LineAt(1, 1))


@given(edited(), decimals("0.01", "300"), st.sampled_from(Held))
def test_a_percentage_that_was_set_reads_the_same(where, percent, held):
    formula, place = where
    assert same(percent_at(set_percents(formula, {place: percent}, held), place), percent)


@given(edited(), decimals("0.01", "300"))
def test_holding_the_flour_keeps_it_and_everything_else(where, percent):
    formula, place = where
    made = set_percents(formula, {place: percent}, Held.FLOUR)
    assert made.flour_g == formula.flour_g
    before, after = masses(formula), masses(made)
    assert {at for at in before if before[at] != after[at]} <= {place}


@given(edited(), decimals("0.01", "300"))
def test_holding_the_dough_keeps_it_and_every_other_percentage(where, percent):
    formula, place = where
    made = set_percents(formula, {place: percent}, Held.DOUGH)
    assert same(made.dough_g, formula.dough_g)
    for at, part, _ in places(formula):
        if at != place and part.kind.goes_into_dough:
            assert same(percent_at(made, at), percent_at(formula, at))


@given(edited(), decimals("0.01", "300"), st.sampled_from(Held))
def test_setting_the_old_percentage_again_takes_the_edit_back(where, percent, held):
    formula, place = where
    made = set_percents(formula, {place: percent}, held)
    assert all_same(set_percents(made, {place: percent_at(formula, place)}, held), formula)


@given(edited(), decimals("0.05", "0.95"), st.sampled_from(Held))
def test_setting_the_old_grams_again_takes_the_edit_back(where, share, held):
    formula, place = where
    made = set_grams(formula, {place: formula.dough_g * share}, held)
    assert masses(made)[place] == formula.dough_g * share
    assert all_same(set_grams(made, {place: masses(formula)[place]}, held), formula)
    kept = (
        (made.flour_g, formula.flour_g) if held is Held.FLOUR else (made.dough_g, formula.dough_g)
    )
    assert same(*kept)


@given(formulas(), decimals("1", "50000"))
def test_a_target_dough_is_met_keeps_all_percentages_and_can_be_taken_back(formula, dough_g):
    made = scale_to_dough(formula, dough_g)
    assert same(made.dough_g, dough_g)
    for place, _, _ in places(formula):
        assert same(percent_at(made, place), percent_at(formula, place))
    assert all_same(scale_to_dough(made, formula.dough_g), formula)
