"""The instructor's desk in a real browser: must not eat, the door, enrollment, money, letters."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import come_in, looks_right
from tests.classes.diets.sesame_class import night_before, somebody_books

PAGES = ("diets", "changes", "door", "enrollment", "money", "letters", "roster")


@pytest.fixture
def session(transactional_db):
    session = night_before()
    somebody_books(session, allergens=["sesame"])
    return session


def test_every_page_of_the_desk_looks_right(page: Page, live_server, session, complaints):
    come_in(page, live_server.url)
    for name in PAGES:
        page.goto(f"{live_server.url}/classes/{session.code}/{name}/")
        looks_right(page, complaints)


def test_a_walk_in_is_asked_first_and_seated(page: Page, live_server, session, complaints):
    come_in(page, live_server.url)
    page.goto(f"{live_server.url}/classes/{session.code}/door/")
    page.get_by_role("button", name=re.compile("Absent.*Ada Fennimore")).click()
    expect(page.get_by_text("✗ absent")).to_be_visible()
    page.get_by_label("Name", exact=True).fill("Zoe Walker")
    page.get_by_role("button", name="Give them a seat").click()
    expect(page.get_by_text("Ask before they touch anything.")).to_be_visible()
    looks_right(page, complaints)
    page.get_by_label("No", exact=True).check()
    page.get_by_role("button", name="Give them a seat").click()
    expect(page.get_by_text("Zoe Walker is in.")).to_be_visible()
    page.get_by_role("button", name="Even out the stations").click()
    expect(page.get_by_text(re.compile("Bench 1: 4, Bench 2: 4, Bench 3: 3"))).to_be_visible()
