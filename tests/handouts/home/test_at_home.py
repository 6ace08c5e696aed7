"""A student's recipes for the kitchen at home: amounts, spoons, yeast, salt, times and heat.

The worked numbers are of the hearth loaf. The yeast follows the project's own factors: those
that kitchens quote for it come out of no published set.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from classes.access import student_token
from classes.enrollment.models import Enrollment
from classes.home_kitchen.values import HomeKitchen, HomePan
from classes.home_kitchen.words import warmth
from classes.selectors import class_plan
from handouts.kind import Material
from handouts.kinds.at_home import KIND
from handouts.safety.cautions import DEFERRAL
from handouts.safety.values import Hazard
from recipes.core.batch.flour_cups import flour_density
from recipes.core.batch.spoons import scoops_of, spoon_set, teaspoon_density
from recipes.core.exchange.kinds import TEXTBOOK
from recipes.core.regions import HomeRegion
from recipes.forms.fields import HeightField
from recipes.models import Component, Ingredient
from recipes.services import set_home_region
from tests.classes.demo_class import demo_class
from tests.classes.enrollment.enrolled import home_page_of, page_of
from tests.handouts.conftest import NOW, another_class, planned
from tests.handouts.home.kitchens import (
    CUPS,
    TIN,
    page,
    paper_of,
    pdf_of,
    printed_text,
    recipe_of,
    revision_key,
)
from tests.handouts.pdfs import plain, reader
from wording.durations import total_minutes
from wording.masses import off_by, scoop_words, spooned
from wording.sizes import height

FLOUR = flour_density("bread-flour", Decimal("0.5791")).spooned
US = spoon_set(HomeRegion.US)


@pytest.fixture
def session(db):
    set_home_region(region=HomeRegion.US)
    return demo_class()


def line_of(recipe, name):
    return next(line for line in recipe.amounts.lines if line.name == name)


class TestCupsAndSpoons:
    @pytest.mark.parametrize(
        ("mass_g", "density", "words"),
        [
            ("258.63", FLOUR, "2 cups + 2 1/2 tbsp"),
            ("206.9", Decimal(1), "3/4 cup + 2 tbsp"),
            ("6.1", teaspoon_density(Decimal(6)), "1 tsp"),
            ("236.588", Decimal(1), "1 cup"),
            ("29.57", Decimal(1), "2 tbsp"),
            ("2.46", Decimal(1), "1/2 tsp"),
            ("0.62", Decimal(1), "1/8 tsp"),
            ("151", Decimal(1), "1/2 cup + 2 tbsp"),  # five eighths
        ],
    )
    def test_a_mass_is_measured_with_what_exists(self, mass_g, density, words):
        assert plain(spooned(scoops_of(Decimal(mass_g), density))) == words

    def test_what_is_smaller_than_the_smallest_spoon_has_none(self):
        assert scoops_of(Decimal("0.3"), Decimal(1)) is None
        assert scoops_of(Decimal(0), Decimal(1)) is None

    def test_an_error_over_five_percent_is_told(self):
        found = scoops_of(Decimal("1.32"), Decimal(1))  # 1.07 quarters of a teaspoon
        assert found.is_far_off
        assert plain(off_by(found)) == "7 % too little"
        assert not scoops_of(Decimal("6.1"), teaspoon_density(Decimal(6))).is_far_off

    @pytest.mark.parametrize("mass_g", ["0.8", "1.74", "4.3", "2.74"])
    def test_what_no_spoon_measures_within_ten_percent_is_weighed(self, mass_g):
        quarter_g = Decimal("1.2322304")
        nearest = (Decimal(mass_g) / quarter_g).quantize(Decimal(1)) * quarter_g
        off = min(abs(size - Decimal(mass_g)) for size in (nearest, quarter_g / 2))
        assert (scoops_of(Decimal(mass_g), Decimal(1)) is None) == (off > Decimal(mass_g) / 10)

    @pytest.mark.parametrize("tenths", range(13, 6000, 211))
    def test_the_error_told_is_that_of_what_is_measured(self, tenths):
        mass_g = Decimal(tenths) / 10
        found = scoops_of(mass_g, Decimal(1))
        teaspoon_g = Decimal("4.92892159375")
        measured_g = sum(Decimal(one.parts) for one in found.scoops) / 24 * teaspoon_g
        assert found.error_percent == pytest.approx((measured_g / mass_g - 1) * 100)
        assert abs(found.error_percent) <= 10

    def test_more_than_one_cup_is_cups(self):
        assert plain(scoop_words(US.cups(US.cup))) == "1 cup"
        assert plain(scoop_words(US.cups(US.cup * 3 // 2))) == "1 1/2 cups"


class TestAmounts:
    def test_grams_are_those_of_the_class_for_as_many_pieces(self, session):
        flour = line_of(recipe_of(session), "Bread flour")
        assert (flour.weighed.grams, round(flour.exact_g, 2)) == (259, Decimal("258.63"))
        two = line_of(recipe_of(session, pieces=_pieces(session, 2)), "Bread flour")
        assert round(two.exact_g, 2) == Decimal("517.26")

    def test_the_worked_loaf_stands_in_cups_and_spoons(self, session):
        recipe = recipe_of(session, **CUPS)
        worked = {
            "Bread flour": "2 cups + 2 1/2 tbsp",
            "Water": "3/4 cup + 2 tbsp",
            "Table salt": "1 tsp",
        }
        for name, words in worked.items():
            assert plain(spooned(line_of(recipe, name).scoops)) == words
        assert line_of(recipe, "Table salt").weighed.grams == Decimal("6.1")
        assert line_of(recipe, "Water").exact_g.quantize(Decimal("0.1")) == Decimal("206.9")

    def test_grams_alone_have_no_spoons(self, session):
        assert not any(line.scoops or line.between for line in recipe_of(session).amounts.lines)

    def test_a_dipped_cup_holds_more_flour(self, session):
        spooned_in, dipped = (
            line_of(recipe_of(session, **CUPS, flour_cup=way), "Bread flour").scoops.scoops
            for way in ("spooned", "dipped")
        )
        assert sum(one.parts for one in dipped) < sum(one.parts for one in spooned_in)

    def test_coarse_salt_keeps_its_grams_and_is_to_be_weighed(self, session):
        recipe = recipe_of(session, **CUPS, salt="coarse-flake-salt-light")
        salt = line_of(recipe, "Light coarse flake salt")
        assert (salt.weighed.grams, salt.weigh_it, salt.scoops) == (Decimal("6.1"), True, None)
        assert [plain(scoop_words(one)) for one in salt.between] == ["1 1/2 tsp", "2 1/4 tsp"]
        assert any("weigh it" in change.why for change in recipe.changes)

    def test_another_salt_is_told_with_its_kind(self, session):
        words = [one.what for one in recipe_of(session, salt="fine-sea-salt").changes]
        assert "Fine sea salt instead of table salt: the same grams." in words

    def test_salt_to_strew_on_top_stays_what_it_is(self, session):
        part = session.taught.get().revision.components.get()
        Component.objects.filter(pk=part.pk).update(kind="topping", for_pieces=1)
        top = planned(session).taught.get().revision
        flour = Ingredient.objects.get(key="bread-flour")
        dough = top.components.create(position=9, kind="dough", name="Plain")
        dough.lines.create(position=0, ingredient=flour, mass_g=500)
        recipe = recipe_of(planned(session), salt="coarse-flake-salt-light", yeast="fresh")
        assert line_of(recipe, "Table salt").instead_of == ""
        assert line_of(recipe, "Instant yeast").yeast is None

    @pytest.mark.parametrize("form", ["active dry", "fresh"])
    def test_yeast_is_exchanged_by_the_projects_factors(self, session, form):
        given = line_of(recipe_of(session), "Instant yeast").exact_g
        recipe = recipe_of(session, yeast=form)
        made = next(line for line in recipe.amounts.lines if line.yeast)
        factor = TEXTBOOK.active_dry if form == "active dry" else Decimal(1)
        assert made.exact_g == given / TEXTBOOK.instant * factor
        assert made.yeast.given_g == given
        assert made.yeast.least_g <= made.exact_g <= made.yeast.most_g
        assert (made.yeast.water_out is not None) == (form == "fresh")

    def test_the_water_in_fresh_yeast_is_taken_off_the_water(self, session):
        written, own = recipe_of(session), recipe_of(session, yeast="fresh")
        fresh = next(line for line in own.amounts.lines if line.yeast)
        dry = line_of(written, "Instant yeast")
        less_g = line_of(written, "Water").exact_g - line_of(own, "Water").exact_g
        assert float(less_g) == pytest.approx(float(fresh.exact_g - dry.exact_g))
        assert float(less_g) == pytest.approx(float(-fresh.yeast.water_g))
        assert fresh.yeast.is_in_water
        assert sum(line.exact_g for line in own.amounts.lines) == pytest.approx(Decimal(520))
        (held,) = own.amounts.held_back
        assert held.first_g + held.held_g == round(line_of(own, "Water").exact_g)

    def test_without_water_to_take_it_off_the_note_says_so(self, session):
        line = session.taught.get().revision.components.get().lines.get(ingredient__key="water")
        line.ingredient = Ingredient.objects.get(key="whole-milk")
        line.save()
        recipe = recipe_of(planned(session), yeast="fresh")
        fresh = next(line for line in recipe.amounts.lines if line.yeast)
        assert not fresh.yeast.is_in_water
        assert line_of(recipe, "Whole milk").exact_g == pytest.approx(Decimal("206.9"), abs=0.01)

    def test_a_tenth_of_the_water_is_held_back(self, session):
        (held,) = recipe_of(session).amounts.held_back
        assert (held.name, held.first_g, held.held_g) == ("Water", 186, 21)

    def test_a_preferment_is_made_at_home_in_full(self, session):
        own = planned(another_class(session, "Two-day rye batard", students=1))
        recipe = recipe_of(own)
        dough = sum(line.exact_g for line in recipe.amounts.lines)
        assert round(dough, 6) == recipe.amounts.dough_g == recipe.pieces * 600
        assert any("Poolish" in change.what for change in recipe.changes)


def _pieces(session, count):
    return {revision_key(session): count}


class TestTimesAndHeat:
    def test_eighty_minutes_become_134_in_a_room_of_18(self, session):
        bulk, proof = recipe_of(session, room_c="18").heat.rises
        assert (bulk.class_min, bulk.class_c) == (80, 25)
        assert round(bulk.minutes) == 134
        assert bulk.least_min <= bulk.minutes <= bulk.most_min
        assert bulk.most_min - bulk.least_min > 10
        assert proof.minutes > proof.class_min

    @pytest.mark.parametrize(
        ("minutes", "words"),
        [
            ("80", "80 min"), ("119.4", "119 min"), ("134.04", "134 min (2 h 14 min)"),
            ("599", "599 min (9 h 59 min)"), ("720", "12 h"),
        ],
    )  # fmt: skip
    def test_a_rise_is_told_in_minutes_and_a_long_one_in_hours(self, minutes, words):
        assert plain(total_minutes(Decimal(minutes))) == words

    def test_a_cold_night_stays_as_it_is(self, session):
        row = session.taught.get()
        row.revision.steps.filter(kind="bulk").update(temperature_c=4)
        (bulk, _) = recipe_of(planned(session), room_c="18").heat.rises
        assert (bulk.refrigerated, bulk.minutes) == (True, 80)

    def test_a_preferment_ripens_longer_in_a_cold_room_and_a_soaker_does_not(self, session):
        two_day = planned(another_class(session, "Two-day rye batard", students=1))
        poolish, bulk, _ = recipe_of(two_day, room_c="16").heat.rises
        assert (poolish.class_min, poolish.step, bulk.step) == (720, 0, 2)
        assert round(poolish.minutes / 60, 1) == Decimal("16.1")
        two_day.taught.get().revision.components.filter(kind="preferment").update(kind="soaker")
        assert len(recipe_of(planned(two_day), room_c="16").heat.rises) == 2

    def test_done_bread_is_told_by_its_kind_and_by_its_tin(self, session):
        in_tin = recipe_of(session, pans={revision_key(session): TIN})
        assert "hollow" in recipe_of(session).heat.signs
        assert "the pan" in in_tin.heat.signs

    def test_a_recipe_without_a_core_temperature_has_the_published_one(self, session):
        """Lean bread: 200 to 210 °F, by a home-baking educators' sheet."""
        revision = session.taught.get().revision
        type(revision).objects.filter(pk=revision.pk).update(core_temperature_c=None)
        heat = recipe_of(planned(session)).heat
        assert heat.core.published
        assert round(heat.core.least_c) == 93

    def test_a_room_beyond_the_rules_is_marked(self, session):
        assert recipe_of(session, room_c="18").heat.warned is None
        assert recipe_of(session, room_c="36").heat.warned is not None

    def test_the_oven_is_230_and_with_a_fan_20_lower(self, session):
        fahrenheit = HomeKitchen(degrees="F")
        (plain_oven,), (fan_oven,) = (
            recipe_of(session, fan=fan).heat.bakes for fan in (False, True)
        )
        assert plain(warmth(plain_oven.oven_c, fahrenheit)) == "450 °F (230 °C)"
        assert plain(warmth(fan_oven.oven_c, fahrenheit)) == "400 °F (210 °C)"
        assert plain(warmth(fan_oven.oven_c, HomeKitchen())) == "210 °C (400 °F)"

    def test_high_up_the_middle_stays_below_the_boiling_point(self, session):
        low, high = (recipe_of(session, altitude_m=height).heat for height in (0, 2000))
        assert (low.core.capped, low.core.least_c) == (False, 96)
        assert high.core.capped
        assert high.core.least_c < high.core.boiling_c < Decimal("93.5")
        assert not low.advice.changes
        assert high.advice.changes


