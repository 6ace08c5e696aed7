"""From the list of classes to a seat and out again, as a student does it on a phone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from classes.enrollment.models import Letter
from classes.models import ClassSession
from tests.browser.conftest import at_every_size, looks_right_here


@pytest.fixture
def with_seats(demo):
    """The demo with room for four more."""
    ClassSession.objects.update(seats=16, is_open=True)
    return demo


def open_the_form(page: Page, address: str, seats: str = "1") -> None:
    page.goto(f"{address}/open/")
    page.get_by_role("link", name=re.compile("Saturday hearth loaf")).click()
    page.get_by_label("Seats").select_option(seats)
    page.get_by_role("button", name="Enroll").click()
    expect(page.get_by_text("Held until")).to_be_visible()


def headed(page: Page, title: str = "") -> None:
    """Wait for the page with a heading, of any words where none are given."""
    expect(page.get_by_role("heading", level=1, name=title)).to_be_visible()


def fill(page: Page, *names: str) -> None:
    page.get_by_label("E-mail").fill("ada@example.org")
    for number, name in enumerate(names):
        page.locator(f"#id_person-{number}-name").fill(name)


def test_two_seats_are_taken_changed_and_given_back_without_javascript(without_script, with_seats):
    page = without_script
    open_the_form(page, with_seats, "2")
    page.get_by_role("button", name="Enroll in this class").click()
    expect(page.get_by_text("Not enrolled yet.")).to_be_visible()
    fill(page, "Ada Lomax", "Bo Vane")
    page.locator("#id_person-1-must_not_eat").fill("no sesame")
    page.get_by_role("button", name="Enroll in this class").click()

    expect(page.get_by_text("Your place in")).to_be_visible()
    own = page.url
    page.get_by_role("radio", name="Yes, as marked or written below").check()
    page.get_by_label("milk").check()
    page.get_by_role("button", name="Save this").click()
    expect(page.get_by_text("Saved. Only the instructor and the assistant see it")).to_be_visible()
    expect(page.get_by_label("milk")).to_be_checked()

    page.get_by_role("link", name="Before the day").click()
    expect(page.get_by_role("heading", name="How to measure")).to_be_visible()
    page.go_back()
    page.get_by_role("link", name="Your handout").click()
    expect(page.get_by_role("heading", name="Ada Lomax")).to_be_visible()

    page.goto(own)
    page.get_by_role("button", name="Cancel all 2 seats").click()
    expect(page.get_by_role("heading", name="Canceled")).to_be_visible()
    assert page.goto(own).status == 404
    session = ClassSession.objects.get()
    assert session.taken == 12
    assert sorted(Letter.objects.values_list("kind", flat=True)) == ["canceled", "confirmation"]


def test_an_address_that_is_written_holds_the_seats_longer_by_itself(page: Page, with_seats):
    open_the_form(page, with_seats)
    held = page.locator("#held")
    expect(held).to_contain_text("once you enter your e-mail")
    page.locator("#id_person-0-name").fill("Ada Lomax")
    page.get_by_label("E-mail").fill("ada@example.org")
    page.get_by_label("E-mail").press("Tab")
    expect(held).not_to_contain_text("once you enter your e-mail")
    expect(page.locator("#id_person-0-name")).to_have_value("Ada Lomax")


def test_somebody_erases_themselves_without_javascript(without_script, with_seats):
    page = without_script
    open_the_form(page, with_seats)
    fill(page, "Ada Lomax")
    page.get_by_role("button", name="Enroll in this class").click()
    page.get_by_role("link", name="Erase me").click()
    page.get_by_role("button", name="Erase me").click()
    expect(page.get_by_role("heading", name="You are erased")).to_be_visible()


def test_a_full_class_has_a_waiting_list_without_javascript(without_script, demo):
    page = without_script
    page.goto(f"{demo}/open/")
    page.get_by_role("link", name=re.compile("full, waiting list")).click()
    page.get_by_label("Your name").fill("Wim Oak")
    page.get_by_label("E-mail").fill("wim@example.org")
    page.get_by_role("button", name="Join the waiting list").click()
    expect(page.get_by_role("heading", name="Waiting list")).to_be_visible()
    page.get_by_role("button", name="Leave the list").click()
    expect(page.get_by_text("left the list")).to_be_visible()


def looks_right(page: Page, complaints: list[str]) -> None:
    """On every screen, and its buttons and fields are high enough for a finger."""
    for _ in at_every_size(page):
        looks_right_here(page, complaints)
        assert small_targets(page) == []


def small_targets(page: Page) -> list[str]:
    """Buttons and fields lower than 44 px."""
    return page.evaluate(
        """() => [...document.querySelectorAll('main button, main .button, main select,'
             + ' main input:not([type=hidden], [type=radio], [type=checkbox]), main summary')]
           .filter(one => one.offsetParent && one.getBoundingClientRect().height < 43.5)
           .map(one => one.outerHTML.slice(0, 80))"""
    )


def test_every_page_on_the_way_can_be_read_by_everybody(page: Page, with_seats, complaints):
    page.goto(f"{with_seats}/open/")
    looks_right(page, complaints)
    page.get_by_role("link", name=re.compile("Saturday hearth loaf")).click()
    headed(page, "Saturday hearth loaf")
    looks_right(page, complaints)
    page.get_by_label("Seats").select_option("2")
    page.get_by_role("button", name="Enroll").click()
    headed(page, "2 seats for you")
    looks_right(page, complaints)
    page.get_by_role("button", name="Enroll in this class").click()
    expect(page.get_by_text("Not enrolled yet.")).to_be_visible()
    looks_right(page, complaints)
    fill(page, "Ada Lomax", "Bo Vane")
    page.get_by_role("button", name="Enroll in this class").click()
    headed(page, "Saturday hearth loaf")
    own = page.url
    looks_right(page, complaints)
    for name in ("Before the day", "Read it, or download it", "Erase me"):
        page.goto(own)
        page.get_by_role("link", name=name).click()
        expect(page).not_to_have_url(own)
        headed(page)
        looks_right(page, complaints)
    page.goto(own)
    page.get_by_role("button", name="Cancel my seat").click()
    headed(page, "Canceled")
    looks_right(page, complaints)
    ClassSession.objects.update(seats=13)
    page.goto(f"{with_seats}/open/")
    page.get_by_role("link", name=re.compile("full, waiting list")).click()
    headed(page, "Saturday hearth loaf")
    looks_right(page, complaints)
    page.get_by_label("Your name").fill("Wim Oak")
    page.get_by_label("E-mail").fill("wim@example.org")
    page.get_by_role("button", name="Join the waiting list").click()
    headed(page, "Waiting list")
    looks_right(page, complaints)
