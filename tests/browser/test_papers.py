"""The print desk and a student's papers at home, in a real browser."""

from __future__ import annotations

import re
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from io import BytesIO
from threading import Semaphore, Thread

import pytest
from django.db import connections
from django.urls import reverse
from playwright.sync_api import Locator, Page, expect
from pypdf import PdfReader

from classes.access import home_token
from classes.home_kitchen.values import HomeKitchen
from classes.models import ClassSession
from config.server.queue import Queue
from handouts.press import tasks
from handouts.press.markup import Markup
from handouts.press.pool import Pool
from tests.browser.conftest import SLOW_MS, address_of, come_in, looks_right

STUDENTS = 2
PAPERS = STUDENTS + 1


@pytest.fixture
def session(demo):
    """The demo's class with few students, so that its papers are made in seconds."""
    session = ClassSession.objects.get()
    for student in session.enrollments.all()[STUDENTS:]:
        student.delete()
    return session


class HeldPress(Pool):
    """A press that makes a paper each time the test lets it."""

    def __init__(self) -> None:
        super().__init__(workers=0)
        self._let = Semaphore(0)
        self._hand = ThreadPoolExecutor(1)

    def lay_out(self, markup: Markup) -> Future[bytes]:
        return self._hand.submit(self._once_let, markup)

    def _once_let(self, markup: Markup) -> bytes:
        self._let.acquire()
        return super().lay_out(markup).result()

    def let(self, papers: int) -> None:
        self._let.release(papers)


def _work() -> None:
    try:
        Queue().work_off()
    finally:
        connections.close_all()


@contextmanager
def at_work(monkeypatch):
    """The background work on a thread, with its press in the test's hand."""
    press = HeldPress()
    monkeypatch.setattr(tasks, "press", lambda: press)
    worker = Thread(target=_work)
    worker.start()
    try:
        yield press
    finally:
        press.let(PAPERS)
        worker.join()


def desk_of(address: str, session: ClassSession) -> str:
    return address + reverse("handouts:desk", args=[session.code])


def home_of(address: str, session: ClassSession) -> str:
    return address + reverse("handouts:at_home", args=[home_token(session.enrollments.first())])


def row(page: Page, title: str) -> Locator:
    return page.locator(".desk-row", has=page.locator("strong", has_text=re.compile(f"^{title}$")))


def ask_for(page: Page, *titles: str) -> None:
    expect(page.locator("[name=kinds]").first).to_be_visible()
    for box in page.locator("[name=kinds]").all():
        box.uncheck()
    for title in titles:
        row(page, title).get_by_role("checkbox").check()
    page.get_by_role("button", name="Make one file of the chosen papers").click()


def opened(page: Page) -> PdfReader:
    address = address_of(page.get_by_role("link", name="Open the file"))
    answer = page.request.get(page.url.partition("/classes/")[0] + address)
    assert answer.headers["content-type"] == "application/pdf"
    return PdfReader(BytesIO(answer.body()))


def say_room(page: Page, degrees: str) -> None:
    page.get_by_label("Room temperature").fill(degrees)
    page.get_by_role("button", name="Save this kitchen").click()
    expect(page.get_by_text("Saved. The recipes below are now for this kitchen.")).to_be_visible()


def goes_out_of_date(page: Page, address: str, session: ClassSession) -> None:
    """What was printed is right until a student tells of another kitchen."""
    page.goto(desk_of(address, session))
    papers, name = row(page, "Handouts for home"), session.enrollments.first().name
    expect(papers.get_by_text("printed", exact=True)).to_be_visible()
    page.goto(home_of(address, session))
    say_room(page, "18")
    page.goto(desk_of(address, session))
    expect(papers.get_by_text("out of date", exact=True)).to_be_visible()
    expect(papers.get_by_text(f"Changed or new: {name}.")).to_be_visible()
    expect(papers.get_by_role("checkbox")).to_be_checked()
    expect(row(page, "Emergency card").get_by_text("printed", exact=True)).to_be_visible()


def test_papers_are_asked_for_awaited_and_go_out_of_date(
    page: Page, demo, session, complaints, monkeypatch
):
    come_in(page, demo)
    page.goto(desk_of(demo, session))
    looks_right(page, complaints)
    ask_for(page, "Handouts for home", "Emergency card")
    expect(page.get_by_text("Waiting for its turn")).to_be_visible()
    with at_work(monkeypatch) as press:
        expect(page.get_by_text(f"0 of {PAPERS} papers")).to_be_visible(timeout=SLOW_MS)
        press.let(2)
        expect(page.get_by_text(f"2 of {PAPERS} papers")).to_be_visible(timeout=SLOW_MS)
        page.reload()
        expect(page.get_by_text(f"2 of {PAPERS} papers")).to_be_visible()
        expect(page.get_by_role("progressbar", name="Papers made")).to_have_attribute("value", "2")
        looks_right(page, complaints)
        press.let(PAPERS - 2)
        expect(page.get_by_role("link", name="Open the file")).to_be_visible(timeout=SLOW_MS)
    looks_right(page, complaints)
    pages = len(opened(page).pages)
    assert pages >= PAPERS
    expect(page.get_by_role("status").filter(has_text=f"{pages} pages")).to_be_visible()
    goes_out_of_date(page, demo, session)
    looks_right(page, complaints)


def test_papers_are_made_without_javascript(without_script, demo, session):
    page = without_script
    come_in(page, demo)
    page.goto(desk_of(demo, session))
    ask_for(page, "Handouts for home", "Emergency card")
    expect(page.get_by_text("Waiting for its turn")).to_be_visible()
    Queue().work_off()
    expect(page.get_by_role("link", name="Open the file")).to_be_visible()
    assert len(opened(page).pages) >= PAPERS
    goes_out_of_date(page, demo, session)


def test_a_student_keeps_a_kitchen_and_takes_the_paper_in_one_tap(
    page: Page, demo, session, complaints
):
    page.goto(home_of(demo, session))
    page.get_by_label("Paper", exact=True).select_option("letter")
    say_room(page, "66 F")
    assert HomeKitchen.of(session.enrollments.first().home).page == "letter"
    page.reload()
    looks_right(page, complaints)
    with page.expect_download() as taken:
        page.get_by_role("link", name="PDF, US Letter").click()
    reader = PdfReader(taken.value.path())
    assert reader.pages[0].mediabox.width == pytest.approx(612, abs=1)
    words = reader.pages[0].extract_text()
    assert session.enrollments.first().name in words