class TestWhatNobodySaid:
    """A class in a kitchen of the United States, 1,600 m up, whose student keeps no kitchen."""

    @pytest.fixture
    def high_up(self, session):
        kitchen = session.kitchen
        kitchen.altitude_m, kitchen.guidance = 1600, "us"
        kitchen.save()
        return session

    def test_a_home_is_as_high_as_the_class(self, stranger, high_up):
        text = page(stranger, high_up)
        assert "201 °F (93.6 °C)" in text
        assert "205 °F" not in text
        assert 'value="5249 ft"' in text

    def test_the_class_and_the_home_are_told_the_same_middle(self, stranger, high_up):
        token = student_token(high_up.enrollments.first())
        address = reverse("handouts:student", args=[token])
        handout = plain(stranger.get(address).content.decode())
        assert "93.6 °C" in handout
        assert "96 °C" not in handout
        assert "96 °C" not in page(stranger, high_up)

    def test_its_paper_is_that_of_the_country(self, stranger, high_up):
        answer = pdf_of(stranger, high_up)
        assert float(reader(answer.content).pages[0].mediabox.width) == pytest.approx(612, abs=1)

    def test_what_was_said_counts_more(self, stranger, high_up):
        text = page(stranger, high_up, altitude_m=0, degrees="C", page="a4")
        assert "96 °C (205 °F)" in text

    def test_the_pack_of_the_class_takes_the_same_home(self, high_up):
        leaf = KIND.leaves(Material(class_plan(planned(high_up)), NOW))[0]
        assert leaf.paper.kitchen.altitude_m == 1600


