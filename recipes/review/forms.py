"""The review sheet: the recipe form, prefilled, with original texts and doubts on its rows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property
from itertools import groupby
from typing import Any

from django.forms import Form

from recipes.core.choices import ComponentKind, IngredientKind
from recipes.editing.recipe import Made, PartOfForm, RecipeForm
from recipes.forms.words import quoted
from recipes.importing.values import piece_share_g
from recipes.review.asking import Asking, SheetRow
from recipes.review.figures import ClassGap, Figure, Weighed, class_gaps, figures_of
from recipes.review.groups import HeadGroup, WholeRecipe, groups_of
from recipes.review.marked import Mark, SourcePiece, pieces_of, read_spans
from recipes.review.row_forms import (
    ReviewHeadForm,
    ReviewLineForm,
    ReviewPartForm,
    ReviewStepForm,
)
from recipes.review.rows import LeftText, ReviewSheet, carried, is_guess, piece_guess
from recipes.review.states import Doubted

SAVE = "save"
AGAIN = (
    "The amounts changed, so the dough in one piece was worked out again. "
    "Save again if it is right."
)


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive rows of one part, all accepted or none of them."""

    accepted: bool
    lines: list[Doubted]

    @property
    def in_words(self) -> str:
        return ", ".join(line.in_words for line in self.lines)


