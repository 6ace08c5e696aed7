"""A recipe's pieces in the pan at home: the amounts that follow it, warnings and drawings."""

from __future__ import annotations

import re
from decimal import Decimal
from html import unescape

import pytest

from handouts.home.shaping import BATARD, LOG, RING, ROLL, ROUND, Shaping, shaping_of
from recipes.core.pans.balls import ball_sizes
from recipes.core.pans.plan import MostThatFit
from tests.classes.demo_class import demo_class
from tests.handouts.conftest import another_class, planned
from tests.handouts.home.kitchens import TIN, page, pdf_of, recipe_of, revision_key
from tests.handouts.pdfs import plain

ROUND_PAN = {
    "shape": "round", "length_cm": "23", "width_cm": "23", "depth_cm": "5",
    "count": 1, "dough": "class",
}  # fmt: skip


@pytest.fixture
def session(db):
    return demo_class()


@pytest.fixture
def rolls(session):
    return planned(another_class(session, "Pillow rolls", students=1))


@pytest.fixture
def ring(session):
    return planned(another_class(session, "Seeded ring", students=1))


def pans(session, **changed):
    return {revision_key(session): {**TIN, **changed}}


def pieces(session, count):
    return {revision_key(session): count}


class TestAmounts:
    def test_pieces_as_in_class_keep_their_mass_in_a_tin(self, session):
        recipe = recipe_of(session, pans=pans(session))
        assert recipe.amounts.dough_g == 520
        assert recipe.pan.is_well_filled
        assert not recipe.pan.follows

    def test_the_amounts_follow_the_tin_when_asked_to(self, session):
        """5.35 g to a cubic inch, as printed for pan bread, in 8.5 x 4.5 x 2.5 of them."""
        recipe = recipe_of(session, pans=pans(session, dough="pan"))
        wanted_g = Decimal("8.5") * Decimal("4.5") * Decimal("2.5") * Decimal("5.35")
        assert recipe.amounts.dough_g == pytest.approx(wanted_g, rel=Decimal("0.002"))
        total_g = sum(line.exact_g for line in recipe.amounts.lines)
        assert total_g == pytest.approx(recipe.amounts.dough_g)
        assert any("follow what it takes" in change.why for change in recipe.changes)

    def test_two_tins_take_twice_the_dough_in_as_many_pieces_as_said(self, session):
        home = {"pans": pans(session, dough="pan", count=2), "pieces": pieces(session, 2)}
        recipe = recipe_of(session, **home)
        assert recipe.counted == ((2, 511),)
        assert recipe.pan.filling.pieces == 1

    def test_a_pan_of_the_recipes_own_shape_keeps_its_load(self, rolls):
        wide = {**ROUND_PAN, "length_cm": "46", "width_cm": "46", "dough": "pan"}
        recipe = recipe_of(rolls, pans={revision_key(rolls): wide})
        assert recipe.amounts.dough_g == pytest.approx(4 * 6 * 70)

    def test_a_pan_of_which_nothing_is_known_is_told_to_be_so(self, session):
        recipe = recipe_of(session, pans={revision_key(session): {**ROUND_PAN, "dough": "pan"}})
        assert recipe.amounts.dough_g == 520
        assert recipe.pan.unknown


class TestWarnings:
    @pytest.mark.parametrize(
        ("sizes", "words"),
        [
            ({"length_cm": "15", "width_cm": "9"}, "▲ Too much dough for it: about 279 g"),
            ({"length_cm": "35", "width_cm": "12"}, "▲ Too little dough for it: about 869 g"),
            ({}, "● Right for it: it takes about 511 g"),
        ],
    )
    def test_a_tin_too_small_or_too_large_is_told(self, stranger, session, sizes, words):
        text = page(stranger, session, pans=pans(session, **sizes))
        assert words in plain(unescape(re.sub(r"<[^>]+>", "", text)))

    def test_pieces_that_do_not_fit_are_told_with_how_many_do(self, rolls):
        """Three circles need 2.155 times their radius, four 2.414 times: here there is 2.2."""
        small = {**ROUND_PAN, "length_cm": "12", "width_cm": "12"}
        pan = recipe_of(rolls, pans={revision_key(rolls): small}).pan
        assert (pan.is_too_full, pan.most_fit) == (True, MostThatFit(3, at_least=False))
        assert not pan.is_well_filled

    def test_the_fullest_of_several_pans_counts(self, rolls):
        home = {"pans": {revision_key(rolls): {**ROUND_PAN, "count": 2}},
                "pieces": pieces(rolls, 7)}  # fmt: skip
        assert recipe_of(rolls, **home).pan.filling.pieces == 4


