"""The steps of a recipe at a station in a few lines: by the clock, or as written without a plan.

What dough does by itself stands with the work before it. Nothing is left out: where there are too
many lines, neighbors are joined, folds first and bakes last.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from classes.core.hours.drawing.spans import AT_THE_BENCH, Activity, ActivityKind, spans_of
from classes.core.hours.problem.notes import EVERYBODY
from classes.core.hours.problem.steps import cooling_steps, in_class
from classes.core.hours.problem.values import RISES, TimedRecipe
from handouts.run_sheet.course import ClassCourse
from recipes.core.choices import StepKind
from recipes.core.written import WrittenStep
from wording.durations import minutes
from wording.writing import Writing

MOST_STEPS = 7

_WAITS = {
    ActivityKind.RISE: "rises until",
    ActivityKind.REST: "rests until",
    ActivityKind.COOL: "cools until",
}


@dataclass(frozen=True, slots=True)
class CardStep:
    """One line: when, what is done, the recipe's words for it, and what the dough does then.

    `clock` is empty without a plan.
    """

    what: str
    clock: str = ""
    text: str = ""
    then: tuple[str, ...] = ()
    is_bake: bool = False

    @property
    def hour(self) -> str:
        """The clock without the half of the day."""
        return self.clock.removesuffix(self.half).rstrip()

    @property
    def half(self) -> str:
        """`am` or `pm`, in kitchens that count twelve hours."""
        return self.clock[-2:] if self.clock.endswith(("am", "pm")) else ""

    @property
    def words(self) -> str:
        """Everything but the clock and the heading, as it is read."""
        return " ".join(filter(None, (self.text, self.after)))

    @property
    def after(self) -> str:
        """What the dough does then, as a sentence."""
        words = ", ".join(self.then)
        return f"{words[:1].upper()}{words[1:]}." if words else ""


def steps_by_clock(
    course: ClassCourse, recipe: str, station: str, writing: Writing
) -> tuple[CardStep, ...]:
    """The steps of a recipe at a station by the plan of the class."""
    spans = [
        span
        for span in spans_of(course.scheduled, course.plan)
        if span.recipe == recipe and span.who in (station, EVERYBODY)
    ]
    found: list[CardStep] = []
    ended: dict[int, int] = {}
    shown, said = "", set[str]()
    for span in spans:
        clock, text = course.label(span.starts), "" if span.text in said else span.text
        said.add(span.text)
        at = ended.get(span.starts, len(found) - 1)
        if span.kind is ActivityKind.WATCH:
            shown = f"Watch at {clock}."
        elif span.kind in _WAITS and found:
            found[at] = _waits(found[at], _wait_words(course, span), text)
        elif span.kind is ActivityKind.BAKE and found and found[-1].is_bake:
            found[-1] = _waits(found[-1], f"in {clock}, out {course.label(span.ends)}", text)
            ended[span.ends] = len(found) - 1
        else:
            words = " ".join(filter(None, (shown, text)))
            ended[span.ends], shown = len(found), ""
            found.append(_clocked(course, span, words, writing))
    if shown:
        found.append(CardStep("Watch", text=shown))
    return joined_to(found)


def _clocked(course: ClassCourse, span: Activity, text: str, writing: Writing) -> CardStep:
    clock, what, then = course.label(span.starts), span.what, tuple[str, ...]()
    is_bake = span.kind is ActivityKind.BAKE
    if span.kind in _WAITS:
        then = (_wait_words(course, span),)
    if is_bake:
        then = (f"out {course.label(span.ends)}",)
        if span.temperature_c is not None:
            what = f"{what}, {writing.degrees(span.temperature_c)}"
    return CardStep(what, clock, text, then, is_bake)


def _wait_words(course: ClassCourse, span: Activity) -> str:
    words = f"{_WAITS[span.kind]} {course.label(span.ends)}"
    is_away = span.kind is not ActivityKind.COOL and span.where not in ("", AT_THE_BENCH)
    return f"{words} in the {span.where}" if is_away else words


def _waits(step: CardStep, then: str, text: str) -> CardStep:
    return replace(
        step,
        text=" ".join(filter(None, (step.text, text))),
        then=tuple(dict.fromkeys((*step.then, then))),
    )


# Without a plan


def steps_as_written(recipe: TimedRecipe, writing: Writing) -> tuple[CardStep, ...]:
    """The steps of a recipe as a class does them, without times."""
    found: list[CardStep] = []
    cooling = cooling_steps(recipe)
    for step in in_class(recipe):
        is_wait = step.kind in RISES or step in cooling or not step.hands_on_min
        if is_wait and step.kind is not StepKind.BAKE and found:
            found[-1] = _waits(found[-1], _duration(step), step.text)
        else:
            found.append(_written(step, writing))
    return joined_to(found)


def _duration(step: WrittenStep) -> str:
    verb = "cools" if step.kind is StepKind.COOL else "rises" if step.kind in RISES else "rests"
    return f"{verb} {minutes(step.minutes)}" if step.minutes else verb


def _written(step: WrittenStep, writing: Writing) -> CardStep:
    is_bake, what = step.kind is StepKind.BAKE, step.kind.label
    if is_bake and step.oven_c is not None:
        what = f"{what}, {writing.degrees(step.oven_c)}"
    then = (minutes(step.minutes),) if step.minutes and is_bake else ()
    if not is_bake and step.waiting_min:
        then = (f"rests {minutes(step.waiting_min)}",)
    return CardStep(what, "", step.text, then, is_bake)


# Few enough


def joined_to(steps: Sequence[CardStep], most: int = MOST_STEPS) -> tuple[CardStep, ...]:
    """The steps, neighbors joined until there are few enough."""
    found = list(steps)
    while len(found) > most:
        at = min(range(len(found) - 1), key=lambda n: _distance(found[n], found[n + 1]))
        found[at : at + 2] = [_joined(found[at], found[at + 1])]
    return tuple(found)


def _distance(first: CardStep, second: CardStep) -> tuple[bool, bool, int]:
    """How ill two neighbors go together."""
    words = len(first.words) + len(second.words)
    return first.is_bake or second.is_bake, first.what != second.what, words


def _joined(first: CardStep, second: CardStep) -> CardStep:
    then = " ".join(filter(None, (second.clock, second.what[:1].lower() + second.what[1:])))
    return CardStep(
        what=first.what if first.what == second.what else f"{first.what}, {then}",
        clock=first.clock,
        text=" ".join(dict.fromkeys(filter(None, (first.words, _again(first, second))))),
        then=second.then,
        is_bake=first.is_bake or second.is_bake,
    )


def _again(first: CardStep, second: CardStep) -> str:
    """The words of the second, with its time where its heading does not say it."""
    again = f"Again at {second.clock}." if second.clock and first.what == second.what else ""
    return " ".join(filter(None, (again, second.text)))
