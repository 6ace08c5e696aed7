"""What must hold for any bread and any class."""

from collections import defaultdict
from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from recipes.core.formula import overall, proportions
from recipes.core.scaling import batch, scale
from tests.recipes.core.strategies import decimals, demands, formulas, kitchens

A_HAIR = Decimal("1e-8")


def near(one, other):
    return abs(one - other) <= A_HAIR


def same_masses(one, other):
    return one.keys() == other.keys() and all(near(one[key], other[key]) for key in one)


def exact_by_ingredient(sheets):
    totals = defaultdict(Decimal)
    for sheet in sheets:
        for part in sheet.components:
            for line in part.lines:
                totals[line.ingredient.key] += line.exact_g
    return totals


def sheets_of(persons):
    return [person.sheet for person in persons]


@given(formulas(), demands())
def test_mass_is_conserved(formula, demand):
    amounts = scale(formula, demand)
    persons = exact_by_ingredient(sheets_of(amounts.persons))
    shown = exact_by_ingredient(sheets_of(amounts.shown))
    brought = exact_by_ingredient(sheets_of(amounts.brought))
    for need in amounts.needs:
        key = need.ingredient.key
        assert near(need.bakers_g, persons[key])
        assert near(need.demonstrations_g, shown[key])
        assert near(need.brought_g, brought[key])
        doughs_g = persons[key] + shown[key] + brought[key]
        assert near(need.exact_g, doughs_g + need.loss_g + need.dusting_g)


@given(formulas(), demands())
def test_needs_are_the_pooled_sheet_and_the_dusting_flour(formula, demand):
    amounts = scale(formula, demand)
    undusted = {
        need.ingredient.key: need.exact_g - need.dusting_g
        for need in amounts.needs
        if need.exact_g > need.dusting_g
    }
    assert same_masses(exact_by_ingredient([amounts.pooled]), undusted)
    dusting = demand.dusting_g * demand.heads if demand.dusting_flour else 0
    assert sum(need.dusting_g for need in amounts.needs) == dusting


@given(formulas(), demands())
def test_the_loss_is_its_share_of_all_dough(formula, demand):
    amounts = scale(formula, demand)
    everybody = sum(baker.dough_g for baker in (*demand.bakers, *demand.demonstrations))
    assert near(sum(need.loss_g for need in amounts.needs), everybody * demand.handling_loss)
    assert amounts.pooled.dough_g == everybody * (1 + demand.handling_loss)


@given(formulas(), demands())
def test_a_station_is_the_sum_of_its_persons(formula, demand):
    amounts = scale(formula, demand)
    for at in amounts.stations:
        own = [one for one in amounts.persons if one.baker.station == at.station]
        assert tuple(one.baker for one in own) == at.bakers
        assert same_masses(exact_by_ingredient([at.sheet]), exact_by_ingredient(sheets_of(own)))
    assert sum(len(at.bakers) for at in amounts.stations) == len(demand.bakers)


@given(formulas(), demands())
def test_parts_add_up_to_the_dough_and_printed_totals_to_their_lines(formula, demand):
    amounts = scale(formula, demand)
    sheets = [amounts.pooled, *sheets_of(amounts.persons), *(at.sheet for at in amounts.stations)]
    for sheet in sheets:
        into_dough = [part for part in sheet.components if part.kind.goes_into_dough]
        assert near(sum(part.exact_g for part in into_dough), sheet.dough_g)
        assert sheet.weighed_dough_g == sum(part.weighed_g for part in into_dough)
        for part in sheet.components:
            assert near(sum(line.exact_g for line in part.lines), part.exact_g)
            printed = [part.tub] if part.tub else [line.weighed for line in part.lines]
            assert part.weighed_g == sum(weighed.grams for weighed in printed)


@given(formulas(), demands())
def test_every_line_is_weighed_from_its_own_exact_mass(formula, demand):
    amounts = scale(formula, demand)
    for sheet in (amounts.pooled, *sheets_of(amounts.persons)):
        for part in sheet.components:
            for line in part.lines:
                assert line.weighed == demand.scales.weigh(line.exact_g)
                assert (line.count is not None) == (line.ingredient.each_g is not None)


@given(formulas(), decimals("1", "5000"), st.integers(2, 30), kitchens)
def test_scaling_is_linear(formula, dough_g, times, scales):
    once = exact_by_ingredient([batch(formula, dough_g, scales)])
    often = exact_by_ingredient([batch(formula, dough_g * times, scales)])
    assert same_masses(often, {key: mass * times for key, mass in once.items()})