class TestDrawings:
    def test_one_piece_in_a_tin_is_drawn_from_the_side(self, session):
        pan = recipe_of(session, pans=pans(session)).pan
        assert pan.tin is not None
        assert pan.lying is None

    def test_several_pieces_are_drawn_as_they_lie(self, stranger, rolls):
        home = {"pans": {revision_key(rolls): ROUND_PAN}}
        pan = recipe_of(rolls, **home).pan
        assert pan.lying.arrangement.pieces == 6
        text = page(stranger, rolls, **home)
        assert text.count("<circle") >= 13
        assert "The pan from above, 6 in it" in text

    def test_a_ring_is_drawn_wider_than_a_ball_and_with_its_hole(self, stranger, ring):
        home = {"pans": {revision_key(ring): {**ROUND_PAN, "shape": "rectangular"}}}
        pan = recipe_of(ring, **home).pan
        sizes = pan.lying.baked.sizes
        assert sizes.shaped_cm > ball_sizes(Decimal(400)).shaped_cm
        assert pan.hole_radius == pan.lying.drawing.shaped_radius / 2
        assert f'r="{pan.hole_radius}"' in page(stranger, ring, **home)

    def test_a_batard_is_nothing_round_and_is_not_drawn_as_a_ball(self, session):
        batard = planned(another_class(session, "Two-day rye batard", students=1))
        pan = recipe_of(batard, pans={revision_key(batard): ROUND_PAN}).pan
        assert (pan.lying, pan.tin, pan.most_fit) == (None, None, None)

    def test_without_a_pan_there_is_none(self, stranger, session):
        assert recipe_of(session).pan is None
        assert "loaf pan," not in page(stranger, session)


class TestShaping:
    @pytest.mark.parametrize(
        ("name", "shaping"),
        [
            ("loaf", ROUND), ("Round", ROUND), ("rye batard", BATARD), ("roll", ROLL),
            ("bun", ROLL), ("ring", RING), ("focaccia", None), ("", None),
        ],
    )  # fmt: skip
    def test_a_piece_is_shaped_by_what_it_is_called(self, name, shaping):
        assert shaping_of(name, fills_tin=False) is shaping

    def test_alone_in_a_tin_it_is_a_log_whatever_it_is_called(self):
        assert shaping_of("focaccia", fills_tin=True) is LOG

    @pytest.mark.parametrize("shaping", [ROUND, LOG, BATARD, ROLL, RING])
    def test_each_step_has_a_drawing_and_words(self, shaping: Shaping):
        from django.template.loader import render_to_string

        drawn = render_to_string("handouts/_shaping.html", {"shaping": shaping, "ids": "one"})
        assert drawn.count("<g") == len(shaping.steps) == 4
        assert f'<title id="one-shape">{shaping.alt}</title>' in drawn
        assert all(f"<b>{n}</b> {words}" in drawn for n, words in enumerate(shaping.steps, 1))

    def test_the_drawings_stand_by_the_step_that_shapes(self, stranger, session):
        text = page(stranger, session)
        assert text.index("round it tightly") < text.index("drawings of shaping a round loaf")
        assert text.index("drawings of shaping a round loaf") < text.index("Proof</b>")

    def test_a_recipe_without_steps_has_its_water_and_drawings_all_the_same(
        self, stranger, session
    ):
        session.taught.get().revision.steps.all().delete()
        text = plain(page(stranger, planned(session)))
        assert "Make the water" in text
        assert "drawings of shaping a round loaf" in text

    def test_two_recipes_share_no_id_and_no_anchor(self, stranger, session, caplog):
        both = planned(another_class(session, "Hearth loaf", "Pillow rolls", students=1))
        home = {"pans": {str(row.revision_id): ROUND_PAN for row in both.taught.all()}}
        ids = re.findall(r' id="([^"]+)"', page(stranger, both, **home))
        assert len(ids) == len(set(ids))
        assert {"recipe-1-shape", "recipe-2-shape", "recipe-1-pan", "recipe-2-pan"} <= set(ids)
        assert pdf_of(stranger, both, **home).content.startswith(b"%PDF")
        assert [one.message for one in caplog.records if one.name == "weasyprint"] == []


class TestSteps:
    def test_a_loaf_pan_takes_the_place_of_the_basket(self, session):
        free, panned = (recipe_of(session, pans=own).steps for own in ({}, pans(session)))
        told = {step.kind: step.text for step in panned if step.in_class}
        assert {step.kind: step.in_class for step in panned if step.in_class} == {
            step.kind: step.text for step in free if step.kind in told
        }
        assert set(told) == {"Divide and shape", "Score", "Bake"}
        assert "the seam down" in told["Divide and shape"]
        assert not [words for words in told.values() if "basket" in words or "Slide" in words]

    def test_a_round_pan_leaves_the_words_as_they_are(self, session):
        own = {revision_key(session): ROUND_PAN}
        assert not [step for step in recipe_of(session, pans=own).steps if step.in_class]

    def test_where_the_class_had_a_loaf_pan_its_words_stay(self, session):
        revision = session.taught.get().revision
        revision.pan_shape, revision.pan_length_mm, revision.pan_width_mm = "loaf", 216, 114
        revision.pan_depth_mm = 64
        revision.save()
        again = planned(session)
        assert not [step for step in recipe_of(again, pans=pans(again)).steps if step.in_class]
