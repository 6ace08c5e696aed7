"""Refuse a request that is too large before any of it is read."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from django.http import HttpResponse
from django.views.decorators.csrf import csrf_exempt, csrf_protect

from config.requests import UserRequest

View = Callable[..., HttpResponse]


def at_most(most_bytes: int, refuse: View) -> Callable[[View], View]:
    """Answer with `refuse` if a request announces a larger body; else call the view.

    The CSRF check reads the body, so here it comes second.
    """

    def decorate(view: View) -> View:
        protected = csrf_protect(view)

        @csrf_exempt
        @wraps(view)
        def sized(request: UserRequest, *args: object, **kwargs: object) -> HttpResponse:
            announced = request.META.get("CONTENT_LENGTH") or "0"
            if announced.isascii() and announced.isdigit() and int(announced[:15]) <= most_bytes:
                return protected(request, *args, **kwargs)
            return refuse(request, *args, **kwargs)

        return sized

    return decorate
