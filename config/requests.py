"""The request that a signed-in page gets once the middleware has passed it on."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib.auth.models import User
from django.http import HttpRequest, HttpResponseBase
from django_htmx.middleware import HtmxDetails


class UserRequest(HttpRequest):
    """From somebody who is signed in; a public page, which may not be, takes `HttpRequest`."""

    user: User
    htmx: HtmxDetails


_UNUSED_FEATURES = ("camera", "geolocation", "microphone", "payment", "usb")
PERMISSIONS_POLICY = ", ".join(f"{feature}=()" for feature in _UNUSED_FEATURES)


class PrivateByDefaultMiddleware:
    """Keep pages out of caches and browser features off, unless a view says otherwise."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        response = self.get_response(request)
        response.headers.setdefault("Cache-Control", "private, no-store")
        response.headers.setdefault("Permissions-Policy", PERMISSIONS_POLICY)
        response.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        return response
