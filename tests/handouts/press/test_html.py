"""The markup of the papers, read as text: every number, and nothing that is not wanted."""

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from classes.enrollment.models import Enrollment
from classes.models import Kitchen
from handouts.kinds.handout import Handout
from handouts.kinds.preparation import PreparationList
from handouts.kinds.station_cards import StationCard
from handouts.press.render import to_html
from handouts.safety.cautions import DEFERRAL
from recipes.models import Ingredient
from tests.factories import flour, planned_class, water
from tests.handouts.conftest import papers_of, plan_of, two_day_class
from tests.handouts.pdfs import plain

NASTY = "<b>Bo</b><img src=http://127.0.0.1:9/x> url(file:///etc/hostname) {{ 7 }} \u202e&amp;"
FIRST_AMOUNT = {Handout: "258.63", PreparationList: "36.7", StationCard: "1035"}


class Reader(HTMLParser):
    def __init__(self):
        super().__init__()
        self.texts, self.tags = [], set()

    def handle_data(self, data):
        self.texts.append(data)

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)


def read(paper):
    reader = Reader()
    reader.feed(to_html(paper))
    return plain(" ".join(reader.texts)), reader.tags


def text(paper):
    return read(paper)[0]


def all_papers(session):
    return [paper for papers in papers_of(plan_of(session)).values() for paper in papers]


def test_every_paper_says_which_class_which_revision_and_when_it_was_printed(printed):
    for paper in printed.all_papers:
        told = text(paper)
        assert f"Saturday hearth loaf ({printed.code})" in told
        assert "Hearth loaf, revision 1" in told
        assert "Printed 11 April 2030, 09:30, Europe/Dublin" in told
        assert "Saturday 4 May 2030, 10:00–14:00" in told


def test_every_paper_has_its_cautions_below_its_amounts_and_defers(printed):
    for paper in printed.all_papers:
        told = text(paper)
        assert DEFERRAL in told
        assert paper.foot.cautions
        assert told.endswith(paper.foot.words)
        assert told.index(FIRST_AMOUNT[type(paper)]) < told.index(paper.foot.words)


def test_a_handout_lists_what_to_weigh_exact_and_in_percent(printed):
    told = text(printed.papers["handouts"][0])
    for line in (
        "Bread flour 259 258.63 85.0",
        "Whole wheat flour ◆ coarse 46 45.64 15.0",
        "Water 207 206.90 68.0",
        "Table salt 6.1 6.09 2.0",
        "Instant yeast ◆ coarse 2.7 2.74 0.9",
        "Lines added, and the exact dough 520.8 520.00 170.9",
    ):
        assert line in told


def test_a_handout_tells_pieces_temperatures_and_steps_on_both_scales(printed):
    told = text(printed.papers["handouts"][0])
    assert "Loaf 1 × 520 g" in told
    assert "Dough after mixing 25 °C (77 °F)" in told
    assert "Baked, in the middle 96 °C (205 °F)" in told
    assert "For dusting 15 g Bread flour" in told
    assert "Bulk fermentation hands on 5 min, wait 1 h 15 min, dough at 25 °C (77 °F)" in told
    assert "Bake load 3 min, bake 25 min, oven at 230 °C (450 °F)" in told
    assert "Have ready: Mixing bowl, Dough scraper, Proofing basket" in told
    assert "Demo formula, not tested" in told


def test_a_coarse_weighing_comes_with_what_to_do_about_it(printed):
    told = text(printed.papers["handouts"][0])
    assert "Use a finer scale, or weigh it once for the whole station and divide." in told


def test_nothing_is_said_about_coarse_weighings_where_there_are_none(db):
    told = [text(paper) for paper in all_papers(planned_class())]
    assert not [words for words in told if "coarse" in words]


def test_allergens_are_known_from_the_recipe_and_never_denied(demo):
    Ingredient.objects.filter(key="bread-flour").update(may_contain="soybeans")
    told = text(all_papers(demo)[0])
    assert (
        "Known from the recipe: EU list: cereals containing gluten. US list: wheat. "
        "Bread flour may contain soybeans. There may be more: ask, and check the labels." in told
    )


