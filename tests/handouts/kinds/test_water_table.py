"""The water table: the figures of the page on water, and what is missing where one is not known."""

from __future__ import annotations

import re

import pytest

from classes.models import Kitchen, TaughtRecipe
from handouts.checking.agreement import text_of
from handouts.kind import Material, NotPrinted
from handouts.kinds.water_table import KIND, water_table
from handouts.press.render import PageSize, to_html, to_pdf
from recipes.core.choices import StepKind, Worked
from recipes.models import FormulaLine, Revision, Step
from tests.handouts.conftest import NOW, another_class, plan_of
from tests.handouts.pdfs import page_texts

HOT = {"room_c": 31, "flour_c": 29, "tap_c": 24}
US = {"guidance": "us", "time_zone": "America/New_York"}


def doughs(session):
    papers = water_table(plan_of(session), NOW)
    return papers[0].doughs if papers else ()


def middle(dough):
    (cell,) = (cell for row in dough.rows for cell in row.cells if cell.is_expected)
    return cell


def set_kitchen(demo, **fields):
    Kitchen.objects.filter(pk=demo.kitchen.pk).update(**fields)


def page_of(client, demo, slug, dough_g, **asked):
    """What the recipe's page on water says for a mass of dough in the kitchen of the class."""
    asked |= {"kitchen": demo.kitchen.pk, "amount": dough_g, "amount_in": "g"}
    return text_of(client.get(f"/recipes/{slug}/water/", asked).content.decode())


def squeezed(text):
    return text.replace("\N{NO-BREAK SPACE}", " ")


SAME = {
    "by hand": ("Hearth loaf", "hearth-loaf", 520, {}),
    "with a preferment": ("Two-day rye batard", "two-day-rye-batard", 600, {}),
    "a milk dough with a hot roux": ("Pillow rolls", "pillow-rolls", 400, {}),
    "oil and seeds": ("Seeded ring", "seeded-ring", 400, {}),
}


@pytest.mark.parametrize("case", SAME)
@pytest.mark.parametrize("kitchen", [{}, HOT, {"room_c": 4, "flour_c": 3, "tap_c": 6}], ids=str)
def test_the_middle_is_what_the_page_on_water_says(demo, teacher, case, kitchen):
    title, slug, *_ = SAME[case]
    set_kitchen(demo, **kitchen)
    session = another_class(demo, title, students=3, demonstration_batches=0)
    (dough,) = doughs(session)
    (person, *_) = plan_of(session).amounts.recipes[0].amounts.persons
    page = page_of(teacher, demo, slug, person.sheet.dough_g)
    if dough.today is None:
        assert "Refused" in page
        assert middle(dough).why in ("too hot", "too cold") if dough.rows else dough.why
        return
    both = squeezed(f"{dough.today.use} ({dough.today.other})")
    assert both in page
    assert middle(dough).use == dough.today.use
    if middle(dough).ice:
        assert f"Ice {middle(dough).ice} g" in page


def test_a_demonstration_by_mixer_has_its_own_table_and_the_pages_figure(demo, teacher):
    by_hand, shown = doughs(demo)
    assert (by_hand.mixed, shown.mixed) == (
        "by hand",
        "demonstration, by Mixer 1 or Mixer 2",
    )
    mixer = demo.kitchen.mixers.first()
    page = page_of(teacher, demo, "hearth-loaf", 520, mixing=f"mixer-{mixer.pk}")
    assert squeezed(f"{shown.today.use} ({shown.today.other})") in page
    assert shown.today.use != by_hand.today.use


def test_every_square_is_the_page_at_its_room_and_flour(demo, teacher):
    (dough,) = doughs(another_class(demo, "Hearth loaf", students=3, demonstration_batches=0))
    for row in dough.rows[::2]:
        for flour, cell in list(zip(dough.flours, row.cells, strict=True))[::4]:
            asked = {"room_c": row.room[:2], "flour_c": flour[:2]}
            page = page_of(teacher, demo, "hearth-loaf", 520, **asked)
            assert f"{squeezed(cell.use)} (" in page


def test_amounts_are_those_of_the_class(demo):
    by_hand, _ = doughs(demo)
    assert by_hand.amounts == "207 g each, 2484 g for 12"
    set_kitchen(demo, **HOT)
    by_hand, _ = doughs(demo)
    # 3 x 25 - 31 - 29 - 3 = 12 °C; 207 x 4.1868 x (24 - 12) / (334.944 + 4.1868 x 24) = 23.9
    assert by_hand.amounts == "183 g and 24 g ice each, 2484 g for 12"
    assert by_hand.ice_of == "207"


