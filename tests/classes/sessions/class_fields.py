"""What a class form posts, filled in by somebody who knows what they want."""

from __future__ import annotations


def class_fields(kitchen, revision, /, **others):
    """A class from 10:00 to 14:00 on 4 May 2030 for all places of a kitchen, with one recipe."""
    stations = list(kitchen.stations.all())
    return {
        "title": "Saturday loaf",
        "kitchen": kitchen.pk,
        "day": "2030-05-04",
        "starts": "10:00",
        "ends": "14:00",
        "seats": str(4 * len(stations)),
        "stations": [station.pk for station in stations],
        "count_empty_seats": "on",
        "handling_loss_percent": "3",
        "taught-TOTAL_FORMS": "1",
        "taught-INITIAL_FORMS": "0",
        "taught-0-revision": revision.pk,
        "taught-0-pieces_each": "1",
        "taught-0-piece_g": "",
        "taught-0-demonstration_batches": "1",
        "taught-0-dusting_g": "15",
        **others,
    }


def fields_of(session, /, **others):
    """What the form of a saved class with one recipe posts when nothing is changed."""
    row, zone = session.taught.get(), session.kitchen.zone
    start, end = (at.astimezone(zone) for at in (session.starts_at, session.ends_at))
    return class_fields(
        session.kitchen,
        row.revision,
        **{
            "title": session.title,
            "day": f"{start:%Y-%m-%d}",
            "starts": f"{start:%H:%M}",
            "ends": f"{end:%H:%M}",
            "seats": session.seats,
            "stations": [station.pk for station in session.stations.all()],
            "assistants": [one.pk for one in session.assistants.all()],
            "taught-INITIAL_FORMS": "1",
            "taught-0-id": row.pk,
            "taught-0-piece_g": row.piece_g,
            "taught-0-demonstration_batches": row.demonstration_batches,
            **others,
        },
    )
