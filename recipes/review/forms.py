"""The review sheet: the recipe form, prefilled, with original texts and doubts on its rows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django import forms

from recipes.core.choices import ComponentKind, IngredientKind
from recipes.editing.head import HeadForm
from recipes.editing.lines import LineForm, PartForm, StepForm
from recipes.editing.recipe import Made, RecipeForm
from recipes.forms.words import quoted
from recipes.importing.values import piece_share_g
from recipes.models import Ingredient
from recipes.review.rows import carried, live_doubts, piece_guess

LONGEST_NEW_NAME = 80
DOUBTED = "recipes/_doubted_field.html"
# The recipe form's own advice; here the ingredient can be added on the spot.
INGREDIENTS_PAGE = " Add it under Ingredients, or choose another."


@dataclass(frozen=True, slots=True)
class LineState:
    """How far a line was understood: a shape and a word, the same on every row."""

    shape: str
    word: str


UNDERSTOOD = LineState("●", "Understood")
CHECK = LineState("◆", "Check")
UNKNOWN = LineState("▲", "Unknown ingredient")
NOT_UNDERSTOOD = LineState("▲", "Not understood")
TO_FIX = LineState("▲", "To fix")


@dataclass(frozen=True, slots=True)
class DoubtShown:
    """A doubt with the label of the field it concerns, empty for the whole row or recipe."""

    label: str
    sentence: str


class Doubted(forms.Form):
    """What a form of the review adds: the original text, and doubts beside its fields."""

    source = ""
    doubts = ""
    told: dict[str, list[str]]

    def carry(self, values: Mapping[str, Any]) -> None:
        """Take the original text and the doubts that are not settled yet from a row."""
        self.source = str(values.get("source") or "")
        self.doubts = str(values.get("doubts") or "")
        self.told = live_doubts(values)
        for name in self.told:
            if name in self.fields:
                self._mark(name)

    def _mark(self, name: str) -> None:
        marked = self.fields[name]
        marked.template_name = DOUBTED  # type: ignore[attr-defined]  # the stubs leave it out
        where = self[name].auto_id
        helped = f"{where}_helptext " if marked.help_text else ""
        marked.widget.attrs["aria-describedby"] = f"{helped}{self.doubts_id} {where}_error"

    @property
    def doubts_id(self) -> str:
        """The id of the list of this form's doubts."""
        return f"{self.prefix or 'recipe'}-doubts-list"

    @property
    def field_doubts(self) -> list[DoubtShown]:
        """The doubts about single fields that are not settled yet, in the fields' order."""
        return [
            DoubtShown(str(self[name].label), sentence)
            for name in self.fields
            for sentence in self.told.get(name, ())
        ]

    @property
    def general_doubts(self) -> list[DoubtShown]:
        """The doubts that concern no single field."""
        others = [name for name in self.told if name not in self.fields]
        return [DoubtShown("", sentence) for name in others for sentence in self.told[name]]

    @property
    def all_doubts(self) -> list[DoubtShown]:
        """Those about fields, then the others."""
        return self.field_doubts + self.general_doubts


class ReviewHeadForm(Doubted, HeadForm):
    """The head; line ends are kept as one character, as they came."""

    def clean_equipment(self) -> str:
        return _unix(self.cleaned_data["equipment"])

    def clean_note(self) -> str:
        return _unix(self.cleaned_data["note"])


class ReviewPartForm(Doubted, PartForm):
    """A part of the bread."""


class ReviewStepForm(Doubted, StepForm):
    """A step of the method."""

    def clean_text(self) -> str:
        return _unix(self.cleaned_data["text"])


def _unix(text: str) -> str:
    return text.replace("\r\n", "\n")


class ReviewLineForm(Doubted, LineForm):
    """A line whose ingredient is on the list, or is added to it as a kind of its own."""

    new_kind = forms.ChoiceField(
        choices=[("", "No, choose one from the list"), *IngredientKind.choices()],
        required=False,
        label="Add as a new ingredient?",
        help_text="It has no allergens yet: enter them under Ingredients.",
    )
    # The kind must be known when the ingredient is looked up.
    field_order = ("new_kind",)

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
        return Ingredient(name=name, kind=kind)

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
        """How far the row is settled."""
        if self.is_bound and self.errors:
            return TO_FIX
        if not (self["amount"].value() and self["ingredient"].value()):
            return NOT_UNDERSTOOD
        if self.is_unknown and not self["new_kind"].value():
            return UNKNOWN
        return CHECK if self.told else UNDERSTOOD


