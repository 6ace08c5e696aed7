"""Pan and pieces: how they lie, the load against the recipe's own, other pans, and the bowl."""

import re
from decimal import Decimal
from html import unescape
from urllib.parse import parse_qs

import pytest

from recipes.core.pans.balls import Touch
from recipes.pans.forms import PanForm
from recipes.selectors import own_pan
from tests.factories import RevisionFactory
from tests.recipes.test_detail import text_of

pytestmark = pytest.mark.django_db
URL = "/recipes/rolls/pans/"
NINE_INCH = {"shape": "round", "unit": "in", "length": "9", "pieces": "11", "piece_g": "58"}


@pytest.fixture
def rolls(instructor):
    """Twelve rolls of 60 g in a 20 cm square pan 5 cm deep: 1.8 g/cm2, 0.36 g/cm3."""
    return RevisionFactory(
        recipe__owner=instructor,
        recipe__slug="rolls",
        title="Rolls",
        pieces=12,
        piece_g=Decimal(60),
        pan_shape="square",
        pan_length_mm=200,
        pan_depth_mm=50,
    )


@pytest.fixture
def plain(instructor):
    """Rolls without a pan of their own."""
    return RevisionFactory(recipe__owner=instructor, recipe__slug="rolls", piece_g=Decimal(60))


def scaling_links(response):
    """The queries of the links that scale the recipe, in the order of the page."""
    found = re.findall(r'href="/recipes/rolls/\?([^"]+)"', response.content.decode())
    return [{key: value[0] for key, value in parse_qs(unescape(one)).items()} for one in found]


def test_the_page_opens_with_the_recipes_own_pan(instructor_client, rolls):
    answer = instructor_client.get(URL)
    page = text_of(answer)
    assert "12 × 60 g in a square pan of 20 cm (7.9 in) : 720 g of dough" in page
    assert answer.context["section"] == "recipes"
    assert "Scale the dough of one own pan × 1.00" in page


def test_eleven_rolls_of_58_g_in_a_nine_inch_round_pan_lie_eight_around_three(
    instructor_client, rolls
):
    """Common practice, no source: they touch when baked."""
    answer = instructor_client.get(URL, NINE_INCH)
    page = text_of(answer)
    assert "11 × 58 g in a round pan of 22.9 cm (9 in)" in page
    assert "Baked, they touch." in page
    assert answer.context["best"].arrangement.counts == (8, 3)
    assert "8 around 3 the best known places" in page
    assert "8 around 3 even rings" in page
    assert "9 around 2 even rings" in page


def test_twelve_of_them_in_nine_by_thirteen_stay_apart(instructor_client, rolls):
    """Common practice, no source."""
    wide = {"shape": "rectangular", "unit": "in", "length": "13", "width": "9"}
    answer = instructor_client.get(URL, wide | {"pieces": "12", "piece_g": "58"})
    assert "Baked, they stay apart." in text_of(answer)
    assert "3 straight rows of 4" in text_of(answer)


def test_proofed_and_baked_are_told_apart(instructor_client, rolls):
    page = text_of(instructor_client.get(URL, NINE_INCH))
    assert re.search(r"Proofed ● touch: pressing \d+ mm into each other", page)
    assert re.search(r"Baked ● touch: pressing \d+ mm into each other", page)


def test_the_assumptions_are_stated_and_change_the_answer(instructor_client, rolls):
    page = text_of(instructor_client.get(URL, NINE_INCH))
    assert "Every figure is a starting point" in page
    still = NINE_INCH | {"proofed_volume": "1", "baked_volume": "1"}
    answer = instructor_client.get(URL, still)
    assert answer.context["best"].baked.touch is not Touch.TOUCH


def test_the_arrangement_is_a_drawing_with_a_title_and_plain_attributes(instructor_client, rolls):
    html = instructor_client.get(URL, NINE_INCH).content.decode()
    best = re.search(r"<svg.*?</svg>", html, re.DOTALL)[0]
    assert '<title id="best-title">11 pieces in a round pan: 8 around 3</title>' in best
    assert '<desc id="best-desc">Seen from above' in best
    assert 'aria-labelledby="best-title best-desc"' in best
    assert best.count("<circle") == 1 + 2 * 11
    assert "style" not in best
    assert not re.search(r"\d[eE][+-]?\d", best.partition("<circle")[2])


