"""A real browser at phone, tablet and desktop size, with the demo loaded."""

from __future__ import annotations

import os

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import ConsoleMessage, Page, expect

from tests.classes.demo_class import NOW

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
# The browser's remark when a swapped-in field asks for the cursor while it is still elsewhere;
# htmx then moves it there, and a test checks that.
HARMLESS = "Autofocus processing was blocked"
SERIOUS = ("serious", "critical")


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    return browser_type_launch_args | {"executable_path": CHROMIUM, "args": list(FLAGS)}


@pytest.fixture(params=SIZES)
def size(request):
    return SIZES[request.param]


@pytest.fixture
def browser_context_args(browser_context_args, size):
    width, height = size
    return browser_context_args | {
        "viewport": {"width": width, "height": height},
        "accept_downloads": True,
        "locale": "en-US",
    }


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


def serious_faults(page: Page) -> list[str]:
    """The serious and critical faults that axe finds on the page as it stands."""
    found = Axe().run(page).response["violations"]
    return [
        f"{fault['id']}: {node['html'][:120]}"
        for fault in found
        if fault["impact"] in SERIOUS
        for node in fault["nodes"]
    ]


def scrolls_sideways(page: Page) -> bool:
    """Whether the page itself is wider than the screen."""
    return page.evaluate("document.documentElement.scrollWidth > window.innerWidth")


def settled(page: Page) -> None:
    """Wait until htmx has swapped in what it fetched and listens to it."""
    busy = page.locator(".htmx-request, .htmx-swapping, .htmx-settling, .htmx-added")
    expect(busy).to_have_count(0)
