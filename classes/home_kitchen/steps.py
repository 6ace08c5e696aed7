"""The steps of a recipe as they are done at home: the class's words, with the home's figures.

Where a loaf pan at home takes the place of a basket or the bare oven, the steps from shaping on are
told anew; all of that is common practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from classes.home_kitchen.heat import HomeBake, HomeHeat, HomeRise
from classes.plan import TaughtRevision
from recipes.core.choices import StepKind
from recipes.core.pans.sizes import PanShape
from recipes.core.written import WrittenStep

# What a loaf in a pan does not need, by the words for it.
WITHOUT_PAN = re.compile(
    r"\b(?:bannetons?|baskets?|couches?|peels?|stone|slid(?:e|ing)|(?:turn|tip)s? (?:\w+ ){0,3}out"
    r"|roll(?:s|ed)? (?:\w+ ){0,3}round|round(?:s|ed)? (?:it|them|tightly)|seam up|trays?)\b",
    re.IGNORECASE,
)
IN_PAN = {
    StepKind.DIVIDE: "Pat it flat as wide as the pan, roll it up, and lay it in the greased pan, "
    "the seam down.",
    StepKind.PROOF: "Cover the pan and let it rise until a dent from a floured finger fills again "
    "slowly.",
    StepKind.SCORE: "Cut the top once along its length, or leave it whole.",
    StepKind.BAKE: "Put the pan in the hot oven.",
}


@dataclass(frozen=True, slots=True)
class HomeStep:
    """One step; minutes are the class's unless a rise or a bake gives the home's.

    `in_class` has the words of the class where those at home are others.

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
    in_class: str = ""


def home_steps(
    taught: TaughtRevision, heat: HomeHeat, *, fills_tin: bool = False
) -> tuple[HomeStep, ...]:
    """The steps of a recipe with the heat at home; `fills_tin`: each loaf in a loaf pan."""
    moves = fills_tin and not (taught.pan and taught.pan.shape is PanShape.LOAF)
    return tuple(_steps(taught.timed.steps, heat, moves_to_pan=moves))


def _steps(
    rows: Sequence[WrittenStep], heat: HomeHeat, *, moves_to_pan: bool
) -> Iterator[HomeStep]:
    rises = {rise.step: rise for rise in heat.rises}
    bakes = {bake.step: bake for bake in heat.bakes}
    mixing, shaping = _first(rows, StepKind.MIX), _last(rows, StepKind.DIVIDE)
    baking = _last(rows, StepKind.BAKE)
    for n, row in enumerate(rows):
        is_shaping = n == shaping or (row.kind is not StepKind.DIVIDE and row.kind in IN_PAN)
        told_anew = moves_to_pan and is_shaping and WITHOUT_PAN.search(row.text)
        yield HomeStep(
            row.kind.label,
            IN_PAN[row.kind] if told_anew else row.text,
            row.minutes,
            rises.get(n),
            bakes.get(n),
            mixes=n == mixing,
            shapes=n == shaping,
            ends_bake=n == baking,
            in_class=row.text if told_anew else "",
        )


def _first(rows: Sequence[WrittenStep], kind: StepKind) -> int | None:
    return next((n for n, row in enumerate(rows) if row.kind == kind), None)


def _last(rows: Sequence[WrittenStep], kind: StepKind) -> int | None:
    return max((n for n, row in enumerate(rows) if row.kind == kind), default=None)
