"""The request that a signed-in page gets once the middleware has passed it on."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.http import HttpRequest
from django_htmx.middleware import HtmxDetails


class UserRequest(HttpRequest):
    """From somebody who is signed in; a public page, which may not be, takes `HttpRequest`."""

    user: User
    htmx: HtmxDetails
