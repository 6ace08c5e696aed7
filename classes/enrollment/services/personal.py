"""Everything stored about a person, to read or to download."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.conf import settings

from classes.enrollment.models import Booking, Enrollment, Waiting
from classes.enrollment.services.leaving import booking_made_by
from classes.models import Kitchen


def person_document(enrollment: Enrollment) -> dict[str, Any]:
    """Everything stored about one person: plain texts, numbers and ISO times."""
    session = enrollment.session
    return {
        "class": {
            "title": session.title,
            "code": session.code,
            "starts_at": session.when.starts.iso,
            "ends_at": session.when.ends.iso,
            "kitchen": session.kitchen.name,
        },
        "person": {
            "name": enrollment.name,
            "must_not_eat": {
                "answer": enrollment.get_diet_display(),
                "allergens": enrollment.allergens,
                "words": enrollment.must_not_eat,
                "told_since": {
                    thing: _time(datetime.fromisoformat(at), session.kitchen)
                    for thing, at in enrollment.told_since.items()
                },
                "decisions": [
                    {
                        "recipe": str(decision.revision),
                        "decided": decision.get_way_display(),
                        "note": decision.note,
                        "about": decision.basis,
                        "decided_at": _time(decision.decided_at, session.kitchen),
                    }
                    for decision in enrollment.decisions.select_related("revision")
                ],
                "blanked_at": _time(enrollment.blanked_at, enrollment.session.kitchen),
            },
            "station": enrollment.station.name if enrollment.station else None,
            "variants": [str(variant) for variant in enrollment.variants.all()],
            "kitchen_at_home": enrollment.home,
            "at_the_door": enrollment.get_door_display(),
            "walked_in": enrollment.walked_in,
        },
        "booking": _booking_of(enrollment),
        "kept_days": {
            "what_you_must_not_eat_after_the_class": settings.ALLERGY_WORDS_DAYS,
            "your_link_after_the_class": settings.LINK_DAYS,
            "papers_with_your_name_once_made": settings.PAPERS_DAYS,
        },
    }


def _booking_of(enrollment: Enrollment) -> dict[str, Any] | None:
    """The whole booking for the one who made it; for the others only that there is one."""
    if (booking := enrollment.booking) is None:
        return None
    if booking_made_by(enrollment):
        return _booking(booking)
    return {"booked_by_somebody_else": True, "state": booking.get_state_display()}


def _booking(booking: Booking) -> dict[str, Any]:
    return {
        "name": booking.name,
        "email": booking.email,
        "phone": booking.phone,
        "seats": booking.seats,
        "state": booking.get_state_display(),
        "currency": booking.session.currency,
        "price": booking.price.plain,
        "refund_due": booking.refund_due.plain,
        "made_at": _time(booking.made_at, booking.session.kitchen),
        "confirmed_at": _time(booking.confirmed_at, booking.session.kitchen),
        "canceled_at": _time(booking.canceled_at, booking.session.kitchen),
        "people": [person.name for person in booking.people.all()],
        "payments": [
            {
                "amount": payment.amount.plain,
                "means": payment.get_means_display(),
                "paid_on": payment.paid_on.isoformat(),
                "note": payment.note,
            }
            for payment in booking.payments.all()
        ],
        "letters": [
            {
                "kind": letter.get_kind_display(),
                "to": letter.to,
                "subject": letter.subject,
                "text": letter.text,
                "state": letter.get_state_display(),
                "sent_at": _time(letter.sent_at, booking.session.kitchen),
            }
            for letter in booking.letters.all()
        ],
        "waiting_list": _waiting(getattr(booking, "waited", None)),
    }


def _waiting(entry: Waiting | None) -> dict[str, Any] | None:
    if entry is None:
        return None
    return {
        "name": entry.name,
        "email": entry.email,
        "seats": entry.seats,
        "state": entry.get_state_display(),
        "made_at": _time(entry.made_at, entry.session.kitchen),
        "offered_at": _time(entry.offered_at, entry.session.kitchen),
        "letters": [
            {"subject": letter.subject, "text": letter.text} for letter in entry.letters.all()
        ],
    }


def _time(at: datetime | None, kitchen: Kitchen) -> str | None:
    return None if at is None else kitchen.moment(at).iso
