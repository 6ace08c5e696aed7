"""What the plan of the hours says, in plain sentences.

Every function that names a time takes `label`, which gives the clock at a minute of the class. A
plan promises nothing: the dough has the last word.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal
from functools import partial

from classes.core.demand import DEMONSTRATION
from classes.core.hours.advice.bottleneck import Bottleneck, Scarce, Thing
from classes.core.hours.advice.changes import ClassChange
from classes.core.hours.advice.differences import Differences, LoadChange, Moved, Stretch
from classes.core.hours.advice.remedies import Remedy, RemedyKind
from classes.core.hours.checking.obstacles import Hindrance, Obstacle
from classes.core.hours.checking.shortages import Lacking, Shortage
from classes.core.hours.checking.verdict import Verdict, VerdictKind
from classes.core.hours.problem.notes import EVERYBODY
from classes.core.hours.problem.oven_time import ROLLS_A_LOAF
from classes.core.hours.problem.work import Load
from classes.core.keys import Stage
from wording.durations import minutes
from wording.figures import NBSP
from wording.lists import joined, listed
from wording.writing import Writing

Label = Callable[[int], str]

ESTIMATE = (
    "The time for rolls is an estimate from their mass, from memory: their core decides when they "
    "are done."
)


def slack_words(slack_min: int) -> str:
    """`5 min to spare`, `no time to spare`, `55 min after the end`."""
    if slack_min < 0:
        return f"{minutes(-slack_min)} after the end"
    return f"{minutes(slack_min)} to spare" if slack_min else "no time to spare"


def certainty_words(verdict: Verdict) -> str:
    """Whether another plan could be ready earlier; empty without a plan."""
    if verdict.ready is None or verdict.unsaid:
        return ""
    if verdict.proved:
        return "No plan is ready earlier."
    return f"Another plan could be ready earlier, by {minutes(verdict.gap_min)} at most."


def _whose_bread(recipe: str, who: Iterable[str]) -> str:
    names = joined(_lower(name) for name in who)
    return f"{recipe}, {names}" if recipe else names


def _lower(who: str) -> str:
    return who.lower() if who in (EVERYBODY, DEMONSTRATION) else who


def bottleneck_words(bottleneck: Bottleneck) -> str:
    """What holds the class up most."""
    if not bottleneck.things:
        if bottleneck.gain_min is None:
            return "No one thing in the kitchen stands in the way."
        return "Nothing in the kitchen holds the class up most: it is the dough’s own time."
    names = listed([_thing(thing) for thing in bottleneck.things])
    if bottleneck.gain_min is None:
        return f"In the way of a plan: {names}."
    wish = _wish(bottleneck.things)
    gain = minutes(bottleneck.gain_min)
    return f"What holds the class up most: {names}. {wish} it would be ready {gain} earlier."


def _thing(thing: Thing) -> str:
    if thing.scarce is Scarce.MIXERS:
        return f"the mixers for {thing.capacity_g}{NBSP}g"
    return _THINGS[thing.scarce]


_THINGS = {
    Scarce.OVENS: "the ovens",
    Scarce.CABINET: "the places in the cabinet",
    Scarce.REFRIGERATOR: "the places in the refrigerator",
    Scarce.INSTRUCTOR: "the instructor’s hands",
    Scarce.HANDS: "the hands at the stations",
}


def _wish(things: Iterable[Thing]) -> str:
    ovens = any(thing.scarce is Scarce.OVENS for thing in things)
    others = any(thing.scarce is not Scarce.OVENS for thing in things)
    if ovens and others:
        return "With twice the ovens and plenty of the other, by the plan"
    return "With twice as many, by the plan" if ovens else "With plenty of them, by the plan"


def obstacle_words(obstacle: Obstacle) -> str:
    """Why a dough cannot be placed."""
    whose = _whose(obstacle.who)
    bread = f"{whose} {obstacle.pieces} × {obstacle.recipe}"
    if obstacle.hindrance is Hindrance.NO_OVEN:
        return f"There is no oven for {whose} {obstacle.recipe}."
    if obstacle.hindrance is Hindrance.LOADS:
        loads = f"{obstacle.needed} loads of {listed(obstacle.ovens)}"
        waits, bears = minutes(obstacle.wait_min), minutes(obstacle.bears_min)
        bears = bears if obstacle.bears_min else "no waiting"
        return (
            f"{_upper(bread)} need {loads}. The last would wait {waits}; the dough tolerates "
            f"{bears}."
        )
    if obstacle.hindrance is Hindrance.TIME:
        step = obstacle.title.lower()
        of = f"{whose} {obstacle.recipe}" if obstacle.recipe else whose.removesuffix("’s")
        return f"No time was found for {of}, at this step: {step}."
    places = f"{obstacle.needed} {obstacle.hindrance.value}"
    return f"{_upper(bread)} need {places}; {_there(obstacle.there)}."


def _whose(who: str) -> str:
    return "the demonstration’s" if who == DEMONSTRATION else f"{who}’s"


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _there(count: int) -> str:
    if not count:
        return "there are none"
    return f"there {'is' if count == 1 else 'are'} {count}"


def shortage_words(shortage: Shortage) -> str:
    """What is short, and by how much."""
    needed, there = shortage.needed, _there(shortage.there)
    if shortage.lacking is Lacking.TEACHERS:
        usual = f"one for {shortage.people_each} people is common practice"
        return f"Teachers: {needed} would do, as {usual}; {there}."
    if shortage.lacking is Lacking.BOWLS:
        return f"The doughs take {needed} bowls at once; {there}."
    if shortage.lacking in (Lacking.CABINET_PLACES, Lacking.REFRIGERATOR_PLACES):
        who = "the demonstration" if shortage.who == DEMONSTRATION else shortage.who
        return f"{_upper(who)} needs {needed} {shortage.lacking.value}; {there}."
    return _NONE[shortage.lacking]


_NONE = {
    Lacking.OVEN: "There is no oven to bake in.",
    Lacking.MIXER: "Dough is to be mixed by a mixer, and there is none.",
    Lacking.CABINET: "Dough is to rise in the cabinet, and it has no places.",
    Lacking.REFRIGERATOR: "Dough is to rise cold, and the refrigerator has no places.",
}


def remedy_words(remedy: Remedy, label: Label, writing: Writing) -> str:
    """What to change, and what the plan then says; `label` is that of the class as it is."""
    first, *others = [change_words(change, writing) for change in remedy.changes]
    what = " and ".join([first, *(f"{other[0].lower()}{other[1:]}" for other in others)])
    ready = label(remedy.ready - remedy.starts_earlier_min)
    return f"{what}: by the plan ready at {ready}, {slack_words(remedy.slack_min)}."


def change_words(change: ClassChange, writing: Writing) -> str:
    """What to change, without a full stop."""
    recipes, amount = listed(change.recipes), change.amount
    if change.kind is RemedyKind.PREPARED and change.stage is Stage.SHAPED:
        return f"Bring {recipes} shaped, a piece for each that is baked"
    if change.kind is RemedyKind.PREPARED and change.stage is not None:
        return f"Bring dough for {recipes} {change.stage.value}"
    if change.kind is RemedyKind.ANOTHER_OVEN:
        ovens = "another oven" if amount == 1 else f"{amount} more ovens"
        return f"Use {ovens} like {change.thing}"
    return _CHANGES[change.kind].format(
        recipes=recipes,
        amount=amount,
        minutes=minutes(amount),
        bowls="bowl" if amount == 1 else "bowls",
        tubs="tub" if amount == 1 else "tubs",
        people="person" if amount == 1 else "people",
        rolls=ROLLS_A_LOAF,
        degrees=writing.degrees(Decimal(amount)),
        nbsp=NBSP,
    )


_CHANGES = {
    RemedyKind.START_EARLIER: "Start {minutes} earlier",
    RemedyKind.END_LATER: "End {minutes} later",
    RemedyKind.LESS_WATCHING: "Show {minutes} less each time",
    RemedyKind.MORE_BOWLS: "Bring {amount} {bowls} more",
    RemedyKind.RISE_WARM: "Let dough rise in the cabinet at {degrees}",
    RemedyKind.RISE_ON_BENCH: "Let dough rise on the bench",
    RemedyKind.MIX_BY_HAND: "Mix {recipes} by hand",
    RemedyKind.ROLLS: "Make {rolls} rolls of each {recipes}, about {minutes} in the oven",
    RemedyKind.EVENING_BEFORE: (
        "Mix dough for {recipes} the evening before and let it rise cold, {amount} {tubs} in the "
        "refrigerator"
    ),
    RemedyKind.ANOTHER_MIXER: "Use another mixer for {amount}{nbsp}g",
    RemedyKind.FEWER_PEOPLE: "Take {amount} {people}",
}


def difference_words(differences: Differences, label: Label, writing: Writing) -> tuple[str, ...]:
    """Everything that differs, a sentence each, what matters most first."""
    if differences.is_none:
        return ("Nothing changes.",)
    tell = partial(moved_words, label=label)
    return (
        *_outcome(differences, label),
        *map(tell, (*differences.moved, *differences.appeared, *differences.went)),
        *(load_words(load, label, writing) for load in differences.loads),
    )


_OPEN = VerdictKind.CANNOT_SAY


def _outcome(differences: Differences, label: Label) -> Iterable[str]:
    before, after = differences.verdict_before, differences.verdict_after
    if before is not after:
        yield f"{before.words.capitalize()} now; {after.words} then."
    later = differences.ready_later_min
    if later is None or differences.ready_after is None or _OPEN in (before, after):
        return
    if later:
        way = "later" if later > 0 else "earlier"
        yield f"Ready at {label(differences.ready_after)}, {minutes(abs(later))} {way}."
    else:
        yield f"Ready at {label(differences.ready_after)}, as now."
    if differences.slack_after_min not in (None, differences.slack_before_min):
        yield f"{_upper(slack_words(differences.slack_after_min))}."


def moved_words(moved: Moved, label: Label) -> str:
    """`Proof (Hearth loaf, Bench 1 to 4): 13:10 → 13:24.`"""
    what = f"{moved.title} ({_whose_bread(moved.recipe, moved.who)})"
    if moved.before is None:
        return f"New: {what}, {_span(moved.after, label)}."
    if moved.after is None:
        return f"Gone: {what}, {_span(moved.before, label)}."
    if _length(moved.before) == _length(moved.after):
        return f"{what}: {label(moved.before.starts)} → {label(moved.after.starts)}."
    return f"{what}: {_span(moved.before, label)} → {_span(moved.after, label)}."


def _length(span: Stretch) -> int:
    return span.ends - span.starts


def _span(span: Stretch | None, label: Label) -> str:
    return "" if span is None else _from_to(span.starts, span.ends, label)


def _from_to(starts: int, ends: int, label: Label) -> str:
    return f"{label(starts)} to {label(ends)}"


def load_words(change: LoadChange, label: Label, writing: Writing) -> str:
    """What differs in a load of an oven."""
    before, after = (_load(place, label, writing) for place in (change.before, change.after))
    return f"{change.oven}, load {change.number}: {before} → {after}."


def _load(load: Load | None, label: Label, writing: Writing) -> str:
    if load is None:
        return "none"
    places = "1 place" if load.filled == 1 else f"{load.filled} places"
    degrees = "heat not stated" if load.celsius is None else writing.degrees(load.celsius)
    return f"{_from_to(load.start, load.end, label)}, {places}, {degrees}"
