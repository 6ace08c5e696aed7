"""Why a dough cannot be placed, however late: which of its own rules it breaks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from classes.core.hours.greedy.loading import Ovens
from classes.core.hours.greedy.placing import CannotPlace
from classes.core.hours.problem.keys import CABINET
from classes.core.hours.problem.notes import Scheduled
from classes.core.hours.problem.work import Baking, Problem, Stay


class Hindrance(StrEnum):
    """What is in the way."""

    NO_OVEN = "no oven"
    LOADS = "loads"
    CABINET = "places in the cabinet"
    REFRIGERATOR = "places in the refrigerator"
    TIME = "time"


@dataclass(frozen=True, slots=True)
class Alone:
    """A baking alone in the kitchen: its loads, where, and the wait from first to last."""

    baking: Baking
    ovens: tuple[str, ...]
    loads: int
    wait_min: int
    bears_min: int


@dataclass(frozen=True, slots=True)
class Obstacle:
    """What cannot be placed: a step (`title`) of a recipe (its title), of whom.

    For LOADS: `pieces` need `needed` loads of `ovens`, and the last would wait `wait_min`, but the
    dough tolerates `bears_min` after its target. For places: `needed` of `there`.
    """

    hindrance: Hindrance
    who: str
    recipe: str
    title: str
    pieces: int = 0
    needed: int = 0
    there: int = 0
    ovens: tuple[str, ...] = ()
    wait_min: int = 0
    bears_min: int = 0


def stuck_bakings(problem: Problem) -> tuple[Alone, ...]:
    """Bakings whose loads take longer than their dough tolerates, even alone in the kitchen."""
    found = (alone_of(problem, baking) for baking in problem.bakings)
    return tuple(
        obstacle
        for obstacle in found
        if obstacle is not None and obstacle.wait_min > obstacle.bears_min
    )


def alone_of(problem: Problem, baking: Baking) -> Alone | None:
    """How a baking whose dough cannot wait forever would go alone; None without ovens."""
    bears = [lag.most - lag.least for lag in baking.after if lag.most is not None]
    if not bears or not problem.ovens:
        return None
    hot = max((oven.hot_from or 0 for oven in problem.ovens), default=0)
    offer = Ovens(problem, {}).offer(replace(baking, hands=None), hot)
    used = {share.oven.key for share in offer.shares}
    names = tuple(oven.name for oven in problem.ovens if oven.key in used)
    loads = len({(share.oven.key, share.start) for share in offer.shares})
    return Alone(baking, names, loads, offer.last - offer.first, min(bears))


def obstacle_of(scheduled: Scheduled, cannot: CannotPlace) -> Obstacle:
    """What is in the way of a job that could not be placed."""
    members = scheduled.problem.jobs[cannot.job]
    for obstacle in _candidates(scheduled, {member.key for member in members}):
        return obstacle
    return _obstacle(scheduled, Hindrance.TIME, cannot.key)


def _candidates(scheduled: Scheduled, keys: set[str]) -> Iterator[Obstacle]:
    problem = scheduled.problem
    bakings = [baking for baking in problem.bakings if baking.key in keys]
    if bakings and not problem.ovens:
        yield _obstacle(scheduled, Hindrance.NO_OVEN, bakings[0].key)
    for baking in bakings:
        alone = alone_of(problem, baking)
        if alone is not None and alone.wait_min > alone.bears_min:
            yield replace(
                _obstacle(scheduled, Hindrance.LOADS, baking.key),
                needed=alone.loads,
                ovens=alone.ovens,
                wait_min=alone.wait_min,
                bears_min=alone.bears_min,
            )
    own = [stay for stay in problem.stays if stay.until in keys]
    for stay in sorted(own, key=lambda obstacle: -obstacle.amount):
        if stay.amount > problem.capacity[stay.resource]:
            yield _place(scheduled, stay)


def _place(scheduled: Scheduled, stay: Stay) -> Obstacle:
    is_cabinet = stay.resource == CABINET
    hindrance = Hindrance.CABINET if is_cabinet else Hindrance.REFRIGERATOR
    there = scheduled.problem.capacity[stay.resource]
    title = next((wait.title for wait in scheduled.waits if wait.until == stay.until), "")
    found = _obstacle(scheduled, hindrance, stay.until)
    return replace(found, title=title or found.title, needed=stay.amount, there=there)


def _obstacle(scheduled: Scheduled, hindrance: Hindrance, key: str) -> Obstacle:
    note = scheduled.notes[key]
    recipe = next((recipe for recipe in scheduled.work.recipes if recipe.key == note.recipe), None)
    if recipe is None:
        return Obstacle(hindrance, note.who, "", note.title)
    pieces = sum(dough.pieces for dough in recipe.doughs if dough.station == note.who)
    return Obstacle(hindrance, note.who, recipe.title, note.title, pieces)
