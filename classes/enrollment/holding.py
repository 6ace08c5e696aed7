"""The seats that a visitor holds already, found again by a cookie."""

from __future__ import annotations

from datetime import datetime

from django.http import Http404, HttpRequest

from classes.access import booking_by_token
from classes.enrollment.models import Booking


def cookie_name(code: str) -> str:
    """Under what name a browser keeps the form that it has open for a class."""
    return f"seats-{code}"


def own_hold(request: HttpRequest, code: str, at: datetime) -> Booking | None:
    """What the visitor's browser holds of a class at a moment, if anything."""
    token = request.COOKIES.get(cookie_name(code))
    if not token:
        return None
    try:
        booking = booking_by_token(token)
    except Http404:
        return None
    return booking if booking.session.code == code and booking.is_held_at(at) else None
