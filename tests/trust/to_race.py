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
    from django.db import connection

    pages = [opened(client, address) for _ in changes]
    ready, answers = threading.Barrier(len(changes), timeout=20), []

    def send(own: Any, fields: Fields) -> None:
        ready.wait()
        try:
            answers.append(own.post(address, fields).status_code)
        finally:
            connection.close()

    threads = [
        threading.Thread(target=send, args=(copy(client), page | change))
        for page, change in zip(pages, changes, strict=True)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    return answers


def main(rounds: int) -> None:
    django.setup()
    from django.core.management import call_command
    from django.test.utils import setup_test_environment

    setup_test_environment()
    call_command("migrate", verbosity=0, interactive=False)
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
    sys.stdout.write(json.dumps(said))


if __name__ == "__main__":
    main(int(sys.argv[1]))
