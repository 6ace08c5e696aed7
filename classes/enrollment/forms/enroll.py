"""The forms that a student fills in: how many seats, who comes, and what they must not eat."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.core.validators import RegexValidator
from django.forms import Form
from django.http import QueryDict

from classes.core.diets.words import says_nothing
from classes.enrollment.models import MOST_SEATS_AT_ONCE, Booking, Enrollment
from classes.enrollment.public import open_sessions
from classes.enrollment.services.seats import Diner
from classes.models import ClassSession
from config import letter_files
from config.forms.fields import field_of
from recipes.core.allergens import EU_FOURTEEN, US_NINE

MOST_WORDS = 300
ONE_LINE = RegexValidator(r"^[^\x00-\x1f\x7f]*$", "Enter it on one line.")
NAME = RegexValidator(
    r"://|/|@|\\|www\.", "Enter a name, not an address.", inverse_match=True, flags=re.IGNORECASE
)
PHONE = RegexValidator(r"^[0-9+()/ .-]*$", "Enter a phone number with digits, spaces and + ( ) - .")
YES_AND_NOTHING = (
    "You chose “Yes”, and wrote that there is nothing. Choose “No”, or mark or write what it is."
)


def allergen_choices() -> list[tuple[str, str]]:
    """Every allergen of both lists once, with its label."""
    labels = {allergen.key: allergen.label for allergen in (*EU_FOURTEEN, *US_NINE)}
    same = {"egg": "eggs", "tree-nuts": "nuts", "crustacean-shellfish": "crustaceans"}
    return sorted(
        ((key, label) for key, label in labels.items() if key not in same), key=lambda pair: pair[1]
    )


class SeatsForm(forms.Form):
    """How many seats; because of the key, the same form sent twice makes one booking."""

    seats = forms.TypedChoiceField(
        label="Seats",
        choices=[(n, str(n)) for n in range(1, MOST_SEATS_AT_ONCE + 1)],
        coerce=int,
        initial=1,
    )
    form_key = forms.RegexField(r"^[A-Za-z0-9_-]{20,64}$", widget=forms.HiddenInput)

    def __init__(self, *args: Any, most: int = MOST_SEATS_AT_ONCE, **kwargs: Any) -> None:
        """Offer at most `most` seats, but at least one."""
        super().__init__(*args, **kwargs)
        offered = range(1, max(1, min(most, MOST_SEATS_AT_ONCE)) + 1)
        field_of(self, "seats", forms.TypedChoiceField).choices = [(n, str(n)) for n in offered]

    @classmethod
    def wanted(cls, data: Mapping[str, Any]) -> dict[str, Any] | None:
        """The same fields cleaned without the cost of making a form; None if one is invalid.

        For a rush to a class, when nearly everybody only gets a refusal.
        """
        try:
            return {name: field.clean(data.get(name)) for name, field in cls.base_fields.items()}
        except ValidationError:
            return None


class WaitingForm(SeatsForm):
    """A place on the waiting list for some seats."""

    name = forms.CharField(label="Your name", max_length=80, validators=[ONE_LINE, NAME])
    email = forms.EmailField(label="E-mail", max_length=254)

    field_order = ("name", "email", "seats", "form_key")


class ContactForm(forms.Form):
    """The person to whom letters go."""

    email = forms.EmailField(label="E-mail", max_length=254)
    phone = forms.CharField(
        label="Phone",
        max_length=40,
        required=False,
        validators=[PHONE],
        help_text="Only for news on the day itself.",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["email"].help_text = (
            "It stays with your booking. This site sends no letters."
            if letter_files.in_use()
            else "Your confirmation and your own link go here."
        )


class DinerForm(forms.Form):
    """One person, and what they must not eat: asked with the reason, never required."""

    name = forms.CharField(label="Name", max_length=80, validators=[ONE_LINE, NAME])
    diet = forms.ChoiceField(
        label="Is there anything you must not eat?",
        choices=[
            (Enrollment.Diet.NOTHING, "No"),
            (Enrollment.Diet.TOLD, "Yes, as marked or written below"),
            (Enrollment.Diet.PRIVATE, "Yes, and I would rather tell you privately"),
            (Enrollment.Diet.SILENT, "I prefer not to answer"),
        ],
        required=False,
        widget=forms.RadioSelect,
    )
    allergens = forms.MultipleChoiceField(
        label="Which of these",
        choices=allergen_choices,
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    must_not_eat = forms.CharField(
        label="In your own words",
        max_length=MOST_WORDS,
        required=False,
        validators=[ONE_LINE],
        help_text="For example: no sesame, not even traces.",
    )

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        wrote_nothing = says_nothing(cleaned.get("must_not_eat", ""))
        if wrote_nothing:
            cleaned["must_not_eat"] = ""
        told = cleaned.get("allergens") or cleaned.get("must_not_eat")
        if told and cleaned.get("diet") in (Enrollment.Diet.NOTHING, Enrollment.Diet.SILENT):
            self.add_error("diet", "Something is marked or written below. Say yes, or clear it.")
        elif cleaned.get("diet") == Enrollment.Diet.NOT_ASKED and (told or wrote_nothing):
            cleaned["diet"] = Enrollment.Diet.TOLD if told else Enrollment.Diet.NOTHING
        if cleaned.get("diet") == Enrollment.Diet.TOLD and not told and not self.errors:
            words = YES_AND_NOTHING if wrote_nothing else "Mark an allergen or write what it is."
            self.add_error("must_not_eat", words)
        return cleaned

    def diner(self) -> Diner:
        """The person as a value for the services."""
        said = self.cleaned_data
        return Diner(said["name"], said["diet"], tuple(said["allergens"]), said["must_not_eat"])


class EnrollForm:
    """The whole of the short form: one contact, and one person for every seat."""

    def __init__(
        self,
        data: QueryDict | None,
        seats: int,
        *,
        email: str = "",
        phone: str = "",
        name: str = "",
    ) -> None:
        initial = {"email": email, "phone": phone} if email else None
        self.contact = ContactForm(data, prefix="contact", initial=initial)
        self.people = [
            DinerForm(
                data, prefix=f"person-{n}", initial={"name": name} if name and n == 0 else None
            )
            for n in range(seats)
        ]

    @classmethod
    def half_filled(cls, data: QueryDict, seats: int) -> EnrollForm:
        """The form as filled in so far, without errors about what is missing."""
        form = cls(data, seats)
        for person in form.people:
            person.initial = {
                name: field.widget.value_from_datadict(data, {}, person.add_prefix(name))
                for name, field in person.fields.items()
            }
            person.is_bound = False
        return form

    @property
    def forms(self) -> list[Form]:
        return [self.contact, *self.people]

    def is_valid(self) -> bool:
        checked = [form.is_valid() for form in self.forms]
        return all(checked)

    @property
    def errors(self) -> list[Form]:
        """All errors, for the list at the top."""
        return [form for form in self.forms if form.errors]

    def diners(self) -> list[Diner]:
        return [form.diner() for form in self.people]


class WalkInForm(DinerForm):
    """The allergen question comes before the name, and must be answered."""

    form_key = forms.RegexField(r"^[A-Za-z0-9_-]{20,64}$", widget=forms.HiddenInput)
    field_order = ("diet", "allergens", "must_not_eat", "name")

    def clean(self) -> dict[str, object]:
        cleaned = super().clean()
        if not self.errors and not cleaned.get("diet"):
            self.add_error(
                "diet",
                "Ask before they touch anything. If they would rather not say, choose “privately” "
                "and talk to them.",
            )
        return cleaned

    @property
    def diets(self) -> type[Enrollment.Diet]:
        return Enrollment.Diet


class DietForm(DinerForm):
    """What a person must not eat, as they say it now."""

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
