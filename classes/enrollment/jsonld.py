"""A public class as schema.org Event with its Recipes, for machines that read the page."""

from __future__ import annotations

import json
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from classes.enrollment.public import OpenClass
from classes.enrollment.vacancy import Vacancy

# Like Django's json_script: nothing in the text can end the script element.
_ESCAPES = {ord(">"): "\\u003E", ord("<"): "\\u003C", ord("&"): "\\u0026"}
_STATUS = "https://schema.org/"


def event_jsonld(shown: OpenClass, vacancy: Vacancy, address: str) -> SafeString:
    """The JSON-LD of a class at its public address, escaped for a script element."""
    text = json.dumps(event_document(shown, vacancy, address), ensure_ascii=False)
    return mark_safe(text.translate(_ESCAPES))  # noqa: S308


def event_document(shown: OpenClass, vacancy: Vacancy, address: str) -> dict[str, Any]:
    """Event: when, where, how many seats, for how much, and what is baked."""
    session = shown.session
    return {
        "@context": "https://schema.org",
        "@type": "Event",
        "name": session.title,
        "description": session.about or session.title,
        "url": address,
        "startDate": shown.when.starts.iso,
        "endDate": shown.when.ends.iso,
        "eventStatus": f"{_STATUS}EventScheduled",
        "eventAttendanceMode": f"{_STATUS}OfflineEventAttendanceMode",
        "location": _place(shown),
        "maximumAttendeeCapacity": session.seats,
        "remainingAttendeeCapacity": vacancy.left,
        "offers": _offer(shown, vacancy, address),
        "workFeatured": [
            {
                "@type": "Recipe",
                "name": row.revision.title,
                "description": row.revision.summary,
                "recipeYield": f"{row.pieces_each} {row.revision.piece_name}",
            }
            for row in shown.taught
        ],
    }


def _place(shown: OpenClass) -> dict[str, str]:
    kitchen = shown.session.kitchen
    return {"@type": "Place", "name": kitchen.name, "address": kitchen.place or kitchen.name}


def _offer(shown: OpenClass, vacancy: Vacancy, address: str) -> dict[str, str]:
    price = shown.session.price
    return {
        "@type": "Offer",
        "price": price.plain,
        "priceCurrency": price.currency,
        "availability": _STATUS + _availability(vacancy),
        "url": address,
    }


def _availability(vacancy: Vacancy) -> str:
    if vacancy.is_full:
        return "SoldOut"
    return "LimitedAvailability" if vacancy.is_held else "InStock"
