"""How many wrong passwords are looked at: for a name, and from an address.

A try that is refused costs no look at the password, which takes a process a quarter of a second.

- One name from one address: ten in a quarter of an hour (django-axes, in the database).
- One address, whatever the names: `MOST_OF_ADDRESS`.
- One name, whatever the addresses: after `MOST_OF_NAME` each address has a single try left. So
  whoever the name belongs to still comes in from an address that did not fail with it.
"""

from __future__ import annotations

from typing import Any

from axes.handlers.database import AxesDatabaseHandler
from django.conf import settings
from django.http import HttpRequest

from config.counts import SharedCounts

MOST_OF_BOTH = 10
MOST_OF_ADDRESS = 30
MOST_OF_NAME = 30

COUNTS = SharedCounts()


def is_address_used_up(address: str | None) -> bool:
    """Whether too many wrong passwords came from an address, whatever the names."""
    return COUNTS.so_far(f"address|{address}", _seconds()) >= MOST_OF_ADDRESS


def forget_name(name: str) -> None:
    """Begin anew with a name, whose owner has proved who they are."""
    COUNTS.drop(f"name|{name}")


def failures_allowed(request: HttpRequest, credentials: dict[str, Any] | None) -> int:
    """How many wrong tries of one name one address has."""
    name = (credentials or {}).get("username")
    return 1 if COUNTS.so_far(f"name|{name}", _seconds()) >= MOST_OF_NAME else MOST_OF_BOTH


class Handler(AxesDatabaseHandler):
    """What django-axes keeps in the database, and the counts across names and addresses."""

    def is_locked(self, request: HttpRequest, credentials: dict[str, Any] | None = None) -> bool:
        return is_address_used_up(request.axes_ip_address) or super().is_locked(
            request, credentials
        )

    def user_login_failed(
        self, sender: Any, credentials: dict[str, Any], request: Any = None, **more: Any
    ) -> None:
        was_looked_at = request is not None and not request.axes_locked_out
        super().user_login_failed(sender, credentials, request, **more)
        if was_looked_at:
            COUNTS.add(f"address|{request.axes_ip_address}", _seconds())
            COUNTS.add(f"name|{credentials.get('username')}", _seconds())


def _seconds() -> int:
    return int(settings.AXES_COOLOFF_TIME.total_seconds())
