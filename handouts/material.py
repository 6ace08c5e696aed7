"""What the papers of a class are made from, each thing once, or why they cannot be made."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from classes.core.hours.checking.verdict import Verdict
from classes.core.keys import PersonKey
from classes.home_kitchen.selectors import shelf_of
from classes.hours.answers import class_answer
from classes.hours.plan import ClassHours
from classes.hours.words import obstacle_words
from classes.plan import ClassPlan, IngredientFacts, Student
from handouts.documents import Handout
from handouts.not_printed import NO_RECIPE, NO_STATION, NO_STUDENTS, NOBODY, NotPrinted
from handouts.print_desk.sheets import USUAL, Sheets
from handouts.run_sheet.sheet import Edition, RunSheet, run_sheet_of
from handouts.selectors import handouts


@dataclass
class Material:
    """A class, the moment of printing and the sheets that labels are printed on.

    Everything raises NotPrinted.
    """

    whole: ClassPlan
    at: datetime
    sheets: Sheets = USUAL

    def on(self, sheets: Sheets) -> Material:
        """The same for other sheets; what was made for this one is not made again."""
        other = copy(self)
        other.sheets = sheets
        return other

    @property
    def plan(self) -> ClassPlan:
        """The class, of which the amounts are known."""
        if not self.whole.stations:
            raise NO_STATION
        if not self.whole.has_bakers:
            raise NOBODY
        return self.whole

    @property
    def students(self) -> tuple[Student, ...]:
        """Who is expected; at least one."""
        if not self.whole.students:
            raise NO_STUDENTS
        return self.whole.students

    @cached_property
    def handouts(self) -> Mapping[PersonKey, Handout]:
        """Each student's own handout."""
        made = handouts(self.plan, self.students, self.at)
        return dict(zip((one.key for one in self.students), made, strict=True))

    @cached_property
    def shelf(self) -> Mapping[str, IngredientFacts]:
        """The ingredients of the class, and the yeasts that may take a yeast's place at home."""
        return shelf_of(self.plan)

    @property
    def hours(self) -> ClassHours:
        """The hours that the page shows, or what keeps them from being planned."""
        return self._planned[0]

    @cached_property
    def _planned(self) -> tuple[ClassHours, Verdict]:
        if not self.whole.taught:
            raise NO_RECIPE
        answer = class_answer(self.whole)
        for lack in answer.lacks:
            raise NotPrinted(409, lack.title, lack.reason)
        hours, verdict = answer.hours, answer.verdict
        if hours is None or hours.solved is None or verdict is None:
            obstacle = verdict.obstacle if verdict else None
            reason = obstacle_words(obstacle) if obstacle else "See the hours of the class."
            raise NotPrinted(409, "No plan of the hours was found", reason)
        return hours, verdict

    @cached_property
    def run_sheet(self) -> RunSheet:
        """The run sheet, in the instructor's edition; the editions differ in what they print."""
        return run_sheet_of(self.plan, *self._planned, Edition.INSTRUCTOR, self.at)
