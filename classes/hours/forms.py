"""The form for what decides the hours of a class, and one for each recipe it teaches."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django import forms
from django.http import QueryDict

from classes.core.hours.problem.values import Mixing, RisesIn
from classes.models import ClassSession, TaughtRecipe
from classes.models.session import MOST_FIXED_MIN
from classes.sessions.forms import time_input, to_utc
from recipes.core.choices import StepKind
from recipes.forms.fields import MinutesField, WholeField

MOST_PIECES_A_PLACE = 100
STAGES = {
    "brings_mixed": StepKind.MIX,
    "brings_risen": StepKind.BULK,
    "brings_shaped": StepKind.PROOF,
}


def minutes_field(label: str, most: int = MOST_FIXED_MIN, **kwargs: Any) -> MinutesField:
    """A field for whole minutes; empty is None."""
    return MinutesField(label=label, least=0, most=most, unit="min", required=False, **kwargs)


class HoursForm(forms.ModelForm[ClassSession]):
    """What decides the hours of the whole class; the break is at a time on the kitchen's clock."""

    welcome_min = minutes_field("Welcome and cautions, min")
    weighing_min = minutes_field("Weighing, min", help_text="For each recipe, before it is mixed.")
    show_min = minutes_field("Watching, min", help_text="What you show before mixing and shaping.")
    cleanup_min = minutes_field("Cleaning up, min", help_text="Once a station has loaded.")
    break_clock = forms.TimeField(
        label="Break at",
        required=False,
        widget=time_input(),
        help_text="On the kitchen’s clock.",
        error_messages={"invalid": "Enter a time, like 12:30."},
    )
    break_min = minutes_field("Break, min")

    class Meta:
        model = ClassSession
        fields = ("rises_in", "welcome_min", "weighing_min", "show_min", "cleanup_min", "break_min")
        widgets = {"rises_in": forms.RadioSelect}
        labels = {"rises_in": "Dough rises"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        pause = self.instance.break_at
        if pause is not None:
            self.initial["break_clock"] = self.instance.kitchen.moment(pause).local.time()

    def clean_rises_in(self) -> str:
        chosen: str = self.cleaned_data["rises_in"]
        kitchen = self.instance.kitchen
        if chosen == RisesIn.CABINET and not kitchen.proof_places:
            raise forms.ValidationError(
                f"{kitchen} has no places in a proof cabinet. Enter them with the kitchen, or let "
                "the dough rise on the bench."
            )
        return chosen

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        if "break_clock" in self.cleaned_data:
            self.instance.break_at = self._break()
        return cleaned

    def _break(self) -> datetime | None:
        """The start of the break in UTC; errors are added to the fields."""
        clock, minutes = self.cleaned_data["break_clock"], self.cleaned_data.get("break_min")
        if clock is None:
            return None
        session = self.instance
        try:
            day = session.when.starts.date
            at = to_utc(day, clock, session.kitchen)
        except forms.ValidationError as problem:
            self.add_error("break_clock", problem)
            return None
        if minutes == 0:
            self.add_error("break_min", "Enter how long the break is, or leave its time blank.")
        elif minutes:
            self._check_inside(at, at + timedelta(minutes=minutes))
        return at

    def _check_inside(self, at: datetime, over: datetime) -> None:
        """Check that the break is between the welcome and the end of the class."""
        session = self.instance
        welcome = timedelta(minutes=self.cleaned_data.get("welcome_min") or 0)
        first, last = session.starts_at + welcome, session.ends_at
        if at < first or over > last:
            between = [session.kitchen.moment(moment).clock for moment in (first, last)]
            self.add_error(
                "break_clock",
                f"A break must be between {between[0]}, after the welcome, and {between[1]}, "
                "the end.",
            )


class TaughtHoursForm(forms.ModelForm[TaughtRecipe]):
    """How a taught recipe is mixed and baked, and at which stages its dough is brought."""

    pieces_a_place = WholeField(
        label="Pieces in one oven place",
        least=1,
        most=MOST_PIECES_A_PLACE,
        required=False,
        help_text="If blank: a pan of the recipe, or about 500 g of small pieces.",
    )

    class Meta:
        model = TaughtRecipe
        fields = ("mixing", "pieces_a_place", *STAGES)
        labels = {
            "mixing": "Mixed",
            "brings_mixed": "Mixed dough",
            "brings_risen": "Risen dough",
            "brings_shaped": "Shaped pieces",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        kinds = {step.kind for step in self.instance.revision.steps.all()}
        for name, kind in STAGES.items():
            if kind not in kinds and not getattr(self.instance, name):
                del self.fields[name]

    @property
    def stages(self) -> list[forms.BoundField]:
        """The checkboxes for brought dough: the stages that the recipe's steps reach."""
        return [self[name] for name in STAGES if name in self.fields]

    def clean_mixing(self) -> str:
        chosen: str = self.cleaned_data["mixing"]
        kitchen = self.instance.session.kitchen
        if chosen != Mixing.HAND and not kitchen.mixers.all():
            raise forms.ValidationError(
                f"{kitchen} has no mixer. Add one with the kitchen, or mix by hand."
            )
        if chosen == Mixing.SHOWN and not self.instance.demonstration_batches:
            raise forms.ValidationError(
                "This recipe has no demonstration. Add one to the class, or choose by hand."
            )
        return chosen


HoursParts = tuple[HoursForm, *tuple[TaughtHoursForm, ...]]


@dataclass(frozen=True)
class HoursForms:
    """All forms, for a class fetched `with_plan`; if valid, its unsaved rows are changed."""

    session: ClassSession
    main: HoursForm
    taught: tuple[TaughtHoursForm, ...]

    @classmethod
    def of(cls, data: QueryDict | None, session: ClassSession) -> HoursForms:
        taught = (
            TaughtHoursForm(data, instance=row, prefix=f"taught-{row.pk}")
            for row in session.taught.all()
        )
        return cls(session, HoursForm(data, instance=session), tuple(taught))

    @property
    def all(self) -> HoursParts:
        """The form for the class, then one for each of its recipes."""
        return self.main, *self.taught

    def are_valid(self) -> bool:
        """Whether all of it can be saved; every form is checked."""
        wrong = [form for form in self.all if not form.is_valid()]
        return not wrong

    @property
    def wrong(self) -> list[str]:
        """The errors, each with the label of its field."""
        return [
            f"{form.fields[name].label}: {text}" if name in form.fields else str(text)
            for form in self.all
            for name, texts in form.errors.items()
            for text in texts
        ]
