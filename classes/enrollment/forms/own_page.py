"""The forms of a student's own page."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django import forms

from classes.enrollment.forms.enroll import DinerForm
from classes.enrollment.models import Booking, Enrollment
from classes.enrollment.public import open_sessions
from classes.enrollment.services.seats import Diner
from classes.models import ClassSession


class DietForm(DinerForm):
    """What a person must not eat, as they would now say it."""

    name = None

    def __init__(self, data: Any, enrollment: Enrollment) -> None:
        initial = {
            "diet": enrollment.diet,
            "allergens": enrollment.allergens,
            "must_not_eat": enrollment.must_not_eat,
        }
        super().__init__(data, initial=initial)
        self._name = enrollment.name

    def diner(self) -> Diner:
        said = self.cleaned_data
        return Diner(self._name, said["diet"], tuple(said["allergens"]), said["must_not_eat"])


class MoveForm(forms.Form):
    """Another class to move to: those with room for all of a booking, and in its currency."""

    to = forms.ModelChoiceField(
        ClassSession.objects.none(), label="Another class", empty_label="Choose a class"
    )

    def __init__(self, data: Any, booking: Booking, at: datetime) -> None:
        super().__init__(data)
        others = open_sessions(at).exclude(pk=booking.session_id)
        others = others.filter(currency=booking.session.currency)
        with_room = [one.pk for one in others if one.seats_left >= booking.seats]
        self.fields["to"].queryset = others.filter(pk__in=with_room)
        self.fields["to"].label_from_instance = _class_label

    @property
    def has_choice(self) -> bool:
        return self.fields["to"].queryset.exists()


def _class_label(session: ClassSession) -> str:
    return f"{session.title}, {session.when.starts.limit}, {session.price} a seat"