def test_too_many_pieces_are_refused_in_words(instructor_client, rolls):
    page = text_of(instructor_client.get(URL, NINE_INCH | {"pieces": "30"}))
    assert "▲ Too full." in page
    assert re.search(r"\b1\d of them fit\.", page)


@pytest.mark.parametrize(
    ("shape", "pieces", "piece_g", "words"),
    [
        pytest.param("round", "39", "60", "have room for", id="within the table"),
        pytest.param("round", "120", "20", "as we lay them. At least", id="beyond the table"),
        pytest.param("square", "120", "60", "as we lay them. At least", id="beyond it in a square"),
    ],
)
def test_it_is_said_where_more_than_we_can_lay_may_fit(
    instructor_client, rolls, shape, pieces, piece_g, words
):
    pan = {"shape": shape, "unit": "cm", "length": "32", "pieces": pieces, "piece_g": piece_g}
    page = text_of(instructor_client.get(URL, pan))
    assert "▲ Too full." in page
    assert words in page
    assert ("At least" in page.split("Too full.")[1].split("How they lie")[0]) is (
        "At least" in words
    )


def test_a_piece_wider_than_the_pan_is_told(instructor_client, rolls):
    huge = NINE_INCH | {"pieces": "1", "piece_g": "20000"}
    assert "Not even one fits." in text_of(instructor_client.get(URL, huge))


# The load


def test_the_load_is_compared_with_the_recipes_own(instructor_client, rolls):
    answer = instructor_client.get(URL, {"shape": "square", "length": "40", "depth": "5"})
    page = text_of(answer)
    assert "This pan, filled as written 0.45 g/cm²" in page
    assert "12 × 60 g in a square pan, 20 cm (7.9 in) 1.80 g/cm²" in page
    assert "× 4.00" in page
    assert "At the same load this pan takes 2880 g of dough." in page
    assert "12 pieces of 240 g" in page
    assert "48 pieces of 60 g" in page


def test_the_links_say_to_the_scaling_form_what_the_page_says(instructor_client, rolls):
    answer = instructor_client.get(URL, {"shape": "square", "length": "40", "depth": "5"})
    assert scaling_links(answer) == [
        {"by": "pieces", "pieces": "12", "piece_g": "240"},
        {"by": "pieces", "pieces": "48", "piece_g": "60"},
        {"by": "pieces", "pieces": "12", "piece_g": "60"},
    ]
    scaled = instructor_client.get("/recipes/rolls/", scaling_links(answer)[0])
    assert "12 × loaf, 240 g each : 2880.0 g of dough" in text_of(scaled)


def test_a_load_on_the_volume_counts_the_depth(instructor_client, rolls):
    deep = {"shape": "square", "length": "20", "depth": "10", "by": "volume"}
    page = text_of(instructor_client.get(URL, deep))
    assert "0.180 g/cm³" in page
    assert "0.360 g/cm³" in page
    assert "× 2.00" in page


def test_fewer_pieces_in_the_own_pan_make_its_load_less(instructor_client, rolls):
    page = text_of(instructor_client.get(URL, {"own_pieces": "6"}))
    assert "6 × 60 g in a square pan, 20 cm (7.9 in) 0.90 g/cm²" in page


def test_a_pan_for_the_pieces_is_given_as_diameter_and_side(instructor_client, rolls):
    page = text_of(instructor_client.get(URL, {"pieces": "24"}))
    assert "A pan for 24 × 60 g" in page
    assert "Square pan, side 28.3 cm" in page
    assert "Round pan, diameter 31.9 cm" in page


def test_a_load_of_ones_own_takes_the_place_of_the_recipes(instructor_client, rolls):
    page = text_of(instructor_client.get(URL, {"load": "0.9"}))
    assert "Target, as you entered it 0.90 g/cm²" in page
    assert "12 pieces of 30 g" in page


def test_a_recipe_without_a_pan_still_has_its_load_and_an_invitation(instructor_client, plain):
    answer = instructor_client.get(URL)
    page = text_of(answer)
    assert "1 × 60 g in a round pan of 23 cm" in page
    assert "names no pan of its own" in page
    assert "own_pieces" not in answer.context["form"].fields
    assert [link["pieces"] for link in scaling_links(answer)] == ["1"]
    with_load = text_of(instructor_client.get(URL, {"load": "1.2"}))
    assert "Scale what is in the pan" in with_load


