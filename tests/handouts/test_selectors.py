"""From a class to papers: the plan are those of the class, and privacy is kept."""

from dataclasses import replace
from decimal import Decimal

import pytest
from django.test.utils import CaptureQueriesContext

from classes.core.demand import TaughtAmounts
from classes.core.keys import PersonKey
from classes.enrollment.models import Enrollment
from classes.models import TaughtRecipe
from handouts.kinds.handout import handouts
from handouts.kinds.preparation import preparation_list
from handouts.kinds.station_cards import station_cards
from handouts.paper import NothingTaught
from handouts.preparing.listed import listed
from handouts.preparing.placed import placed, places_of
from handouts.safety.hazards import hazards_of
from handouts.safety.values import ALWAYS, Hazard
from recipes.core.scaling import scale
from recipes.models import Ingredient, Revision
from tests.factories import KitchenFactory, RevisionFactory, planned_class
from tests.handouts.conftest import NOW, another_class, plan_of


def grams(*texts):
    return [Decimal(text) for text in texts]


def roster(plan):
    return plan.students


def first_handout(plan):
    return handouts(plan, roster(plan)[:1], NOW)[0]


def test_a_handout_holds_the_amounts_of_the_class(plan):
    (recipe,) = first_handout(plan).recipes
    (part,) = recipe.parts
    assert [line.amount.weighed.grams for line in part.lines] == grams(
        "259", "46", "207", "6.1", "2.7"
    )
    assert recipe.sheet is plan.amounts.recipes[0].amounts.persons[0].sheet
    assert recipe.sheet.weighed_dough_g == Decimal("520.8")
    assert [line.percent for line in part.lines] == grams("85", "15", "68", "2", "0.9")
    assert recipe.pieces == ((1, Decimal(520)),)


def test_everybody_on_the_roster_gets_a_handout_and_empty_seats_get_none(demo):
    Enrollment.objects.filter(session=demo, position__gte=5).delete()
    plan = plan_of(demo)
    assert len(plan.people) == 12
    papers = handouts(plan, roster(plan), NOW)
    assert [paper.name for paper in papers] == [one.name for one in roster(plan)]
    listed = preparation_list(plan, NOW).benches
    assert [name for station in listed for name in station.people][5:] == [
        f"Seat {n}" for n in range(6, 13)
    ]


def test_the_demo_class_brings_the_hazards_that_it_holds(plan):
    assert hazards_of(plan) == {
        *ALWAYS,
        Hazard.FLOUR,
        Hazard.OVEN,
        Hazard.MIXER,
        Hazard.BLADE,
    }


def test_egg_butter_and_a_roux_bring_more_hazards(demo):
    rolls = plan_of(another_class(demo, "Pillow rolls", students=2))
    found = hazards_of(rolls)
    assert found >= {Hazard.RAW_EGG, Hazard.CHILLED, Hazard.STOVE}
    assert Hazard.BLADE not in found


def test_a_kitchen_without_mixers_needs_no_word_on_them(demo):
    demo.kitchen.mixers.all().delete()
    assert Hazard.MIXER not in hazards_of(plan_of(demo))


def test_a_recipe_without_steps_counts_as_cut_and_baked(db):
    found = hazards_of(plan_of(planned_class()))
    assert found >= {Hazard.OVEN, Hazard.BLADE}


def test_a_recipe_that_is_only_mixed_is_not_baked(db):
    session = planned_class()
    revision = RevisionFactory(recipe__owner=session.instructor, steps=[{"kind": "mix"}])
    TaughtRecipe.objects.filter(session=session).update(revision=revision)
    assert Hazard.OVEN not in hazards_of(plan_of(session))


def test_stations_come_in_the_kitchens_order_whoever_stands_first_on_the_roster(demo):
    benches = list(demo.stations.all())
    first = demo.enrollments.first()
    first.station = benches[2]
    first.save()
    cards = station_cards(plan_of(demo), NOW)
    assert [card.station for card in cards] == ["Bench 1", "Bench 2", "Bench 3"]


def test_a_station_with_nobody_has_no_card(demo):
    demo.count_empty_seats = False
    demo.save()
    demo.enrollments.exclude(position=0).delete()
    assert [card.station for card in station_cards(plan_of(demo), NOW)] == ["Bench 1"]


def weighed(portions):
    return [(one.weighed, one.exact_g) for one in portions]


def lines_of(sheet):
    return [(line.weighed, line.exact_g) for part in sheet.components for line in part.lines]


