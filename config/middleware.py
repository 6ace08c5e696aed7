from collections.abc import Callable

from csp.constants import HEADER
from csp.middleware import CSPMiddleware
from django.conf import settings
from django.http import HttpRequest, HttpResponseBase

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


class SamePolicyMiddleware(CSPMiddleware):
    """The content security policy, worked out once: no page here asks for another.

    A view that changed it by a decorator of django-csp, or used a nonce, would get its own.
    """

    _policy = ""

    def process_response(
        self, request: HttpRequest, response: HttpResponseBase
    ) -> HttpResponseBase:
        if settings.DEBUG or hasattr(request, "_csp_nonce") or _changes_policy(response):
            return super().process_response(request, response)
        if not self._policy:
            super().process_response(request, response)
            self._policy = response.headers[HEADER]
        response.headers.setdefault(HEADER, self._policy)
        return response


def _changes_policy(response: HttpResponseBase) -> bool:
    return any(name.startswith("_csp_") for name in vars(response))