def test_an_own_pan_of_unknown_volume_cannot_be_compared_on_it(instructor_client, instructor):
    RevisionFactory(
        recipe__owner=instructor, recipe__slug="rolls", pan_shape="round", pan_length_mm=230
    )
    page = text_of(instructor_client.get(URL, {"by": "volume", "length": "23", "depth": "5"}))
    assert "has no depth and no measured capacity" in page


def test_published_loads_come_with_the_word_that_they_differ(instructor_client, rolls):
    page = text_of(instructor_client.get(URL, {"length": "20", "depth": "5", "water": "2 l"}))
    assert "Whole grain 1100 to 1300 g 0.55 to 0.65 g/cm³" in page
    assert "Published figures differ: the greatest of these is 2.9 times the least." in page
    assert "The volume is the water it holds." in page


def test_without_a_volume_published_loads_ask_for_one(instructor_client, rolls):
    page = text_of(instructor_client.get(URL, {"shape": "round", "length": "20"}))
    assert "enter the depth, or what the pan holds, to see them" in page


def test_690_grams_want_at_least_a_five_cup_bowl(instructor_client, rolls):
    """Common practice, no source."""
    answer = instructor_client.get(URL, {"pieces": "10", "piece_g": "69"})
    assert "At least 1.4 liters (5.8 US cups)" in text_of(answer)
    tripled = instructor_client.get(URL, {"pieces": "10", "piece_g": "69", "rise": "3"})
    assert tripled.context["bowl"].bowl_ml > answer.context["bowl"].bowl_ml


# The form


def test_another_unit_keeps_the_pan(instructor_client, rolls):
    turned = {"was": "round cm", "shape": "round", "unit": "in", "length": "22.86", "depth": ""}
    form = instructor_client.get(URL, turned).context["form"]
    assert form["length"].value() == "9"
    back = {"was": "round in", "shape": "round", "unit": "cm", "length": "9", "depth": "2"}
    form = instructor_client.get(URL, back).context["form"]
    assert (form["length"].value(), form["depth"].value()) == ("22.9", "5.1")


def test_what_cannot_be_read_stays_when_the_unit_is_turned(instructor_client, rolls):
    turned = {"was": "round cm", "shape": "round", "unit": "in", "length": "wide"}
    form = instructor_client.get(URL, turned).context["form"]
    assert form["length"].value() == "wide"
    assert "We cannot read" in form.errors["length"][0]


def test_another_shape_starts_from_its_usual_size_or_the_recipes_own(instructor_client, rolls):
    turned = {"was": "square cm", "shape": "loaf", "unit": "cm", "length": "20"}
    form = instructor_client.get(URL, turned).context["form"]
    assert (form["length"].value(), form["width"].value()) == ("21.5", "11.5")
    back = turned | {"was": "loaf cm", "shape": "square", "length": "21.5"}
    form = instructor_client.get(URL, back).context["form"]
    assert form["length"].value() == "20"
    assert "width" not in form.fields


def test_a_unit_may_be_written_with_the_number(instructor_client, rolls):
    page = text_of(instructor_client.get(URL, {"shape": "round", "length": "9 in"}))
    assert "round pan of 22.9 cm (9 in)" in page


