"""The forms of a student's own page."""

from __future__ import annotations

from datetime import datetime

from django import forms
from django.http import QueryDict

from classes.enrollment.forms.enroll import DinerForm
from classes.enrollment.models import Booking, Enrollment
from classes.enrollment.public import open_sessions
from classes.enrollment.services.seats import Diner
from classes.models import ClassSession
from config.forms.fields import field_of


class DietForm(DinerForm):
    """What a person must not eat, as they would now say it."""

    name = None  # type: ignore[assignment]  # Django's way to leave out a field of the base

    def __init__(self, data: QueryDict | None, enrollment: Enrollment) -> None:
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


class OtherClassField(forms.ModelChoiceField[ClassSession]):
    def label_from_instance(self, obj: ClassSession) -> str:
        return f"{obj.title}, {obj.when.starts.limit}, {obj.price} a seat"


class MoveForm(forms.Form):
    """Another class to move to: those with room for all of a booking, and in its currency."""

    to = OtherClassField(
        ClassSession.objects.none(), label="Another class", empty_label="Choose a class"
    )

    def __init__(self, data: QueryDict | None, booking: Booking, at: datetime) -> None:
        super().__init__(data)
        others = open_sessions(at).exclude(pk=booking.session_id)
        others = others.filter(currency=booking.session.currency)
        with_room = [other.pk for other in others if other.seats_left >= booking.seats]
        self.has_choice = bool(with_room)
        field_of(self, "to", OtherClassField).queryset = others.filter(pk__in=with_room)
