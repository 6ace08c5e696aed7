"""An import's doubts about a step in words: the field concerned and a sentence."""

from __future__ import annotations

from decimal import Decimal
from functools import singledispatch

from recipes.forms.words import quoted
from recipes.importing.doubts import Doubt
from recipes.importing.method import unsure
from wording.figures import plain

MOST_ADDED = 8

Told = tuple[str, str]


def _figure(value: Decimal) -> str:
    return plain(round(value, 2))


@singledispatch
def told_of_step(doubt: Doubt) -> Told:
    """The field's name, empty for the whole row, and one sentence."""
    return "", "Something here was not clear: compare it with the original."


@told_of_step.register
def _(doubt: unsure.TimeRange) -> Told:
    low, high = doubt.low, doubt.high
    return "time", f"From {low} to {high} minutes: the longer is used, so that a class has time."


@told_of_step.register
def _(doubt: unsure.TimeVague) -> Told:
    taken = "no time is used" if doubt.taken is None else f"{doubt.taken} minutes are used"
    return "time", f"{quoted(doubt.text)}: {taken}."


@told_of_step.register
def _(doubt: unsure.TimeNotCounted) -> Told:
    return "time", f"{quoted(doubt.text)} is not added to the minutes."


@told_of_step.register
def _(doubt: unsure.TimeOfWhat) -> Told:
    return "time", f"{quoted(doubt.text)} does not say what takes this time: is it this step?"


@told_of_step.register
def _(doubt: unsure.WorkAndWait) -> Told:
    return "time", (
        f"{doubt.hands_on} minutes of work and {doubt.waiting} of waiting: are these two steps?"
    )


@told_of_step.register
def _(doubt: unsure.NumberNotRead) -> Told:
    return "", f"{quoted(doubt.text)}: the number was not read. Is it a time or a temperature?"


@told_of_step.register
def _(doubt: unsure.TemperatureAside) -> Told:
    return "temperature_c", f"{quoted(doubt.text)} is not taken as the temperature of this step."


@told_of_step.register
def _(doubt: unsure.UnusualHeat) -> Told:
    return "temperature_c", f"{_figure(doubt.celsius)} °C is unusual for this kind of step."


@told_of_step.register
def _(doubt: unsure.NoShaping) -> Told:
    return "kind", "No step divides or shapes the dough: is this rise the last one, the proof?"


@told_of_step.register
def _(doubt: unsure.TimeTooLong) -> Told:
    return "time", f"{doubt.minutes} minutes are more than a step can have: none are used."


@told_of_step.register
def _(doubt: unsure.ScaleAssumed) -> Told:
    return "temperature_c", f"{quoted(doubt.text)} is taken as {_figure(doubt.taken_c)} °C."


@told_of_step.register
def _(doubt: unsure.FanConverted) -> Told:
    fan, taken = _figure(doubt.fan_c), _figure(doubt.taken_c)
    return "temperature_c", f"{fan} °C with the fan is taken as {taken} °C without it."


@told_of_step.register
def _(doubt: unsure.ColdAssumed) -> Told:
    taken = _figure(doubt.taken_c)
    return "temperature_c", f"No temperature is written: a refrigerator’s usual {taken} °C is used."


@told_of_step.register
def _(doubt: unsure.TimesAdded) -> Told:
    added = " + ".join(map(str, doubt.minutes[:MOST_ADDED]))
    return "time", f"The step names several times, which are added up: {added} minutes."


@told_of_step.register
def _(doubt: unsure.LongWork) -> Told:
    return "hands_on_min", f"{doubt.minutes} minutes of work are many: does the dough wait in them?"


@told_of_step.register
def _(doubt: unsure.TimesDisagree) -> Told:
    return "time", f"{doubt.taken} minutes are written; by the clock it is {doubt.by_clock}."


@told_of_step.register
def _(doubt: unsure.StageWorkedOut) -> Told:
    whole = f" of {doubt.in_all} minutes in all" if doubt.in_all else ""
    return "time", f"The minutes at this temperature were worked out{whole}: compare the text."


@told_of_step.register
def _(doubt: unsure.NoTime) -> Told:
    return "waiting_min", "No time is written: a class cannot be planned without one."


@told_of_step.register
def _(doubt: unsure.NoOvenTemperature) -> Told:
    return "temperature_c", "No oven temperature is written."


@told_of_step.register
def _(doubt: unsure.AheadAssumed) -> Told:
    return "kind", f"{doubt.minutes} minutes before the dough is mixed: taken as made ahead."


@told_of_step.register
def _(doubt: unsure.KindGuessed) -> Told:
    return "kind", f"{quoted(doubt.text)} does not say what this is: choose the kind."


@told_of_step.register
def _(doubt: unsure.MoreTemperatures) -> Told:
    others = ", ".join(f"{_figure(celsius)} °C" for celsius in doubt.celsius[:4])
    return "temperature_c", f"The step names more than one; not used: {others}."


@told_of_step.register
def _(doubt: unsure.TemperatureRange) -> Told:
    low, high = _figure(doubt.low), _figure(doubt.high)
    return "temperature_c", f"From {low} to {high} °C: the middle is used."


@told_of_step.register
def _(doubt: unsure.TemperatureOutOfRange) -> Told:
    return "temperature_c", f"{_figure(doubt.celsius)} °C is not a kitchen temperature: not used."


@told_of_step.register
def _(doubt: unsure.TemperatureOfWhat) -> Told:
    return "temperature_of", "The dough’s, or the room’s? The text does not say: choose one."


@told_of_step.register
def _(doubt: unsure.WorkedTwoWays) -> Told:
    return "worked", "The text names more than one way: choose one."


@told_of_step.register
def _(doubt: unsure.WorkNotRead) -> Told:
    return "", f"{quoted(doubt.text)} names work that no step here does: is a step missing?"


@told_of_step.register
def _(doubt: unsure.TimeByClock) -> Told:
    return "time", f"{doubt.minutes} minutes until the next time of day: does this step fill them?"


@told_of_step.register
def _(doubt: unsure.UnusualTime) -> Told:
    return "time", f"{doubt.minutes} minutes are unusual for this kind of step."


@told_of_step.register
def _(doubt: unsure.UnusualOrder) -> Told:
    return "kind", "This step is at an unusual place among the others: is its kind right?"


@told_of_step.register
def _(doubt: unsure.NoStepOf) -> Told:
    work = {"mix": "mixes the dough", "divide": "divides the dough before this"}
    return "", f"No step {work.get(doubt.of_kind, 'bakes')}: add one if the text has it."
