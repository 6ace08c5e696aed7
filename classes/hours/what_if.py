"""A class as it would be if something were different: the form, and the answer."""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal

from django import forms
from django.http import QueryDict

from classes.core.demand import Person, seat_people
from classes.core.hours.advice.differences import Differences, compare
from classes.core.hours.problem.values import ClassWork, RisesIn
from classes.core.keys import PersonKey
from classes.dough.water_form import PrefilledForm, celsius
from classes.hours.answers import Answer, answer_of, with_plan
from classes.hours.forms import minutes_field
from classes.hours.selectors import work_of
from classes.models import ClassSession
from classes.models.session import MOST_SEATS
from classes.plan import ClassPlan
from classes.selectors import places_of
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


@dataclass(frozen=True)
class WhatIf:
    """The answer for a class as it is and for the changed one, and what differs between them."""

    present: Answer
    changed: Answer
    differences: Differences | None = None

    @property
    def is_rough(self) -> bool:
        """Whether the plans may differ by more than the change: one of them is not proved."""
        solved = [answer.hours.solved for answer in (self.present, self.changed) if answer.hours]
        return not all(plan is None or plan.proved for plan in solved)


def what_if(plan: ClassPlan, present: Answer, form: WhatIfForm, *, look_s: int = 0) -> WhatIf:
    """What a valid form changes in its class; `present` is the answer for the class as it is.

    `look_s` are the seconds to look for a better plan of the changed class.
    """
    earlier_min = form.cleaned_data["earlier_min"]
    session = _earlier(form.session, earlier_min)
    timed = [taught.timed for taught in plan.taught]
    work = work_of(
        session,
        _people(plan, session, form.cleaned_data["people"]),
        stations=session.stations.all(),
        taught=zip(session.taught.all(), timed, strict=True),
        assistants=plan.work.assistants,
    )
    changed = _looked(answer_of(session, _changed(work, form), timed), look_s)
    before, after = present.hours, changed.hours
    if before is None or after is None:
        return WhatIf(present, changed)
    found = compare(
        (before.scheduled, before.solved),
        (after.scheduled, after.solved),
        starts_earlier_min=earlier_min,
    )
    return WhatIf(present, changed, found)


def _looked(answer: Answer, look_s: int) -> Answer:
    """The answer with the best plan found in some seconds."""
    hours = answer.hours
    if not look_s or hours is None or hours.solved is None:
        return answer
    from classes.core.hours.exact.solving import improve

    return with_plan(answer, improve(hours.scheduled.problem, hours.solved, limit_s=look_s))


def _earlier(session: ClassSession, minutes: int) -> ClassSession:
    """The class with an earlier start and the same end; a copy that is not saved."""
    changed = copy(session)
    changed.starts_at = session.starts_at - timedelta(minutes=minutes)
    return changed


def _people(plan: ClassPlan, session: ClassSession, count: int) -> tuple[Person, ...]:
    """People spread over the stations; the class's own if the number is the same."""
    if len(plan.people) == count:
        return plan.people
    seats = seat_people([None] * count, places_of(session.stations.all()))
    return tuple(Person(PersonKey.seat(n), f"Person {n}", at) for n, at in enumerate(seats, 1))


def _changed(work: ClassWork, form: WhatIfForm) -> ClassWork:
    asked = form.cleaned_data
    room = replace(work.room, room_c=asked["room_c"])
    if "rises_in" in asked:
        room = replace(room, rises_in=RisesIn(asked["rises_in"]), cabinet_c=asked["cabinet_c"])
    return replace(
        work,
        hours=replace(work.hours, show_min=asked["show_min"]),
        room=room,
        ovens=tuple(oven for oven in work.ovens if oven.key not in form.out_keys),
    )