class TestThePaper:
    def test_it_lists_what_is_different_from_the_class(self, session):
        home = {
            **CUPS, "pieces": _pieces(session, 2), "mixed_by": "mixer", "yeast": "fresh",
            "pans": {revision_key(session): {**TIN, "count": 2}},
        }  # fmt: skip
        words = " ".join(one.what for one in recipe_of(session, **home).changes)
        for fact in (
            "2 loaves instead of 1", "fresh yeast", "134", "210", "machine",
            "In 2 loaf pans, 8.5 × 4.5 × 2.5 in", "Water at 82 °F (28 °C)",
        ):  # fmt: skip
            assert fact in plain(words)

    def test_active_dry_yeast_is_dissolved_first(self, session):
        words = [one.why for one in recipe_of(session, yeast="active dry").changes]
        assert any("Dissolve it first" in why for why in words)
        words = [one.why for one in recipe_of(session, yeast="fresh").changes]
        assert not any("Dissolve it first" in why for why in words)

    def test_the_same_kitchen_as_in_class_changes_little(self, session):
        session.taught.get().revision.steps.filter(kind="proof").update(temperature_c=25)
        same = recipe_of(planned(session), room_c="25")
        assert [plain(one.what) for one in same.changes] == ["Water at 22 °C (72 °F) to mix with."]

    def test_what_others_wrote_stays_text(self, stranger, session):
        revision = session.taught.get().revision
        hostile = "</title><script>alert(1)</script> url(file:///etc/passwd)"
        revision.steps.filter(kind="divide").update(text=hostile)
        Enrollment.objects.update(name="<b>Ada</b> \u202eevil")
        text = page(stranger, planned(session))
        assert "<script>alert" not in text
        printed = printed_text(pdf_of(stranger, session))
        assert "<script>alert(1)</script> url(file:///etc/passwd)" in printed
        assert "At home, for <b>Ada</b> evil" in printed

    def test_it_warns_of_a_mixer_only_where_there_is_one(self, session):
        by_hand, by_mixer = (paper_of(session, mixed_by=how) for how in ("hand", "mixer"))
        assert Hazard.MIXER not in by_hand.hazards
        assert Hazard.MIXER in by_mixer.hazards
        assert by_hand.hazards >= {Hazard.FLOUR, Hazard.OVEN}