def test_the_list_holds_the_stations_and_everybodys_amounts(plan):
    amounts = plan.amounts.recipes[0].amounts
    (table,) = preparation_list(plan, NOW).tables
    (part,) = table.parts
    for n, at in enumerate(amounts.stations):
        cells = [row.cells[n] for row in part.rows]
        assert {cell.portions[0].whose for cell in cells} == {
            tuple(baker.name for baker in at.bakers)
        }
        assert weighed(cell.together for cell in cells) == lines_of(at.sheet)
        assert weighed(cell.portions[0] for cell in cells) == lines_of(amounts.persons[0].sheet)
        total = table.total.cells[n]
        assert total.together.grams == at.sheet.weighed_dough_g == Decimal("2081.3")
        assert [(one.grams, one.exact_g) for one in total.portions] == [(Decimal("520.8"), 520)]


def test_eight_places_stand_in_two_tables_of_four(demo):
    session = another_class(demo, "Hearth loaf", students=7)
    for n, student in enumerate(session.enrollments.all()):
        student.station = session.kitchen.stations.create(position=20 + n, name=f"Table {n}")
        student.save()
        session.stations.add(student.station)
    tables = preparation_list(plan_of(session), NOW).tables
    assert [len(table.places) for table in tables] == [4, 4]
    assert tables[1].places[-1].name == "Demonstration"


def test_whoever_weighs_another_amount_at_a_station_is_named(demo):
    ada = demo.enrollments.first()
    plan = plan_of(demo)
    twice = replace(
        plan.amounts.recipes[0].amounts.demand.bakers[0], pieces=2, key=PersonKey.student(ada.pk)
    )
    demand = plan.amounts.recipes[0].amounts.demand
    recipe = TaughtAmounts(
        plan.amounts.recipes[0].taught,
        scale(
            plan.amounts.recipes[0].taught.formula,
            replace(demand, bakers=(twice, *demand.bakers[1:])),
        ),
    )
    row = placed(recipe, places_of(plan, recipe)).parts[0].rows[0]
    assert [(one.whose, one.grams) for one in row.cells[0].portions] == [
        (("Ada Fennimore",), 517),
        (("Bram Okell", "Cass Thornby", "Dov Larkspur"), 259),
    ]
    assert row.cells[0].named
    assert not row.cells[1].named
    listing = listed(plan.shopping, [(recipe, placed(recipe, places_of(plan, recipe)))])
    flour = next(one for group in listing for one in group.items if one.name == "Bread flour")
    assert [(one.times, one.portion.grams, one.named) for one in flour.uses[0].each] == [
        (12, 259, False),
        (1, 517, True),
    ]


def test_somebody_alone_at_a_station_is_not_added_up(demo):
    (table,) = preparation_list(plan_of(another_class(demo, "Hearth loaf", students=3)), NOW).tables
    assert [cell.together for cell in table.total.cells] == [None] * 4


def test_people_with_the_same_dough_share_a_column_of_the_card(plan):
    card = station_cards(plan, NOW)[0]
    assert [table.columns for table in card.recipe.tables] == [("Each",)]


def test_a_tub_is_divided_as_the_plan_divides_it(two_day):
    (division,) = two_day.amounts.recipes[0].amounts.divisions
    paper = preparation_list(two_day, NOW)
    (tub,) = paper.tubs
    assert tub.division == division
    shares = [cell.together.grams for cell in paper.tables[0].tubs[0].cells]
    assert shares == [share for _, share in division.shares]
    assert sum(shares) + division.kept_back_g == division.weighed_g == Decimal(1859)


def test_two_tubs_of_the_same_name_keep_their_own_shares(db):
    session = planned_class(students=2)
    soaker = {"kind": "soaker", "name": "Soaker"}
    small = RevisionFactory(
        recipe__owner=session.instructor,
        parts=[soaker, {**soaker, "lines": [(session.taught.get().dusting_flour, 20)]}, {}],
        piece_g=340,
    )
    TaughtRecipe.objects.filter(session=session).update(revision=small, piece_g=340)
    plan = plan_of(session)
    tubs = station_cards(plan, NOW)[0].recipe.tables[0].tubs
    amounts = plan.amounts.recipes[0].amounts
    assert [tub.together[0].grams for tub in tubs] == [
        division.shares[0][1] for division in amounts.divisions
    ]
    assert tubs[0].together != tubs[1].together


def test_what_is_printed_from_a_tub_is_in_the_total_of_its_column(two_day):
    table = station_cards(two_day, NOW)[0].recipe.tables[0]
    own = [row.each[0].weighed.grams for row in table.parts[0].rows]
    assert table.each_lines_g == (table.tubs[0].each[0][0].grams + sum(own),)


