"""What the papers of a class are made from: each thing is read once, and only when asked for."""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from classes.core.hours.checking.verdict import Verdict
from classes.enrollment.models import Enrollment
from classes.hours.answers import class_answer
from classes.hours.plan import ClassHours
from classes.hours.words import obstacle_words
from classes.models import ClassSession
from classes.plan import ClassPlan
from classes.selectors import ClassNumbers, class_plan, expected
from handouts.documents import Handout
from handouts.home.amounts import rows_of
from handouts.not_printed import NO_RECIPE, NO_STATION, NO_STUDENTS, NOBODY, NotPrinted
from handouts.print_desk.sheets import USUAL, Sheets
from handouts.run_sheet.sheet import (
    Edition,
    RunSheet,
    run_sheet_of,
)
from handouts.selectors import handouts
from recipes.models import Ingredient


@dataclass
class Material:
    """A class fetched `with_plan`, and the moment of printing. Everything raises NotPrinted.

    `sheets` says what labels are printed on.
    """

    session: ClassSession
    at: datetime
    sheets: Sheets = USUAL

    def on(self, sheets: Sheets) -> Material:
        """The same for other sheets; what was read for this one is not read again."""
        other = copy(self)
        other.sheets = sheets
        return other

    @cached_property
    def numbers(self) -> ClassNumbers:
        """The amounts of the class."""
        if not self.session.stations.all():
            raise NO_STATION
        if not self._whole.has_bakers:
            raise NOBODY
        return ClassNumbers(self.session, self._whole)

    @cached_property
    def _whole(self) -> ClassPlan:
        return class_plan(self.session)

    @cached_property
    def students(self) -> list[Enrollment]:
        """Who is expected; at least one."""
        students = expected(self.session)
        if not students:
            raise NO_STUDENTS
        return students

    @cached_property
    def handouts(self) -> dict[int, Handout]:
        """Each student's own handout, by the key of the enrollment."""
        made = handouts(self.numbers, self.students, self.at)
        return dict(zip((one.pk for one in self.students), made, strict=True))

    @cached_property
    def shelf(self) -> dict[str, Ingredient]:
        """The ingredients of every recipe, and the yeasts that may take a yeast's place."""
        return rows_of([recipe.taught.formula for recipe in self.numbers.amounts.recipes])

    @property
    def hours(self) -> ClassHours:
        """The hours that the page shows, or what keeps them from being planned."""
        return self._planned[0]

    @cached_property
    def _planned(self) -> tuple[ClassHours, Verdict]:
        if not self.session.taught.all():
            raise NO_RECIPE
        answer = class_answer(self._whole)
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
        return run_sheet_of(self.numbers, *self._planned, Edition.INSTRUCTOR, self.at)
