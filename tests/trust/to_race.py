"""Two people save one form at the same moment, on the database of the settings.

`python -m tests.trust.to_race 3` prints what was lost and answered in three rounds, as JSON. A
process of its own for `test_stale_race`, so that both kinds of database are raced alike.
"""

from __future__ import annotations

import json
import sys
import threading
from collections.abc import Iterator
from copy import copy
from typing import Any

import django

Fields = dict[str, list[str]]


def races(n: int) -> Iterator[tuple[str, Fields, Fields]]:
    """Forms, each with what the two change in it."""
    yield "classes:edit", {"title": [f"Loaf {n}"]}, {"notes": [f"Notes {n}"]}
    yield "classes:enrollment", {"about": [f"About {n}"]}, {"bring": [f"Bring {n}"]}
    yield "classes:kitchen", {"place": [f"Lane {n}"]}, {"bowls": [str(n + 3)]}
    yield "classes:roster", {"people-0-must_not_eat": [f"seed {n}"]}, {"people-1-name": [f"Bo {n}"]}
    yield "recipes:ingredient_edit", {"note": [f"Note {n}"]}, {"aisle": [f"Aisle {n}"]}


def opened(client: Any, address: str) -> Fields:
    """What stands in the edit form at an address."""
    from tests.trust.forms_on import forms_on

    page = client.get(address).content.decode()
    (form,) = [one for one in forms_on(page, address) if "seen" in one.fields]
    return form.fields


def race(client: Any, address: str, changes: tuple[Fields, Fields]) -> list[int]:
    """Open a form twice, and send it twice in the same moment: the two answers."""
    pages = [opened(client, address) for _ in changes]
    sent = [page | change for page, change in zip(pages, changes, strict=True)]
    return at_once(client, address, sent)


def at_once(client: Any, address: str, forms: list[Fields]) -> list[int]:
    """Send forms in the same moment, each by a client of its own."""
    from django.db import connection

    ready, answers = threading.Barrier(len(forms), timeout=20), []

    def send(own: Any, fields: Fields) -> None:
        ready.wait()
        try:
            answers.append(own.post(address, fields).status_code)
        finally:
            connection.close()

    threads = [threading.Thread(target=send, args=(copy(client), fields)) for fields in forms]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    return answers


def imported_at_once(client: Any, address: str) -> dict[str, Any]:
    """One text, read twice and saved twice in the same moment: the answers and the recipes."""
    from recipes.models import Recipe
    from tests.trust.forms_on import forms_on

    text = "Raced loaf\nMakes 1 loaf of 800 g\n\n500 g Own flour\n300 g water\n"
    Ingredient = Recipe._meta.apps.get_model("recipes", "Ingredient")
    Ingredient.objects.filter(name="Own flour").update(kind="flour")
    page = client.post(address, {"text": text}).content.decode()
    (form,) = [one for one in forms_on(page, address) if "form_key" in one.fields]
    save = {"save": ["1"]}
    again = save | {"form_key": [f"{form.fields['form_key'][0][:-4]}zzzz"]}
    answers = at_once(client, address, [form.fields | save, form.fields | again])
    return {
        "answers": sorted(answers),
        "recipes": Recipe.objects.filter(slug__startswith="raced").count(),
    }


def main(rounds: int) -> None:
    django.setup()
    from django.test.utils import setup_test_environment

    setup_test_environment()
    from classes.models import ClassSession
    from tests.site import make_site

    site = make_site()
    ClassSession.objects.filter(pk=site.session.pk).update(seats=4)
    client, lost, answers = site.clients["instructor"], [], []
    for n in range(rounds):
        for name, *changes in races(n):
            address = site.address(name)
            answers += race(client, address, tuple(changes))
            now = opened(client, address)
            wanted = changes[0] | changes[1]
            lost += [key for key, values in wanted.items() if now[key] != values]
    said = {"lost": lost, "answers": sorted(set(answers)), "sent": len(answers)}
    said |= {"imported": imported_at_once(client, site.address("recipes:bring"))}
    sys.stdout.write(json.dumps(said))


if __name__ == "__main__":
    main(int(sys.argv[1]))
