"""What every paper is and what its head says: frozen values for its markup."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import ClassVar
from zoneinfo import ZoneInfo

from classes.core.regions import Region
from classes.plan import ClassPlan
from handouts.labels.lettering import cut, lines_needed
from handouts.safety.cautions import DEFERRAL, cautions_for
from handouts.safety.foot import FOOT_WIDE_MM, CautionFoot, caution_foot
from handouts.safety.hazards import hazards_of
from handouts.safety.values import Caution, Hazard
from wording.lettering import width_of
from wording.moments import Moment, Span
from wording.writing import PLAIN, Writing

RUNNING_TITLES = 3
RUNNING_LETTERS = (40, 30, 20, 14, 8, 4)
RUNNING_TYPE_PT = Decimal("9.5")  # As in paper/components.css, as is the width.
RUNNING_WIDTH_PT = Decimal(90) * 72 / Decimal("25.4")
RUNNING_LINES = 2


class PaperError(ValueError):
    """A paper cannot be made."""


class NothingTaught(PaperError):
    """A paper was asked for, but the class teaches nothing yet."""


@dataclass(frozen=True, slots=True)
class PaperHead:
    """What every paper of a class has in common: the class, its hazards, the time of printing.

    Times are aware; they are shown in the kitchen's zone. `region` is whose guidance comes first,
    `writing` how the kitchen writes. Raises NothingTaught.
    """

    title: str
    code: str
    kitchen: str
    starts_at: datetime
    ends_at: datetime
    printed_at: datetime
    zone: ZoneInfo
    revisions: tuple[str, ...]
    hazards: frozenset[Hazard]
    region: Region = Region.ALL
    writing: Writing = PLAIN

    def __post_init__(self) -> None:
        if not self.revisions:
            raise NothingTaught

    @property
    def when(self) -> Span:
        """From start to end on the clock of the kitchen."""
        return Span(self._moment(self.starts_at), self._moment(self.ends_at))

    @property
    def day(self) -> str:
        """Such as `Saturday 4 May 2030`."""
        return self.when.starts.day

    @property
    def hours(self) -> str:
        """Such as `10:00–14:00`; an end on a later day is named."""
        return self.when.hours

    @property
    def printed(self) -> str:
        """Such as `25 April 2030, 09:30, Europe/Dublin`."""
        return self._moment(self.printed_at).stamp

    def _moment(self, at: datetime) -> Moment:
        return Moment(at, self.zone, self.writing.twelve_hours)

    @property
    def running_title(self) -> str:
        """The title, cut to fit in one line with the code in the head of every page."""
        code_pt = width_of(f" ({self.code})", RUNNING_TYPE_PT)
        return cut(self.title, RUNNING_TYPE_PT, RUNNING_WIDTH_PT - code_pt)

    @property
    def running_revisions(self) -> str:
        """The revisions, cut to fit in the head of every page."""
        more = len(self.revisions) - RUNNING_TITLES
        words = [f"{more} more"] if more > 0 else []
        for letters in RUNNING_LETTERS:
            shown = [_shortened(label, letters) for label in self.revisions[:RUNNING_TITLES]]
            text = " · ".join(shown + words)
            if lines_needed(text, RUNNING_TYPE_PT, RUNNING_WIDTH_PT) <= RUNNING_LINES:
                break
        return text


def _shortened(label: str, letters: int) -> str:
    """A revision's label with its title cut, never its number."""
    title, _, number = label.rpartition(", ")
    if len(title) <= letters:
        return label
    return f"{title[:letters].rstrip()}…, {number}"


@dataclass(frozen=True, kw_only=True)
class Paper:
    """A paper: `template` makes its markup, `style` is the name of its style sheet.

    `hazards` are those of the paper's own work. Of what a sheet on the wall says (`on_wall`) it
    leaves out what has no room, but never what is `kept`.
    """

    template: ClassVar[str]
    style: ClassVar[str]
    kept: ClassVar[frozenset[Hazard]] = frozenset()
    foot_wide_mm: ClassVar[Decimal] = FOOT_WIDE_MM

    head: PaperHead
    hazards: frozenset[Hazard]
    on_wall: frozenset[Hazard] = frozenset()

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """All cautions of its own work, in the wording of its region."""
        return cautions_for(self.hazards, self.head.region, self.writing)

    @property
    def foot(self) -> CautionFoot:
        """The cautions below the content."""
        return caution_foot(
            self.hazards,
            self.head.region,
            kept=self.kept,
            on_wall=self.on_wall,
            wide_mm=self.foot_wide_mm,
            writing=self.writing,
        )

    @property
    def writing(self) -> Writing:
        """How the kitchen writes."""
        return self.head.writing

    @property
    def own_sheet(self) -> str:
        """The sheet that this paper is made for; most fit any."""
        return ""

    @property
    def deferral(self) -> str:
        """The line that says that the local authority outranks the paper."""
        return DEFERRAL


def paper_head(plan: ClassPlan, printed_at: datetime) -> PaperHead:
    """What every paper of a class says in its head. Raises NothingTaught."""
    return PaperHead(
        title=plan.title,
        code=plan.code,
        kitchen=plan.kitchen.name,
        starts_at=plan.starts_at,
        ends_at=plan.ends_at,
        printed_at=printed_at,
        zone=plan.kitchen.zone,
        revisions=tuple(dict.fromkeys(recipe.taught.shown for recipe in plan.amounts.recipes)),
        hazards=hazards_of(plan),
        region=plan.kitchen.region,
        writing=plan.kitchen.writing,
    )
