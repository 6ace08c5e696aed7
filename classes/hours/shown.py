"""A plan of the hours as the pages show it: on the kitchen's clock, in words, and drawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from urllib.parse import urlencode

from classes.core.hours.advice.changes import ClassChange
from classes.core.hours.advice.critical import ChainLink, What, Why
from classes.core.hours.advice.remedies import Remedy, RemedyKind, remedies_for
from classes.core.hours.ahead.everything import AheadTask, ahead_of
from classes.core.hours.ahead.starters import feedings_unsaid
from classes.core.hours.checking.verdict import Verdict, VerdictKind
from classes.core.hours.drawing.edition import drawing_of
from classes.core.hours.drawing.table import TimeRow, rows_of
from classes.core.hours.drawing.values import Drawing
from classes.core.hours.problem.values import ClassWork, RisesIn
from classes.core.hours.problem.work import Solved
from classes.hours import words as words
from classes.hours.answers import Answer
from classes.hours.plan import ClassHours
from classes.hours.unsaid_words import unsaid_words
from classes.hours.what_if import WhatIf
from recipes.core.choices import StepKind

FIRST_DIFFERENCES = 8
SEARCHED = "No better plan was found in that time. The one shown keeps every rule."


@dataclass(frozen=True, slots=True)
class SaidLink:
    """A link of the deciding chain, on the clock; `recipe` is a title, or empty."""

    starts: str
    ends: str
    minutes: int
    title: str
    recipe: str
    who: str
    why: str


@dataclass(frozen=True, slots=True)
class SaidGap:
    """What is missing, and the recipe where it can be entered, if it belongs to one."""

    words: str
    title: str
    slug: str


@dataclass(frozen=True, slots=True)
class SaidVerdict:
    """A verdict in words; `ready` is a time on the clock, empty without a plan.

    It is also empty if something is `missing`, since the time would cover only the rest.
    """

    kind: VerdictKind
    ready: str
    spare: str
    certainty: str
    obstacle: str
    chain: tuple[SaidLink, ...]
    bottleneck: str
    short: tuple[str, ...]
    remarks: tuple[str, ...]
    missing: tuple[SaidGap, ...] = ()


@dataclass(frozen=True, slots=True)
class SaidAhead:
    """Something done ahead: when it starts and by when it is done, on the clock."""

    starts: str
    ready_by: str
    title: str
    why: str
    text: str
    who: str
    hands_min: int
    temperature_c: Decimal | None
    temperature_of: str = ""


@dataclass(frozen=True, slots=True)
class SaidRemedy:
    """A change that helps, in words; `query` opens it on the page “What if”, if possible."""

    words: str
    query: str


@dataclass(frozen=True, slots=True)
class SaidRemedies:
    """Changes that help; `estimate` is a note about one of them."""

    lines: tuple[SaidRemedy, ...]
    estimate: str = ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """The drawing of a plan, and the same as rows of a table."""

    drawing: Drawing
    rows: tuple[TimeRow, ...]


def labels(hours: ClassHours) -> Callable[[int], str]:
    """The clock in the kitchen at a minute of the plan: `10:30`."""
    return lambda minute: hours.moment(minute).clock


def said_verdict(answer: Answer) -> SaidVerdict | None:
    """The verdict of an answer, if it has one."""
    hours, verdict = answer.hours, answer.verdict
    if hours is None or verdict is None:
        return None
    label, is_open = labels(hours), bool(verdict.unsaid)
    writing = hours.scheduled.work.room.writing
    no_ready = verdict.ready is None or is_open
    return SaidVerdict(
        kind=verdict.kind,
        ready="" if no_ready else label(verdict.ready or 0),
        spare="" if no_ready else words.slack_words(verdict.slack_min or 0),
        certainty=words.certainty_words(verdict),
        obstacle=words.obstacle_words(verdict.obstacle) if verdict.obstacle else "",
        chain=() if is_open else tuple(_link(link, label) for link in verdict.critical),
        bottleneck="" if is_open else words.bottleneck_words(verdict.bottleneck),
        short=_short(verdict, remarks=False),
        remarks=_short(verdict, remarks=True),
        missing=tuple(
            SaidGap(unsaid_words(gap, writing), gap.recipe, answer.slugs.get(gap.key, ""))
            for gap in verdict.unsaid
        ),
    )


def _link(link: ChainLink, label: Callable[[int], str]) -> SaidLink:
    is_dough = link.what is not What.RESOURCE
    return SaidLink(
        starts=label(link.starts),
        ends=label(link.ends),
        minutes=link.minutes,
        title="Load and bake" if link.title == StepKind.BAKE.label else link.title,
        recipe=link.recipe if is_dough else "",
        who=link.who,
        why=_why(link),
    )


def _why(link: ChainLink) -> str:
    return f"{link.why.value} of {link.who}" if link.why is Why.BUSY else link.why.value


def _short(verdict: Verdict, *, remarks: bool) -> tuple[str, ...]:
    """What is short; with `remarks`, only the remarks."""
    return tuple(
        words.shortage_words(shortage)
        for shortage in verdict.shortages
        if shortage.is_remark is remarks
    )


def drawn(answer: Answer) -> Drawn | None:
    """The drawing and the table of an answer that has a plan."""
    hours, plan = answer.hours, answer.plan
    if hours is None or plan is None:
        return None
    label, ends = labels(hours), hours.scheduled.work.hours.minutes
    return Drawn(
        drawing_of(hours.scheduled, plan, label=hours.on_axis, ends=ends),
        rows_of(hours.scheduled, plan, label),
    )


def said_ahead(answer: Answer) -> tuple[SaidAhead, ...]:
    """What is done ahead, sorted by start."""
    hours, plan = answer.hours, answer.plan
    if hours is None or plan is None:
        return ()
    return tuple(_ahead(task, hours) for task in ahead_of(hours.scheduled, plan))


def said_unfed(answer: Answer) -> tuple[str, ...]:
    """What is missing to say when the starters of the class are fed."""
    return feedings_unsaid(answer.hours.scheduled.work) if answer.hours else ()


def _ahead(task: AheadTask, hours: ClassHours) -> SaidAhead:
    starts, ready = hours.moment(task.starts), hours.moment(task.ready_by)
    return SaidAhead(
        starts=starts.beside(hours.moment(0).date),
        ready_by=ready.beside(starts.date),
        title=task.title,
        why=task.why,
        text=task.text,
        who=task.who,
        hands_min=task.hands_min,
        temperature_c=task.temperature_c,
        temperature_of=task.temperature_of.label.lower() if task.temperature_of else "",
    )


def said_remedies(answer: Answer) -> SaidRemedies:
    """The smallest changes by which a class fits; this takes some seconds for a large one."""
    hours = answer.hours
    if hours is None:
        return SaidRemedies(())
    label = labels(hours)
    remedies = remedies_for(hours.scheduled.work, solved=hours.solved)
    kinds = {change.kind for remedy in remedies for change in remedy.changes}
    lines = tuple(
        SaidRemedy(
            words.remedy_words(remedy, label, hours.scheduled.work.room.writing),
            _trying(remedy, hours),
        )
        for remedy in remedies
    )
    return SaidRemedies(lines, words.ESTIMATE if RemedyKind.ROLLS in kinds else "")


def _trying(remedy: Remedy, hours: ClassHours) -> str:
    """The query with which the page “What if” shows a remedy; empty if it cannot."""
    asked = [_asked(change, hours.scheduled.work) for change in remedy.changes]
    if not all(asked):
        return ""
    return urlencode({name: value for fields in asked for name, value in fields.items()})


def _asked(change: ClassChange, work: ClassWork) -> dict[str, object]:
    """A change as fields of that page's form."""
    fields: dict[RemedyKind, dict[str, object]] = {
        RemedyKind.START_EARLIER: {"earlier_min": change.amount},
        RemedyKind.LESS_WATCHING: {"show_min": work.hours.show_min - change.amount},
        RemedyKind.RISE_WARM: {"rises_in": RisesIn.CABINET.value, "cabinet_c": change.amount},
        RemedyKind.RISE_ON_BENCH: {"rises_in": RisesIn.BENCH.value},
        RemedyKind.FEWER_PEOPLE: {"people": change.amount},
    }
    return fields.get(change.kind, {})


def said_what_if(found: WhatIf) -> dict[str, Any]:
    """What the page shows about a changed class, by template variable."""
    present = found.present.hours
    lines: tuple[str, ...] = ()
    if present and found.differences:
        lines = words.difference_words(
            found.differences, labels(present), present.scheduled.work.room.writing
        )
    return {
        "found": found,
        "then": said_verdict(found.changed),
        "drawn": drawn(found.changed),
        "differences": lines[:FIRST_DIFFERENCES],
        "more_differences": lines[FIRST_DIFFERENCES:],
    }


def looked_words(before: Answer, found: Solved | None) -> str:
    """The result of looking for a better plan than an answer's."""
    hours = before.hours
    if hours is None or hours.solved is None or found is None:
        return SEARCHED
    if before.verdict and before.verdict.unsaid:
        return "Whether the class fits cannot be said yet: see what is missing."
    label = labels(hours)
    if found.ready < hours.solved.ready:
        said = f"A better plan: ready {label(found.ready)} instead of {label(hours.solved.ready)}."
    else:
        said = f"Ready {label(found.ready)}, as before."
    if found.proved:
        return f"{said} It is proved that no plan is ready earlier."
    return f"{said} Another could be earlier by {found.gap_min} min at most."
