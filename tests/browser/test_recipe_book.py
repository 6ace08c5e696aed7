"""The recipe book as a person uses it: scaling while typing, and a form that grows."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from recipes.models import Revision
from tests.browser.conftest import (
    at_every_size,
    come_in,
    looks_right,
    looks_right_here,
    scrolls_sideways,
    settled,
)

PAGES = [
    "/recipes/",
    "/recipes/pillow-rolls/?pieces=78",
    "/recipes/two-day-rye-batard/?by=flour&flour_g=1000",
    "/recipes/hearth-loaf/?pieces=0",
    "/recipes/new/",
    "/recipes/pillow-rolls/edit/",
    "/ingredients/?q=flour",
    "/ingredients/new/?like=egg",
]


def test_every_page_fits_the_screen_and_has_no_serious_fault(page: Page, demo, complaints):
    come_in(page, demo)
    for address in PAGES:
        page.goto(demo + address)
        looks_right(page, complaints)


def test_the_whole_table_of_ingredients_fits_and_has_no_serious_fault(page: Page, demo, complaints):
    """It is long: axe reads it once, and a part of it on every screen above."""
    come_in(page, demo)
    page.goto(f"{demo}/ingredients/")
    for _ in at_every_size(page):
        assert not scrolls_sideways(page)
    looks_right_here(page, complaints)


def test_amounts_follow_while_typing_and_the_address_keeps_them(page: Page, demo, complaints):
    come_in(page, demo)
    page.goto(f"{demo}/recipes/two-day-rye-batard/")
    page.get_by_label("Pieces").fill("9")
    expect(page.locator("#made")).to_contain_text("5400.0 g of dough from 3096.3 g of flour")
    expect(page.get_by_role("row", name=re.compile("1858 Bread flour"))).to_be_visible()
    page.get_by_label("Pieces").fill("none")
    expect(page.get_by_text("We cannot read “none”.")).to_be_visible()
    expect(page.locator(".card")).to_have_count(0)
    page.get_by_label("Pieces").fill("10")
    expect(page.get_by_text("We cannot read “none”.")).to_have_count(0)
    page.get_by_label("How much flour, and how many").check()
    expect(page.get_by_label("Total flour, g")).to_have_value("3440.4")
    settled(page)
    page.get_by_label("Finest scale you have").select_option("0.01 g")
    expect(page).to_have_url(re.compile("by=share.*scale=0.01"))
    page.reload()
    expect(page.get_by_label("Pieces")).to_have_value("10")
    expect(page.get_by_label("Finest scale you have")).to_have_value("0.01")
    looks_right(page, complaints)


def test_a_search_narrows_the_book_while_typing(page: Page, demo, complaints):
    come_in(page, demo)
    page.goto(f"{demo}/recipes/")
    page.get_by_label("Search the recipes").fill("roux")
    expect(page.get_by_text("1 found")).to_be_visible()
    expect(page.locator("#book .title")).to_have_text(["Pillow rolls"])
    looks_right(page, complaints)


def test_a_recipe_grows_by_rows_and_is_saved(page: Page, demo, complaints):
    come_in(page, demo)
    page.goto(f"{demo}/recipes/new/")
    page.get_by_label("Title").fill("Evening loaf")
    page.get_by_label("Dough in one piece, g").fill("500")
    page.locator("#id_part-0-line-0-amount").fill("4 cups")
    page.locator("#id_part-0-line-0-ingredient").fill("bred flour")
    page.get_by_role("button", name="Add a line").click()
    expect(page.locator("#id_part-0-line-4-amount")).to_be_focused()
    expect(page.locator("#id_part-0-line-0-amount")).to_have_value("4 cups")
    page.get_by_role("button", name="Add a part").click()
    expect(page.locator("fieldset.part")).to_have_count(2)
    page.get_by_role("button", name="Remove part 2").click()
    expect(page.locator("fieldset.part")).to_have_count(1)
    looks_right(page, complaints)

    page.get_by_role("button", name="Save the recipe").click()
    expect(page.get_by_role("alert")).to_contain_text("Did you mean Bread flour")
    expect(page.get_by_label("Title")).to_have_value("Evening loaf")
    looks_right(page, complaints)

    page.locator("#id_part-0-line-0-ingredient").fill("Bread flour")
    page.get_by_label("Title").press("Enter")
    expect(page.get_by_role("heading", level=1, name="Evening loaf")).to_be_visible()
    line = Revision.objects.get(title="Evening loaf").components.get().lines.get()
    assert line.entered == "4 metric cup"  # as in the United Kingdom and Ireland, the demo’s home


def test_fields_show_for_the_parts_they_belong_to(page: Page, demo):
    come_in(page, demo)
    page.goto(f"{demo}/recipes/new/")
    steam, pieces = page.get_by_label("Steam lost in cooking"), page.get_by_label("Enough for how")
    expect(steam).to_be_hidden()
    expect(pieces).to_be_hidden()
    page.get_by_label("What it is").select_option("Roux")
    expect(steam).to_be_visible()
    page.get_by_label("What it is").select_option("Wash")
    expect(pieces).to_be_visible()
    expect(steam).to_be_hidden()


def test_scaling_and_rows_work_without_javascript(without_script, demo):
    page = without_script
    come_in(page, demo)
    page.goto(f"{demo}/recipes/hearth-loaf/")
    page.get_by_label("Pieces").fill("13")
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator("#made")).to_contain_text("6760.0 g of dough")
    page.goto(f"{demo}/recipes/new/")
    page.get_by_label("Title").fill("Evening loaf")
    page.get_by_role("button", name="Add a step").click()
    expect(page.get_by_label("Title")).to_have_value("Evening loaf")
    expect(page.locator(".rows-steps .row")).to_have_count(6)
