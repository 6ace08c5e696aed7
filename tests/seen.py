"""What an edit form on a page says that it shows."""

from __future__ import annotations

from django.test import Client

from tests.trust.forms_on import forms_on


def seen_at(client: Client, address: str) -> dict[str, str]:
    """The field that a form is sent with by somebody who opened its page just now."""
    page = client.get(address).content.decode()
    found = [form.fields["seen"][0] for form in forms_on(page, address) if "seen" in form.fields]
    assert len(found) == 1
    return {"seen": found[0]}
