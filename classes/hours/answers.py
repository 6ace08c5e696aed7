"""What the pages on the hours of a class say: a plan with its verdict, or what prevents one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from django.core.exceptions import ValidationError
from django.db.models import prefetch_related_objects
from django.urls import reverse

from classes.core.hours.checking.verdict import Verdict, verdict_of
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.values import ClassWork, RisesIn, Room, TimedRecipe
from classes.core.hours.problem.work import Plan, Solved
from classes.hours.forms import HoursForms
from classes.hours.plan import ClassHours, hours_of
from classes.hours.selectors import timed_recipe, work_of
from classes.models import ClassSession, TaughtRecipe
from classes.plan import ClassPlan
from classes.selectors import class_plan, kept_hours, people_at
from classes.sessions.forms import SessionForm, TaughtForm, TaughtFormSet
from recipes.core.errors import NoGrowth
from recipes.core.rise.fermentation import OutsideRange
from recipes.selectors import formula_value
from wording.writing import Writing

TOO_FEW = "too_few_forms"
NEEDED = ("day", "starts", "ends", "seats", "kitchen", "stations")


@dataclass(frozen=True, slots=True)
class DraftClass:
    """A class that is not saved, with its recipes and its work."""

    session: ClassSession
    taught: tuple[TimedRecipe, ...]
    work: ClassWork


@dataclass(frozen=True, slots=True)
class Unfinished:
    """Why a form does not describe a class yet: labels of empty fields, and other errors."""

    missing: tuple[str, ...]
    wrong: tuple[str, ...]


def draft_of(form: SessionForm, rows: TaughtFormSet) -> DraftClass | Unfinished:
    """The class that bound forms describe, even if other fields still have errors."""
    for part in (form, rows):
        part.is_valid()
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
            label = str(named or "Recipe")  # no field, or a hidden one
            yield from ((label, error) for error in errors)


@dataclass(frozen=True, slots=True)
class Lack:
    """What is required before hours can be planned, and the page to fix it, if any."""

    title: str
    reason: str
    link: str = ""
    link_text: str = ""


@dataclass(frozen=True)
class Answer:
    """A plan with its verdict; or what prevents it; or what a form still lacks.

    `outside` warns of temperatures for which rise times are a rough guess. `slugs` give, by key in
    the plan, the address of a recipe that leaves something unsaid.
    """

    hours: ClassHours | None = None
    verdict: Verdict | None = None
    lacks: tuple[Lack, ...] = ()
    unfinished: Unfinished | None = None
    outside: OutsideRange | None = None
    slugs: Mapping[str, str] = field(default_factory=dict)

    @property
    def plan(self) -> Plan | None:
        """The plan, if there is one."""
        return self.hours.solved.plan if self.hours and self.hours.solved else None


def class_answer(plan: ClassPlan) -> Answer:
    """The answer for a class as it is."""
    taught = [row.timed for row in plan.taught]
    lacks = tuple(_lacks(plan.work, taught, plan.code))
    return _answer(lambda: _answered(plan.hours, plan.verdict), taught, lacks, plan.work.room)


def draft_answer(form: SessionForm, rows: TaughtFormSet) -> Answer:
    """The answer for the class that bound forms describe; nothing is saved."""
    draft = draft_of(form, rows)
    if isinstance(draft, DraftClass):
        return answer_of(draft.session, draft.work, draft.taught)
    return Answer(unfinished=draft)


def settings_answer(forms: HoursForms) -> Answer:
    """The answer for a class with the settings as typed; nothing is saved."""
    if forms.are_valid():
        return class_answer(class_plan(forms.session))
    return Answer(unfinished=Unfinished((), tuple(forms.wrong)))


def answer_of(session: ClassSession, work: ClassWork, taught: Sequence[TimedRecipe]) -> Answer:
    """The answer for a class's work that differs from what is saved."""
    lacks = tuple(_lacks(work, taught, session.code if session.pk else ""))
    starts = session.kitchen.moment(session.starts_at)
    hours = partial(hours_of, starts, work, kept_hours(session))
    return _answer(lambda: _answered(hours()), taught, lacks, work.room)


def _answer(
    answered: Callable[[], Answer],
    taught: Iterable[TimedRecipe],
    lacks: tuple[Lack, ...],
    room: Room,
) -> Answer:
    if lacks:
        return Answer(lacks=lacks)
    try:
        answer = answered()
    except NoGrowth as error:
        return Answer(lacks=(_no_growth(error, room.writing),))
    unsaid = {gap.key for gap in answer.verdict.unsaid} if answer.verdict else set()
    slugs = {recipe.key: recipe.slug for recipe in taught if recipe.key in unsaid}
    return replace(answer, slugs=slugs)


def with_plan(answer: Answer, solved: Solved) -> Answer:
    """The same answer with another plan of its problem."""
    if answer.hours is None:
        return answer
    return replace(_answered(replace(answer.hours, solved=solved)), slugs=answer.slugs)


def _answered(hours: ClassHours, verdict: Verdict | None = None) -> Answer:
    verdict = verdict or verdict_of(hours.scheduled, hours.solved, hours.obstacle)
    return Answer(hours, verdict, outside=outside_of(hours.scheduled))


def outside_of(scheduled: Scheduled) -> OutsideRange | None:
    """A warning if dough ferments at temperatures outside the rule's range.

    In the refrigerator, and in a cabinet set to the recipe's own temperature, times are the
    recipe's own and the rule is not used.
    """
    room = scheduled.work.room
    place_c = room.room_c if room.rises_in is RisesIn.BENCH else room.cabinet_c
    rises = any(wait.rise and wait.rise.place == room.rises_in for wait in scheduled.waits)
    return room.rule.warning(place_c) if rises and place_c is not None else None


def _lacks(work: ClassWork, taught: Iterable[TimedRecipe], code: str) -> Iterator[Lack]:
    """What is missing in a class saved under `code`, or in an unsaved one."""
    if not work.recipes:
        yield Lack(
            "Nobody is baking yet.",
            "Nobody is on the roster, empty seats are not planned for, and there is no "
            "demonstration.",
            reverse("classes:roster", args=[code]) if code else "",
            "Fill the roster",
        )
    for recipe in taught:
        if not recipe.steps:
            yield Lack(
                f"Write the steps of {recipe.title} first.",
                "The hours come from them: how long hands are busy, and how long dough waits.",
                reverse("recipes:edit", args=[recipe.slug]),
                f"Write the steps of {recipe.title}",
            )


def _no_growth(error: NoGrowth, writing: Writing) -> Lack:
    return Lack(
        f"At {writing.degrees(error.temperature_c)} the dough does not rise.",
        f"By the {error.rule} nothing grows there. Check the temperatures of the recipe’s steps "
        "and of the kitchen.",
    )