@pytest.mark.parametrize(
    ("asked", "field", "message"),
    [
        ({"length": "0", "shape": "round"}, "length", "Enter 1 cm or more."),
        ({"length": "-5", "shape": "round"}, "length", "Enter 1 cm or more."),
        ({"length": "2 kg", "shape": "round"}, "length", "is a unit of mass"),
        ({"length": "", "shape": "round"}, "length", "required"),
        ({"length": "30", "width": "x", "shape": "tray"}, "width", "We cannot read"),
        ({"shape": "oval"}, "shape", "Select a valid choice"),
        ({"unit": "ell"}, "unit", "Select a valid choice"),
        ({"by": "luck"}, "by", "Select a valid choice"),
        ({"pieces": "0"}, "pieces", "Enter 1 or more."),
        ({"pieces": "151"}, "pieces", "Enter 150 or less."),
        ({"pieces": "2.5"}, "pieces", "We cannot read"),
        ({"piece_g": "0"}, "piece_g", "Enter 1 g or more."),
        ({"piece_g": "1e3"}, "piece_g", "We cannot read"),
        ({"own_pieces": "0"}, "own_pieces", "Enter 1 or more."),
        ({"load": "0"}, "load", "Enter 0.01 or more."),
        ({"height_to_diameter": "2"}, "height_to_diameter", "Enter 1 or less."),
        ({"proofed_volume": "3", "baked_volume": "2"}, "baked_volume", "volume when proofed"),
        ({"rise": "0.5"}, "rise", "Enter 1 or more."),
        ({"head_room": "200"}, "head_room", "Enter 100 or less."),
        (
            {"shape": "round", "length": "20", "by": "volume"},
            "depth",
            "Enter the depth or what it holds",
        ),
        ({"water": "1 kg"}, "water", "is a unit of mass"),
    ],
)
def test_bad_input_is_told_by_its_field_and_nothing_is_lost(
    instructor_client, rolls, asked, field, message
):
    answer = instructor_client.get(URL, asked)
    assert answer.status_code == 200
    assert message in answer.context["form"].errors[field][0]
    assert "No answer yet." in text_of(answer)
    shown = unescape(answer.content.decode())
    assert message in shown
    for value in asked.values():
        assert value in shown or value in ("oval", "ell", "luck")


@pytest.mark.parametrize("text", ["<b>9</b>", "9" * 5000, "NaN", "\0", "９", "1,000"])
@pytest.mark.parametrize("name", ["length", "pieces", "piece_g", "was", "water", "load", "shape"])
def test_any_text_gets_a_page_and_no_markup(instructor_client, rolls, name, text):
    answer = instructor_client.get(URL, NINE_INCH | {name: text})
    assert answer.status_code == 200
    assert "<b>9</b>" not in answer.content.decode()


@pytest.mark.parametrize("shape", ["round", "square", "rectangular", "loaf", "tray"])
@pytest.mark.parametrize("pieces", ["1", "2", "7", "25", "150"])
def test_every_shape_takes_any_number_of_pieces(instructor_client, rolls, shape, pieces):
    answer = instructor_client.get(URL, {"shape": shape, "pieces": pieces, "piece_g": "5"})
    assert answer.context["form"].errors == {}
    assert len(answer.context["best"].drawing.centers) == int(pieces)


def test_an_incomplete_own_pan_counts_as_none(instructor_client, instructor):
    revision = RevisionFactory(
        recipe__owner=instructor, recipe__slug="rolls", pan_shape="loaf", pan_length_mm=210
    )
    assert own_pan(revision) is None
    assert instructor_client.get(URL).status_code == 200


def test_one_loaf_lies_in_its_own_loaf_pan(instructor):
    revision = RevisionFactory(pieces=2, pan_shape="loaf", pan_length_mm=210, pan_width_mm=110)
    form = PanForm({}, revision, own_pan(revision))
    assert (form["pieces"].value(), form["own_pieces"].value()) == ("1", "1")


# Under htmx, and who may see it


def test_a_number_typed_brings_the_answer_and_the_messages_alone(instructor_client, rolls, htmx):
    headers = htmx | {"HX-Target": "bench-result"}
    html = instructor_client.get(URL, {"pieces": "0"}, headers=headers).content.decode()
    assert "<html" not in html
    assert "<form" not in html
    assert 'id="pan_pieces_trouble" class="trouble" data-hx-swap-oob="innerHTML"' in html
    assert "Enter 1 or more." in html


def test_a_choice_brings_the_form_anew(instructor_client, rolls, htmx):
    answer = instructor_client.get(URL, NINE_INCH, headers=htmx | {"HX-Target": "bench"})
    html = answer.content.decode()
    assert "<html" not in html
    assert "Diameter inside, in" in html


def test_others_recipes_are_not_there(other_client, assistant_client, stranger, rolls):
    assert other_client.get(URL).status_code == 404
    assert assistant_client.get(URL).status_code == 404
    assert stranger.get(URL).status_code == 302


def test_it_is_only_to_read(instructor_client, rolls):
    assert instructor_client.post(URL, NINE_INCH).status_code == 405


def test_queries_do_not_grow_with_the_pieces(
    instructor_client, rolls, django_assert_max_num_queries
):
    with django_assert_max_num_queries(8):
        instructor_client.get(URL, NINE_INCH)
