"""What makes a verdict on a class impossible, in plain sentences."""

from __future__ import annotations

from classes.core.hours.checking.unsaid import Gap, Unsaid
from wording.durations import minutes
from wording.writing import Writing


def unsaid_words(unsaid: Unsaid, writing: Writing) -> str:
    """One gap, with the recipe and the step that has it."""
    celsius = "" if unsaid.temperature_c is None else writing.degrees(unsaid.temperature_c)
    if unsaid.gap is Gap.MINUTES:
        return _minutes_words(unsaid)
    return f"{_where(unsaid)}{_SAID[unsaid.gap].format(celsius=celsius)}"


def _where(unsaid: Unsaid) -> str:
    if not unsaid.recipe:
        return ""
    step = f", step {unsaid.number} ({unsaid.kind.label.lower()})" if unsaid.kind else ""
    return f"{unsaid.recipe}{step}: "


def _minutes_words(unsaid: Unsaid) -> str:
    if unsaid.minutes < 0:
        return f"{_where(unsaid)}the plan holds {minutes(-unsaid.minutes)} more than the recipe."
    return f"{_where(unsaid)}the plan leaves out {minutes(unsaid.minutes)} of the recipe."


_SAID = {
    Gap.BAKE: "it has no step that bakes.",
    Gap.OVEN: "it does not say how hot the oven is.",
    Gap.COLD_OVEN: "an oven at {celsius} bakes nothing.",
    Gap.TIMES: "it does not say how many minutes it takes.",
    Gap.RISE: "no dough rises at {celsius}.",
    Gap.DOUGH: "mixed dough is never at {celsius}.",
    Gap.PLACE: "No dough rises at {celsius}, where this class lets it rise.",
    Gap.REFRIGERATOR: "it does not say how cold the refrigerator is.",
    Gap.WORKED: "the class uses a mixer, and the step does not say whether it is done by hand, "
    "by machine or in a pan.",
    Gap.OF_WHAT: "{celsius} may be the dough’s or the room’s, and here that makes a difference.",
}
