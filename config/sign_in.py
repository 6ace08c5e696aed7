"""Sign-in under attack: who is asking, and what a locked-out person reads."""

from ipaddress import IPv6Address, ip_address, ip_network
from typing import Any

from django.conf import settings
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from config import sign_in_limits

NETWORK_OF_ONE = 64


def client_address(request: HttpRequest) -> str | None:
    """Return the address of the connection itself, or with TRUST_PROXY the one the proxy saw.

    A proxy adds the address to the end of X-Forwarded-For; what stands before can be made up.
    Of an IPv6 address only the network counts: whoever has one has as many as they like.
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


def locked_words(request: HttpRequest) -> str:
    """What somebody reads whose tries are used up."""
    minutes = int(settings.AXES_COOLOFF_TIME.total_seconds() // 60)
    if sign_in_limits.is_address_used_up(client_address(request)):
        return (
            "Too many wrong tries were made from where you are. "
            f"Wait {minutes} minutes, or sign in over another connection."
        )
    return f"Too many wrong tries for this name. Wait {minutes} minutes, then try again."


class LockedForm(AuthenticationForm):
    """The sign-in form that refuses without looking at the password."""

    def clean(self) -> dict[str, Any]:
        raise ValidationError(locked_words(self.request), code="locked")


def locked_out(
    request: HttpRequest, original_response: HttpResponse | None, credentials: dict | None
) -> HttpResponse:
    """Answer 429 with the sign-in page, the reason above the form; or as the page did itself."""
    if original_response is not None and original_response.status_code == 429:
        return original_response
    context = {"form": LockedForm(request, request.POST), "next": request.POST.get("next", "")}
    return render(request, "sign_in.html", context, status=429)