def test_a_recipe_without_known_allergens_promises_nothing(db):
    told = text(all_papers(planned_class())[0])
    assert "no listed allergen is entered. That promises nothing: ask" in told
    assert "Cannot say for Bread flour, Water: nothing is entered." in told


def test_of_an_ingredient_whose_pack_was_read_it_can_be_said(db):
    flour(allergens_us=["wheat"])
    water(allergens_read=True)
    told = text(all_papers(planned_class())[0])
    assert "US list: wheat." in told
    assert "Cannot say" not in told


@pytest.mark.parametrize("phrase", ["safe for", "free from", "safe to"])
def test_no_paper_promises_safety(printed, phrase):
    assert not [paper for paper in printed.all_papers if phrase in text(paper).lower()]


def test_a_handout_names_nobody_else_and_nothing_private(printed):
    for paper in printed.papers["handouts"]:
        told = text(paper)
        others = [name for name in printed.names if name != paper.name]
        assert not [name for name in others if name in told]
        assert "eat:" not in told
        assert "walnuts" not in told


def test_the_list_shows_shopping_in_whole_packs_and_what_is_left(printed):
    told = text(printed.papers["preparation"][0])
    for line in (
        "Bread flour 3463 3463.1 3658.1 1200 2 × 1500 g 541.9 3.60",
        "Whole wheat flour 611 611.1 611.1 0 1 × 1000 g 388.9 1.60",
        "Table salt 81 81.5 81.5 400 – 318.5",
        "Instant yeast 36.7 36.7 36.7 20 3 × 7 g 4.3 0.75",
        "Cash out 5.95 EUR",
        "From the tap Water 2770 2770.5 2770.5",
    ):
        assert line in told


def test_the_list_says_for_whom_a_dough_is_with_loss(printed):
    told = text(printed.papers["preparation"][0])
    assert "Hearth loaf, revision 1 12 bakers, 1 demonstration 6961.7 6962.8" in told
    assert "with 3 % handling loss" in told


def test_the_list_tells_brought_dough_from_what_is_shown(demo):
    demo.taught.update(brings_risen=True)
    told = text(papers_of(plan_of(demo))["preparation"][0])
    assert "12 bakers, 1 demonstration, 13 loaves brought risen" in told
    assert "Bench 3 Demonstration 13 loaves brought risen Bread flour" in told
    assert "1035 259 258.63 1035 259 258.63 1035 259 258.63 259 258.63 3362 3362.20" in told


def test_a_tub_is_shared_with_the_dough_that_is_brought(demo):
    session = two_day_class(demo)
    session.taught.update(brings_mixed=True)
    told = text(papers_of(plan_of(session))["preparation"][0])
    assert "9 bakers, 9 batards brought mixed" in told
    assert "made in one tub: 3717 g" in told
    assert "Bench 1 620 Bench 2 619 Bench 3 619 Brought, mixed 1859" in told


def test_a_recipe_has_a_table_with_every_station_and_each_line_once(printed):
    told = text(printed.papers["preparation"][0])
    assert "Bench 1 Ada Fennimore, Bram Okell, Cass Thornby, Dov Larkspur" in told
    bench = "1035 259 " * 3
    assert f"Bread flour each 258.63 · all 1034.5 {bench}259" in told
    assert "Table salt each 6.09 · all 24.3 24.3 6.1 24.3 6.1" in told
    assert "Instant yeast each 2.74 · all 10.95 11.0 ◆ 2.7" in told
    assert "Dough, lines added each 520.00 · all 2080.0 2081.3 520.8" in told
    assert "may differ by a step or two" in told


def test_the_tables_have_a_box_for_each_tub_and_one_for_the_station(printed):
    markup = to_html(printed.papers["preparation"][0])
    stations = markup.partition('<section class="placed">')[2]
    assert stations.count('<span class="box">') == 5 * (3 * (1 + 4) + 1)


def test_the_list_says_what_somebody_must_not_eat_and_that_it_is_private(printed):
    told = text(printed.papers["preparation"][0])
    private = (
        "Private: for the instructor and the assistant only Bench 1 Ada Fennimore, Bram Okell, "
        "Cass Thornby, Dov Larkspur Cass Thornby. Must not eat: sesame"
    )
    assert private in told


