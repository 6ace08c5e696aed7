"""Every form on every page, sent as it stands there with a few fields spoiled: never an error.

`test_fuzz` knows what some forms are for; here whatever stands on a page is found and sent, so
that a form made tomorrow is among them. Each is spoiled once in the suite; FUZZ_POSTS makes as
many in all, each time other ones.
"""

from __future__ import annotations

import os

import pytest
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.site import Site, make_site
from tests.test_access import TABLE
from tests.trust.forms_on import PageForm, forms_on
from tests.trust.test_fuzz import VALUES, with_booked_student
from tests.worlds import undone

POSTS = int(os.environ.get("FUZZ_POSTS", "0"))
PAPERS = ("handouts:papers", "handouts:paper", "handouts:rise")
READERS = ("nobody", "instructor", "owner of the site")


@pytest.fixture
def site(db, settings):
    settings.PUBLIC_POSTS_A_MINUTE = 10**9
    return with_booked_student(make_site())


def forms_of(site: Site) -> list[tuple[str, PageForm]]:
    """Every form once, with the first of the readers who sees it."""
    found: dict[tuple[str, ...], tuple[str, PageForm]] = {}
    for name in (one for one in TABLE if not one.endswith("pdf") and one not in PAPERS):
        for who in READERS:
            address = site.address(name)
            answer = site.clients[who].get(address)
            if answer.status_code != 200 or "html" not in answer.headers["Content-Type"]:
                continue
            for form in forms_on(answer.content.decode(), address):
                form.fields.pop("csrfmiddlewaretoken", None)
                key = (form.method, form.address, *sorted(form.fields))
                found.setdefault(key, (who, form))
    return [one for key, one in found.items() if "/sign-out/" not in key[1]]


def _spoiled(form: PageForm, data: st.DataObject) -> dict[str, object]:
    fields: dict[str, object] = dict(form.fields)
    if form.buttons:
        button, value = data.draw(st.sampled_from(form.buttons))
        fields[button] = value
    names = sorted(fields) or ["a field"]
    for name in data.draw(st.lists(st.sampled_from(names), max_size=3, unique=True)):
        fields[name] = data.draw(VALUES, label=name)
    return fields


def _send(client: Client, form: PageForm, fields: dict[str, object]) -> int:
    with undone():
        answer = getattr(client, form.method)(form.address, fields, follow=True)
    return answer.status_code


def _fault(client: Client, form: PageForm, examples: int) -> Exception | None:
    """What the server falls over, if it does, over some spoiled ways to fill in a form."""

    @settings(
        max_examples=examples,
        deadline=None,
        database=None,
        derandomize=not POSTS,
        suppress_health_check=list(HealthCheck),
    )
    @given(st.data())
    def send(data):
        assert _send(client, form, _spoiled(form, data)) < 500

    try:
        assert _send(client, form, form.fields) < 500
        send()
    except Exception as error:
        return error
    return None


def test_no_form_on_any_page_breaks_the_server_as_it_stands_or_spoiled(site):
    forms = forms_of(site)
    assert len(forms) > 30
    examples = max(1, -(-POSTS // len(forms)))
    faults = [
        (form.method, form.address, _fault(site.clients[who], form, examples))
        for who, form in forms
    ]
    assert [fault for fault in faults if fault[-1]] == []


def test_a_form_is_found_with_what_stands_in_it(site):
    address = site.address("classes:roster")
    page = site.clients["instructor"].get(address).content.decode()
    roster = next(form for form in forms_on(page, address) if form.address == address)
    names = [person.name for person in site.session.enrollments.all()]
    assert [roster.fields[f"people-{n}-name"] for n in range(2)] == [[name] for name in names]
    assert ("add", "people") in roster.buttons
