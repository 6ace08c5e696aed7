"""What a station avoids stands on its card, and nobody's name with it."""

from __future__ import annotations

import pytest

from classes.enrollment.models import Enrollment
from handouts.kinds.allergen_sheet import IN_PRIVATE
from handouts.kinds.preparation import preparation_list
from handouts.kinds.station_cards import station_cards
from handouts.press.render import PageSize, to_pdf
from tests.handouts.conftest import NOW, plan_of
from tests.handouts.pdfs import page_texts


@pytest.fixture
def cards(demo):
    Enrollment.objects.filter(name="Dov Larkspur").update(diet="private")
    Enrollment.objects.filter(name="Edie Quill").update(allergens=["eggs"], diet="told")
    return station_cards(plan_of(demo), NOW)


def test_the_card_says_what_the_station_avoids(cards):
    assert cards[0].avoids == ("sesame", "see the instructor")
    assert cards[1].avoids == ("eggs", "nuts")
    assert cards[2].avoids == ()


def test_the_printed_card_says_so_and_whom_to_ask(cards):
    texts = page_texts(to_pdf(cards, PageSize.A4))
    assert len(texts) == 3
    assert "This station avoids: sesame, see the instructor; ask the instructor." in texts[0]
    assert "This station avoids" not in texts[2]


def test_a_card_that_avoids_something_holds_no_name(demo, cards):
    texts = page_texts(to_pdf(cards, PageSize.A4))
    names = [one.name for one in demo.enrollments.all()]
    assert not any(name in text for name in names for text in texts[:2])
    assert "4 people" in texts[0]
    assert all(name in texts[2] for name in names[8:])


def test_nobodys_own_words_hang_on_the_wall(cards):
    assert not any("walnuts" in text for text in page_texts(to_pdf(cards, PageSize.A4)))


def test_the_list_for_the_assistant_tells_marked_allergens_and_privacy(demo, cards):
    stations = preparation_list(plan_of(demo), NOW).benches
    assert stations[0].private == (
        ("Cass Thornby", "sesame"),
        ("Dov Larkspur", IN_PRIVATE),
    )
    assert ("Edie Quill", "eggs") in stations[1].private
