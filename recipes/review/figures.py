"""The figures of a recipe under review, beside what its text says and what is usual.

No figure blocks saving: an unusual one asks whether it is intended.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any

from recipes.core.bounds import compared, is_outside, usual_of
from recipes.core.choices import RISING_KINDS, ComponentKind, StepKind, TemperatureOf
from recipes.core.errors import BakingError
from recipes.core.formula import Formula, FormulaComponent, Line
from recipes.core.heat.doneness import BreadKind
from recipes.core.numbers import HUNDRED, ONE, ZERO
from recipes.core.written import WrittenStep
from recipes.importing.method.lengths import TimeSpan
from recipes.importing.method.times import times
from recipes.importing.text.tokens import tokenize
from recipes.selectors import ingredient_value
from wording.durations import minutes
from wording.figures import plain
from wording.lists import listed

TENTH = Decimal("0.1")
# A yield this far from the dough, and a total time this far from the steps, is asked about.
YIELD_OFF_PERCENT, TIME_OFF_PERCENT = Decimal(2), Decimal(20)
COLDEST_OVEN_C = Decimal(50)
_PERCENTS = {
    "hydration": "Hydration, by added liquid",
    "salt": "Salt",
    "yeast, as fresh": "Yeast, as fresh",
}
_TOTAL = re.compile(r"\btotal(?:\s+time)?\b[^\n|]{0,60}", re.IGNORECASE)
_PERCENT = re.compile(
    r"\b(?P<before>hydration|salt)\b[ \t:=]{0,3}(?P<after_it>[0-9]{1,3}(?:[.,][0-9]{1,2})?)\s?%"
    r"|\b(?P<first>[0-9]{1,3}(?:[.,][0-9]{1,2})?)\s?%[ \t]{1,3}(?P<then>hydration|salt)\b",
    re.IGNORECASE,
)
# What such a line says is about the part, not the dough.
_OF_A_PART = re.compile(
    r"starter|levain|leaven|mother|poolish|biga|sponge|preferment", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Stated:
    """Minutes in all, and percent of the flour by `hydration` and `salt`."""

    total_min: int | None = None
    percents: Mapping[str, Decimal] = field(default_factory=dict)


def stated_in(text: str) -> Stated:
    """What a text states; if it does so several times, the first counts."""
    percents: dict[str, Decimal] = {}
    of_dough = "\n".join(line for line in text.splitlines() if not _OF_A_PART.search(line))
    for found in _PERCENT.finditer(of_dough):
        name = (found["before"] or found["then"]).lower()
        number = (found["after_it"] or found["first"]).replace(",", ".")
        percents.setdefault(name, Decimal(number))
    return Stated(_total(text), percents)


def _total(text: str) -> int | None:
    for found in _TOTAL.finditer(text):
        spans = [time for time in times(tokenize(found[0])) if isinstance(time, TimeSpan)]
        if spans:
            return sum(span.minutes for span in spans)
    return None


@dataclass(frozen=True, slots=True)
class Weighed:
    """The rows of a review as far as they can be weighed.

    `lines` are the cleaned lines that go into the dough; `missing` ones cannot be weighed yet.
    `steps` go by the prefix of their fields; one that cannot be read is None.
    """

    lines: tuple[Mapping[str, Any], ...]
    missing: int
    steps: Mapping[str, WrittenStep | None]
    pieces: int | None
    piece_g: Decimal | None
    bread_kind: BreadKind | None

    @property
    def dough_g(self) -> Decimal:
        return sum((line["written"].grams for line in self.lines), ZERO)

    @property
    def formula(self) -> Formula | None:
        """The dough's proportions; None while a line has no grams or none is a flour."""
        lines = tuple(
            Line(ingredient_value(line["ingredient"]), line["written"].grams) for line in self.lines
        )
        if self.missing or not lines:
            return None
        try:
            return Formula("", (FormulaComponent(ComponentKind.DOUGH, "", lines),), self.dough_g)
        except BakingError:
            return None

    @property
    def kinds(self) -> dict[str, str]:
        return {
            ingredient_value(line["ingredient"]).key: str(line["ingredient"].kind)
            for line in self.lines
        }


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: its value, what the text says of it, what is usual, and why it asks.

    `mark` has its value; somebody agrees to that, so a change asks again.
    """

    key: str
    label: str
    value: str
    said: str = ""
    usual: str = ""
    source: str = ""
    question: str = ""
    mark: str = ""
    agreed: bool = False

    @property
    def prefix(self) -> str:
        return f"figure-{self.key}={self.mark}"

    @property
    def asks(self) -> bool:
        return bool(self.question) and not self.agreed

    def focus(self) -> None:
        """Give its button the focus, by its name."""


def figures_of(weighed: Weighed, original: str, agreed: Iterable[str]) -> list[Figure]:
    """The figures in the order of the page; `agreed` are those confirmed, as `salt=2.1`."""
    said = stated_in(original)
    found = [_time(weighed, said), _yield(weighed), *_percents(weighed, said)]
    return [replace(figure, agreed=f"{figure.key}={figure.mark}" in agreed) for figure in found]


def _time(weighed: Weighed, said: Stated) -> Figure:
    steps = [step for step in weighed.steps.values() if step]
    hands, waits = sum(s.hands_on_min for s in steps), sum(s.waiting_min for s in steps)
    total = hands + waits
    without = sum(not (step.hands_on_min or step.waiting_min) for step in steps)
    value = f"{minutes(total)}: hands-on {minutes(hands)}, waiting {minutes(waits)}"
    if without:
        value += f"; {without} step{'s' if without > 1 else ''} without minutes"
    question = ""
    if said.total_min and abs(total - said.total_min) * HUNDRED > TIME_OFF_PERCENT * said.total_min:
        question = f"The text says {minutes(said.total_min)} in all, the steps {minutes(total)}."
    words = minutes(said.total_min) if said.total_min else ""
    return Figure("time", "Time in all", value, words, question=question, mark=str(total))


def _yield(weighed: Weighed) -> Figure:
    dough_g = weighed.dough_g.quantize(ONE)
    lines = f"lines add to {plain(dough_g)} g"
    if weighed.missing:
        lines += f" and {_lines_missing(weighed.missing)}"
    if not (weighed.pieces and weighed.piece_g):
        return Figure("yield", "Dough", f"Pieces cannot be said yet; {lines}")
    told_g = weighed.pieces * weighed.piece_g
    pieces = f"{weighed.pieces} × {plain(weighed.piece_g)} g"
    told = f"{plain(told_g.quantize(ONE))} g"
    off = abs(told_g - weighed.dough_g) * HUNDRED > YIELD_OFF_PERCENT * told_g
    question = ""
    if off and weighed.dough_g and (not weighed.missing or weighed.dough_g > told_g):
        question = f"{pieces} are {told}, and the {lines}: which is right?"
    mark = f"{told_g.quantize(ONE)}.{dough_g}"
    return Figure("yield", "Dough", f"{pieces} = {told}; {lines}", question=question, mark=mark)


def _percents(weighed: Weighed, said: Stated) -> Iterator[Figure]:
    formula = weighed.formula
    values = dict(compared(formula, weighed.kinds)) if formula else {}
    for what, label in _PERCENTS.items():
        bound = usual_of(what, weighed.bread_kind)
        usual = f"{bound.among} {plain(bound.least)} to {plain(bound.most)} %"
        key = what.partition(",")[0]
        words = f"{plain(said.percents[key])} %" if key in said.percents else ""
        if what not in values:
            missing = _lines_missing(weighed.missing) if weighed.missing else _no_flour(formula)
            yield Figure(key, label, f"Cannot say: {missing}", words, usual, bound.source)
            continue
        value = values[what].quantize(TENTH)
        question = ""
        if is_outside(bound, values[what]):
            question = f"{label} comes to {plain(value)} % of the flour; {usual}."
        elif key in said.percents and abs(said.percents[key] - value) > ONE:
            question = f"The text says {words}, the lines come to {plain(value)} %."
        yield Figure(
            key, label, f"{plain(value)} %", words, usual, bound.source, question, str(value)
        )


def _no_flour(formula: Formula | None) -> str:
    if formula is None:
        return "no flour"
    return f"how much water {listed(formula.unopened)} has to its flour is not known"


def _lines_missing(count: int) -> str:
    return f"{count} line{'s' if count > 1 else ''} still open"


@dataclass(frozen=True, slots=True)
class ClassGap:
    """What prevents planning or judging a class, and the id of the row concerned."""

    words: str
    anchor: str = ""


def class_gaps(steps: Mapping[str, WrittenStep | None], *, yield_is_guess: bool) -> list[ClassGap]:
    """What a class would still need to know about a recipe: its steps, and how much it makes."""
    numbered = [(n, prefix, step) for n, (prefix, step) in enumerate(steps.items(), 1) if step]
    found = []
    if not any(step.kind is StepKind.BAKE for _, _, step in numbered):
        found.append(ClassGap("No step bakes.", "steps-title"))
    for n, prefix, step in numbered:
        of = f"Step {n} ({step.kind.label.lower()})"
        found += [ClassGap(f"{of} {gap}.", f"{prefix}-row") for gap in _gaps(step)]
    if yield_is_guess:
        found.append(ClassGap("The yield is a guess.", "head-yield-row"))
    return found


def _gaps(step: WrittenStep) -> Iterator[str]:
    celsius = step.temperature_c
    if step.kind is StepKind.BAKE:
        if celsius is None or step.temperature_of is TemperatureOf.DOUGH:
            yield "does not say how hot the oven is"
        elif celsius < COLDEST_OVEN_C:
            yield f"has an oven at {plain(celsius)} °C, which bakes nothing"
    is_cold = step.kind in RISING_KINDS and step.temperature_of is TemperatureOf.REFRIGERATOR
    if is_cold and celsius is None:
        yield "does not say how cold the refrigerator is"
    if not (step.hands_on_min or step.waiting_min):
        yield "has no minutes"
