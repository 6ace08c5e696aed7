"""Sign-in under attack: whose try it is, how many wrong passwords are checked, what is said.

A refused try skips the password check, which takes a process a quarter of a second. All counts are
sums of what django-axes stores in the database, so none is lost between processes or machines.

- One name from one address: ten in a quarter of an hour.
- One address, whatever the names: `MOST_OF_ADDRESS`.
- One name: after `MOST_OF_NAME` from elsewhere an address has a single try. So whoever the name
  belongs to still comes in from an address that did not fail with it.
"""

from __future__ import annotations

from ipaddress import IPv6Address, ip_address, ip_network
from typing import NoReturn

from axes.handlers.database import AxesDatabaseHandler
from axes.models import AccessAttempt
from django.conf import settings
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError
from django.db.models import QuerySet, Sum
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

NETWORK_OF_ONE = 64


def client_address(request: HttpRequest) -> str | None:
    """Return the address of the connection itself, or with TRUST_PROXY the one the proxy saw.

    A proxy adds the address to the end of X-Forwarded-For; what comes before it can be forged. For
    IPv6 only the network counts, since anybody who has one address has as many as they like.
    """
    seen = _address(request.META.get("REMOTE_ADDR", ""))
    if settings.TRUST_PROXY and (told := request.headers.get("X-Forwarded-For")):
        return _address(told.rpartition(",")[2].strip()) or seen
    return seen


def _address(text: str) -> str | None:
    try:
        found = ip_address(text)
    except ValueError:
        return None
    if not isinstance(found, IPv6Address):
        return str(found)
    if found.ipv4_mapped:
        return str(found.ipv4_mapped)
    return str(ip_network((int(found), NETWORK_OF_ONE), strict=False).network_address)


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
    """How many wrong tries one address has for one name."""
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
    """The handler of django-axes, which also counts by address alone."""

    def is_locked(self, request: SeenRequest, credentials: dict[str, object] | None = None) -> bool:
        return is_address_used_up(request.axes_ip_address) or super().is_locked(
            request, credentials
        )


def locked_words(request: HttpRequest) -> str:
    """The message for somebody whose tries are used up."""
    minutes = int(settings.AXES_COOLOFF_TIME.total_seconds() // 60)
    if is_address_used_up(client_address(request)):
        return (
            "Too many failed sign-ins from your connection. "
            f"Wait {minutes} minutes, or sign in from another connection."
        )
    return f"Too many failed sign-ins for this name. Wait {minutes} minutes, then try again."


class LockedForm(AuthenticationForm):
    """The sign-in form that refuses without checking the password."""

    request: HttpRequest

    def clean(self) -> NoReturn:
        raise ValidationError(locked_words(self.request), code="locked")


def locked_out(
    request: HttpRequest, original_response: HttpResponse | None, credentials: object
) -> HttpResponse:
    """Respond 429 with the sign-in page and the reason above the form, or as the page did."""
    if original_response is not None and original_response.status_code == 429:
        return original_response
    context = {"form": LockedForm(request, request.POST), "next": request.POST.get("next", "")}
    return render(request, "sign_in.html", context, status=429)
