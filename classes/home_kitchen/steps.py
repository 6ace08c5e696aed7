"""The steps of a recipe as they are done at home: the class's words, with the home's figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from classes.home_kitchen.heat import HomeBake, HomeHeat, HomeRise
from classes.plan import TaughtRevision
from recipes.core.choices import StepKind
from recipes.core.written import WrittenStep


@dataclass(frozen=True, slots=True)
class HomeStep:
    """One step; minutes are the class's unless a rise or a bake gives the home's.

    Beside the step that `mixes` is the water, beside the one that `shapes` the drawings, and beside
    the one that `ends_bake` when the bread is done. Each is true of one step at most.
    """

    kind: str
    text: str
    minutes: int
    rise: HomeRise | None
    bake: HomeBake | None
    mixes: bool
    shapes: bool
    ends_bake: bool


def home_steps(taught: TaughtRevision, heat: HomeHeat) -> tuple[HomeStep, ...]:
    """The steps of a recipe with the heat at home."""
    return tuple(_steps(taught.timed.steps, heat))


def _steps(rows: Sequence[WrittenStep], heat: HomeHeat) -> Iterator[HomeStep]:
    rises = {rise.step: rise for rise in heat.rises}
    bakes = {bake.step: bake for bake in heat.bakes}
    mixing, shaping = _first(rows, StepKind.MIX), _last(rows, StepKind.DIVIDE)
    baking = _last(rows, StepKind.BAKE)
    for n, row in enumerate(rows):
        yield HomeStep(
            row.kind.label,
            row.text,
            row.minutes,
            rises.get(n),
            bakes.get(n),
            mixes=n == mixing,
            shapes=n == shaping,
            ends_bake=n == baking,
        )


def _first(rows: Sequence[WrittenStep], kind: StepKind) -> int | None:
    return next((n for n, row in enumerate(rows) if row.kind == kind), None)


def _last(rows: Sequence[WrittenStep], kind: StepKind) -> int | None:
    return max((n for n, row in enumerate(rows) if row.kind == kind), default=None)
