"""Run sheets of classes, printed once however many tests read them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from functools import cache

from classes.core.hours.checking.verdict import verdict_of
from classes.selectors import class_plan
from handouts.kinds.run_sheet import Edition, run_sheet_of
from handouts.press.render import PageSize, to_pdf
from tests.handouts.conftest import NOW, another_class, plan_of, planned
from tests.handouts.pdfs import nothing_said, page_texts


def sheet_of(session, edition=Edition.INSTRUCTOR):
    session = planned(session)
    hours = class_plan(session).hours
    verdict = verdict_of(hours.scheduled, hours.solved)
    return run_sheet_of(plan_of(session), hours, verdict, edition, NOW)


def morning_class(demo, *titles, hours=4, **fields):
    """A class from ten o'clock in the kitchen, with the cabinet as the place to rise."""
    begins = datetime(2030, 5, 4, 9, tzinfo=UTC)
    ends = begins + timedelta(hours=hours)
    return another_class(
        demo, *titles, starts_at=begins, ends_at=ends, rises_in="cabinet", **fields
    )


def two_day_class(demo):
    return morning_class(demo, "Two-day rye batard", students=9, demonstration_batches=0)


class Sheets:
    """The sheets of a class in both editions, made into PDF once, without a warning."""

    def __init__(self, session):
        session = planned(session)
        self.hours = class_plan(session).hours
        self.sheets = {edition: sheet_of(session, edition) for edition in Edition}
        self.pdf = cache(self._pdf)

    def _pdf(self, edition, page_size=PageSize.A4):
        with nothing_said():
            return to_pdf([self.sheets[edition]], page_size)

    def __getitem__(self, edition):
        return self.sheets[edition]

    def label(self, minute):
        """The clock as the sheets tell it."""
        return self.hours.moment(minute).beside(self.hours.moment(0).date, short=True)

    def text(self, edition):
        return " ".join(page_texts(self.pdf(edition)))
