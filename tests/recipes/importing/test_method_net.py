"""Whatever a method says, no time or temperature is lost, and none is misplaced without a doubt.

Sentences are made from a grammar of verbs, known and unknown, with times and temperatures in
several wordings and orders; each number stands in a text only once.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipes.importing.method.steps import Method, read_paragraph
from recipes.importing.method.unsure import StageWorkedOut
from tests.recipes.importing.scoring import words_of

RISES = {"bulk", "proof"}
KINDS = {
    "knead": {"mix"}, "mix on low": {"mix"}, "stir": {"mix"}, "let rise": RISES,
    "prove": RISES, "cover and let the dough rise": RISES, "second rise": RISES,
    "bake": {"bake"}, "bake until golden": {"bake"}, "cool on a rack": {"cool"},
    "autolyse": {"rest"}, "bench rest": {"rest", "bulk", "cool"}, "soak the seeds": {"prepare"},
    "refrigerate": {*RISES, "rest", "cool", "prepare"}, "into the oven": {"bake"},
}  # fmt: skip
NOT_TIMED = ["shape", "preshape", "divide in two", "score", "flatten", "grease the tins",
             "weigh off the dough", "put in tins", "knock back"]  # fmt: skip
UNKNOWN = ["blorp", "squidge the dough", "ignore it", "pan", "tins", "turn it",
           "ball up"]  # fmt: skip
GOING_ON = ["", "in the drawer", "once more", "lid on"]
TIMES = ["{0} min", "for {0} minutes", "about {0} minutes", "({0} min)", "{0}'", "{0} mins",
         "another {0} minutes", "{0} more min", "for at least {0} minutes", "{0} hours",
         "after {0} minutes", "within {0} minutes", "until ready, {0} minutes",
         "- {0} min"]  # fmt: skip
WARM = ["at {0} °C", "@ {0} C", "({0} °C)", "to {0}°C", "{0} degrees", "with water at {0} °C",
        "dough {0} °C", "until {0} °C inside", "at {0}"]  # fmt: skip
JOINTS = [". ", ", ", "; ", " and ", ", then ", ". Then ", " - "]


@dataclass(frozen=True)
class Work:
    """One piece of work: its verb, its minutes and its degrees as they are written."""

    verb: str
    minutes: str
    time: str
    degrees: str
    heat: str
    time_first: bool

    @property
    def text(self) -> str:
        said = self.time.format(self.minutes) if self.minutes else ""
        warm = self.heat.format(self.degrees) if self.degrees else ""
        pieces = (
            [said, self.verb, warm]
            if self.time_first and self.time[0] not in "(-"
            else [self.verb, said, warm]
        )
        return " ".join(one for one in pieces if one)


def numbers(low: int, high: int, most: int) -> st.SearchStrategy[list[str]]:
    found = st.lists(st.integers(low, high), min_size=most, max_size=most, unique=True)
    return found.map(lambda many: [str(one) for one in many])


@st.composite
def methods(draw: st.DrawFn) -> tuple[list[Work], str]:
    verbs = draw(
        st.lists(st.sampled_from([*KINDS, *NOT_TIMED, *UNKNOWN, *GOING_ON]), min_size=1, max_size=6)
    )
    minutes, degrees = draw(numbers(21, 69, 6)), draw(numbers(120, 299, 6))
    work = [
        Work(
            verb,
            minutes[n] if draw(st.integers(0, 3)) else "",
            draw(st.sampled_from(TIMES)),
            degrees[n] if not draw(st.integers(0, 3)) else "",
            draw(st.sampled_from(WARM)),
            draw(st.booleans()),
        )
        for n, verb in enumerate(verbs)
    ]
    text = work[0].text + "".join(draw(st.sampled_from(JOINTS)) + one.text for one in work[1:])
    return work, text[:1].upper() + text[1:] + "."


def read(text: str) -> Method:
    method = Method()
    read_paragraph(method, text)
    return method


def held_by(method: Method) -> set[str]:
    """All numbers in fields: minutes, hours of them, and degrees."""
    found = {method.core_temperature_c, method.dough_temperature_c}
    for step in method.steps:
        found |= {step.hands_on_min, step.waiting_min, step.temperature_c}
        found |= {step.waiting_min // 60, step.hands_on_min // 60}
    return {f"{Decimal(one):f}".removesuffix(".0") for one in found if one is not None}


def quoted_by(doubts) -> set[str]:
    said = {number for one in doubts for number in re.findall(r"[0-9]+", words_of(one))}
    return said | {str(int(one) // 60) for one in said if int(one) >= 60}


@settings(
    max_examples=400, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck)
)
@given(made=methods())
def test_every_number_is_in_a_field_or_in_a_doubt(made):
    work, text = made
    method = read(text)
    told = quoted_by(one for doubts in method.doubts for one in doubts) | held_by(method)
    for one in work:
        assert {number for number in (one.minutes, one.degrees) if number} <= told, (text, one)


@settings(
    max_examples=400, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck)
)
@given(made=methods())
def test_a_time_is_its_verbs_or_doubted(made):
    work, text = made
    method = read(text)
    kinds: set[str] = set()
    for one in work:
        if one.verb not in (GOING_ON if one.minutes else GOING_ON + UNKNOWN):
            kinds = KINDS.get(one.verb, set())
        if not one.minutes:
            continue
        minutes = int(one.minutes) * (60 if "hours" in one.time else 1)
        right = [step for step in method.steps if step.kind in kinds
                 and minutes in (step.hands_on_min, step.waiting_min)]  # fmt: skip
        doubts = [doubt for step, told in zip(method.steps, method.doubts, strict=True)
                  for doubt in told if re.search(rf"\b{one.minutes}\b", step.text)]  # fmt: skip
        bakes = [step for step in method.steps if step.kind == "bake" and one.degrees
                 and step.waiting_min == minutes]  # fmt: skip
        worked_out = any(isinstance(doubt, StageWorkedOut) for doubt in doubts)
        assert right or bakes or worked_out or one.minutes in quoted_by(doubts), (text, one)
