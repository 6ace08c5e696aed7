"""A recipe as saved beside the same recipe as somebody typed it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher

from django import forms

from config.forms.clashes_shown import in_words
from config.forms.seen import asked_fields, mark_of, shown
from recipes.editing.recipe import RecipeForm
from recipes.models import Revision
from recipes.selectors import written_of


@dataclass(frozen=True, slots=True)
class Difference:
    """A place where the two differ: its lines in each."""

    theirs: tuple[str, ...]
    mine: tuple[str, ...]


def recipe_mark(revision: Revision) -> str:
    """A mark of everything that the form shows of a recipe, and of its variants."""
    variants = [(variant.pk, variant.name) for variant in revision.variants.all()]
    return mark_of((repr((revision.pk, written_of(revision))), repr(variants)))


def differences(theirs: RecipeForm, mine: RecipeForm) -> list[Difference]:
    """Where two unbound forms differ, in the order of the recipe."""
    first, second = list(_lines(theirs)), list(_lines(mine))
    matcher = SequenceMatcher(None, first, second, autojunk=False)
    return [
        Difference(tuple(first[a:b]), tuple(second[c:d]))
        for tag, a, b, c, d in matcher.get_opcodes()
        if tag != "equal"
    ]


def _lines(form: RecipeForm) -> Iterator[str]:
    for bound in asked_fields(form.head):
        if values := shown(bound):
            yield f"{bound.label}: {', '.join(in_words(bound, values))}"
    for part in form.parts:
        yield _line(part.form)
        yield from filter(None, map(_line, part.lines))
    yield from filter(None, map(_line, form.steps))


def _line(form: forms.Form) -> str:
    """A row as one line of text; a row with only its initial values gives nothing."""
    filled = [(bound, shown(bound)) for bound in asked_fields(form)]
    told = [", ".join(in_words(bound, values)) for bound, values in filled if values]
    return " · ".join(told) if len(told) > 1 else ""
