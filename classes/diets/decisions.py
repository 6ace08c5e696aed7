"""What people told us and what was decided about it: rows as values."""

from __future__ import annotations

from classes.core.diets.conflicts import Basis, Decided, Decisions, Way
from classes.core.diets.findings import Eater
from classes.core.diets.words import words_told
from classes.core.keys import PersonKey
from classes.enrollment.models import DietDecision, Enrollment
from classes.models import ClassSession


def eater_of(one: Enrollment, station: str = "") -> Eater:
    """Somebody on the roster, with what they told us."""
    words = words_told(one.must_not_eat)
    told = tuple(one.allergens), words, one.wants_privacy
    return Eater(PersonKey.student(one.pk), one.name, station, *told)


def decided_of(row: DietDecision, session: ClassSession) -> Decided:
    """A decision as a value."""
    kept = row.basis
    basis = Basis(tuple(kept["told"]), kept["bakes"], tuple(kept["found"]))
    when = session.kitchen.moment(row.decided_at).noted
    return Decided(Way(row.way), basis, row.decided_by.get_username(), when, row.note)


def decisions_of(session: ClassSession) -> Decisions:
    """All decisions of a class fetched `with_plan`, by the keys of person and revision."""
    return {
        (PersonKey.student(enrollment.pk), str(row.revision_id)): decided_of(row, session)
        for enrollment in session.enrollments.all()
        for row in enrollment.decisions.all()
    }