MISSING = {
    "a dough temperature": "the recipe names no dough temperature",
    "a mixer measured": "how much Mixer 1 and Mixer 2 warms the dough: measure it",
    "by hand or by mixer": "by hand or by mixer, the recipe does not say",
    "how warm the poolish is": "how warm the preferment will be, the recipe does not say",
}


def take_away(demo, what):
    revision = Revision.objects.get(title="Hearth loaf")
    if what == "a dough temperature":
        Revision.objects.filter(pk=revision.pk).update(dough_temperature_c=None)
    if what in ("a mixer measured", "by hand or by mixer"):
        TaughtRecipe.objects.filter(session=demo).update(mixing="mixer")
    if what == "a mixer measured":
        demo.kitchen.mixers.update(friction_c=None)
    if what == "by hand or by mixer":
        Step.objects.filter(revision=revision).update(worked="")
    if what == "how warm the poolish is":
        revision.components.create(kind="preferment", name="Poolish", position=9).lines.create(
            ingredient=FormulaLine.objects.filter(component__revision=revision)[0].ingredient,
            mass_g=10,
            position=0,
        )
        for step in Step.objects.filter(revision=revision).order_by("-position"):
            Step.objects.filter(pk=step.pk).update(position=step.position + 1)
        scalded = {"waiting_min": 60, "temperature_c": 60, "worked": Worked.HAND}
        Step.objects.create(revision=revision, kind=StepKind.PREPARE, position=0, **scalded)


@pytest.mark.parametrize("what", MISSING)
def test_what_is_not_known_is_asked_and_named_and_no_figure_stands_for_it(demo, what):
    take_away(demo, what)
    first = doughs(demo)[0]
    assert (first.today, first.rows) == (None, ())
    assert first.why == MISSING[what]
    told = text_of(to_html(water_table(plan_of(demo), NOW)[0]))
    assert f"Water: ask ? {MISSING[what]}" in told


def test_mixers_that_warm_a_dough_differently_have_a_table_each(demo):
    TaughtRecipe.objects.filter(session=demo).update(mixing="mixer")
    demo.kitchen.mixers.filter(name="Mixer 2").update(friction_c=6)
    one, two = doughs(demo)
    assert (one.mixed, two.mixed) == ("by Mixer 1", "by Mixer 2")
    assert (one.today.use, two.today.use) == ("23 °C".replace(" ", "\xa0"), "28\xa0°C")


def test_beyond_the_yeasts_limit_a_square_says_so_and_the_others_stay(demo):
    set_kitchen(demo, room_c=12, flour_c=10)
    dough = doughs(demo)[0]
    assert dough.today.use == "50\xa0°C"
    cells = [cell for row in dough.rows for cell in row.cells]
    hot = [cell for cell in cells if cell.why]
    assert {(cell.use, cell.why) for cell in hot} == {("", "too hot")}
    assert 0 < len(hot) < 25


def test_a_us_kitchen_reads_fahrenheit_first_in_steps_of_4(demo):
    set_kitchen(demo, **US)
    (paper,) = water_table(plan_of(demo), NOW)
    dough = paper.doughs[0]
    assert paper.expected == "room 70 °F, flour 68 °F, tap water 57 °F".replace(" °", "\xa0°")
    assert [int(flour[:2]) for flour in dough.flours] == [60, 64, 68, 72, 76]
    assert (dough.today.use, dough.today.other) == ("88\xa0°F", "31\xa0°C")


def test_variants_with_the_same_water_share_a_table(demo):
    variant = demo.taught.get().revision.variants.create(name="Other flour")
    rows = FormulaLine.objects.filter(component__revision=variant.revision).select_related(
        "ingredient"
    )
    flours = [row.ingredient for row in rows if row.ingredient.kind == "flour"]
    variant.swaps.create(position=0, replaced=flours[0], by=flours[1])
    demo.enrollments.first().variants.add(variant)
    assert len(plan_of(demo).amounts.recipes) == 2
    by_hand, *_ = doughs(demo)
    assert by_hand.title == "Hearth loaf"
    assert len(by_hand.labels) == 2
    assert by_hand.amounts == "207 g each, 2484 g for 12"


def test_a_class_whose_doughs_take_no_liquid_has_no_table(demo):
    FormulaLine.objects.filter(ingredient__kind="liquid").delete()
    with pytest.raises(NotPrinted) as refused:
        KIND.leaves(Material(plan_of(demo), NOW))
    assert "No water" in refused.value.heading


@pytest.mark.parametrize("page_size", PageSize)
def test_two_doughs_are_one_page_even_with_ice(demo, silent, page_size):
    set_kitchen(demo, **HOT, **US)
    pages = page_texts(to_pdf(water_table(plan_of(demo), NOW), page_size))
    assert re.findall(r"(\d+) g ice", pages[0])
    assert pages[0].count("Measured:") == 2
