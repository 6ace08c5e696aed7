"""Every yeast, salt, egg and flour of a batch, in what is there instead."""

from decimal import Decimal

import pytest

from recipes.core.batch.card import formula_card
from recipes.core.choices import ComponentKind
from recipes.core.exchange.kinds import SALT_KINDS, TEXTBOOK, YEAST_FACTORS, FlourProtein, YeastForm
from recipes.core.exchange.sheet import Asked, Staples, exchange_sheet, yeast_form
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line
from recipes.core.weighing import Scales

SCALES = Scales((Decimal(1), Decimal("0.1")))
BREAD = FlourProtein("Bread flour", Decimal("11.98"), is_wheat=True)
CAKE = FlourProtein("Cake flour", Decimal("8.2"), is_wheat=True)


def formula(yeast="instant-yeast", name="Instant yeast"):
    lines = (
        Line(FormulaIngredient("bread-flour", "Bread flour", is_flour=True), Decimal(500)),
        Line(FormulaIngredient("water", "Water"), Decimal(325)),
        Line(FormulaIngredient("egg", "Egg, whole", each_g=Decimal(50)), Decimal(100)),
        Line(FormulaIngredient("egg-yolk", "Egg yolk", each_g=Decimal(17)), Decimal(40)),
        Line(FormulaIngredient("table-salt", "Table salt"), Decimal(12)),
        Line(FormulaIngredient(yeast, name), Decimal(10)),
    )
    return Formula("Bread", (FormulaComponent(ComponentKind.DOUGH, "Dough", lines),), Decimal(987))


def staples(yeast="instant-yeast"):
    kinds = {
        "bread-flour": "flour",
        "egg": "egg",
        "egg-yolk": "egg",
        "table-salt": "salt",
        yeast: "yeast",
    }
    return Staples(kinds, {"bread-flour": BREAD})


def sheet(asked=Asked(), *, times=1, yeast="instant-yeast", name="Instant yeast"):  # noqa: B008
    card = formula_card(formula(yeast, name), Decimal(987 * times), SCALES)
    return exchange_sheet(card, staples(yeast), asked, SCALES)


def test_instant_yeast_becomes_three_times_the_fresh_and_water_makes_way():
    line = sheet().yeasts[0]
    fresh = next(one for one in line.answers if one.form is YeastForm.FRESH)
    assert line.form is YeastForm.INSTANT
    assert round(fresh.chosen.mass_g, 2) == Decimal("30.30")
    assert fresh.weighed.grams == Decimal("30.3")
    assert round(fresh.water_out_g, 2) == Decimal("20.30")
    assert fresh.water_in_g is None


def test_fresh_yeast_becomes_less_of_dry_and_water_is_added():
    line = sheet(yeast="fresh-yeast", name="Fresh yeast").yeasts[0]
    instant = next(one for one in line.answers if one.form is YeastForm.INSTANT)
    assert instant.chosen.mass_g == Decimal("3.30")
    assert instant.water_in_g == Decimal("6.70")
    assert instant.water_out_g is None


def test_between_dry_forms_the_water_stays():
    line = sheet().yeasts[0]
    active = next(one for one in line.answers if one.form is YeastForm.ACTIVE_DRY)
    assert active.water_in_g is None
    assert active.water_out_g is None


def test_published_factors_disagree_and_are_listed_least_first():
    fresh = sheet(yeast="active-dry-yeast", name="Active dry yeast").yeasts[0].answers[0]
    masses = [one.mass_g for one in fresh.published]
    assert masses == sorted(masses)
    assert (fresh.least_g, round(fresh.most_g, 2)) == (20, Decimal("26.67"))


def test_a_source_that_is_silent_gives_no_answer_of_its_own():
    silent = next(one for one in YEAST_FACTORS if one.instant is None)
    answers = sheet(Asked(factors=silent)).yeasts[0].answers
    assert all(one.chosen is None and one.weighed is None for one in answers)
    assert all(one.published for one in answers)
    assert all(one.water_in_g is None and one.water_out_g is None for one in answers)


@pytest.mark.parametrize(
    ("key", "name", "form"),
    [
        ("fresh-yeast", "Whatever", YeastForm.FRESH),
        ("own-1", "Mill's Instant Yeast", YeastForm.INSTANT),
        ("own-2", "Active-dry yeast, tin", YeastForm.ACTIVE_DRY),
        ("own-3", "Yeast", None),
        ("own-4", "Fresh or instant yeast", None),
    ],
)
def test_a_yeast_is_known_by_key_or_by_the_one_form_in_its_name(key, name, form):
    assert yeast_form(key, name) is form


def test_a_yeast_of_unknown_form_waits_for_an_answer():
    assert sheet(yeast="own", name="Yeast").yeasts[0].answers == ()
    told = sheet(Asked(unknown_form=YeastForm.INSTANT), yeast="own", name="Yeast")
    assert told.yeasts[0].form is YeastForm.INSTANT
    assert len(told.yeasts[0].answers) == 2


def test_salt_has_the_same_mass_in_every_kind_and_spoons_only_where_density_is_known():
    line = sheet().salts[0]
    assert [one.kind for one in line.answers] == list(SALT_KINDS)
    assert {one.mass_g for one in line.answers} == {Decimal(12)}
    assert [one.teaspoons is None for one in line.answers] == [False, False, True, True]
    assert line.answers[0].teaspoons == 2


def test_whole_eggs_come_in_every_size_and_yolks_do_not():
    eggs = {line.place.name: line for line in sheet().eggs}
    large = next(one for one in eggs["Egg, whole"].answers if one.size.key == "us-large")
    assert large.count.take == 2
    assert eggs["Egg yolk"].answers == ()
    assert eggs["Egg yolk"].place.amount.count.take == 3


def test_a_flour_at_hand_brings_a_note():
    assert sheet().flours[0].note == ""
    line = sheet(Asked(flour=CAKE)).flours[0]
    assert line.note.startswith("Less protein")
    assert not line.is_at_hand
    assert sheet(Asked(flour=BREAD)).flours[0].is_at_hand


def test_all_of_it_scales_with_the_batch():
    one, three = sheet(), sheet(times=3)
    for small, large in zip(one.yeasts[0].answers, three.yeasts[0].answers, strict=True):
        assert round(large.chosen.mass_g, 9) == round(3 * small.chosen.mass_g, 9)
    assert three.salts[0].answers[0].mass_g == 36
    assert three.yeasts[0].place.part == "Dough"
    assert Asked().factors is TEXTBOOK
