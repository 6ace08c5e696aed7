"""What every answer of the site tells a browser, whoever asks and whatever comes of it."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from tests.site import make_site
from tests.test_access import TABLE
from tests.worlds import anew, made_once

KEPT = {
    "classes:calendar": "public, max-age=300",
    "recipes:photo": "private, max-age=",  # pictures of bread, by the browser of who may see them
}
POLICY = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self' data:",
    "font-src": "'self'",
    "connect-src": "'self'",
    "manifest-src": "'self'",
    "form-action": "'self'",
    "base-uri": "'none'",
    "frame-ancestors": "'none'",
}
OFF = ("camera", "geolocation", "microphone", "payment", "usb")


site_made_once = made_once(make_site)


@pytest.fixture
def site(site_made_once, db):
    return anew(site_made_once)


def faults(answer) -> list[str]:
    """The headers that are missing or say something else than they should."""
    said = answer.headers
    parts = (part.strip().split(" ", 1) for part in said["Content-Security-Policy"].split(";"))
    right = {
        "Content-Security-Policy": dict(part for part in parts if part != [""]) == POLICY,
        "X-Content-Type-Options": said.get("X-Content-Type-Options") == "nosniff",
        "X-Frame-Options": said.get("X-Frame-Options") == "DENY",
        "Referrer-Policy": said.get("Referrer-Policy") == "same-origin",
        "Cross-Origin-Opener-Policy": said.get("Cross-Origin-Opener-Policy") == "same-origin",
        "Cross-Origin-Resource-Policy": said.get("Cross-Origin-Resource-Policy") == "same-origin",
        "Permissions-Policy": all(
            f"{feature}=()" in said.get("Permissions-Policy", "") for feature in OFF
        ),
    }
    return [name for name, holds in right.items() if not holds]


def for_caches(answer) -> set[str]:
    return {part.strip() for part in answer.headers["Cache-Control"].split(",")}


@pytest.mark.parametrize("name", TABLE)
def test_every_answer_carries_them_all(name, site):
    address = site.address(name)
    for who in ("nobody", "instructor"):
        client = site.clients[who]
        for answer in (client.get(address), client.put(address), client.post(address, {})):
            assert faults(answer) == [], (who, answer.status_code)
            if name in KEPT and answer.status_code == 200:
                assert answer.headers["Cache-Control"].startswith(KEPT[name])
            else:
                assert for_caches(answer) >= {"private", "no-store"}


@pytest.mark.parametrize("address", ["/nothing-here/", "/admin/", "/admin/login/", "/mine/x/"])
def test_so_do_pages_that_are_not_there_and_the_back_office(address, site):
    for client in site.clients.values():
        answer = client.get(address)
        assert faults(answer) == []
        assert "no-store" in answer.headers["Cache-Control"]


def test_so_does_the_page_of_an_error(site, monkeypatch):
    client = site.clients["nobody"]
    client.raise_request_exception = False
    monkeypatch.setattr("classes.enrollment.views.public.listed_classes", lambda at: 1 / 0)
    answer = client.get(reverse("classes:open_list"))
    assert answer.status_code == 500
    assert faults(answer) == []
    assert "no-store" in answer.headers["Cache-Control"]
    assert "ZeroDivision" not in answer.content.decode()


INLINE = re.compile(r"<style\b|\sstyle=|\son[a-z]+=|javascript:", re.IGNORECASE)
SCRIPT = re.compile(r"<script\b([^>]*)>", re.IGNORECASE)


@pytest.mark.parametrize("name", sorted(name for name in TABLE if not name.endswith("pdf")))
def test_no_page_holds_code_or_styles_that_the_policy_would_have_to_allow(name, site):
    answer = site.clients["instructor"].get(site.address(name))
    if not answer.headers.get("Content-Type", "").startswith("text/html"):
        assert answer.status_code != 500
        return
    page = answer.content.decode()
    assert INLINE.findall(page) == []
    allowed = ("src=", "application/ld+json", "application/json")
    assert [one for one in SCRIPT.findall(page) if not any(word in one for word in allowed)] == []
