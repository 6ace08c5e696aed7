from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.core.errors import NotDecimal, OutOfRange
from recipes.core.weighing import Count, Scales, count, nearest, split
from tests.recipes.core.breads import BENCH_AND_POCKET, ONE_GRAM_SCALE, THREE_SCALES

TWO_AND_TENTH = Scales((Decimal("0.1"), Decimal(2)))


@pytest.mark.parametrize(
    ("scales", "exact_g", "grams", "coarse"),
    [
        pytest.param(ONE_GRAM_SCALE, "258.6309", "259", False, id="up"),
        pytest.param(ONE_GRAM_SCALE, "206.4", "206", False, id="down"),
        pytest.param(ONE_GRAM_SCALE, "206.5", "207", False, id="half goes up"),
        pytest.param(ONE_GRAM_SCALE, "205.5", "206", False, id="half goes up from odd too"),
        pytest.param(ONE_GRAM_SCALE, "50", "50", False, id="2 percent is not coarse"),
        pytest.param(ONE_GRAM_SCALE, "49.99", "50", True, id="just over 2 percent is"),
        pytest.param(ONE_GRAM_SCALE, "0.93", "1", True, id="yeast on a bench scale"),
        pytest.param(ONE_GRAM_SCALE, "0.75", "1", True, id="three quarters of a step"),
        pytest.param(ONE_GRAM_SCALE, "0", "0", False, id="nothing"),
        pytest.param(BENCH_AND_POCKET, "40", "40", True, id="40 steps are on the bench scale"),
        pytest.param(BENCH_AND_POCKET, "39.99", "40.0", False, id="less goes to the pocket scale"),
        pytest.param(BENCH_AND_POCKET, "6.09", "6.1", False, id="salt"),
        pytest.param(BENCH_AND_POCKET, "2.74", "2.7", True, id="yeast on a pocket scale"),
        pytest.param(THREE_SCALES, "2.74", "2.74", False, id="yeast on a fine scale"),
        pytest.param(THREE_SCALES, "4", "4.0", True, id="40 tenths"),
        pytest.param(THREE_SCALES, "3.995", "4.00", False, id="half of a hundredth"),
        pytest.param(TWO_AND_TENTH, "101", "102", False, id="half of a two gram step"),
        pytest.param(TWO_AND_TENTH, "79.96", "80.0", False, id="under 40 two gram steps"),
        pytest.param(Scales((Decimal("0.5"),)), "10.3", "10.5", True, id="half gram steps"),
        pytest.param(Scales((Decimal(5),)), "1012.5", "1015", False, id="five gram steps"),
        pytest.param(Scales((Decimal(10),)), "1014.9", "1010", False, id="ten gram steps"),
    ],
)
def test_a_mass_goes_to_the_nearest_step_of_its_scale(scales, exact_g, grams, coarse):
    weighed = scales.weigh(Decimal(exact_g))
    assert (str(weighed.grams), weighed.coarse) == (grams, coarse)
    assert weighed.step_g == scales.step_for(Decimal(exact_g))
    assert not weighed.too_small


@pytest.mark.parametrize(
    ("scales", "exact_g", "grams"),
    [
        (ONE_GRAM_SCALE, "0.7499", "0.75"),
        (ONE_GRAM_SCALE, "0.3", "0.30"),
        (ONE_GRAM_SCALE, "0.0996", "0.100"),
        (BENCH_AND_POCKET, "0.0413", "0.041"),
        (Scales((Decimal(5),)), "3.7", "3.7"),
        (THREE_SCALES, "0.0000001", "0.00000010"),
    ],
)
def test_what_is_too_small_for_every_scale_says_so_and_is_never_nothing(scales, exact_g, grams):
    weighed = scales.weigh(Decimal(exact_g))
    assert (f"{weighed.grams:f}", weighed.coarse, weighed.too_small) == (grams, True, True)


def test_scales_are_sorted_and_counted_once():
    assert Scales((Decimal("0.1"), Decimal(1), Decimal("1.0"))).steps_g == (1, Decimal("0.1"))


def test_scales_are_values():
    again = Scales((Decimal("0.1"), Decimal(1)))
    assert again == BENCH_AND_POCKET
    assert hash(again) == hash(BENCH_AND_POCKET)
    assert repr(again) == "Scales(steps_g=(Decimal('1'), Decimal('0.1')))"