class TestASmallOven:
    @pytest.mark.parametrize(
        ("takes", "loads"), [(None, None), (3, None), (2, "2 loads, 2"), (1, "3 loads, 1")]
    )
    def test_what_does_not_fit_at_once_is_baked_in_loads(self, session, takes, loads):
        recipe = recipe_of(session, pieces=_pieces(session, 3), oven_takes=takes)
        told = [change for change in recipe.changes if "loads" in change.what]
        assert [change.what for change in told] == (
            [f"Bake in {loads} at a time."] if loads else []
        )
        assert all("A load has the oven for about 25 min" in plain(change.why) for change in told)

    def test_pans_are_counted_and_not_what_lies_in_them(self, session):
        pan = {revision_key(session): {**TIN, "count": 2}}
        recipe = recipe_of(session, pieces=_pieces(session, 4), pans=pan, oven_takes=2)
        assert not [change for change in recipe.changes if "loads" in change.what]


class TestHeights:
    @pytest.mark.parametrize(
        ("typed", "meters"),
        [("1600", 1600), ("5249 ft", 1600), ("5250 feet", 1600), ("1000 ft.", 305), ("0", 0)],
    )
    def test_they_are_typed_in_meters_or_feet(self, typed, meters):
        assert HeightField(least=0, most=5000).clean(typed) == meters

    @pytest.mark.parametrize("typed", ["high", "12 miles", "20000 ft", "-3"])
    def test_others_are_refused(self, typed):
        with pytest.raises(ValidationError):
            HeightField(least=0, most=5000).clean(typed)

    def test_what_is_shown_in_feet_reads_back_as_the_same_meters(self):
        field = HeightField(least=0, most=5000)
        heights = range(0, 5001, 7)
        assert [field.clean(height(meters, in_feet=True)) for meters in heights] == list(heights)


