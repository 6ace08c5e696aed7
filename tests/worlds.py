"""A world that many tests begin in, made once for a file.

It is made inside a transaction that is rolled back after the file's last test; what each test
writes is rolled back before the next, for `db` then only sets a savepoint.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from copy import deepcopy
from typing import Any, TypeVar

import pytest
from django.db import transaction

World = TypeVar("World")


@contextmanager
def undone() -> Iterator[None]:
    """What is written inside is taken back."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


def made_once(make: Callable[[], World]) -> Any:
    """A fixture for a whole file; each test takes `anew` what it holds, and asks for `db`."""

    @pytest.fixture(scope="module")
    def world(django_db_setup: None, django_db_blocker: Any) -> Iterator[World]:
        with django_db_blocker.unblock(), undone():
            yield make()

    return world


def anew(world: World) -> World:
    """A copy of the objects as they were made, with clients that have not asked for anything."""
    return deepcopy(world)