@pytest.mark.parametrize(
    ("steps", "error"),
    [
        pytest.param((), OutOfRange, id="no scale"),
        pytest.param((Decimal(0),), OutOfRange, id="zero step"),
        pytest.param((Decimal(-1),), OutOfRange, id="minus step"),
        pytest.param((Decimal("0.0001"),), OutOfRange, id="finer than a milligram"),
        pytest.param((0.1,), NotDecimal, id="float step"),
    ],
)
def test_impossible_scales_are_refused(steps, error):
    with pytest.raises(error):
        Scales(steps)


@pytest.mark.parametrize(
    ("exact_g", "error"),
    [
        pytest.param(Decimal("-0.1"), OutOfRange, id="below zero"),
        pytest.param(Decimal("1e30"), OutOfRange, id="more than a decimal can step"),
        pytest.param(1.5, NotDecimal, id="float"),
        pytest.param(Decimal("NaN"), NotDecimal, id="nan"),
    ],
)
def test_what_no_scale_shows_is_refused(exact_g, error):
    with pytest.raises(error):
        ONE_GRAM_SCALE.weigh(exact_g)
    with pytest.raises(error):
        ONE_GRAM_SCALE.step_for(exact_g)


@pytest.mark.parametrize(
    ("total", "parts", "step", "shares"),
    [
        pytest.param("1859", "4 4 1", "1", "826 826 207", id="tub to two benches and a demo"),
        pytest.param("100", "1 1 1", "1", "34 33 33", id="left over step to the earlier part"),
        pytest.param("101", "1 1 1", "1", "34 34 33", id="two left over steps"),
        pytest.param("4", "1 1 10", "1", "0 0 4", id="larger part first of equal remainders"),
        pytest.param("4", "10 1 1", "1", "4 0 0", id="larger part first in any order"),
        pytest.param("5", "2 9 1", "1", "1 4 0", id="largest remainder first"),
        pytest.param("520", "1 1 1 1 1 1", "1", "87 87 87 87 86 86", id="rolls"),
        pytest.param("2.5", "1 1", "0.1", "1.3 1.2", id="pocket scale"),
        pytest.param("99.96", "1 1", "0.1", "50.0 50.0", id="total to the step first"),
        pytest.param("30", "1 1", "20", "20 20", id="coarse step"),
        pytest.param("7", "0 1 0", "1", "0 7 0", id="nothing to those who take nothing"),
        pytest.param("0", "1 2", "1", "0 0", id="nothing to share"),
        pytest.param("12", "5", "1", "12", id="one part"),
    ],
)
def test_a_split_keeps_the_sum(total, parts, step, shares):
    divided = split(Decimal(total), [Decimal(part) for part in parts.split()], Decimal(step))
    assert [str(share) for share in divided] == shares.split()


@pytest.mark.parametrize(
    ("total", "parts", "step", "error"),
    [
        pytest.param(Decimal(10), [], Decimal(1), OutOfRange, id="no parts"),
        pytest.param(Decimal(10), [Decimal(0)] * 2, Decimal(1), OutOfRange, id="parts of nothing"),
        pytest.param(Decimal(10), [Decimal(-1), Decimal(2)], Decimal(1), OutOfRange, id="minus"),
        pytest.param(Decimal(10), [0.5, 0.5], Decimal(1), NotDecimal, id="float parts"),
        pytest.param(Decimal(-10), [Decimal(1)], Decimal(1), OutOfRange, id="minus total"),
        pytest.param(10.0, [Decimal(1)], Decimal(1), NotDecimal, id="float total"),
        pytest.param(Decimal(10), [Decimal(1)], Decimal(0), OutOfRange, id="zero step"),
        pytest.param(Decimal(10), [Decimal(1)], 0.1, NotDecimal, id="float step"),
    ],
)
def test_a_split_that_makes_no_sense_is_refused(total, parts, step, error):
    with pytest.raises(error):
        split(total, parts, step)


@pytest.mark.parametrize(
    ("exact_g", "take"),
    [
        pytest.param("284.9", 6, id="5.7 eggs"),
        pytest.param("250", 5, id="five to the gram"),
        pytest.param("250.1", 6, id="a little more than five"),
        pytest.param("0", 0, id="none"),
        pytest.param("0.01", 1, id="a trace"),
        pytest.param("100.0000000000000000000000001", 2, id="residue of dividing is no egg"),
    ],
)
def test_counted_things_are_enough_and_no_more(exact_g, take):
    exact = Decimal(exact_g)
    assert count(exact, Decimal(50), "large egg") == Count(take, "large egg", exact / 50)


