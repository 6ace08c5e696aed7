"""A class as its form describes it, before anything of it is saved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.db.models import prefetch_related_objects

from classes.core.hours.problem.values import ClassWork, TimedRecipe
from classes.hours.selectors import timed_recipe, work_of
from classes.models import ClassSession, TaughtRecipe
from classes.selectors import people_at
from classes.sessions.forms import SessionForm, TaughtForm, TaughtFormSet
from recipes.selectors import formula_value

TOO_FEW = "too_few_forms"
NEEDED = ("day", "starts", "ends", "seats", "kitchen", "stations")


@dataclass(frozen=True, slots=True)
class DraftClass:
    """A class that is not saved, with its recipes and the work that it is."""

    session: ClassSession
    taught: tuple[TimedRecipe, ...]
    work: ClassWork


@dataclass(frozen=True, slots=True)
class Unfinished:
    """Why a form describes no class yet: labels of empty fields, and what is wrong elsewhere."""

    missing: tuple[str, ...]
    wrong: tuple[str, ...]


def draft_of(form: SessionForm, rows: TaughtFormSet) -> DraftClass | Unfinished:
    """The class that bound forms describe, whatever else of them is still to be mended."""
    for one in (form, rows):
        one.is_valid()
    unfinished = _unfinished(form, rows)
    if unfinished.missing or unfinished.wrong:
        return unfinished
    session, stations = form.instance, form.cleaned_data["stations"]
    kept: list[TaughtRecipe] = [row.instance for row in _kept(rows)]
    prefetch_related_objects([session.kitchen], "ovens", "mixers")
    prefetch_related_objects(
        [row.revision for row in kept], "steps", "components__lines__ingredient"
    )
    taught = [timed_recipe(row, formula_value(row.revision)) for row in kept]
    enrolled = session.enrollments.all() if session.pk else ()
    work = work_of(
        session,
        people_at(session, enrolled, stations),
        stations=stations,
        taught=zip(kept, taught, strict=True),
        assistants=len(form.cleaned_data.get("assistants", ())),
    )
    return DraftClass(session, tuple(taught), work)


def _kept(rows: TaughtFormSet) -> list[TaughtForm]:
    """The rows that stay and name a recipe."""
    return [row for row in _staying(rows) if row.cleaned_data.get("revision")]


def _staying(rows: TaughtFormSet) -> list[TaughtForm]:
    """The rows that were posted and are not marked to be removed."""
    return [row for row in rows.forms if _is_posted(row) and not row.cleaned_data.get("DELETE")]


def _is_posted(row: TaughtForm) -> bool:
    return any(row.add_prefix(name) in row.data for name in row.fields)


def _unfinished(form: SessionForm, rows: TaughtFormSet) -> Unfinished:
    missing, wrong = [], []
    for label, error in _troubles(form, rows):
        if error.code == "required":
            missing.append(label.lower())
        else:
            wrong.append(f"{label}: {' '.join(error.messages)}")
    for error in rows.non_form_errors().as_data():
        if error.code != TOO_FEW:
            wrong.extend(error.messages)
    if not _kept(rows):
        missing.append("recipe")
    return Unfinished(tuple(dict.fromkeys(missing)), tuple(dict.fromkeys(wrong)))


def _troubles(form: SessionForm, rows: TaughtFormSet) -> Iterator[tuple[str, ValidationError]]:
    """What is wrong with the fields that decide the hours, each with the label of its field."""
    for name in NEEDED:
        for error in form.errors.as_data().get(name, ()):
            yield str(form.fields[name].label), error
    for row in _staying(rows):
        for name, errors in row.errors.as_data().items():
            named = row.fields[name].label if name in row.fields else None
            label = str(named or "Recipe")  # no field at all, or one that nobody sees
            yield from ((label, error) for error in errors)