@given(formulas(), decimals("1", "5000"), decimals("1", "5000"))
def test_scaling_two_doughs_is_scaling_their_sum(formula, one_g, other_g):
    apart = exact_by_ingredient([batch(formula, one_g), batch(formula, other_g)])
    assert same_masses(exact_by_ingredient([batch(formula, one_g + other_g)]), apart)


def times_as_much(formula, times):
    """The same bread written down for a batch so many times as large."""

    def more(part):
        pieces = part.for_pieces
        lines = tuple(replace(line, mass_g=line.mass_g * times) for line in part.lines)
        return replace(part, lines=lines, for_pieces=pieces and pieces * times)

    return replace(formula, components=tuple(more(part) for part in formula.components))


@given(formulas(), st.integers(2, 40))
def test_percentages_do_not_change_with_the_size_of_the_batch(formula, times):
    larger = times_as_much(formula, times)
    assert proportions(larger) == proportions(formula)
    assert [line.percent for line in overall(larger)] == [line.percent for line in overall(formula)]


@given(formulas(), demands(), st.integers(2, 40))
def test_the_size_of_the_written_batch_changes_nothing_printed(formula, demand, times):
    one, other = scale(formula, demand), scale(times_as_much(formula, times), demand)
    assert printed(one) == printed(other)
    assert one.divisions == other.divisions


def printed(amounts):
    sheets = [amounts.pooled, *sheets_of(amounts.persons)]
    return [
        (line.ingredient.key, line.weighed, line.count and line.count.take)
        for sheet in sheets
        for part in sheet.components
        for line in part.lines
    ]


@given(formulas(), demands())
def test_scaled_percentages_are_those_of_the_formula(formula, demand):
    pooled = scale(formula, demand).pooled
    lines = [line for part in pooled.components if part.kind.goes_into_dough for line in part.lines]
    flour = sum(line.exact_g for line in lines if line.ingredient.is_flour)
    got = defaultdict(Decimal)
    for line in lines:
        got[line.ingredient.key] += line.exact_g * 100 / flour
    wanted = {line.ingredient.key: line.percent for line in overall(formula)}
    assert all(abs(got[key] / wanted[key] - 1) <= A_HAIR for key in wanted | got)


@given(formulas(), demands(), st.data())
def test_the_order_of_lines_components_and_people_changes_no_total(formula, demand, data):
    def shuffled(items):
        return tuple(data.draw(st.permutations(items)))

    other_formula = replace(
        formula,
        components=tuple(
            replace(part, lines=shuffled(part.lines)) for part in shuffled(formula.components)
        ),
    )
    other_demand = replace(
        demand,
        bakers=shuffled(demand.bakers),
        demonstrations=shuffled(demand.demonstrations),
    )
    one, other = scale(formula, demand), scale(other_formula, other_demand)
    assert needs_by_key(one) == needs_by_key(other)
    assert one.pooled.dough_g == other.pooled.dough_g
    assert one.pooled.weighed_dough_g == other.pooled.weighed_dough_g
    assert printed_totals(one) == printed_totals(other)
    assert proportions(other_formula) == proportions(formula)


def needs_by_key(amounts):
    return {need.ingredient.key: need.exact_g for need in amounts.needs}


def printed_totals(amounts):
    """What each station weighs, whatever the order, and what each takes from the tubs."""
    stations = sorted((at.station, at.sheet.weighed_dough_g) for at in amounts.stations)
    divisions = sorted((one.component, one.weighed_g, one.kept_back_g) for one in amounts.divisions)
    return stations, divisions


@given(formulas(), demands())
def test_what_is_made_in_bulk_is_shared_out_to_the_last_step(formula, demand):
    amounts = scale(formula, demand)
    in_bulk = [part for part in amounts.pooled.components if part.kind.made_in_bulk]
    assert [one.component for one in amounts.divisions] == [part.name for part in in_bulk]
    for division in amounts.divisions:
        shares = sum(grams for _, grams in division.shares)
        assert shares + division.kept_back_g == division.weighed_g
        step_g = max(division.step_g, demand.scales.weigh(division.exact_g).step_g)
        assert abs(division.weighed_g - division.exact_g) <= step_g


@given(formulas(), demands())
def test_pieces_keep_the_sum_of_the_dough_and_differ_by_a_gram_at_most(formula, demand):
    for person in scale(formula, demand).persons:
        pieces = person.piece_masses()
        assert len(pieces) == person.baker.pieces
        assert abs(sum(pieces) - person.sheet.dough_g) <= Decimal("0.5")
        assert max(pieces) - min(pieces) <= 1


@given(formulas(), demands())
def test_the_same_class_gives_the_same_amounts(formula, demand):
    assert scale(formula, demand) == scale(formula, demand)