def test_every_demonstration_is_counted_without_a_sum(demo):
    TaughtRecipe.objects.filter(session=demo).update(demonstration_batches=2)
    (table,) = preparation_list(plan_of(demo), NOW).tables
    (shown,) = table.total.cells[-1].portions
    assert shown.whose == ("Demonstration 1", "Demonstration 2")
    assert table.total.cells[-1].together is None


def test_what_the_instructor_brings_has_a_column_for_each_stage(demo):
    TaughtRecipe.objects.filter(session=demo).update(brings_mixed=True, brings_shaped=True)
    (table,) = preparation_list(plan_of(demo), NOW).tables
    assert [place.name for place in table.places[3:]] == [
        "Demonstration",
        "13 loaves brought mixed",
        "13 loaves brought shaped",
    ]
    assert [cell.portions[0].exact_g for cell in table.total.cells[4:]] == [13 * 520] * 2


def test_people_of_a_variant_are_brought_their_variant(demo):
    taught = demo.taught.get()
    taught.brings_risen = True
    taught.save()
    variant = taught.revision.variants.create(name="Other flour")
    swapped, other = Ingredient.objects.filter(key__in=("bread-flour", "rye-flour")).order_by("key")
    variant.swaps.create(position=0, replaced=swapped, by=other)
    for student in demo.enrollments.all()[:2]:
        student.variants.add(variant)
    usual, own = plan_of(demo).amounts.recipes
    assert [one.baker.pieces for one in usual.amounts.brought] == [11]
    assert [one.baker.pieces for one in own.amounts.brought] == [2]
    assert swapped.key not in {
        line.ingredient.key
        for dough in own.amounts.brought
        for part in dough.sheet.components
        for line in part.lines
    }


def test_a_class_without_demonstrations_has_no_column_for_them(two_day):
    (table,) = preparation_list(two_day, NOW).tables
    assert [place.name for place in table.places] == ["Bench 1", "Bench 2", "Bench 3"]


def test_what_people_must_not_eat_stands_at_their_station_on_the_list(plan):
    benches = preparation_list(plan, NOW).benches
    assert [bench.private for bench in benches] == [
        (("Cass Thornby", "sesame"),),
        (("Gwen Marlow", "walnuts and other tree nuts"),),
        (),
    ]


def test_marked_allergens_stand_on_the_list_before_the_words(demo):
    told = {"allergens": ["sesame", "milk"], "must_not_eat": "no butter", "diet": "told"}
    demo.enrollments.filter(name="Gwen Marlow").update(**told)
    benches = preparation_list(plan_of(demo), NOW).benches
    assert benches[1].private == (("Gwen Marlow", "sesame, milk; no butter"),)


def test_what_people_must_not_eat_is_in_no_other_paper(plan):
    papers = [
        *handouts(plan, roster(plan), NOW),
        *station_cards(plan, NOW),
    ]
    assert not [paper for paper in papers if "walnuts" in repr(paper)]


def test_a_class_without_recipes_has_no_papers(demo):
    demo.taught.all().delete()
    plan = plan_of(demo)
    for make in (preparation_list, station_cards):
        with pytest.raises(NothingTaught):
            make(plan, NOW)
    with pytest.raises(NothingTaught):
        handouts(plan, roster(plan), NOW)


def test_the_papers_of_a_class_keep_its_revision(demo):
    taught = Revision.objects.get(title="Hearth loaf")
    Revision.objects.filter(pk=taught.pk).update(is_current=False)
    RevisionFactory(recipe=taught.recipe, number=2, title="Hearth loaf")
    assert first_handout(plan_of(demo)).head.revisions == ("Hearth loaf, revision 1",)


def all_handouts(plan, printed_at):
    return handouts(plan, roster(plan), printed_at)


@pytest.mark.parametrize("make", [all_handouts, preparation_list, station_cards])
def test_papers_take_the_same_queries_for_6_and_for_60_students(db, connection_queries, make):
    counts = []
    for students in (6, 60):
        session = planned_class(
            students=students, seats=students, kitchen=KitchenFactory(stations=15)
        )
        with connection_queries() as queries:
            made = make(plan_of(session), NOW)
        assert make is not all_handouts or len(made) == students
        counts.append(len(queries))
    assert counts[0] == counts[1]


@pytest.fixture
def connection_queries():
    from django.db import connection

    return lambda: CaptureQueriesContext(connection)
