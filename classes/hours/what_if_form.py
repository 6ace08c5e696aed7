"""The form that asks what a class would be like if something about it were different."""

from __future__ import annotations

from decimal import Decimal

from django import forms
from django.http import QueryDict

from classes.core.hours.problem.values import RisesIn
from classes.dough.water_form import PrefilledForm, celsius
from classes.hours.forms import minutes_field
from classes.models import ClassSession
from classes.models.session import MOST_SEATS
from config.forms.fields import field_of
from recipes.forms.fields import WholeField

MOST_EARLIER_MIN = 240


class WhatIfForm(PrefilledForm):
    """Every field starts from the class as it is; `present` is how many people it has."""

    room_c = celsius("Room", least=-5)
    rises_in = forms.ChoiceField(
        label="Dough rises", choices=RisesIn.choices(), widget=forms.RadioSelect
    )
    cabinet_c = celsius("Proof cabinet", least=-5, required=False)
    people = WholeField(label="People", least=1, most=MOST_SEATS)
    earlier_min = minutes_field("Start earlier by", MOST_EARLIER_MIN)
    show_min = minutes_field("Watching")
    out = forms.MultipleChoiceField(
        label="Out of order", required=False, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, asked: QueryDict, session: ClassSession, present: int) -> None:
        kitchen = session.kitchen
        cabinet_c = "" if kitchen.cabinet_c is None else Decimal(kitchen.cabinet_c)
        usual = {
            "room_c": Decimal(kitchen.room_c),
            "rises_in": session.rises_in,
            "cabinet_c": cabinet_c,
            "people": present,
            "earlier_min": 0,
            "show_min": session.show_min,
        }
        super().__init__(asked, usual, "if")
        self.session = session
        self.data = {**self.data, "out": [key.replace("\0", "") for key in asked.getlist("out")]}
        field_of(self, "out", forms.MultipleChoiceField).choices = [
            (str(oven.pk), f"{oven.name} · {oven.slots} places") for oven in kitchen.ovens.all()
        ]
        self.fields["cabinet_c"].help_text = "If blank: set to what each recipe says."
        if not kitchen.ovens.all():
            del self.fields["out"]
        if not kitchen.proof_places:
            del self.fields["rises_in"], self.fields["cabinet_c"]

    def clean_people(self) -> int:
        people: int = self.cleaned_data["people"]
        places = sum(station.places for station in self.session.stations.all())
        if people > places:
            raise forms.ValidationError(f"The stations of this class hold {places} people.")
        return people

    @property
    def out_keys(self) -> frozenset[str]:
        """The ovens that are out, by their keys in the plan."""
        return frozenset(f"oven-{pk}" for pk in self.cleaned_data.get("out", ()))
