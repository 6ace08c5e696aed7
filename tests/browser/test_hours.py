"""The hours of a class as a person plans them: while building, in the settings, and what if."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from classes.models import ClassSession
from recipes.models import Revision
from tests.browser.conftest import SLOW_MS, come_in, looks_right, settled, text_of


def fill_in_a_class(page: Page, demo: str) -> None:
    page.goto(f"{demo}/classes/new/")
    page.get_by_label("Title", exact=True).fill("Spring loaves")
    page.get_by_label("Date", exact=True).fill("2030-05-04")
    page.get_by_label("Starts", exact=True).fill("10:00")
    page.get_by_label("Seats", exact=True).fill("6")
    page.get_by_label("Recipe", exact=True).first.select_option(label="Hearth loaf, revision 1")
    page.get_by_label("Bench 1 · 4 places").check()
    page.get_by_label("Bench 2 · 4 places").check()


def test_the_verdict_follows_a_class_from_its_form_to_what_if(page: Page, demo, complaints):
    come_in(page, demo)
    fill_in_a_class(page, demo)
    verdict = page.locator("#verdict")
    expect(verdict).to_contain_text("shows once these are filled in: ends.")
    page.get_by_label("Ends", exact=True).fill("15:00")
    expect(verdict.locator("strong")).to_have_text("Fits")
    looks_right(page, complaints)
    page.get_by_label("Ends", exact=True).fill("14:00")
    expect(verdict.locator("strong")).to_have_text("Does not fit")
    expect(verdict).to_contain_text("after the end")
    verdict.get_by_text("What decides the time").click()
    expect(verdict.get_by_text("Bulk fermentation")).to_be_visible()
    looks_right(page, complaints)
    page.get_by_role("button", name="Add a recipe").click()
    expect(page.get_by_label("Recipe", exact=True)).to_have_count(2)
    expect(verdict.locator("strong")).to_have_text("Does not fit")
    settled(page)
    page.get_by_role("button", name="Save the class").last.click()
    expect(page.get_by_role("heading", level=1, name="Spring loaves")).to_be_visible()

    page.get_by_role("link", name="Hours", exact=True).first.click()
    expect(page.locator(".reading strong")).to_have_text("Does not fit")
    expect(page.locator("#remedies .remedies")).to_be_visible(timeout=SLOW_MS)
    expect(page.get_by_role("heading", name="Done ahead")).to_be_visible()
    page.get_by_text("The same in words, as a table").click()
    expect(page.get_by_role("cell", name=re.compile("^Divide and shape")).first).to_be_visible()
    looks_right(page, complaints)

    page.get_by_role("link", name="Settings").click()
    page.get_by_label("In the proof cabinet").check()
    expect(page.locator("#verdict strong")).to_have_text("Tight")
    looks_right(page, complaints)
    page.get_by_label("Break at").fill("10:02")
    page.get_by_label("Break, min").fill("10")
    expect(page.locator("#verdict")).to_contain_text("A break must be between 10:10")
    page.get_by_label("Break at").fill("")
    expect(page.locator("#verdict strong")).to_have_text("Tight")
    page.get_by_role("button", name="Save the settings").last.click()
    expect(page.get_by_text("The settings are saved.")).to_be_visible()
    expect(page.locator(".reading strong")).to_have_text("Tight")

    page.get_by_role("link", name="What if").click()
    expect(page.get_by_text("Nothing changes.")).to_be_visible()
    page.get_by_label("O1 · 6 places").check()
    page.get_by_label("O2 · 6 places").check()
    differences = page.locator("#answer")
    expect(differences).to_contain_text("O1, load 1:")
    expect(page.locator(".now-then strong").last).to_have_text("Does not fit")
    expect(page).to_have_url(re.compile(r"out=\d+&out=\d+"))
    looks_right(page, complaints)
    page.reload()
    expect(page.get_by_label("O2 · 6 places")).to_be_checked()
    expect(differences).to_contain_text("O3, load 2: none →")
    settled(page)
    page.get_by_label("Room, °C").fill("hot")
    expect(page.get_by_text("We cannot read “hot”.")).to_be_visible()
    looks_right(page, complaints)


def test_a_better_plan_is_looked_for_and_stays(page: Page, demo, complaints):
    come_in(page, demo)
    session = ClassSession.objects.get()
    ring = Revision.objects.get(title="Seeded ring")
    session.taught.create(revision=ring, piece_g=400, position=1, mixing="mixer")
    page.goto(f"{demo}/classes/{session.code}/hours/")
    helped = page.locator("#remedies .remedies")
    expect(helped).to_be_visible(timeout=SLOW_MS)
    before = text_of(page.locator(".big-time b"))
    page.get_by_role("button", name="Look for a better plan").click()
    expect(page.get_by_text("A better plan: ready")).to_be_visible(timeout=SLOW_MS)
    after = text_of(page.locator(".big-time b"))
    assert after < before
    expect(helped).to_be_visible(timeout=SLOW_MS)
    settled(page)
    looks_right(page, complaints)
    page.reload()
    expect(page.locator(".big-time b")).to_have_text(after)
    expect(page.get_by_text("Kept since")).to_be_visible()


def test_hours_are_planned_without_javascript(without_script, demo):
    page = without_script
    come_in(page, demo)
    fill_in_a_class(page, demo)
    page.get_by_label("Ends", exact=True).fill("14:00")
    page.get_by_role("button", name="Does it fit?").click()
    expect(page.locator("#verdict strong")).to_have_text("Does not fit")
    expect(page.get_by_label("Title", exact=True)).to_have_value("Spring loaves")
    code = ClassSession.objects.get().code
    page.goto(f"{demo}/classes/{code}/hours/")
    page.get_by_role("link", name="Work out what would help").click()
    expect(page.locator("#remedies")).to_contain_text("by the plan ready at")
    page.get_by_role("link", name="Settings").click()
    page.get_by_label("Welcome and cautions, min").fill("60")
    page.get_by_role("button", name="Does it fit?").click()
    expect(page.locator("#verdict strong")).to_have_text("Does not fit")
    expect(page.get_by_label("Welcome and cautions, min")).to_have_value("60")
    page.goto(f"{demo}/classes/{code}/hours/what-if/")
    page.get_by_label("O1 · 6 places").check()
    page.get_by_role("button", name="See what changes").click()
    expect(page.locator("#answer")).to_contain_text("O1, load 1:")
