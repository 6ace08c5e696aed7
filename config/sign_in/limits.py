"""How many wrong passwords are looked at: for a name, and from an address.

A try that is refused costs no look at the password, which takes a process a quarter of a second.
All counts are sums of what django-axes keeps in the database, so none is lost between processes
or machines.

- One name from one address: ten in a quarter of an hour.
- One address, whatever the names: `MOST_OF_ADDRESS`.
- One name: after `MOST_OF_NAME` from elsewhere an address has a single try. So whoever the name
  belongs to still comes in from an address that did not fail with it.
"""

from __future__ import annotations

from axes.handlers.database import AxesDatabaseHandler
from axes.models import AccessAttempt
from django.conf import settings
from django.db.models import QuerySet, Sum
from django.http import HttpRequest
from django.utils import timezone

MOST_OF_BOTH = 10
MOST_OF_ADDRESS = 30
MOST_OF_NAME = 30


class SeenRequest(HttpRequest):
    """A request that django-axes has looked at."""

    axes_ip_address: str | None


def is_address_used_up(address: str | None) -> bool:
    """Whether too many wrong passwords came from an address, whatever the names."""
    return _failures(_recent().filter(ip_address=address)) >= MOST_OF_ADDRESS


def failures_allowed(request: SeenRequest, credentials: dict[str, object] | None) -> int:
    """How many wrong tries of one name one address has."""
    of_name = _recent().filter(username=(credentials or {}).get("username"))
    elsewhere = _failures(of_name.exclude(ip_address=request.axes_ip_address))
    return 1 if elsewhere >= MOST_OF_NAME else MOST_OF_BOTH


def _recent() -> QuerySet[AccessAttempt]:
    return AccessAttempt.objects.filter(
        attempt_time__gte=timezone.now() - settings.AXES_COOLOFF_TIME
    )


def _failures(attempts: QuerySet[AccessAttempt]) -> int:
    total: int = attempts.aggregate(failures=Sum("failures_since_start", default=0))["failures"]
    return total


class Handler(AxesDatabaseHandler):
    """As django-axes does, and by address alone."""

    def is_locked(self, request: SeenRequest, credentials: dict[str, object] | None = None) -> bool:
        return is_address_used_up(request.axes_ip_address) or super().is_locked(
            request, credentials
        )
