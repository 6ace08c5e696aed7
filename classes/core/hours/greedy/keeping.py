"""A plan as a document to store, and the mark that shows whether it still fits."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from hashlib import sha256
from typing import Any

from classes.core.hours.problem.work import Load, OvenStage, Plan, Problem, Slot, Solved


def fingerprint(problem: Problem) -> str:
    """A mark of the problem: it differs as soon as anything in the problem differs."""
    parts = (
        problem.tasks,
        problem.resources,
        problem.bakings,
        problem.ovens,
        problem.stays,
        problem.degrees_a_minute,
    )
    return sha256(repr(parts).encode()).hexdigest()


def to_document(solved: Solved) -> dict[str, Any]:
    """A solved plan in plain lists and numbers."""
    return {
        "slots": {key: [slot.start, slot.way] for key, slot in solved.plan.slots.items()},
        "loads": [
            [
                load.oven,
                load.start,
                load.minutes,
                load.temperature_c,
                [list(piece) for piece in load.pieces],
                [_written(stage) for stage in load.stages],
            ]
            for load in solved.plan.loads
        ],
        "ready": solved.ready,
        "bound": solved.bound,
        "solver": solved.solver,
    }


def from_document(document: Mapping[str, Any]) -> Solved:
    """The plan from a document that `to_document` made."""
    slots = {key: Slot(start, way) for key, (start, way) in document["slots"].items()}
    loads = tuple(
        Load(oven, start, minutes, degrees, tuple((key, count) for key, count in pieces), stages)
        for oven, start, minutes, degrees, pieces, written in document["loads"]
        for stages in [tuple(_read(*stage) for stage in written)]
    )
    plan = Plan(slots, loads)
    return Solved(plan, document["ready"], document["bound"], document["solver"])


def _written(stage: OvenStage) -> list[int | str | None]:
    return [stage.minutes, None if stage.temperature_c is None else str(stage.temperature_c)]


def _read(minutes: int, celsius: str | None) -> OvenStage:
    return OvenStage(minutes, None if celsius is None else Decimal(celsius))