AGAIN = (
    "The amounts changed, so the dough in one piece was worked out again. "
    "Save again if it is right."
)


@dataclass
class ReviewForm(RecipeForm):
    """The recipe form over rows that were read; `left` are texts that went into no row."""

    head_form = ReviewHeadForm
    part_form = ReviewPartForm
    line_form = ReviewLineForm
    step_form = ReviewStepForm

    head: ReviewHeadForm = field(init=False)
    left: list[tuple[str, str]] = field(default_factory=list)

    def _make(
        self, kind: type[Made], prefix: str, values: dict[str, Any], *, blank: bool, **more: Any
    ) -> Made:
        form = super()._make(kind, prefix, values, blank=blank, **more)
        if isinstance(form, Doubted):
            form.carry(values)
        return form

    @property
    def part_choices(self) -> list[tuple[str, str]]:
        """The parts that a line can be in, by key."""
        return [
            (row.key, str(row.values.get("name") or row.values.get("kind") or f"Part {n}"))
            for n, row in enumerate(self.rows.parts, start=1)
        ]

    @property
    def has_parts(self) -> bool:
        """Whether there is another part for a line to go to."""
        return len(self.rows.parts) > 1

    @property
    def lines(self) -> Iterator[ReviewLineForm]:
        """All lines that were read from a text."""
        for part in self.parts:
            for line in part.lines:
                if isinstance(line, ReviewLineForm) and line.source:
                    yield line

    @property
    def tally(self) -> list[tuple[LineState, int]]:
        """How many lines are in each state, the best first."""
        states = [line.state for line in self.lines]
        order = (UNDERSTOOD, CHECK, UNKNOWN, NOT_UNDERSTOOD, TO_FIX)
        return [(state, states.count(state)) for state in order if state in states]

    @property
    def doubts_left(self) -> int:
        """How many fields still hold what was proposed with a doubt."""
        return sum(len(form.told) for form in self._forms() if isinstance(form, Doubted))

    def is_valid(self) -> bool:
        """Check as the recipe form does, and work a guessed piece out again."""
        valid = super().is_valid()
        self._check_new()
        guess = self._new_guess()
        if guess is not None:
            changed = guess != self.head.cleaned_data.get("piece_g")
            self._propose(guess)
            self.troubles += [AGAIN] if changed else []
        return valid and not self.problems

    @property
    def added_names(self) -> list[str]:
        """Names of the ingredients that saving adds to the user's list."""
        lines = [line for part in self.parts for line in part.written_lines()]
        new = [line.ingredient.name for line in lines if not line.ingredient.key]
        return list({name.casefold(): name for name in reversed(new)}.values())[::-1]

    def _check_new(self) -> None:
        """The same new ingredient is of the same kind wherever it stands."""
        kinds: dict[str, str] = {}
        for part in self.parts:
            for line in part.filled:
                new = line.cleaned_data.get("ingredient")
                if new is None or new.pk is not None:
                    continue
                kind = kinds.setdefault(new.name.casefold(), new.kind)
                if kind != new.kind:
                    line.add_error("new_kind", f"Above, {quoted(new.name)} is of another kind.")

    def _new_guess(self) -> Decimal | None:
        """Dough over pieces, while the piece's mass is a guess and all of the dough is known."""
        if "piece_g" not in self.head.told or "pieces" in self.head.errors:
            return None
        dough_g = self._dough_g()
        return dough_g and piece_share_g(dough_g, self.head.cleaned_data["pieces"])

    def _dough_g(self) -> Decimal | None:
        """Grams of all lines that go into the dough; None while one of them is in doubt."""
        total = Decimal(0)
        for part in self.parts:
            kind = part.form.cleaned_data.get("kind")
            if kind is None or any("written" not in line.cleaned_data for line in part.filled):
                return None
            if ComponentKind(kind).goes_into_dough:
                total += sum((line.grams for line in part.written_lines()), Decimal(0))
        return total or None

    def _propose(self, share: Decimal) -> None:
        values = dict(self.rows.head) | {"piece_g": str(share)}
        told = self.head.told | {
            "piece_g": [piece_guess(share * self.head.cleaned_data["pieces"], complete=True)]
        }
        pairs = [(name, sentence) for name, sentences in told.items() for sentence in sentences]
        values["doubts"] = carried(values, pairs)
        self.rows.head = values
        self.head = self._make(ReviewHeadForm, "", values, blank=False)
        self.head.is_valid()
