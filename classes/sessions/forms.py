"""Forms for a class, what it teaches, and its roster."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, time
from typing import Any

from django import forms
from django.contrib.auth.models import User
from django.db.models import Q, QuerySet

from classes.enrollment.models import Enrollment
from classes.hours.breaks import keep_break_inside
from classes.models import ClassSession, Kitchen, Station, TaughtRecipe
from classes.sessions.clashes import Overlap, clashes_of
from classes.sessions.formsets import (
    Choices,
    RowFormSet,
    SeveralRowsField,
    choices_of,
    plain_initial,
)
from config.forms.fields import field_of
from config.forms.rows import rows_of
from recipes.core.choices import IngredientKind
from recipes.models import Revision, Variant
from recipes.selectors import ingredients_for

FIRST_YEAR, LAST_YEAR = 2000, 2100


def to_utc(day: date, clock: time, kitchen: Kitchen) -> datetime:
    """A wall-clock time in the kitchen's zone as UTC.

    Raises ValidationError for a time that the clock change skips or repeats, and for extreme years:
    at the ends of the calendar, other zones have no such day.
    """
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise forms.ValidationError(f"Enter a year from {FIRST_YEAR} to {LAST_YEAR}.")
    local = datetime.combine(day, clock)
    first, second = (local.replace(tzinfo=kitchen.zone, fold=fold) for fold in (0, 1))
    if first.utcoffset() != second.utcoffset():
        raise forms.ValidationError(
            "The clocks change just then in %(zone)s, so this time is skipped or comes twice. "
            "Choose another.",
            params={"zone": kitchen.time_zone},
        )
    return first.astimezone(UTC)


def date_input() -> forms.DateInput:
    return forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})


def time_input() -> forms.TimeInput:
    return forms.TimeInput(format="%H:%M", attrs={"type": "time"})


class StationsField(SeveralRowsField[Station]):
    def label_from_instance(self, obj: Station) -> str:
        return _station_label(obj)


class VariantField(forms.ModelChoiceField[Variant]):
    def label_from_instance(self, obj: Variant) -> str:
        return _variant_label(obj)


class SessionForm(forms.ModelForm[ClassSession]):
    """The class itself; times are the kitchen's wall clock.

    `about_break` says what happened to its break, if new times have moved it.
    """

    about_break = ""

    day = forms.DateField(label="Date", widget=date_input())
    starts = forms.TimeField(label="Starts", widget=time_input())
    ends = forms.TimeField(label="Ends", widget=time_input())

    class Meta:
        model = ClassSession
        fields = (
            "title",
            "kitchen",
            "seats",
            "stations",
            "count_empty_seats",
            "handling_loss_percent",
            "assistants",
            "notes",
        )
        field_classes = {"stations": StationsField, "assistants": SeveralRowsField}
        error_messages = {
            "seats": {
                "min_value": "A class needs at least one seat.",
                "max_value": "At most %(limit_value)s seats.",
            }
        }
        widgets = {
            "stations": forms.CheckboxSelectMultiple,
            "assistants": forms.CheckboxSelectMultiple,
        }
        labels = {"stations": "Stations in use"}
        help_texts = {
            "stations": "People are spread over these as evenly as the places allow.",
            "assistants": "They read, print and check off. They change nothing else.",
        }

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        plain_initial(self)
        kitchens = Kitchen.objects.owned_by(user)
        kitchen = field_of(self, "kitchen", forms.ModelChoiceField)
        kitchen.queryset, kitchen.empty_label = kitchens, None
        stations = field_of(self, "stations", StationsField)
        stations.queryset = self._stations(kitchens)
        stations.error_messages |= {
            "required": "Choose at least one station.",
            "invalid_choice": "These are stations of another kitchen. Show those of this one.",
        }
        assistants = field_of(self, "assistants", SeveralRowsField)
        assistants.queryset, assistants.required = self._assistants(), False
        if self.instance.pk:
            self._set_clock()

    def _stations(self, kitchens: QuerySet[Kitchen]) -> QuerySet[Station]:
        chosen = self["kitchen"].value()
        try:
            kitchen = kitchens.filter(pk=chosen).first() or kitchens.first()
        except (TypeError, ValueError):
            kitchen = kitchens.first()
        return Station.objects.filter(kitchen=kitchen)

    def _assistants(self) -> QuerySet[User]:
        """All assistants, and those already in this class even if their account was closed."""
        offered = Q(groups__name="assistant", is_active=True)
        if self.instance.pk:
            offered |= Q(classes_assisted=self.instance)
        return User.objects.filter(offered).distinct()

    def _set_clock(self) -> None:
        zone = self.instance.kitchen.zone
        starts, ends = (
            at.astimezone(zone) for at in (self.instance.starts_at, self.instance.ends_at)
        )
        self.initial.update(day=starts.date(), starts=starts.time(), ends=ends.time())

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        self._clean_times()
        self._clean_stations()
        self._clean_clashes()
        return cleaned

    def clean_seats(self) -> int:
        seats: int = self.cleaned_data["seats"]
        taken = self.instance.taken if self.instance.pk else 0
        if seats < taken:
            raise forms.ValidationError(
                f"{taken} seats are taken already. Take somebody off the roster first."
            )
        return seats

    def _clean_times(self) -> None:
        day, kitchen = self.cleaned_data.get("day"), self.cleaned_data.get("kitchen")
        starts, ends = self.cleaned_data.get("starts"), self.cleaned_data.get("ends")
        if day is None or kitchen is None:
            return
        moments = {}
        for name, clock in (("starts", starts), ("ends", ends)):
            if clock is not None:
                try:
                    moments[name] = to_utc(day, clock, kitchen)
                except forms.ValidationError as problem:
                    self.add_error(name, problem)
        if len(moments) == 2:
            if moments["ends"] <= moments["starts"]:
                self.add_error("ends", "The class ends before it starts. Give a later time.")
            self._set_times(moments["starts"], moments["ends"], kitchen)

    def _set_times(self, starts_at: datetime, ends_at: datetime, kitchen: Kitchen) -> None:
        started_at = self.instance.starts_at
        self.instance.starts_at, self.instance.ends_at = starts_at, ends_at
        if started_at is not None:
            self.about_break = keep_break_inside(
                self.instance, started_at=started_at, kitchen=kitchen
            )

    def _clean_clashes(self) -> None:
        if not {"day", "starts", "ends", "kitchen"} <= self.cleaned_data.keys():
            return
        kitchen, assistants = self.cleaned_data["kitchen"], self.cleaned_data.get("assistants", ())
        self.refuse(clashes_of(self.instance, kitchen=kitchen, assistants=assistants))

    def refuse(self, clashes: Iterable[Overlap]) -> None:
        """Add errors to the fields for what other classes have taken."""
        for clash in clashes:
            self.add_error(clash.field, clash.words)

    def _clean_stations(self) -> None:
        seats, stations = self.cleaned_data.get("seats"), self.cleaned_data.get("stations")
        if seats is None or not stations:
            return
        places = sum(station.places for station in stations)
        if places < seats:
            self.add_error(
                "stations",
                f"{seats} seats, but these stations hold {places} people. "
                "Choose more stations or offer fewer seats.",
            )
        if len(stations) > seats:
            self.add_error(
                "stations",
                f"One station would have nobody: {seats} seats fill at most {seats} stations.",
            )


def _station_label(station: Station) -> str:
    return f"{station.name} · {station.places} places"


def _variant_label(variant: Variant) -> str:
    return f"{variant.revision.title}: {variant.name}"


class TaughtForm(forms.ModelForm[TaughtRecipe]):
    class Meta:
        model = TaughtRecipe
        fields = (
            "revision",
            "pieces_each",
            "piece_g",
            "demonstration_batches",
            "dusting_g",
            "dusting_flour",
            "variant",
        )
        labels = {
            "revision": "Recipe",
            "piece_g": "Piece, g",
            "demonstration_batches": "Demonstrations",
            "dusting_g": "Dusting, g",
            "dusting_flour": "Dusting flour",
            "variant": "Variant for all",
        }
        field_classes = {"variant": VariantField}

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        plain_initial(self)
        offered = Q(is_current=True) | Q(pk=self.instance.revision_id)
        owned = Revision.objects.owned_by(user).select_related("recipe").filter(offered)
        revision = field_of(self, "revision", forms.ModelChoiceField)
        revision.queryset, revision.empty_label = owned, "Choose a recipe"
        self.fields["piece_g"].required = False
        self.fields["piece_g"].widget.attrs["placeholder"] = "recipe’s own"
        dusting = field_of(self, "dusting_flour", forms.ModelChoiceField)
        dusting.queryset = ingredients_for(user).filter(kind=IngredientKind.FLOUR)
        dusting.empty_label = "Recipe’s main flour"
        variants = Variant.objects.filter(revision__in=owned).select_related("revision")
        variant = field_of(self, "variant", VariantField)
        variant.queryset, variant.empty_label = variants, "As it is written"
        if not variants.exists():
            del self.fields["variant"]

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        revision = self.cleaned_data.get("revision")
        if self.cleaned_data.get("piece_g") is None and revision and "piece_g" not in self.errors:
            self.cleaned_data["piece_g"] = revision.piece_g
        variant = self.cleaned_data.get("variant")
        if variant and revision and variant.revision_id != revision.pk:
            self.add_error("variant", f"This is a variant of {variant.revision}.")
        return cleaned


class TaughtFormSet(RowFormSet[TaughtRecipe, ClassSession, TaughtForm]):
    twice = "A recipe is listed twice. Change its pieces instead, or remove one row."

    def clean(self) -> None:
        """A row that the page did not show, such as one from another window, also counts."""
        super().clean()
        if not self.instance.pk:
            return
        shown = [form.instance.pk for form in self.initial_forms]
        others = self.instance.taught.exclude(pk__in=shown).values_list("revision_id", flat=True)
        unshown = set(others)
        for form in self.extra_forms:
            revision = form.cleaned_data.get("revision") if hasattr(form, "cleaned_data") else None
            if revision and revision.pk in unshown:
                raise forms.ValidationError(self.twice)


TaughtRows = rows_of(
    ClassSession,
    TaughtRecipe,
    TaughtFormSet,
    form=TaughtForm,
    extra=0,
    min_num=1,
    max_num=6,
    validate_min=True,
    validate_max=True,
)


class EnrollmentForm(forms.ModelForm[Enrollment]):
    variants = SeveralRowsField(
        Variant.objects.none(), required=False, widget=forms.CheckboxSelectMultiple
    )

    class Meta:
        model = Enrollment
        fields = ("name", "station", "must_not_eat")

    def __init__(
        self,
        *args: Any,
        stations: QuerySet[Station],
        choices: Choices,
        variants: QuerySet[Variant],
        variant_choices: Choices,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        station = field_of(self, "station", forms.ModelChoiceField)
        station.queryset, station.choices = stations, choices
        if variant_choices:
            if self.instance.pk:
                self.initial["variants"] = [variant.pk for variant in self.instance.variants.all()]
            several = field_of(self, "variants", SeveralRowsField)
            several.queryset, several.choices = variants, variant_choices
        else:
            del self.fields["variants"]

    def clean_variants(self) -> list[Variant]:
        chosen = list(self.cleaned_data["variants"])
        if len({variant.revision_id for variant in chosen}) < len(chosen):
            raise forms.ValidationError("Choose one variant of a recipe.")
        return chosen


def roster_choices(session: ClassSession) -> dict[str, Any]:
    """What the rows of a roster choose from; the keyword arguments of `EnrollmentForm`."""
    stations = session.stations.all()
    variants = Variant.objects.filter(revision__taught__session=session).select_related("revision")
    return {
        "stations": stations,
        "choices": choices_of(stations, "Wherever there is room", _station_label),
        "variants": variants,
        "variant_choices": [(variant.pk, _variant_label(variant)) for variant in variants],
    }


SURE = "sure-cancel"


class RosterFormSet(RowFormSet[Enrollment, ClassSession, EnrollmentForm]):
    """The roster; never more people than seats, nor more at a station than its places.

    Somebody who booked is removed only if the box `SURE` is also checked: that cancels.
    """

    @property
    def leaving(self) -> list[Enrollment]:
        """Those with a booking who are to be removed, even if the roster is refused."""
        return [
            form.instance
            for form in self.initial_forms
            if form.instance.booking_id and getattr(form, "cleaned_data", {}).get("DELETE")
        ]

    def add_fields(self, form: EnrollmentForm, index: int | None) -> None:
        super().add_fields(form, index)
        if form.instance.booking_id and "DELETE" in form.fields:
            form.fields["DELETE"].label = "Remove and cancel their booking"

    def _clean_leaving(self) -> None:
        names = ", ".join(person.name for person in self.leaving)
        if names and SURE not in self.data:
            raise forms.ValidationError(
                f"{names} booked. Taking them off cancels that, gives the seat to somebody else "
                "and sends a letter. Mark “Yes, cancel” below and save again, or clear the "
                "mark on their row."
            )

    def clean(self) -> None:
        super().clean()
        self._clean_leaving()
        kept = [
            form
            for form in self.forms
            if form not in self.deleted_forms
            and form.cleaned_data.get("name")
            and form.instance.door != Enrollment.Door.ABSENT
        ]
        held = self.instance.seats_held()
        if len(kept) + held > self.instance.seats:
            waiting = f", {held} of them held for people who are enrolling" if held else ""
            raise forms.ValidationError(
                f"{len(kept)} people, but the class has {self.instance.seats} seats{waiting}. "
                "Remove somebody, or give the class more seats."
            )
        seen: dict[Station, int] = {}
        for form in kept:
            station = form.cleaned_data.get("station")
            if station:
                seen[station] = seen.get(station, 0) + 1
                if seen[station] > station.places:
                    form.add_error("station", f"{station.name} has only {station.places} places.")


RosterRows = rows_of(
    ClassSession, Enrollment, RosterFormSet, form=EnrollmentForm, extra=0, max_num=200
)
