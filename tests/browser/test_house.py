"""Somebody new in the house: added, let in by a link, let go; without a script on the page."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.contrib.auth.models import User
from playwright.sync_api import Page, expect

from tests.browser.conftest import value_of
from tests.browser.test_enrollment import looks_right
from tests.factories import PASSWORD, UserFactory

NEW = "a pass phrase of my own"


def sign_in(page: Page, address: str, username: str, password: str) -> None:
    page.goto(f"{address}/sign-in/")
    page.get_by_label("Username").fill(username)
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Sign in").click()


@pytest.fixture
def elsewhere(browser, browser_context_args) -> Iterator[Page]:
    """A page of somebody else's browser, which runs no script either."""
    context = browser.new_context(**browser_context_args, java_script_enabled=False)
    yield context.new_page()
    context.close()


def test_somebody_is_added_comes_in_and_is_let_go_without_javascript(
    without_script, elsewhere, demo
):
    UserFactory(username="olaf", role="", is_superuser=True)
    page, theirs = without_script, elsewhere
    sign_in(page, demo, "olaf", PASSWORD)
    page.get_by_role("link", name="People").click()
    page.get_by_role("link", name="Add somebody").click()
    page.get_by_label("User name").fill("rosa")
    page.get_by_role("button", name="Add them").click()
    expect(page.get_by_text("Choose at least one role.")).to_be_visible()
    page.get_by_label("Name", exact=False).nth(1).fill("Rosa Kernel")
    page.get_by_label("Assistant").check()
    page.get_by_role("button", name="Add them").click()
    expect(page.get_by_text("rosa is added.")).to_be_visible()
    link = value_of(page.get_by_label("Link for Rosa Kernel"))

    theirs.goto(link)
    theirs.get_by_label("New password", exact=True).fill(NEW)
    theirs.get_by_label("New password again").fill("another one")
    theirs.get_by_role("button", name="Save this password").click()
    expect(theirs.get_by_text("The two passwords are not the same.")).to_be_visible()
    theirs.get_by_label("New password", exact=True).fill(NEW)
    theirs.get_by_label("New password again").fill(NEW)
    theirs.get_by_role("button", name="Save this password").click()
    expect(theirs.get_by_text("Your password is saved.")).to_be_visible()
    sign_in(theirs, demo, "rosa", NEW)
    expect(theirs.get_by_text("You are not an assistant in any class yet.")).to_be_visible()
    theirs.get_by_role("link", name="Your account").click()
    expect(theirs.get_by_label("Name", exact=False).first).to_have_value("Rosa Kernel")
    assert theirs.goto(link).status == 404

    page.reload()
    expect(page.get_by_text("Rosa Kernel has chosen a password.")).to_be_visible()
    page.get_by_role("button", name="Let Rosa Kernel go").click()
    expect(page.get_by_text("rosa has been let go and is signed out everywhere.")).to_be_visible()
    theirs.goto(f"{demo}/account/")
    expect(theirs.get_by_role("heading", name="Sign in")).to_be_visible()
    page.get_by_role("button", name="Take Rosa Kernel back").click()
    expect(page.get_by_label("Link for Rosa Kernel")).to_be_visible()
    assert User.objects.get(username="rosa").is_active


def test_every_page_of_the_house_looks_right(page: Page, demo, complaints):
    UserFactory(username="olaf", role="", is_superuser=True)
    UserFactory(username="w" * 150, first_name="W" * 150, email=f"{'w' * 60}@example.org")
    sign_in(page, demo, "olaf", PASSWORD)
    expect(page.get_by_role("link", name="People")).to_be_visible()
    teaching, newest = User.objects.get(username="instructor"), User.objects.latest("pk")
    pages = ["people/", "people/new/", "account/"]
    pages += [f"people/{one.pk}/" for one in (teaching, newest, User.objects.get(username="olaf"))]
    for name in pages:
        page.goto(f"{demo}/{name}")
        looks_right(page, complaints)
    page.goto(f"{demo}/people/{newest.pk}/")
    page.get_by_role("button", name="Make a link").click()
    link = value_of(page.locator("#entry-link"))
    for address in (page.url, link):
        page.goto(address)
        looks_right(page, complaints)
