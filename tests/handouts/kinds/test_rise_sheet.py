"""The rise of a recipe on paper: the page's chart and times, its cautions, and its limits."""

from __future__ import annotations

import pytest
from django.urls import reverse

from classes.core.regions import Region
from handouts.rise_sheet import HAZARDS, RiseSheet
from handouts.safety.cautions import DEFERRAL, cautions_for
from tests.classes.demo_class import NOW, demo_class
from tests.handouts.pdfs import page_texts, plain
from wording.durations import whole_minutes


@pytest.fixture
def page(client, db):
    session = demo_class()
    client.force_login(session.instructor)
    slug = session.taught.get().revision.recipe.slug

    def get(name, **query):
        return client.get(reverse(name, args=[slug]), query)

    return get


def paper(page, **query) -> str:
    answer = page("handouts:rise", **query)
    assert answer.headers["Content-Type"] == "application/pdf"
    return "\n".join(page_texts(answer.content))


def test_it_shows_the_same_times_as_the_page(page):
    chosen = page("classes:rise", room_c="18").context["answer"].chosen
    printed = plain(paper(page, room_c="18"))
    for rise in chosen.rises:
        assert plain(whole_minutes(rise.minutes)) in printed


def test_the_chart_is_drawn_with_its_words(page):
    printed = paper(page)
    assert "time since mixing" in printed
    assert "as written" in printed


def test_it_carries_cautions_and_the_line_that_defers(page):
    printed = " ".join(paper(page).split())
    assert DEFERRAL in printed
    for caution in cautions_for(HAZARDS, Region.ALL):
        assert f"{caution.heading}: {caution.brief}" in printed


def test_it_names_revision_kitchen_page_and_printing(page):
    printed = paper(page)
    for words in ("Hearth loaf, revision 1", "Thistlewick Hall", "page 1 of", "Printed"):
        assert words in printed


def test_its_cautions_are_in_the_wording_of_the_kitchens_region():
    for region in Region:
        sheet = RiseSheet("Loaf", "Loaf, revision 1", "", None, NOW, region)
        assert sheet.foot.cautions == cautions_for(HAZARDS, region)


def test_an_unknown_size_is_refused_in_words(page):
    answer = page("handouts:rise", page="a3")
    assert answer.status_code == 400
    assert "Unknown paper size" in answer.content.decode()


def test_a_figure_that_needs_mending_leads_back_to_the_page(page):
    answer = page("handouts:rise", room_c="warm")
    assert answer.status_code == 302
    assert "/rise/?" in answer.headers["Location"]


def test_the_page_leads_to_the_paper(page):
    assert reverse("handouts:rise", args=["hearth-loaf"]) in page("classes:rise").content.decode()
