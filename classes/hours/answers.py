"""What the pages on the hours of a class say: a plan with its verdict, or what is in the way."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from django.urls import reverse

from classes.core.hours.checking.verdict import Verdict, verdict_of
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.values import ClassWork, RisesIn, TimedRecipe
from classes.core.hours.problem.work import Plan, Solved
from classes.hours.drafts import DraftClass, Unfinished, draft_of
from classes.hours.forms import HoursForms
from classes.hours.plan import ClassHours, hours_of
from classes.models import ClassSession
from classes.plan import ClassPlan
from classes.selectors import class_plan, kept_hours
from classes.sessions.forms import SessionForm, TaughtFormSet
from recipes.core.errors import NoGrowth
from recipes.core.rise.fermentation import OutsideRange
from wording.heat import degrees


@dataclass(frozen=True, slots=True)
class Lack:
    """What has to be there before hours can be planned, and the page that mends it if any."""

    title: str
    reason: str
    link: str = ""
    link_text: str = ""


@dataclass(frozen=True)
class Answer:
    """A plan with its verdict; or what keeps it from being made; or what a form still lacks.

    `outside` warns of temperatures for which the times of the rises are a rough guess. `slugs`
    say by its key in the plan where a recipe is written that leaves something unsaid.
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
    taught = [one.timed for one in plan.taught]
    lacks = tuple(_lacks(plan.work, taught, plan.code))
    return _answer(lambda: _answered(plan.hours, plan.verdict), taught, lacks)


def draft_answer(form: SessionForm, rows: TaughtFormSet) -> Answer:
    """The answer for the class that bound forms describe; nothing is saved."""
    draft = draft_of(form, rows)
    if isinstance(draft, DraftClass):
        return answer_of(draft.session, draft.work, draft.taught)
    return Answer(unfinished=draft)


def settings_answer(forms: HoursForms) -> Answer:
    """The answer for a class with the settings that are typed; nothing is saved."""
    if forms.are_valid():
        return class_answer(class_plan(forms.session))
    return Answer(unfinished=Unfinished((), tuple(forms.wrong)))


def answer_of(session: ClassSession, work: ClassWork, taught: Sequence[TimedRecipe]) -> Answer:
    """The answer for some work of a class that is not as it is saved."""
    lacks = tuple(_lacks(work, taught, session.code if session.pk else ""))
    starts = session.kitchen.moment(session.starts_at)
    return _answer(lambda: _answered(hours_of(starts, work, kept_hours(session))), taught, lacks)


def _answer(
    answered: Callable[[], Answer], taught: Iterable[TimedRecipe], lacks: tuple[Lack, ...]
) -> Answer:
    if lacks:
        return Answer(lacks=lacks)
    try:
        answer = answered()
    except NoGrowth as error:
        return Answer(lacks=(_no_growth(error),))
    unsaid = {gap.key for gap in answer.verdict.unsaid} if answer.verdict else set()
    return replace(answer, slugs={one.key: one.slug for one in taught if one.key in unsaid})


def with_plan(answer: Answer, solved: Solved) -> Answer:
    """The same answer by another plan of its problem."""
    if answer.hours is None:
        return answer
    return replace(_answered(replace(answer.hours, solved=solved)), slugs=answer.slugs)


def _answered(hours: ClassHours, verdict: Verdict | None = None) -> Answer:
    verdict = verdict or verdict_of(hours.scheduled, hours.solved, hours.obstacle)
    return Answer(hours, verdict, outside=outside_of(hours.scheduled))


def outside_of(scheduled: Scheduled) -> OutsideRange | None:
    """A warning where dough ferments at temperatures for which the rule is not good.

    In the refrigerator, and in a cabinet set to the recipe's own temperature, times are as the
    recipe has them and the rule is not asked.
    """
    room = scheduled.work.room
    place_c = room.room_c if room.rises_in is RisesIn.BENCH else room.cabinet_c
    rises = any(wait.rise and wait.rise.place == room.rises_in for wait in scheduled.waits)
    return room.rule.warning(place_c) if rises and place_c is not None else None


def _lacks(work: ClassWork, taught: Iterable[TimedRecipe], code: str) -> Iterator[Lack]:
    """What is missing in a class that is saved under `code`, or in one that is not."""
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


def _no_growth(error: NoGrowth) -> Lack:
    return Lack(
        f"At {degrees(error.temperature_c)} the dough does not rise.",
        f"By the {error.rule} nothing grows there. Check the temperatures of the recipe’s steps "
        "and of the kitchen.",
    )