@dataclass
class ReviewForm(RecipeForm):
    """The recipe form over the rows of a sheet."""

    head_form = ReviewHeadForm
    part_form = ReviewPartForm
    line_form = ReviewLineForm
    step_form = ReviewStepForm

    head: ReviewHeadForm = field(init=False)
    sheet: ReviewSheet = field(kw_only=True)

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
    def left(self) -> list[LeftText]:
        """The texts that went into no row."""
        return self.sheet.left

    @property
    def groups(self) -> list[HeadGroup]:
        """The head, in rows."""
        return groups_of(self.head)

    @property
    def shown_parts(self) -> list[tuple[PartOfForm, list[Run]]]:
        """The parts with their lines, those that are accepted put together."""
        return [(part, list(_runs(part))) for part in self.parts]

    def rows_shown(self) -> Iterator[tuple[str, SheetRow]]:
        """Every row that can ask something, with a word for its kind, in the page's order."""
        yield from (("whole", WholeRecipe(self.head)) for _ in self.head.general_doubts)
        yield from (("figure", figure) for figure in self.figures)
        yield from ((group.key, group) for group in self.groups)
        for part in self.parts:
            yield from (("part", row) for row in _rows([part.form]))
            yield from (("line", row) for row in _rows(part.lines))
        yield from (("step", row) for row in _rows(self.steps))

    @cached_property
    def asking(self) -> Asking:
        """What is still to be answered."""
        return Asking.of(self.rows_shown())

    @property
    def sure_left(self) -> int:
        """How many lines and steps are sure and not yet accepted."""
        return len(self._sure())

    def _sure(self) -> list[Doubted]:
        forms = [form for form in self._forms() if isinstance(form, Doubted)]
        return [
            f for f in forms if f.in_words and not f.asks and not f.right and f is not self.head
        ]

    def accept_sure(self) -> None:
        """Accept every row that asks nothing."""
        for form in self._sure():
            form.right = True

    def go_on(self, after: str = "") -> None:
        """Put the focus where the next answer is needed, after a row if one is named.

        A row without a field gets it on its button; if nothing is asked, the save button does.
        """
        row = self.asking.after(after, [row.prefix for _, row in self.rows_shown()])
        if row is None:
            self.focus = SAVE
        elif isinstance(row, Figure | WholeRecipe):
            self.focus = row.prefix
        else:
            row.focus()

    @cached_property
    def checked(self) -> ReviewForm:
        """This form with every row checked, also while it only shows what was read."""
        form = (
            self if self.bound else ReviewForm(self.rows, self.shelf, bound=True, sheet=self.sheet)
        )
        for row_form in form._forms():
            row_form.is_valid()
        return form

    @cached_property
    def figures(self) -> list[Figure]:
        """The recipe's figures, beside what its text says and what is usual."""
        return figures_of(self._weighed(), self.sheet.original, self.sheet.agreed)

    @property
    def class_gaps(self) -> list[ClassGap]:
        """What keeps a class from being planned from it."""
        guessed = bool({"pieces", "piece_g"} & self.head.told.keys())
        return class_gaps(self._weighed().steps, yield_is_guess=guessed)

    def _weighed(self) -> Weighed:
        """What can be weighed of the rows as they stand."""
        form = self.checked
        parts = [(part.form.cleaned_data.get("kind"), part.filled) for part in form.parts]
        dough = [line for kind, lines in parts if _in_dough(kind) for line in lines]
        head = form.head.cleaned_data
        return Weighed(
            lines=tuple(line.cleaned_data for line in dough if "written" in line.cleaned_data),
            missing=sum("written" not in line.cleaned_data for line in dough),
            steps={
                str(step.prefix): step.cleaned_data.get("written") for step in form.filled_steps
            },
            pieces=head.get("pieces"),
            piece_g=head.get("piece_g"),
            bread_kind=head.get("bread_kind") or None,
        )

    @property
    def source_pieces(self) -> list[SourcePiece]:
        """The source with every reading marked in it."""
        return pieces_of(self.sheet.original, self._marks())

    def _marks(self) -> Iterator[Mark]:
        for span in read_spans(self.sheet.head_spans):
            yield Mark(span, "", "Understood")
        for left in self.left:
            for span in read_spans(left.span):
                yield Mark(span, "left-out", "Left out", left.why, "✕")
        for row in _rows(self._forms()):
            for span in read_spans(row.span):
                state, anchor = row.state, f"{row.prefix}-row"
                yield Mark(span, anchor, state.word, row.in_words, state.shape, state.asks)

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
        return [new["name"] for new in self.new_ingredients]

    @property
    def unread_names(self) -> list[str]:
        """Those of them whose allergens nobody has entered."""
        return [new["name"] for new in self.new_ingredients if not _is_read(new)]

    @property
    def new_ingredients(self) -> list[dict[str, Any]]:
        """Field values of the ingredients that saving adds, with all that any line says of them."""
        found: dict[str, dict[str, Any]] = {}
        for line in (line for part in self.parts for line in part.filled):
            new = line.cleaned_data["ingredient"]
            if new.pk is not None:
                continue
            values = found.setdefault(new.name.casefold(), {"name": new.name, "kind": new.kind})
            for name in ("allergens_us", "allergens_eu"):
                told = (*values.get(name, ()), *getattr(new, name))
                values[name] = list(dict.fromkeys(told))
            values["allergens_read"] = values.get("allergens_read", False) or new.allergens_read
            if new.kind == IngredientKind.STARTER:
                values.setdefault("hydration_percent", new.hydration_percent)
                values["flours"] = values.get("flours") or line.cleaned_data["new_flours"]
        return list(found.values())

    def _check_new(self) -> None:
        """Check that a new ingredient has the same kind in every line."""
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
        if not is_guess(self.head.told.get("piece_g", ())) or "pieces" in self.head.errors:
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


def _rows(forms: Iterable[Form]) -> Iterator[Doubted]:
    """Forms of the sheet, each of which is made as one that can ask."""
    return (form for form in forms if isinstance(form, Doubted))


def _is_read(new: dict[str, Any]) -> bool:
    return bool(new["allergens_read"] or new["allergens_us"] or new["allergens_eu"])


def _in_dough(kind: str | None) -> bool:
    return kind is None or ComponentKind(kind).goes_into_dough


def _runs(part: PartOfForm) -> Iterator[Run]:
    def is_accepted(line: Doubted) -> bool:
        return line.right and not line.is_open

    for accepted, lines in groupby(_rows(part.lines), key=is_accepted):
        yield Run(accepted, list(lines))
