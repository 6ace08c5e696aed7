"""What stands of the cautions below a paper's content, and what it leaves to the wall."""

from __future__ import annotations

from collections.abc import Iterable, Set
from dataclasses import dataclass
from decimal import Decimal

from classes.core.regions import Region
from handouts.labels.lettering import lines_needed
from handouts.safety.cautions import cautions_for
from handouts.safety.values import Caution, Hazard
from wording.writing import PLAIN, Writing

# As `.cautions` in paper/components.css, on the narrowest paper.
FOOT_PT, FOOT_WIDE_MM = Decimal(9), Decimal(174)
FOOT_LINES = 2
MORE = "More on the wall: “Before we start”."

# What a paper leaves to the wall before anything else comes first.
LEFT_FIRST = (
    "floor",
    "hands",
    "raw-flour",
    "raw-egg",
    "cooling",
    "blades",
    "mixer",
    "chilled",
    "allergens",
    "heat",
    "burns",
)


@dataclass(frozen=True, slots=True)
class CautionFoot:
    """The cautions on a paper, and those that only the wall sheet of the same file says."""

    cautions: tuple[Caution, ...]
    on_wall: tuple[Caution, ...] = ()
    wide_mm: Decimal = FOOT_WIDE_MM

    @property
    def words(self) -> str:
        return " ".join([*map(_said, self.cautions), *([self.more] if self.more else [])])

    @property
    def more(self) -> str:
        """Where the rest is, if there is any."""
        return MORE if self.on_wall else ""

    @property
    def line_count(self) -> int:
        """Lines below the content, counted on the safe side."""
        wide_pt = self.wide_mm * 72 / Decimal("25.4")
        return lines_needed(self.words, FOOT_PT, wide_pt) if self.words else 0


def caution_foot(
    hazards: Set[Hazard],
    region: Region,
    *,
    kept: Set[Hazard],
    on_wall: Set[Hazard],
    wide_mm: Decimal = FOOT_WIDE_MM,
    writing: Writing = PLAIN,
) -> CautionFoot:
    """The cautions of these hazards in two lines, as far as the wall says the rest.

    What the wall does not say, and what is `kept`, stays on the paper, however many lines it takes.
    """
    every = cautions_for(hazards, region, writing)
    foot = CautionFoot(every, wide_mm=wide_mm)
    for one in _leavable(foot.cautions, kept, on_wall):
        if foot.line_count <= FOOT_LINES:
            break
        left = {*foot.on_wall, one}
        foot = CautionFoot(
            tuple(caution for caution in every if caution not in left),
            tuple(caution for caution in every if caution in left),
            wide_mm,
        )
    return foot


def _leavable(
    cautions: Iterable[Caution], kept: Set[Hazard], on_wall: Set[Hazard]
) -> list[Caution]:
    found = [one for one in cautions if one.hazards & on_wall and not one.hazards & kept]
    return sorted(found, key=lambda caution: LEFT_FIRST.index(caution.key))


def _said(caution: Caution) -> str:
    return f"{caution.heading}: {caution.brief}."
