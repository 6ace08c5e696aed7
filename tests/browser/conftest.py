"""A real browser at phone, tablet and desktop size, with the demo loaded."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.contrib.auth.models import User
from playwright.sync_api import ConsoleMessage, Locator, Page, expect

from tests.classes.demo_class import NOW
from tests.conftest import signed_in

# The browser's driver runs an event loop in this thread, which Django takes for an async view.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

CHROMIUM = "/usr/bin/chromium"
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
SIZES = {"phone": (390, 844), "tablet": (820, 1180), "desktop": (1280, 900)}
# What plans or makes papers for seconds may take longer where other work goes on beside it.
SLOW_MS = 45_000
# Pages that are there in a moment on a machine at rest take longer on one that is busy.
expect.set_options(timeout=20_000)
# The browser's remark when a swapped-in field asks for the cursor while it is still elsewhere;
# htmx then moves it there, and a test checks that.
HARMLESS = "Autofocus processing was blocked"
SOMETHING = re.compile(r"\S")
# The serious and critical faults as they stand on the page; nothing else is brought over from it.
FAULTS = """async () => (await axe.run({resultTypes: ['violations']})).violations
    .filter(fault => ['serious', 'critical'].includes(fault.impact))
    .flatMap(fault => fault.nodes.map(node => `${fault.id}: ${node.html.slice(0, 120)}`))"""


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    return browser_type_launch_args | {"executable_path": CHROMIUM, "args": list(FLAGS)}


every_size = pytest.mark.parametrize("size", SIZES, indirect=True)


@pytest.fixture
def size(request):
    """The screen that a test begins on: a phone's, where it does not say `every_size`."""
    return SIZES[getattr(request, "param", "phone")]


@pytest.fixture
def browser_context_args(browser_context_args, size):
    width, height = size
    return browser_context_args | {
        "viewport": {"width": width, "height": height},
        "accept_downloads": True,
        "locale": "en-US",
    }


@pytest.fixture
def without_script(browser, browser_context_args):
    """A page of a browser that runs no script."""
    context = browser.new_context(**browser_context_args, java_script_enabled=False)
    yield context.new_page()
    context.close()


@pytest.fixture
def complaints(page: Page):
    """What the browser's console says: a content-security violation would stand here."""
    heard: list[str] = []

    def hear(message: ConsoleMessage) -> None:
        if not message.text.startswith(HARMLESS):
            heard.append(message.text)

    page.on("console", hear)
    page.on("pageerror", lambda error: heard.append(str(error)))
    return heard


@pytest.fixture
def demo(transactional_db, live_server):
    """The demo, and the address of a server that shows it."""
    from classes.management.commands.load_demo import load_demo

    load_demo(now=NOW)
    return live_server.url


def come_in(page: Page, address: str) -> None:
    """Whoever opens the page is the demo's instructor; how to sign in is tested in the main job."""
    client = signed_in(User.objects.get(username="instructor"))
    name = settings.SESSION_COOKIE_NAME
    page.context.add_cookies([{"name": name, "value": client.cookies[name].value, "url": address}])


def serious_faults(page: Page) -> list[str]:
    """The serious and critical faults that axe finds on the page as it stands."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(Axe().axe_script)
    return page.evaluate(FAULTS)


def scrolls_sideways(page: Page) -> bool:
    """Whether the page itself is wider than the screen."""
    return page.evaluate("document.documentElement.scrollWidth > window.innerWidth")


def at_every_size(page: Page) -> Iterator[None]:
    """Give the page the width of one screen after the other, and then its own again."""
    own = page.viewport_size
    for width, height in SIZES.values():
        page.set_viewport_size({"width": width, "height": height})
        yield
    page.set_viewport_size(own)


def looks_right_here(page: Page, complaints: list[str]) -> None:
    """On the screen that it is on, the page has no serious fault and nothing beside it."""
    assert serious_faults(page) == []
    assert not scrolls_sideways(page)
    assert complaints == []


def looks_right(page: Page, complaints: list[str]) -> None:
    """The page looks right on a phone, a tablet and a desktop."""
    for _ in at_every_size(page):
        looks_right_here(page, complaints)


def settled(page: Page) -> None:
    """Wait until htmx has swapped in what it fetched and listens to it."""
    busy = page.locator(".htmx-request, .htmx-swapping, .htmx-settling, .htmx-added")
    expect(busy).to_have_count(0)


def text_of(locator: Locator) -> str:
    """What stands in one element, once something does."""
    expect(locator).to_have_text(SOMETHING)
    return locator.inner_text()


def value_of(field: Locator) -> str:
    """What stands in a field, once something does."""
    expect(field).to_have_value(SOMETHING)
    return field.input_value()


def address_of(link: Locator) -> str:
    """Where a link leads, once it is there."""
    expect(link).to_have_attribute("href", SOMETHING)
    return link.get_attribute("href") or ""
