"""What can be done about a conflict: the variants of the recipe, and what is found in each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from classes.core.diets.conflict_words import found_words
from classes.core.diets.conflicts import Conflict, own_places
from classes.core.diets.decided import baked_of
from classes.models import ClassSession
from classes.selectors import taught_as
from recipes.models import Variant


@dataclass(frozen=True, slots=True)
class WayOut:
    """A variant of the recipe, and what the person told that is found in it."""

    variant: Variant
    found: tuple[str, ...]

    @property
    def label(self) -> str:
        """Such as `S1 with oats (oats for sesame): may hold sesame: …`."""
        swaps = "; ".join(str(swap) for swap in self.variant.swaps.all())
        found = "; ".join(self.found) or "nothing they told is entered in it"
        return f"{self.variant} ({swaps}): {found}"


def ways_out(
    session: ClassSession, conflicts: Iterable[Conflict]
) -> dict[tuple[str, str], tuple[WayOut, ...]]:
    """The variants for each conflict of a class fetched `with_plan`, by person and revision."""
    conflicts = list(conflicts)
    wanted = {int(conflict.revision) for conflict in conflicts}
    if not wanted:
        return {}
    variants = Variant.objects.filter(revision__in=wanted)
    made = list(variants.prefetch_related("swaps__replaced", "swaps__by"))
    return {
        (conflict.person, conflict.revision): tuple(
            _way(session, conflict, variant)
            for variant in made
            if variant.revision_id == int(conflict.revision)
        )
        for conflict in conflicts
    }


def _way(session: ClassSession, conflict: Conflict, variant: Variant) -> WayOut:
    row = next(row for row in session.taught.all() if row.revision_id == variant.revision_id)
    steps = tuple((step.kind, step.text) for step in row.revision.steps.all())
    recipe = baked_of(taught_as(row, variant), steps, frozenset([conflict.person]))
    return WayOut(variant, found_words(own_places(conflict.eater, recipe)))
