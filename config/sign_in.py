"""Sign-in under attack: who is asking, and what a locked-out person reads."""

from ipaddress import ip_address
from typing import Any

from django.conf import settings
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def client_address(request: HttpRequest) -> str | None:
    """Return the address of the connection itself, or with TRUST_PROXY the one the proxy saw.

    A proxy adds the address to the end of X-Forwarded-For; what stands before can be made up.
    """
    if settings.TRUST_PROXY and (seen := request.headers.get("X-Forwarded-For")):
        return _address(seen.rpartition(",")[2].strip()) or request.META.get("REMOTE_ADDR")
    return request.META.get("REMOTE_ADDR")


def _address(text: str) -> str | None:
    try:
        return str(ip_address(text))
    except ValueError:
        return None


def locked_words() -> str:
    """What somebody reads whose tries are used up."""
    minutes = int(settings.AXES_COOLOFF_TIME.total_seconds() // 60)
    return f"Too many wrong tries for this name. Wait {minutes} minutes, then try again."


class LockedForm(AuthenticationForm):
    """The sign-in form that refuses without looking at the password."""

    def clean(self) -> dict[str, Any]:
        raise ValidationError(locked_words(), code="locked")


def locked_out(
    request: HttpRequest, original_response: HttpResponse | None, credentials: dict | None
) -> HttpResponse:
    """Answer 429 with the sign-in page, the reason above the form; or as the page did itself."""
    if original_response is not None and original_response.status_code == 429:
        return original_response
    context = {"form": LockedForm(request, request.POST), "next": request.POST.get("next", "")}
    return render(request, "sign_in.html", context, status=429)
