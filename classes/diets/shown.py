"""Conflicts as pages show them: their words, what was decided, and the form to decide."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from classes.core.diets.conflict_words import WAYS, conflict_words, decided_by, decided_words
from classes.core.diets.conflicts import Concerns, Conflict
from classes.diets.forms import DecisionForm, ways_out
from classes.models import ClassSession


@dataclass(frozen=True, slots=True)
class ShownConflict:
    """A conflict with its words, the form that decides it, and the recipe's name in addresses."""

    conflict: Conflict
    form: DecisionForm
    slug: str

    @property
    def person(self) -> int:
        """The key of the row of the person."""
        return self.conflict.person.student_pk

    @property
    def words(self) -> tuple[str, ...]:
        return conflict_words(self.conflict)

    @property
    def decided(self) -> str:
        return decided_words(self.conflict)

    @property
    def by(self) -> str:
        return decided_by(self.conflict)

    @property
    def earlier(self) -> str:
        """A decision that no longer fits, and why; empty where there is none."""
        before, lapse = self.conflict.earlier, self.conflict.lapse
        if before is None or lapse is None:
            return ""
        return f"Was decided: {WAYS[before.way]} ({before.by}, {before.when}). {lapse.value}"


@dataclass(frozen=True, slots=True)
class ShownPerson:
    """Somebody who told something, with their conflicts as shown."""

    concerns: Concerns
    conflicts: tuple[ShownConflict, ...]


def shown_people(
    session: ClassSession, people: Iterable[Concerns], bound: DecisionForm | None = None
) -> tuple[ShownPerson, ...]:
    """Everybody with a form for each of their conflicts; `bound` is one that was refused."""
    people = tuple(people)
    every = [conflict for person in people for conflict in person.conflicts]
    ways = ways_out(session, every)
    slugs = {str(row.revision_id): row.revision.recipe.slug for row in session.taught.all()}

    def shown(one: Conflict) -> ShownConflict:
        key = one.person, one.revision
        form = DecisionForm(None, one, ways[key])
        if bound and (bound.conflict.person, bound.conflict.revision) == key:
            form = bound
        return ShownConflict(one, form, slugs[one.revision])

    return tuple(ShownPerson(person, tuple(map(shown, person.conflicts))) for person in people)
