"""A house whose copy is put back, a process for each thing that is done: `python -m` with DO.

`fill` makes it, `erase` and `add NAME` change it, `look TOKEN` tells what is there, `try FILE ...`
what a restore of each file says and leaves, as JSON.
"""

from __future__ import annotations

import json
import sys
from contextlib import redirect_stderr, redirect_stdout
from datetime import timedelta
from io import StringIO
from typing import Any

import django

STAYS, BOOKS, COMES_ALONG, WAITS, LEAVES, LATE = (
    "Ada Staying", "Quillon Canary", "Mirabel Canary", "Wim Canary", "rosa", "Newt Canary",
)  # fmt: skip
PICTURE = b"a picture of a loaf"


def main(do: str, *words: str) -> None:
    django.setup()
    answer = {"fill": fill, "erase": erase, "add": add, "look": look, "try": try_all}[do](*words)
    sys.stdout.write(json.dumps(answer))


def fill() -> dict[str, str]:
    from django.utils import timezone

    from classes.access import student_token
    from classes.enrollment.services.enrolling import join_waiting
    from recipes.models import Recipe
    from recipes.photos.services import add_photo
    from tests.classes.enrollment.enrolled import key
    from tests.factories import UserFactory, planned_class

    now = timezone.now()
    session = planned_class(
        students=0, seats=5, kitchen__stations=2, is_open=True, starts_at=now + timedelta(days=30)
    )
    add(STAYS, COMES_ALONG)
    add(BOOKS, f"{BOOKS}'s child")
    join_waiting(
        session=session, name=WAITS, email="wim.canary@example.org", seats=2, form_key=key(), at=now
    )
    add_photo(recipe=Recipe.objects.first(), picture=PICTURE, alt="A loaf")
    UserFactory(username=LEAVES, role="assistant")
    return {"token": student_token(_person(STAYS))}


def add(*names: str) -> None:
    from django.utils import timezone

    from classes.enrollment.services.seats import Diner
    from classes.models import ClassSession
    from tests.classes.enrollment.enrolled import enrolled

    email = f"{names[0].split()[0].lower()}.canary@example.org"
    diners = [Diner(name, "told", ("sesame",), f"{name} told") for name in names]
    enrolled(ClassSession.objects.get(), *diners, email=email, at=timezone.now())


def _person(name: str) -> Any:
    from classes.enrollment.models import Enrollment

    return Enrollment.objects.get(name=name)


def erase() -> list[str]:
    """Erase all but one who stays, somebody who came since included; add another; who is there."""
    from django.contrib.auth.models import User
    from django.utils import timezone

    from classes.enrollment.models import Enrollment, Waiting
    from classes.enrollment.services.enrolling import leave_waiting
    from classes.enrollment.services.leaving import erase_person
    from house.services import let_go

    now = timezone.now()
    leave_waiting(entry=Waiting.objects.get(name=WAITS), at=now)
    erase_person(enrollment=_person(BOOKS), at=now)
    erase_person(enrollment=_person(COMES_ALONG), at=now)
    add(LATE)
    erase_person(enrollment=_person(LATE), at=now)
    let_go(user=User.objects.get(username=LEAVES))
    add("Nora New")
    return [one.name for one in Enrollment.objects.order_by("pk")]


def look(token: str) -> dict[str, Any]:
    from django.contrib.auth.models import User
    from django.http import Http404
    from django.utils import timezone

    from classes.access import enrollment_by_token
    from classes.enrollment.models import Booking, Enrollment, Letter, Waiting
    from classes.models import ClassSession
    from recipes.models import Photo

    try:
        opens_for = enrollment_by_token(token, at=timezone.now()).name
    except Http404:
        opens_for = None
    photo = Photo.objects.get().image
    return {
        "people": sorted(one.name for one in Enrollment.objects.all()),
        "emails": sorted(filter(None, Booking.objects.values_list("email", flat=True))),
        "waiting": [one.name for one in Waiting.objects.all()],
        "let go": not User.objects.get(username=LEAVES).is_active,
        "taken": ClassSession.objects.get().taken,
        "opens for": opens_for,
        "photo": photo.storage.exists(photo.name) and photo.open().read() == PICTURE,
        "letters": sorted({one.state for one in Letter.objects.exclude(to="")}),
        "canary in letters": any("Canary" in one.text + one.to for one in Letter.objects.all()),
    }


def try_all(*files: str) -> list[dict[str, Any]]:
    """The words, exit status and files of data that `manage.py restore` leaves, by archive."""
    from django.conf import settings
    from django.core.management import execute_from_command_line

    tried = []
    for file in files:
        status, errors = 0, StringIO()
        with redirect_stderr(errors), redirect_stdout(StringIO()):
            try:
                execute_from_command_line(["manage.py", "restore", file])
            except SystemExit as ended:
                status = ended.code
        left = sorted(path.name for path in settings.DATA_DIR.iterdir())
        tried.append({"status": status, "errors": errors.getvalue(), "left": left})
    return tried


if __name__ == "__main__":
    main(*sys.argv[1:])
