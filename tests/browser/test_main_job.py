"""The main job as a person does it: from signing in to three papers in hand."""

from __future__ import annotations

import re
import subprocess

from playwright.sync_api import Page, expect

from classes.models import ClassSession
from tests.browser.conftest import address_of, every_size, looks_right, looks_right_here, settled


def sign_in(page: Page, address: str) -> None:
    page.goto(address)
    page.get_by_label("Username").fill("instructor")
    page.get_by_label("Password").fill("flour-and-water")
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="What comes next")).to_be_visible()


def text_of_pdf(path) -> str:
    done = subprocess.run(
        ["/usr/bin/pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True
    )
    return done.stdout


@every_size
def test_from_a_recipe_to_a_class_on_paper(page: Page, demo, complaints, tmp_path):
    sign_in(page, demo)
    looks_right_here(page, complaints)

    page.get_by_role("link", name=re.compile("^Hearth loaf")).first.click()
    expect(page.get_by_role("heading", level=1, name="Hearth loaf")).to_be_visible()
    looks_right_here(page, complaints)

    page.get_by_role("link", name="Classes").first.click()
    page.get_by_role("link", name="Build a class").click()
    page.get_by_label("Title", exact=True).fill("Spring loaves")
    page.get_by_label("Date", exact=True).fill("2030-05-04")
    page.get_by_label("Starts", exact=True).fill("10:00")
    page.get_by_label("Ends", exact=True).fill("14:00")
    page.get_by_label("Seats", exact=True).fill("6")
    page.get_by_label("Recipe", exact=True).first.select_option(label="Hearth loaf, revision 1")
    page.get_by_role("button", name="Add a recipe").click()
    expect(page.get_by_label("Recipe", exact=True)).to_have_count(2)
    expect(page.get_by_label("Title", exact=True)).to_have_value("Spring loaves")
    page.get_by_label("Bench 1 · 4 places").check()
    page.get_by_label("Bench 2 · 4 places").check()
    looks_right_here(page, complaints)
    page.get_by_role("button", name="Save the class").last.click()
    expect(page.get_by_role("heading", level=1, name="Spring loaves")).to_be_visible()

    page.get_by_role("link", name="Fill the roster").first.click()
    for n, name in enumerate(("Ada", "Bram")):
        page.get_by_role("button", name="Add a person").click()
        page.locator(f"#id_people-{n}-name").fill(name)
    settled(page)
    looks_right_here(page, complaints)
    page.get_by_role("button", name="Save the roster").last.click()
    expect(page.get_by_text("The roster is saved.")).to_be_visible()

    page.get_by_role("link", name="Amounts").first.click()
    row = page.get_by_role("row", name=re.compile("Ada"))
    expect(row).to_contain_text("259")
    expect(row).to_contain_text("258.63")
    looks_right_here(page, complaints)

    page.get_by_role("link", name="Spring loaves").first.click()
    expect(page.get_by_role("heading", level=1, name="Spring loaves")).to_be_visible()
    looks_right_here(page, complaints)
    page.get_by_role("link", name="Print desk").click()
    expect(page.get_by_role("heading", level=1, name="Print desk")).to_be_visible()
    looks_right_here(page, complaints)
    papers = {}
    for paper in ("Handouts for the class", "Shopping and mise en place", "Station cards"):
        row = page.locator(".desk-row", has_text=paper)
        address = address_of(row.get_by_role("link", name=re.compile("^Only th")))
        answer = page.request.get(demo + address)
        assert answer.headers["content-type"] == "application/pdf"
        file = tmp_path / f"{len(papers)}.pdf"
        file.write_bytes(answer.body())
        papers[paper] = text_of_pdf(file)
    assert "Ada" in papers["Handouts for the class"]
    for text in papers.values():
        assert "259" in text
        assert "6.1" in text
        assert "revision 1" in text


def test_an_assistant_ticks_lines_and_sees_it_at_once(page: Page, demo, complaints):
    page.goto(demo)
    page.get_by_label("Username").fill("assistant")
    page.get_by_label("Password").fill("tubs-and-labels")
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("link", name=re.compile("Saturday hearth loaf")).click()
    page.get_by_role("link", name="Preparation").first.click()
    line = page.get_by_role("button", name=re.compile("^Bread flour 2 × 1500 g")).first
    line.click()
    expect(line).to_have_attribute("aria-pressed", "true")
    looks_right(page, complaints)
    page.reload()
    expect(line).to_have_attribute("aria-pressed", "true")


def test_everything_works_without_javascript(without_script, demo):
    page = without_script
    sign_in(page, demo)
    code = ClassSession.objects.get().code
    page.goto(f"{demo}/classes/{code}/roster/")
    names = page.get_by_label("Name", exact=True)
    expect(names).to_have_count(12)
    page.get_by_role("button", name="Add a person").click()
    expect(names).to_have_count(13)
    page.goto(f"{demo}/classes/{code}/preparation/")
    line = page.get_by_role("button", name=re.compile("^Bread flour 2 × 1500 g")).first
    line.click()
    expect(line).to_have_attribute("aria-pressed", "true")
