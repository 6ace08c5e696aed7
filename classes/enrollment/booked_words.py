"""What somebody who has booked reads first: that they have seats, and whether a letter was sent."""

from __future__ import annotations

from classes.enrollment.models import Booking, Letter
from config import letter_files

WITH_IT = "with this page’s address and the class for your calendar"


def seats_words(seats: int) -> str:
    """That there is a seat, or how many."""
    return f"You have {seats} seats." if seats > 1 else "You have a seat."


def letter_words(booking: Booking) -> str:
    """What was written to whom, as far as known; empty if nothing was, or if it is erased."""
    written = booking.letters.filter(kind=Letter.Kind.CONFIRMATION).exclude(to="")
    letter = written.order_by("-made_at", "-pk").first()
    return _words(letter, booking) if letter else ""


def _words(letter: Letter, booking: Booking) -> str:
    if letter.state == Letter.State.SENT and letter.sent_at:
        when = booking.session.kitchen.moment(letter.sent_at).noted
        return f"A letter {WITH_IT} went to {letter.to} on {when}."
    if letter.state == Letter.State.FAILED:
        return f"The letter to {letter.to} could not be sent. Keep this page’s address."
    if letter_files.in_use() or letter.state == Letter.State.WRITTEN:
        return (
            f"This site sends no letters, so none comes to {letter.to}. Keep this page’s address."
        )
    if letter.tries and letter.state == Letter.State.QUEUED:
        return f"The letter to {letter.to} has not gone out yet and will be tried again soon."
    return f"A letter {WITH_IT} is on its way to {letter.to}."
