"""The recipe form: head, parts with their lines, and steps, checked together through the core."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any, ClassVar, TypeVar

from django import forms

from recipes.core import errors
from recipes.core.choices import ComponentKind, StepKind
from recipes.core.written import WrittenLine, WrittenPart, WrittenRecipe, choices_in, formula_of
from recipes.editing.head import HeadForm
from recipes.editing.lines import LineForm, PartForm, StepForm
from recipes.editing.row_buttons import MOST_LINES, MOST_PARTS, MOST_STEPS
from recipes.editing.rows import FormRow, PartRow, RecipeRows
from recipes.ingredients.shelf import Shelf
from recipes.selectors import ingredient_value

Made = TypeVar("Made", bound=forms.Form)


@dataclass
class PartOfForm:
    """A part's form with the forms of its lines; empty rows stay unchecked."""

    key: str
    form: PartForm
    lines: list[LineForm]

    @property
    def add_button(self) -> str:
        """The name of the button that adds a line, so that it gets the focus back."""
        return f"add-{self.key}-line"

    @property
    def filled(self) -> list[LineForm]:
        return [line for line in self.lines if line.is_bound]

    def is_valid(self) -> bool:
        return _each_is_valid([self.form, *self.filled])

    def written_lines(self) -> tuple[WrittenLine, ...]:
        """The checked lines, even if the part itself has errors."""
        return tuple(line.cleaned_data["written"] for line in self.filled)

    def written(self) -> WrittenPart:
        """The checked part."""
        own = choices_in(self.form.cleaned_data, kind=ComponentKind)
        return WrittenPart(**own, lines=self.written_lines())


@dataclass(frozen=True, slots=True)
class FieldProblem:
    """Something to fix, and the id of the field where it is."""

    where: str
    label: str
    message: str


@dataclass
class RecipeForm:
    """All forms of a recipe. `bound` checks them; otherwise the rows are only shown."""

    head_form: ClassVar[type[HeadForm]] = HeadForm
    part_form: ClassVar[type[PartForm]] = PartForm
    line_form: ClassVar[type[LineForm]] = LineForm
    step_form: ClassVar[type[StepForm]] = StepForm

    rows: RecipeRows
    shelf: Shelf
    bound: bool = False
    focus: str = ""
    head: HeadForm = field(init=False)
    parts: list[PartOfForm] = field(init=False)
    steps: list[StepForm] = field(init=False)
    troubles: list[str] = field(init=False, default_factory=list)

    def __post_init__(self) -> None:
        self.head = self._make(self.head_form, "", self.rows.head, blank=False)
        self.parts = [self._part(row) for row in self.rows.parts]
        self.steps = [
            self._make(self.step_form, row.key, row.values, blank=_is_blank(row, but="kind"))
            for row in self.rows.steps
        ]
        for form in self._forms():
            for name, form_field in form.fields.items():
                if self.focus and form.add_prefix(name) == self.focus:
                    form_field.widget.attrs["autofocus"] = True

    def _make(
        self, kind: type[Made], prefix: str, values: dict[str, Any], *, blank: bool, **more: Any
    ) -> Made:
        if not self.bound or blank:
            return kind(initial=values, prefix=prefix or None, **more)
        dash = f"{prefix}-" if prefix else ""
        data = {f"{dash}{name}": value for name, value in values.items()}
        return kind(data, prefix=prefix or None, **more)

    def _part(self, row: PartRow) -> PartOfForm:
        lines = [
            self._make(
                self.line_form,
                f"{row.key}-{line.key}",
                line.values,
                blank=_is_blank(line, but="unit"),
                shelf=self.shelf,
            )
            for line in row.lines
        ]
        return PartOfForm(
            row.key, self._make(self.part_form, row.key, row.values, blank=False), lines
        )

    def _forms(self) -> Iterator[forms.Form]:
        yield self.head
        for part in self.parts:
            yield part.form
            yield from part.lines
        yield from self.steps

    @property
    def filled_steps(self) -> list[StepForm]:
        return [step for step in self.steps if step.is_bound]

    @property
    def left_out(self) -> str:
        """The steps with nothing but a kind, in words; a recipe is saved without them."""
        empty = [step for step in self.steps if not step.is_bound]
        kinds = dict(StepKind.choices())
        named = [kinds.get(step.initial.get("kind", ""), "a step") for step in empty]
        return (
            f"Left out, because nothing is entered beside it: {', '.join(named)}." if named else ""
        )

    def is_valid(self) -> bool:
        """Check every row by itself, then all of it as a formula of the baking core."""
        self._check_sizes()
        if _each_is_valid([self.head, *self.parts, *self.filled_steps]) and not self.troubles:
            self._check_formula()
        return not self.problems

    def _check_sizes(self) -> None:
        if len(self.parts) > MOST_PARTS or len(self.steps) > MOST_STEPS:
            self.troubles.append(
                f"A recipe can have at most {MOST_PARTS} parts and {MOST_STEPS} steps."
            )
        if any(len(part.lines) > MOST_LINES for part in self.parts):
            self.troubles.append(f"A part can have at most {MOST_LINES} lines.")
        if not self.parts:
            self.troubles.append("A recipe needs a dough. Add a part.")

    def _check_formula(self) -> None:
        empty = [part for part in self.parts if not part.filled]
        for part in empty:
            part.form.add_error(
                None, "This part has no lines yet. Fill one in, or remove the part."
            )
        if empty:
            return
        filled = [line.cleaned_data for part in self.parts for line in part.filled]
        known = {row["written"].ingredient: ingredient_value(row["ingredient"]) for row in filled}
        try:
            formula_of(self.written(), known)
        except errors.NoFlour:
            self.troubles.append(
                "There is no flour in the dough. Percentages are of the flour, so a recipe needs "
                "at least one line of an ingredient of the kind “Flour”."
            )
        except errors.BakingError:
            self.troubles.append("These amounts do not add up to a dough. Check them.")

    @property
    def problems(self) -> list[FieldProblem]:
        """Everything to fix, in the order of the page."""
        found = [FieldProblem("", "", trouble) for trouble in self.troubles]
        for form in self._forms():
            if form.is_bound:
                found += _problems(form)
        return found

    def written(self) -> WrittenRecipe:
        """The checked recipe."""
        return WrittenRecipe(
            **choices_in(self.head.cleaned_data),
            parts=tuple(part.written() for part in self.parts),
            steps=tuple(step.cleaned_data["written"] for step in self.filled_steps),
        )


def _is_blank(row: FormRow, *, but: str) -> bool:
    """Whether nothing was typed into a row, apart from the field that has an initial value."""
    return not any(str(value or "").strip() for name, value in row.values.items() if name != but)


def _each_is_valid(rows: Iterable[forms.Form | PartOfForm]) -> bool:
    """Check all rows, not only up to the first bad one, so that each shows its errors."""
    return not [row for row in rows if not row.is_valid()]


def _problems(form: forms.Form) -> Iterator[FieldProblem]:
    for name, messages in form.errors.items():
        shown = form[name if name in form.fields else next(iter(form.fields))]
        for message in messages:
            yield FieldProblem(shown.id_for_label, str(shown.label), str(message))
