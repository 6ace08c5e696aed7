"""What somebody reads whose tries at sign-in are used up."""

from typing import NoReturn

from django.conf import settings
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from config.sign_in import limits
from config.sign_in.address import client_address


def locked_words(request: HttpRequest) -> str:
    """What somebody reads whose tries are used up."""
    minutes = int(settings.AXES_COOLOFF_TIME.total_seconds() // 60)
    if limits.is_address_used_up(client_address(request)):
        return (
            "Too many failed sign-ins from your connection. "
            f"Wait {minutes} minutes, or sign in from another connection."
        )
    return f"Too many failed sign-ins for this name. Wait {minutes} minutes, then try again."


class LockedForm(AuthenticationForm):
    """The sign-in form that refuses without looking at the password."""

    request: HttpRequest

    def clean(self) -> NoReturn:
        raise ValidationError(locked_words(self.request), code="locked")


def locked_out(
    request: HttpRequest, original_response: HttpResponse | None, credentials: object
) -> HttpResponse:
    """Answer 429 with the sign-in page, the reason above the form; or as the page did itself."""
    if original_response is not None and original_response.status_code == 429:
        return original_response
    context = {"form": LockedForm(request, request.POST), "next": request.POST.get("next", "")}
    return render(request, "sign_in.html", context, status=429)
