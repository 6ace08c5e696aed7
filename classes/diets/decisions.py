"""Decisions about what people must not eat: from rows to values, and what the amounts make of them.

Whoever has another task does not bake the recipe. What is taken out of a wash, a topping or the
dusting is not weighed for that person; what is in the dough stays there, and is marked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from zlib import crc32

from classes.core.demand import Taught
from classes.core.diets.conflicts import (
    Basis,
    Decided,
    Way,
    basis_of,
    own_places,
)
from classes.core.diets.findings import BakedRecipe, Eater
from classes.core.diets.nothing import words_told
from classes.core.diets.taking_out import Without, without
from classes.core.keys import PersonKey
from classes.enrollment.models import DietDecision, Enrollment
from classes.models import ClassSession, TaughtRecipe
from recipes.core.numbers import ZERO


def eater_of(one: Enrollment, station: str = "") -> Eater:
    """Somebody on the roster, with what they told."""
    words = words_told(one.must_not_eat)
    told = tuple(one.allergens), words, one.wants_privacy
    return Eater(PersonKey.student(one.pk), one.name, station, *told)


def baked_of(
    taught: Taught, row: TaughtRecipe, eaters: frozenset[PersonKey], stations: frozenset[str]
) -> BakedRecipe:
    """A recipe of a class as these people bake it, at the stations where it is weighed."""
    return BakedRecipe(
        title=taught.label,
        formula=taught.formula,
        steps=tuple((step.kind, step.text) for step in row.revision.steps.all()),
        eaters=eaters,
        dusting_flour=taught.dusting_flour if taught.dusting_g else None,
        stations=stations,
        key=taught.key,
        revision=taught.revision,
        bakes=taught.bakes,
    )


def decided_of(row: DietDecision, session: ClassSession) -> Decided:
    """A decision as a value."""
    kept = row.basis
    basis = Basis(tuple(kept["told"]), kept["bakes"], tuple(kept["found"]))
    when = session.kitchen.moment(row.decided_at).noted
    return Decided(Way(row.way), basis, row.decided_by.get_username(), when, row.note)


def decisions_of(session: ClassSession) -> dict[tuple[PersonKey, str], Decided]:
    """All decisions of a class fetched `with_plan`, by the keys of person and revision."""
    return {
        (PersonKey.student(one.pk), str(row.revision_id)): decided_of(row, session)
        for one in session.enrollments.all()
        for row in one.decisions.all()
    }


def as_decided(
    session: ClassSession, row: TaughtRecipe, chosen: Taught, bakers: frozenset[PersonKey]
) -> Iterator[Taught]:
    """A recipe that these people chose, as they bake it after what was decided."""
    groups: dict[tuple[str, ...], set[PersonKey]] = {}
    made: dict[tuple[str, ...], Without] = {}
    others: set[PersonKey] = set()
    for one in session.enrollments.all():
        eater = eater_of(one)
        decided = _in_force(session, row, chosen, one) if eater.key in bakers else None
        if decided is Way.OTHER_TASK:
            others.add(eater.key)
        elif decided is Way.TAKEN_OUT:
            out = without(chosen.formula, own_places(eater, _alone(chosen, row)))
            if out.names:
                groups.setdefault(out.names, set()).add(eater.key)
                made[out.names] = out
    away = others.union(*groups.values())
    yield replace(chosen, only_for=bakers - away) if away else chosen
    for names, keys in groups.items():
        yield _taken_out(chosen, made[names], frozenset(keys))


def _in_force(
    session: ClassSession, row: TaughtRecipe, chosen: Taught, one: Enrollment
) -> Way | None:
    """What was decided for somebody who bakes the recipe, if that still fits."""
    for decision in one.decisions.all():
        if str(decision.revision_id) == chosen.revision:
            eater, recipe = eater_of(one), _alone(chosen, row)
            now = basis_of(eater, recipe, own_places(eater, recipe))
            decided = decided_of(decision, session)
            return None if decided.basis.lapse(now) else decided.way
    return None


def _alone(chosen: Taught, row: TaughtRecipe) -> BakedRecipe:
    return baked_of(chosen, row, frozenset(), frozenset())


def _taken_out(chosen: Taught, out: Without, keys: frozenset[PersonKey]) -> Taught:
    mark = f"{crc32('|'.join(out.names).encode()):08x}"
    shown = replace(
        chosen,
        key=f"{chosen.key if '-' in chosen.key else f'{chosen.key}-0'}-{mark}",
        label=f"{chosen.label}, {_listed(out.names)} taken out",
        written=chosen.label,
        formula=out.formula,
        demonstration_batches=0,
        only_for=keys,
    )
    return replace(shown, dusting_g=ZERO, dusting_flour=None) if out.undusted else shown


def _listed(names: tuple[str, ...]) -> str:
    """Such as `sesame seeds and sunflower seeds`: what stands before the comma of each name."""
    heads = [name.partition(",")[0] for name in names]
    return heads[0] if len(heads) == 1 else f"{', '.join(heads[:-1])} and {heads[-1]}"