def test_chilled_things_are_marked_on_the_list(printed_rolls):
    told = text(printed_rolls.papers["preparation"][0])
    assert "Butter, unsalted chilled" in told
    assert "about 2.1 × large egg: take 3, beat or cut, weigh" in told


def test_a_tub_is_made_ahead_and_divided(printed_two_day):
    told = text(printed_two_day.papers["preparation"][0])
    ahead = "929 g Bread flour, 929 g Water, 0.9 g Instant yeast"
    assert f"Poolish, Two-day rye batard, revision 1: {ahead}" in told
    assert "Stir the poolish until smooth, cover and leave it." in told
    assert "made in one tub: 1859 g (1858.7 g exact)." in told
    assert "Take, in grams: Bench 1 620 Bench 2 620 Bench 3 619" in told


def test_what_is_kept_back_of_a_tub_is_said(demo):
    session = two_day_class(demo)
    session.handling_loss_percent = 3
    session.save()
    told = text(papers_of(plan_of(session))["preparation"][0])
    assert re.search(r"made in one tub: 1914 g .* kept back, for handling loss, 5\d", told)


def test_two_day_numbers_stand_on_the_list_to_the_last_digit(printed_two_day):
    told = text(printed_two_day.papers["preparation"][0])
    for line in (
        "Poolish ◆ 0.9 0.93 11.5 11.46",
        "Poolish 929 928.9 1858 1857.8",
        "Rye flour, medium 310 309.6",
        "Poolish 929 928.9 1300 1300.5",
        "Table salt 62 61.9",
        "9 bakers 5400.4 5400.0",
    ):
        assert line in told


def test_a_card_shows_each_and_together(printed):
    told = text(printed.papers["station_cards"][0])
    for line in (
        "Bread flour 259 1035",
        "Whole wheat flour ◆ 46 183",
        "Water 207 828",
        "Table salt 6.1 24.3",
        "Instant yeast ◆ 2.7 11.0",
        "Lines added 520.8 2081.3",
        "Water 31 °C: 207 g",
    ):
        assert line in told


def test_a_card_names_who_stands_there_unless_it_says_what_they_avoid(printed):
    avoiding, *_, plain = printed.papers["station_cards"]
    assert "This station avoids: sesame" in text(avoiding)
    assert "Ada Fennimore" not in text(avoiding)
    assert "This station avoids" not in text(plain)
    assert "Iris Vane, Jonah Welk, Kit Summerlea, Lena Orchard" in text(plain)


def test_a_card_never_says_whose_the_words_are(printed, demo):
    names = [student.name for student in demo.enrollments.all()]
    for card in printed.papers["station_cards"]:
        assert "eat:" not in text(card)
        assert not card.avoids or not any(name in text(card) for name in names)


def test_no_text_of_a_class_becomes_markup(demo):
    before = [read(paper)[1] for paper in all_papers(demo)]
    Enrollment.objects.filter(session=demo).update(name=NASTY, must_not_eat=NASTY)
    Kitchen.objects.update(name=NASTY)
    demo.title = NASTY
    demo.save()
    revision = demo.taught.get().revision
    revision.note = revision.equipment = NASTY
    revision.title = revision.piece_name = NASTY[:30]
    revision.save()
    revision.steps.update(text=NASTY)
    revision.components.update(name=NASTY[:60])
    demo.kitchen.stations.filter(pk=demo.stations.first().pk).update(name=NASTY[:40])
    Ingredient.objects.filter(key="bread-flour").update(name=NASTY[:80], may_contain=NASTY)
    papers = all_papers(demo)
    free = {"br", "strong", "ul"}  # lines and stations may come to be marked, by us
    assert [read(paper)[1] - free for paper in papers] == [tags - free for tags in before]
    for paper in papers:
        assert "<b>Bo</b><img src=http://127.0.0.1:9/x>" in text(paper)


@pytest.mark.parametrize(
    "mark", ["\u202e", "\u2067", "\x00", "\x1b", "\N{BREAD}", "\ufe0f"], ids=ascii
)
def test_marks_that_turn_text_around_and_pictures_are_left_out(printed, mark):
    paper = replace(printed.papers["handouts"][0], name=f"Zoë{mark} Müller")
    assert "Zoë Müller" in to_html(paper)
