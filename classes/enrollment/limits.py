"""How often one address may post or guess, counted across all server processes."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.crypto import salted_hmac

from config.counts import count
from config.sign_in import client_address

MINUTE_S = 60
GUESSES_A_MINUTE = 20
View = Callable[..., HttpResponse]


def within_limit(request: HttpRequest, what: str, most: int, seconds: int = MINUTE_S) -> bool:
    """Count another try from an address; False if it is one too many."""
    return count(f"{what}|{client_address(request)}", seconds) <= most


def mark_of_connection(request: HttpRequest, what: str) -> str:
    """A mark of where a request comes from, only for `what`; empty if unknown."""
    found = client_address(request)
    return salted_hmac("bakebench connection", f"{what}|{found}").hexdigest()[:32] if found else ""


def too_often(request: HttpRequest) -> HttpResponse:
    """The page for somebody who must wait a little."""
    return render(request, "public/too_often.html", status=429)


def limit_posts(view: View) -> View:
    """Limit how often an address may post in a minute, over all public forms together."""

    @wraps(view)
    def wrapped(request: HttpRequest, *args: object, **kwargs: object) -> HttpResponse:
        most = settings.PUBLIC_POSTS_A_MINUTE
        if request.method == "POST" and not within_limit(request, "post", most):
            return too_often(request)
        return view(request, *args, **kwargs)

    return wrapped


def slow_guesses(view: View) -> View:
    """Count the wrong links that an address opens, and slow it down; for views with signed links.

    Search engines must not list such a page, and no other site learns its address.
    """

    @wraps(view)
    def wrapped(request: HttpRequest, *args: object, **kwargs: object) -> HttpResponse:
        try:
            response = view(request, *args, **kwargs)
        except Http404:
            if not within_limit(request, "guess", GUESSES_A_MINUTE):
                return too_often(request)
            raise
        response["X-Robots-Tag"] = "noindex, nofollow"
        response["Referrer-Policy"] = "same-origin"
        return response

    return wrapped