class TestThePage:
    def test_it_shows_the_worked_numbers_and_cautions(self, stranger, session):
        text = page(stranger, session, **CUPS)
        for fact in (
            "258.63", "2 cups + 2 1/2 tbsp", "3/4 cup + 2 tbsp", "400 °F (210 °C)", "134 min",
            "a steady 64 °F (18 °C)", "Make the water 97 °F (36 °C)", "Pour in 186 g of the water",
            "hold back 21 g", "205 °F (96 °C)", "hollow when you knock", "Flour is raw", DEFERRAL,
        ):  # fmt: skip
            assert fact in text

    def test_a_kitchen_is_kept_and_shown(self, stranger, session):
        student, row = session.enrollments.first(), session.taught.get()
        pan = f"pan_{row.revision_id}"
        fields = {
            f"pieces_{row.revision_id}": "3", "measured": "cups", "flour_cup": "dipped",
            "degrees": "F", "mixed_by": "mixer", "yeast": "active dry", "salt": "fine-sea-salt",
            "room_c": "66 F", "tap_c": "60 F", "altitude_m": "3937 ft", "page": "letter",
            "oven_takes": "2",
            "fan": "on", "large": "on", "sizes_in": "in", f"{pan}_shape": "loaf",
            f"{pan}_length": "8.5", f"{pan}_width": "11.43 cm", f"{pan}_depth": "2.5",
            f"{pan}_count": "3", f"{pan}_dough": "class",
        }  # fmt: skip
        answer = stranger.post(home_page_of(student), fields, follow=True)
        assert "Saved." in answer.content.decode()
        student.refresh_from_db()
        kept = HomeKitchen.of(student.home)
        assert kept.pieces == {str(row.revision_id): 3}
        assert (kept.room_c, kept.altitude_m, kept.fan, kept.page, kept.large) == (
            Decimal("18.9"), 1200, True, "letter", True,
        )  # fmt: skip
        assert kept.oven_takes == 2
        assert kept.pans == {str(row.revision_id): HomePan.of({**TIN, "count": 3})}
        assert "3 × 520 g" in plain(answer.content.decode())

    def test_a_wrong_figure_is_told_and_nothing_kept(self, stranger, session):
        student = session.enrollments.first()
        answer = stranger.post(home_page_of(student), {"room_c": "warm", "altitude_m": "9000"})
        text = answer.content.decode()
        assert "Not saved yet." in text
        assert "Enter 5000 m or less." in text
        student.refresh_from_db()
        assert student.home == {}

    def test_it_is_for_no_search_engine_and_no_other_site(self, stranger, session):
        headers = stranger.get(home_page_of(session.enrollments.first())).headers
        assert headers["X-Robots-Tag"] == "noindex, nofollow"
        assert headers["Referrer-Policy"] == "same-origin"
        assert headers["Cache-Control"] == "private, no-store"

    def test_a_wrong_link_is_not_found(self, stranger, session):
        assert stranger.get("/at-home/1-forged:link/").status_code == 404

    def test_the_students_own_pages_lead_to_it(self, stranger, session):
        student = session.enrollments.first()
        for more in ((), ("handout",)):
            assert home_page_of(student) in stranger.get(page_of(student, *more)).content.decode()

    def test_somebody_marked_absent_is_told_so(self, stranger, session):
        student = session.enrollments.first()
        Enrollment.objects.filter(pk=student.pk).update(door="absent")
        assert stranger.get(home_page_of(student)).status_code == 409

    def test_a_variant_is_baked_at_home_too(self, stranger, session):
        student, revision = session.enrollments.first(), session.taught.get().revision
        lines = revision.components.get().lines
        variant = revision.variants.create(name="All bread flour")
        variant.swaps.create(
            position=0,
            replaced=lines.get(ingredient__key="whole-wheat-flour").ingredient,
            by=lines.get(ingredient__key="bread-flour").ingredient,
        )
        student.variants.add(variant)
        text = page(stranger, session)
        assert "304.27" in text  # 520 / 1709 of 1000 g
        assert "Whole wheat flour" not in text
