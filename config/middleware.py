from collections.abc import Callable

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