@pytest.mark.parametrize(
    ("exact_g", "each_g", "error"),
    [
        pytest.param(Decimal(1), Decimal(0), OutOfRange, id="weightless"),
        pytest.param(Decimal(-1), Decimal(50), OutOfRange, id="minus"),
        pytest.param(1.0, Decimal(50), NotDecimal, id="float"),
    ],
)
def test_counts_that_make_no_sense_are_refused(exact_g, each_g, error):
    with pytest.raises(error):
        count(exact_g, each_g, "large egg")


masses = st.decimals(min_value=0, max_value=50_000, places=4)
steps = st.sampled_from([Decimal(text) for text in ("5", "2", "1", "0.5", "0.1", "0.05", "0.01")])
kitchens = st.lists(steps, min_size=1, max_size=3, unique=True).map(tuple).map(Scales)
parts_of = st.lists(st.decimals(min_value=0, max_value=9000, places=2), min_size=1, max_size=12)
some_parts = parts_of.filter(any)


@given(scales=kitchens, exact_g=masses)
def test_a_weighing_is_within_half_a_step(scales, exact_g):
    weighed = scales.weigh(exact_g)
    assert abs(weighed.grams - exact_g) * 2 <= weighed.step_g
    assert weighed.grams % weighed.step_g == 0


@given(scales=kitchens, exact_g=masses)
def test_a_weighing_is_coarse_when_its_step_is_over_2_percent(scales, exact_g):
    weighed = scales.weigh(exact_g)
    is_coarse = exact_g > 0 and weighed.step_g / exact_g > Decimal("0.02")
    assert weighed.coarse == (weighed.too_small or is_coarse)


@given(scales=kitchens, exact_g=masses)
def test_only_nothing_is_shown_as_nothing(scales, exact_g):
    weighed = scales.weigh(exact_g)
    assert (weighed.grams == 0) == (exact_g == 0)
    assert weighed.too_small == (0 < exact_g < Decimal("0.75") * min(scales.steps_g))


@given(scales=kitchens, exact_g=masses)
def test_the_coarsest_scale_with_40_steps_is_used_or_else_the_finest(scales, exact_g):
    fit = [step for step in scales.steps_g if exact_g >= 40 * step]
    assert scales.step_for(exact_g) == max(fit, default=min(scales.steps_g))


@given(exact_g=masses, step_g=steps)
def test_what_was_rounded_once_stays(exact_g, step_g):
    once = nearest(exact_g, step_g)
    assert nearest(once, step_g) == once


@given(total=masses, parts=some_parts, step_g=steps)
def test_split_shares_add_up_to_the_total_as_weighed(total, parts, step_g):
    assert sum(split(total, parts, step_g)) == nearest(total, step_g)


@given(total=masses, parts=some_parts, step_g=steps)
def test_each_share_is_within_one_step_of_its_exact_share(total, parts, step_g):
    whole, weight = nearest(total, step_g), sum(parts)
    for share, part in zip(split(total, parts, step_g), parts, strict=True):
        assert share % step_g == 0
        assert abs(share * weight - whole * part) < step_g * weight


@given(total=masses, parts=some_parts, step_g=steps)
def test_who_takes_more_never_gets_less_and_the_earlier_of_equals_is_served_first(
    total, parts, step_g
):
    shares = split(total, parts, step_g)
    in_order = sorted(range(len(parts)), key=lambda n: (-parts[n], n))
    assert all(shares[a] >= shares[b] for a, b in pairwise(in_order))


@given(total=masses, parts=some_parts, step_g=steps, data=st.data())
def test_the_order_of_parts_changes_no_share_but_among_equals(total, parts, step_g, data):
    other_order = data.draw(st.permutations(parts))
    shares, others = (split(total, order, step_g) for order in (parts, other_order))
    assert sorted(zip(parts, shares, strict=True)) == sorted(zip(other_order, others, strict=True))


@given(exact_g=masses, each_g=st.decimals(min_value=1, max_value=90, places=2))
def test_one_counted_thing_fewer_would_not_do(exact_g, each_g):
    take = count(exact_g, each_g, "egg").take
    assert take * each_g >= exact_g
    assert take == 0 or (take - 1) * each_g < exact_g
