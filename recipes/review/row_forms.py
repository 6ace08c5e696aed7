"""The rows of the review sheet: those of the recipe form, each with its text and its doubts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from django import forms
from django.forms import BoundField

from config.forms.clashes_shown import in_words
from config.forms.seen import shown
from recipes.core.allergens import EU_FOURTEEN, US_NINE
from recipes.core.choices import IngredientKind
from recipes.editing.head import HeadForm
from recipes.editing.lines import LineForm, PartForm, StepForm
from recipes.importing.naming.index import name_words
from recipes.importing.shelf import known_ingredient
from recipes.importing.text.matching import IngredientBook
from recipes.ingredients.forms import (
    BY_EU_LIST,
    BY_US_LIST,
    PACK_READ,
    allergens_field,
    flours_field,
    hydration_field,
)
from recipes.ingredients.services import Flours
from recipes.ingredients.shelf import Shelf
from recipes.ingredients.starter_flours import read_flours
from recipes.models import Ingredient
from recipes.review.groups import HEAD_GROUPS
from recipes.review.states import (
    NOT_UNDERSTOOD,
    TO_FIX,
    UNDERSTOOD,
    UNKNOWN,
    Doubted,
    LineState,
)
from wording.durations import minutes

LONGEST_NEW_NAME = 80
NEW_FIELDS = ("new_kind", "new_us", "new_eu", "new_read", "new_hydration", "new_flours")
# The recipe form's own advice; here the ingredient can be added on the spot.
INGREDIENTS_PAGE = " Add it under Ingredients, or choose another."


@dataclass(frozen=True, slots=True)
class Suggestion:
    """An ingredient of the list that may be meant."""

    key: str
    label: str


class ReviewShelf(Shelf):
    """The list, and suggestions of the same kind and grade for a name that is not on it."""

    def __init__(self, ingredients: Iterable[Ingredient]) -> None:
        self._rows = list(ingredients)
        super().__init__(self._rows)

    @cached_property
    def _book(self) -> IngredientBook:
        return IngredientBook(map(known_ingredient, self._rows), region=None)

    @cached_property
    def flours(self) -> Shelf:
        """The flours alone."""
        return Shelf(row for row in self._rows if row.kind == IngredientKind.FLOUR)

    def near(self, name: str) -> list[Suggestion]:
        """At most five ingredients that a name may mean, nearest first."""
        words = name_words(name)
        codes = [word for word in words if word[-1].isdigit()]
        match = self._book.fit([word for word in words if word not in codes], codes).match
        rows = {row.key: row for row in self._rows}
        return [Suggestion(key, self.label(rows[key])) for key in match.candidates]


class ReviewHeadForm(Doubted, HeadForm):
    """The head; line ends stay one character, as they came."""

    def clean_equipment(self) -> str:
        return _unix(self.cleaned_data["equipment"])

    def clean_note(self) -> str:
        return _unix(self.cleaned_data["note"])

    def doubts_id(self, name: str) -> str:
        group = next((key for key, names in HEAD_GROUPS.items() if name in names), "whole")
        return f"head-{group}-doubts"


class ReviewPartForm(Doubted, PartForm):
    """A part of the bread."""

    @property
    def in_words(self) -> str:
        return " · ".join(filter(None, [_label(self["kind"]), _typed(self["name"])]))


class ReviewStepForm(Doubted, StepForm):
    """A step of the method."""

    @property
    def in_words(self) -> str:
        if not _typed(self["text"]):
            return ""
        hands, waits = _typed(self["hands_on_min"]), _typed(self["waiting_min"])
        told = [
            _label(self["kind"]),
            f"hands-on {_minutes(hands)}" if hands else "",
            f"waiting {_minutes(waits)}" if waits else "",
            _degrees(_typed(self["temperature_c"])),
            _typed(self["text"]),
        ]
        return " · ".join(filter(None, told))

    def clean_text(self) -> str:
        return _unix(self.cleaned_data["text"])


def _unix(text: str) -> str:
    return text.replace("\r\n", "\n")


def _typed(field: BoundField) -> str:
    return " ".join(str(field.value() or "").split())


def _label(field: BoundField) -> str:
    return ", ".join(in_words(field, shown(field)))


def _minutes(typed: str) -> str:
    return minutes(int(typed)) if typed.isascii() and typed.isdigit() else typed


def _degrees(typed: str) -> str:
    return f"{typed} °C" if typed and typed[-1].isdigit() else typed


class ReviewLineForm(Doubted, LineForm):
    """A line whose ingredient is on the list, or is added to it with what it contains."""

    shelf: ReviewShelf

    new_kind = forms.ChoiceField(
        choices=[("", "Choose a kind"), *IngredientKind.choices()],
        required=False,
        label="What kind is it?",
    )
    new_us = allergens_field(BY_US_LIST, US_NINE)
    new_eu = allergens_field(BY_EU_LIST, EU_FOURTEEN)
    new_read = forms.BooleanField(
        required=False,
        label=PACK_READ,
        help_text="Without this, and with nothing checked, classes say “cannot say” for it.",
    )
    new_hydration = hydration_field()
    new_flours = flours_field()
    # What is new must be known when the ingredient is looked up.
    field_order = NEW_FIELDS

    def clean_new_flours(self) -> Flours:
        text = self.cleaned_data["new_flours"]
        return read_flours(text, self.shelf.flours) if text and self.is_new_starter else {}

    @property
    def is_new_starter(self) -> bool:
        """Whether what is new is a starter, which counts as its flour and water."""
        return str(self["new_kind"].value() or "") == IngredientKind.STARTER

    def clean_ingredient(self) -> Ingredient:
        try:
            return super().clean_ingredient()
        except forms.ValidationError as unknown:
            return self._added(" ".join(self.cleaned_data["ingredient"].split()), unknown)

    def _added(self, name: str, unknown: forms.ValidationError) -> Ingredient:
        kind = self.cleaned_data.get("new_kind")
        if not kind:
            said = str(unknown.message).removesuffix(INGREDIENTS_PAGE)
            raise forms.ValidationError(
                f"{said} Choose one from the list, or say below what kind to add it as.",
                code="unknown",
            )
        if len(name) > LONGEST_NEW_NAME:
            raise forms.ValidationError(
                f"A new ingredient’s name has at most {LONGEST_NEW_NAME} characters.", code="long"
            )
        if self.is_new_starter and self.add_prefix("new_hydration") not in self.data:
            raise forms.ValidationError(
                "A starter counts as its flour and water: say below what it is fed with, or leave "
                "empty what you do not know.",
                code="starter",
            )
        told = self.cleaned_data
        return Ingredient(
            hydration_percent=told.get("new_hydration") if self.is_new_starter else None,
            name=name,
            kind=kind,
            allergens_us=told["new_us"],
            allergens_eu=told["new_eu"],
            allergens_read=told["new_read"],
        )

    @property
    def near(self) -> list[Suggestion]:
        """What may be meant by an ingredient that is not on the list."""
        return self.shelf.near(_typed(self["ingredient"]))

    @property
    def new_name(self) -> str:
        """The ingredient as it is written, to be added by that name."""
        return _typed(self["ingredient"])

    @property
    def can_be_right(self) -> bool:
        return super().can_be_right and not self.is_unknown

    @property
    def is_unknown(self) -> bool:
        """Whether an ingredient is written that is not on the list."""
        name = str(self["ingredient"].value() or "").strip()
        try:
            return bool(name) and self.shelf.find(name) is None
        except forms.ValidationError:
            return True

    @property
    def state(self) -> LineState:
        if self.is_bound and self.errors:
            return TO_FIX
        if not (_typed(self["amount"]) and _typed(self["ingredient"])):
            return NOT_UNDERSTOOD if self.source or self.in_words else UNDERSTOOD
        if self.is_unknown and not self["new_kind"].value():
            return UNKNOWN
        return super().state

    @property
    def in_words(self) -> str:
        amount = " ".join(filter(None, [_typed(self["amount"]), _typed(self["unit"])]))
        note = _typed(self["note"])
        return " ".join(filter(None, [amount, _typed(self["ingredient"]), note and f"({note})"]))
